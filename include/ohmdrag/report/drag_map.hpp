#pragma once

#include <string>

#include "ohmdrag/study/drag_map.hpp"

namespace ohmdrag::report {

/// A drag map as CSV: comments that say what is inside and what is not, a head with the units in
/// square brackets, a row a node, numbers that read back to the same double.
///
/// The first three columns (speed, temperature, torque) are those of a `measured` table.
std::string drag_map_csv(const study::DragMap& map);

}  // namespace ohmdrag::report
