#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/study/case.hpp"

namespace ohmdrag::study {

/// One node of a drag map. Torques are magnitudes.
struct DragMapRow {
  double speed_rpm = 0.0;
  double oil_degC = 0.0;
  double shaft_torque_Nm = 0.0;  ///< transmitted; it loads bearings and gears
  double torque_Nm = 0.0;        ///< of all parts, nominal
  double power_W = 0.0;
  Interval drawn_torque_Nm;  ///< 95 % of the draws, speed and oil held at the node
  Interval drawn_power_W;
  std::vector<double> part_torque_Nm;  ///< nominal, in the order of `inside`
};

/// Drag of one variant on one shaft over speed and oil temperature.
struct DragMap {
  std::string title;  ///< of the case
  std::string file;
  std::string sha256;
  bool invented = false;
  std::string variant;
  std::string shaft;
  unsigned long long seed = 0;
  int samples = 0;
  std::vector<std::string> inside;   ///< components
  std::vector<std::string> outside;  ///< what nobody may look for in it, in words
  std::vector<std::string> remarks;
  std::vector<DragMapRow> rows;  ///< by temperature, then by speed
};

/// Tabulates what drags on a shaft.
///
/// Nodes: the speeds of the operating points and equal steps up to the fastest; their oil
/// temperatures and every ten kelvin from the ambient up to the hottest. A node that is an
/// operating point has the figures of the budget there. The torque that the shaft transmits is that
/// of the operating points, linear in speed between them and held beyond; the air at the dry side
/// is that of the case. Contacts are new, run in and thermally settled.
///
/// Validity  that of each component; nothing beyond the operating points' speeds and temperatures.
/// Limits    of points at one speed only the first gives its torque, which a remark says.
/// \param variant  its id
/// \param shaft    its id; none: the fastest one
/// \throws std::invalid_argument for an unknown variant or shaft, or if no operating point turns
///         the shaft; std::domain_error, which names the node, if a component refuses it.
DragMap drag_map(const Case& question, const std::string& variant,
                 const std::optional<std::string>& shaft);

}  // namespace ohmdrag::study
