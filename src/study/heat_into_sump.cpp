#include "study/heat_into_sump.hpp"

namespace ohmdrag::study {
namespace {

/// What a shaft passes to the oil when only some of its contacts rub.
class ShaftHeat {
 public:
  ShaftHeat(const component::ShaftSystem& system, const component::ThermalNetwork& network)
      : system_(system), network_(network), idle_(into_oil({})) {}

  Power idle() const { return idle_; }
  Power added_by(std::size_t contact, Power friction) const {
    return into_oil({contact, friction}) - idle_;
  }

 private:
  struct Rubbing {
    std::size_t contact = 0;
    Power friction{};
  };
  Power into_oil(const Rubbing& only) const {
    component::ShaftState state;
    state.contacts.resize(system_.contacts.size());
    state.contacts[only.contact].power = only.friction;
    network_.spread_heat(state);
    return component::into_oil(system_, state);
  }

  const component::ShaftSystem& system_;
  const component::ThermalNetwork& network_;
  Power idle_;
};

}  // namespace

HeatIntoSump heat_into_sump(const energy::DriveUnit& unit, const energy::LossModel& solved,
                            std::span<const energy::PartLoss> losses) {
  HeatIntoSump heat;
  std::vector<std::optional<ShaftHeat>> shafts(unit.shafts.size());
  for (std::size_t s = 0; s < shafts.size(); ++s) {
    if (unit.shafts[s].contacts.empty()) continue;
    shafts[s].emplace(unit.shafts[s], solved.networks()[s].value());
    heat.idle += shafts[s]->idle();
  }
  for (std::size_t p = 0; p < losses.size(); ++p) {
    const auto* here = std::get_if<energy::ContactPart>(&unit.parts[p].form);
    heat.by_part.push_back(here ? shafts[here->shaft]->added_by(here->contact, losses[p].power)
                                : losses[p].power);
  }
  return heat;
}

}  // namespace ohmdrag::study
