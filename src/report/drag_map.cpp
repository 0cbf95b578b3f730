#include "ohmdrag/report/drag_map.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

/// One comment a line, whatever the text holds.
std::string comment(const std::string& text) { return "# " + harmless(text) + '\n'; }

/// A component in the head of a column; a comma would end it.
std::string head_of(const std::string& component) {
  std::string head = harmless(component);
  std::ranges::replace(head, ',', ';');
  return fmt::format(",torque of {} [N*m]", head);
}

}  // namespace

std::string drag_map_csv(const study::DragMap& map) {
  std::string out = comment("drag over shaft speed and oil temperature: " + map.title);
  if (map.invented) out += comment("invented scenario");
  out += comment(fmt::format("case {}, SHA-256 {}, seed {}, {} draws", map.file, map.sha256,
                             map.seed, map.samples));
  out += comment(fmt::format("variant {}, shaft {}", map.variant, map.shaft));
  out += comment(fmt::format("inside: {}", fmt::join(map.inside, "; ")));
  for (const std::string& what : map.outside) out += comment("not inside: " + what);
  for (const std::string& remark : map.remarks) out += comment(remark);
  out += comment(
      "transmitted torque, which loads bearings and gears: that of the operating points, linear in "
      "speed between them, held beyond");
  out += comment(
      "torque and power are nominal; low and high are 95 % of the draws of the sum at this speed "
      "and oil; contacts new, run in, thermally settled, dry side as in the case");
  out += comment("published road loads hold the drag of what was fitted: of which, never on top");
  out += comment("measured = \"...\" reads this file, of its columns the first three");

  out +=
      "speed [rpm],temperature [degC],torque [N*m],torque low [N*m],torque high [N*m],power [W],"
      "power low [W],power high [W],transmitted torque [N*m]";
  for (const std::string& component : map.inside) out += head_of(component);
  out += '\n';
  for (const study::DragMapRow& row : map.rows) {
    out += fmt::format("{},{},{},{},{},{},{},{},{}", row.speed_rpm, row.oil_degC, row.torque_Nm,
                       row.drawn_torque_Nm.low, row.drawn_torque_Nm.high, row.power_W,
                       row.drawn_power_W.low, row.drawn_power_W.high, row.shaft_torque_Nm);
    for (const double torque_Nm : row.part_torque_Nm) out += fmt::format(",{}", torque_Nm);
    out += '\n';
  }
  return out;
}

}  // namespace ohmdrag::report
