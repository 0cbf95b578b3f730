#include <algorithm>
#include <cmath>

#include "energy/settled_table.hpp"

namespace ohmdrag::energy {

using numerics::lanes;

namespace {

/// One function of the table at a speed, for every lane.
[[gnu::always_inline]] inline void look_up(const double* nodes,
                                           const component::SpeedGrid::Place& place,
                                           const double* along, double* found) {
  static_assert(component::SpeedGrid::neighbours == 4);
  const double* const row = nodes + place.first * oil_points * lanes;
  const double w0 = place.weights[0], w1 = place.weights[1], w2 = place.weights[2],
               w3 = place.weights[3];
  constexpr std::size_t next = oil_points * lanes;  // to the next speed
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) {
    const double* const c = row + i;
    double sum = 0.0;
#pragma GCC unroll 8
    for (std::size_t k = oil_points; k-- > 0;) {
      const double* const p = c + k * lanes;
      sum = sum * along[i] + ((w0 * p[0] + w1 * p[next]) + (w2 * p[2 * next] + w3 * p[3 * next]));
    }
    found[i] = sum;
  }
}

}  // namespace

WideEffort march_tabulated(component::WideShaft& shafts, WideSump& sump, const WideDuty& duty,
                           numerics::LaneWidth width, TableRoom& room) {
  if (duty.steps.empty()) return {};
  // A duty that begins by stating the oil starts its table there.
  const WideStep& first = duty.steps.front();
  if (first.oil_K > 0.0) std::fill(sump.oil_K[0], sump.oil_K[0] + lanes, first.oil_K);
  SettledTable table(shafts, duty.grid, sump.oil_K[0], width, room);
  const std::size_t felt = table.felt().size();
  const std::size_t contacts = shafts.contacts();
  numerics::LaneRows along(1), found(table.functions());
  std::vector<double> angle_rad(duty.buckets, 0.0);  // turned in every bucket

  std::size_t s = 0;
  while (s < duty.steps.size()) {
    bool outside = false;
    numerics::run_at_width(width, [&] {
      double* const oil_K = sump.oil_K[0];
      double* const into_sump = sump.into_sump_J[0];
      double* const position = along[0];
      const double* const middle = table.middle_K();
      const double* const per_half_width = table.per_half_width();
      for (; s < duty.steps.size(); ++s) {
        const WideStep& step = duty.steps[s];
        if (!step.parked) {
          if (step.oil_K > 0.0) std::fill(oil_K, oil_K + lanes, step.oil_K);
          double farthest = 0.0;
#pragma omp simd reduction(max : farthest)
          for (std::size_t i = 0; i < lanes; ++i) {
            position[i] = (oil_K[i] - middle[i]) * per_half_width[i];
            const double off = std::abs(position[i]);
            farthest = off > farthest ? off : farthest;
          }
          if (farthest > 1.0 + 1e-9) {  // a rounding beyond its end is still in the panel
            outside = true;
            return;
          }
          const double dt_s = step.dt_s;
          const double turned = step.omega_rad_s * dt_s;
          angle_rad[step.bucket] += turned;
          for (std::size_t f = 0; f <= felt; ++f)
            look_up(table.coefficients() + f * table.nodes() * oil_points * lanes, step.place,
                    position, found[f]);
          for (std::size_t f = 0; f < felt; ++f) {
            const double* const torque = found[f];
            double* const energy = sump.contact_J[step.bucket * contacts + table.felt()[f]];
#pragma GCC ivdep
            for (std::size_t i = 0; i < lanes; ++i) energy[i] += torque[i] * turned;
          }
          const double* const into_oil = found[felt];
#pragma GCC ivdep
          for (std::size_t i = 0; i < lanes; ++i) into_sump[i] += into_oil[i] * dt_s;
        }
        if (!(step.oil_K > 0.0)) advance(sump, step, step.parked ? 0.0 : 1.0, found[felt]);
      }
    });
    if (outside) table.follow(sump.oil_K[0]);
  }

  for (std::size_t b = 0; b < duty.buckets; ++b)
    for (std::size_t c = 0; c < contacts; ++c)
      if (!table.feels(c))
        for (std::size_t i = 0; i < lanes; ++i)
          sump.contact_J[b * contacts + c][i] = table.constant_torque_Nm(c)[i] * angle_rad[b];
  const WideEffort of_block = table.effort();
  return {.solves = of_block.solves * shafts.shafts(),
          .evaluations = of_block.evaluations * shafts.shafts()};
}

}  // namespace ohmdrag::energy
