#include "energy/unit_tables.hpp"

#include <algorithm>
#include <limits>

#include "energy/duty_step.hpp"

namespace ohmdrag::energy {

QuickMarch::Tables::Tables(const DriveUnit& of, std::span<const component::SpeedGrid> grids,
                           std::vector<Temperature> dry_sides, numerics::LaneWidth lane_width)
    : unit(of),
      dry(std::move(dry_sides)),
      width(lane_width),
      contacts(of.shafts.size()),
      viscous_Nm_(of.shafts.size(), 0.0),
      viscosity_(of.shafts.size()) {
  for (std::size_t s = 0; s < unit.shafts.size(); ++s) {
    const component::ShaftSystem& shaft = unit.shafts[s];
    contacts[s].parts.resize(shaft.contacts.size());
    if (!shaft.contacts.empty()) contacts[s].table.emplace(shaft, grids[s], dry[s], width);
  }
  for (std::size_t p = 0; p < unit.parts.size(); ++p) {
    const Part& part = unit.parts[p];
    if (const auto* here = std::get_if<ContactPart>(&part.form)) {
      contacts[here->shaft].parts[here->contact] = p;
    } else if (const auto* rolling = std::get_if<BearingPart>(&part.form)) {
      bearings.push_back(
          {p, rolling->shaft,
           slow_friction(*rolling, Torque{}).viscous.value() / bearing::viscous_scale(0.0)});
      viscous_Nm_[rolling->shaft] += bearings.back().viscous_Nm;
    } else {
      others.push_back(p);
    }
  }
}

std::vector<WalkedShaft> QuickMarch::Tables::shafts() const {
  std::vector<WalkedShaft> walked(contacts.size());
  for (std::size_t s = 0; s < walked.size(); ++s) {
    WalkedShaft& shaft = walked[s];
    if (contacts[s].table) shaft.figures = contacts[s].table->figures();
    shaft.used = 1 + contacts[s].parts.size();
    shaft.viscous_Nm = viscous_Nm_[s];
  }
  return walked;
}

bool QuickMarch::Tables::usual() const {
  return contacts.size() == 1 && contacts[0].table &&
         contacts[0].table->figures() == component::ShaftTable::figure_step && viscous_Nm_[0] > 0.0;
}

void QuickMarch::Tables::enter_viscosity(TableWalk& walk) {
  walk.low_K = 0.0;
  walk.high_K = std::numeric_limits<double>::infinity();
  for (std::size_t s = 0; s < walk.shafts.size(); ++s)
    if (walk.shafts[s].viscous_Nm > 0.0)
      viscosity_[s].enter(unit.shafts[s].lubricant, walk.shafts[s], walk);
}

bool QuickMarch::Tables::enter_panels(TableWalk& walk, bool held) {
  for (std::size_t s = 0; s < contacts.size(); ++s) {
    if (!contacts[s].table) continue;
    const component::ShaftTable::Panel& panel =
        contacts[s].table->panel(Temperature::from_value(walk.oil_K), held);
    if (!panel.tabulated) return false;
    WalkedShaft& shaft = walk.shafts[s];
    shaft.coefficients = panel.coefficients;
    shaft.middle_K = panel.middle_K;
    walk.low_K = std::max(walk.low_K, panel.low_K);
    walk.high_K = std::min(walk.high_K, panel.high_K);
  }
  return true;
}

}  // namespace ohmdrag::energy
