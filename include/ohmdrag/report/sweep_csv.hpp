#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "ohmdrag/study/design.hpp"
#include "ohmdrag/study/headlines.hpp"

namespace ohmdrag::report {

/// A comment of the head of a sweep: "# design: factorial, 2 axes, 12 rows".
struct SweepComment {
  std::string label;
  std::string text;
};

/// The rows of a sweep as CSV (RFC 4180, line ends as in Unix): one line a row and variant.
///
///     row,variant,<axis> [<unit>],…,chosen,nondominated,…,<figure>,…,flags,remark
///
/// Figures carry their unit in the name; with draws each has a `_low` and a `_high` beside it, 95
/// %. Numbers read back to the same double, `inf` is infinite; flags are the codes that the result
/// document spells out, such as that of a formula outside its range. A cell without a figure is
/// empty, and the remark names it and says why. A row whose case is refused has one line: no
/// variant, and the complaint as remark. What a terminal could obey is replaced.
class SweepCsv {
 public:
  /// \param like  the first row that could be evaluated: it says which figures there are
  /// \param draws  with intervals
  SweepCsv(const study::Design& design, const study::Headlines& like, bool draws);

  /// Comments, then the names of the columns.
  std::string head(const std::vector<SweepComment>& comments) const;
  std::string lines(const study::DesignRow& row, const study::Headlines& headlines) const;
  std::string refused(const study::DesignRow& row, const std::string& complaint) const;

 private:
  std::string begin_of(const study::DesignRow& row, const std::string& variant) const;

  std::vector<std::string> axes_;
  std::vector<std::string> figures_;
  bool draws_;
};

}  // namespace ohmdrag::report
