#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "input/problems.hpp"
#include "ohmdrag/component/measured_torque.hpp"

namespace ohmdrag::input {

struct MeasuredTable {
  std::vector<component::MeasuredTorqueRow> rows;  ///< in the order of the file
  std::vector<std::string> not_read;               ///< names of columns that were passed over
};

/// A table of measured drag; without rows after a complaint.
///
///     # comment
///     speed [rpm], torque [N*m], temperature [degC]
///     500, 0.021, 40
///
/// The columns may stand in any order; `temperature` may be left out. Cells are separated by
/// commas, numbers have a decimal point, line ends are those of any system. Empty lines and lines
/// that begin with # say nothing. The other columns of a drag map (torque low, power, torque of …)
/// are passed over, so that one can be read as it was written. Refused, each with its line: a
/// column that is missing, twice or unknown; a unit that is missing or of another dimension; a row
/// of another length than the header; a cell that is no finite number; a speed or drag below zero;
/// a speed twice at one temperature; one speed alone at a temperature.
///
/// \param text  UTF-8 without a byte-order mark
/// \param name  of the file, for problems
MeasuredTable read_measured_table(std::string_view text, const std::string& name,
                                  Problems& problems);

}  // namespace ohmdrag::input
