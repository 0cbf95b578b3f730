#include <algorithm>

#include "energy/wide_block.hpp"

namespace ohmdrag::energy {

using numerics::lanes;

WideEffort march_solved(component::WideShaft& shafts, WideSump& sump, const WideDuty& duty,
                        numerics::LaneWidth width) {
  component::WideOilSide oil = shafts.oil_side();
  component::WideDrySide dry = shafts.dry_side();
  component::WideShaftState state = shafts.state();
  std::size_t solves = 0;
  for (const WideStep& step : duty.steps) {
    if (!step.parked) {
      if (step.oil_K > 0.0) std::fill(sump.oil_K[0], sump.oil_K[0] + lanes, step.oil_K);
      shafts.fill(oil, sump.oil_K[0]);
      shafts.fill(dry, AngularVelocity::from_value(step.omega_rad_s));
      shafts.settle(oil, dry, state);
      ++solves;
    }
    numerics::run_at_width(width, [&] {
      const double driven = step.parked ? 0.0 : 1.0;
      const double dt = driven * step.dt_s;
      const double* const into_oil = state.into_oil_W[0];
      double* const into_sump = sump.into_sump_J[0];
      for (std::size_t c = 0; c < shafts.contacts(); ++c) {
        const double* const power = state.power_W[c];
        double* const energy = sump.contact_J[step.bucket * shafts.contacts() + c];
#pragma GCC ivdep
        for (std::size_t i = 0; i < lanes; ++i) energy[i] += power[i] * dt;
      }
#pragma GCC ivdep
      for (std::size_t i = 0; i < lanes; ++i) into_sump[i] += into_oil[i] * dt;
      if (!(step.oil_K > 0.0)) advance(sump, step, driven, into_oil);
    });
  }
  return {.solves = solves * shafts.shafts(), .evaluations = state.evaluations * shafts.shafts()};
}

}  // namespace ohmdrag::energy
