#include <fmt/format.h>

#include <string>
#include <vector>

#include "input/case_reader.hpp"

namespace ohmdrag::input {

/// One ratio, or those of a box in the order of its gears with the road speeds at which it shifts.
void CaseReader::read_ratios(TableReader& table, study::Shaft& shaft) {
  const Node* node = table.find("ratio");
  const std::size_t shifts = node && node->is_array() ? node->children.size() : 0;
  if (shifts < 2) {
    for (const char* key : {"shift_up", "shift_down"})
      if (table.has(key)) table.complain(key, "a shaft shifts only between several ratios");
  }
  if (!node || !node->is_array()) {
    shaft.ratio = table.number<double>("ratio");
    return;
  }
  const std::vector<Uncertain<double>> ratios = table.numbers<double>("ratio");
  if (ratios.empty()) {
    table.complain("ratio", "read an empty list; expected at least one ratio");
    return;
  }
  shaft.ratio = ratios.front();
  if (ratios.size() == 1) return;
  const std::vector<Uncertain<Speed>> up = table.numbers<Speed>("shift_up");
  const std::vector<Uncertain<Speed>> down = table.numbers<Speed>("shift_down");
  if (up.size() + 1 != ratios.size()) {
    table.complain("shift_up", fmt::format("read {} road speeds for {} ratios; expected one less "
                                           "than there are ratios",
                                           up.size(), ratios.size()));
    return;
  }
  if (table.has("shift_down") && down.size() != up.size()) {
    table.complain("shift_down", fmt::format("read {} road speeds; expected {}, as for shift_up",
                                             down.size(), up.size()));
    return;
  }
  for (std::size_t i = 0; i < up.size(); ++i) {
    study::Shaft::Gear gear{ratios[i + 1], up[i], Speed{}};
    if (!(ratios[i + 1].mid() < ratios[i].mid()))
      table.complain("ratio", "a higher gear turns the shaft more slowly: the ratios must fall");
    if (i > 0 && !(up[i].mid() > up[i - 1].mid()))
      table.complain("shift_up", "the road speeds must rise");
    if (!down.empty()) {
      gear.hysteresis = up[i].nominal() - down[i].nominal();
      if (!(gear.hysteresis >= Speed{}))
        table.complain("shift_down", "a shift down must not lie above its shift up");
      if (!down[i].certain())
        table.complain("shift_down", "moves with shift_up, so it has no spread of its own",
                       "leave the spread out; that of shift_up counts for both");
    }
    shaft.higher_gears.push_back(std::move(gear));
  }
}

void CaseReader::need_one_ratio(TableReader& table) {
  if (out_.shafts.size() == 1) return;
  for (const study::Shaft& shaft : out_.shafts)
    if (!shaft.higher_gears.empty()) {
      table.complain("shaft_speed",
                     fmt::format("shaft {} has several ratios, so the speeds of the others do not "
                                 "follow from a shaft speed",
                                 shaft.id),
                     "write road_speed = \"… km/h\", or a duty with a drive cycle");
      return;
    }
}

}  // namespace ohmdrag::input
