#include "ohmdrag/component/wide_shaft.hpp"

#include <algorithm>

#include "component/wide_films.hpp"
#include "component/wide_network.hpp"

namespace ohmdrag::component {

using numerics::lanes;

void WideShaft::settle(const WideOilSide& oil, const WideDrySide& dry,
                       WideShaftState& state) const {
  double trouble = 0.0;
  numerics::run_at_width(width_, [&] {
    network(oil, dry, state);
    if (dry.turns) {
      settle_films(oil, dry, state);
      const double* const marked = state.trouble[0];
      for (std::size_t i = 0; i < lanes; ++i) trouble += marked[i];
    } else {
      for (const std::size_t c : films_) std::fill(state.power_W[c], state.power_W[c] + lanes, 0.0);
      std::fill(state.loop_gain[0], state.loop_gain[0] + lanes, 0.0);
    }
    flows(oil, state);
  });
  if (trouble > 0.0)
    for (std::size_t i = 0; i < lanes; ++i)
      if (state.trouble[0][i] > 0.0) settle_alone(i, oil, dry, state);
}

[[gnu::noinline]] void WideShaft::settle_alone(std::size_t lane, const WideOilSide& oil,
                                               const WideDrySide& dry,
                                               WideShaftState& state) const {
  const Surroundings around{Temperature::from_value(oil.oil_K[0][lane]),
                            Temperature::from_value(dry_[dry_row::dry][lane])};
  const ShaftState found =
      solve(system(lane), AngularVelocity::from_value(dry.omega_rad_s[0][lane]), around);
  for (std::size_t c = 0; c < contacts_.size(); ++c) {
    state.power_W[c][lane] = found.contacts[c].power.value();
    state.contact_K[c][lane] = found.contacts[c].contact.value();
  }
  for (std::size_t f = 0; f < films_.size(); ++f)
    state.friction[f][lane] = found.contacts[films_[f]].friction;
  state.loop_gain[0][lane] = found.loop_gain;
  state.into_oil_W[0][lane] = into_oil(system(lane), found).value();
}

}  // namespace ohmdrag::component
