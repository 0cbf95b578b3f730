#pragma once

#include <cstddef>
#include <vector>

#include "energy/duty_step.hpp"
#include "ohmdrag/component/wide_shaft.hpp"
#include "ohmdrag/energy/wide_march.hpp"

/// What the two forms of the wide march share: the duty as plain numbers and a block's sumps.
namespace ohmdrag::energy {

/// A stretch of the duty for all samples.
struct WideStep : DutyStep {
  double omega_rad_s = 0.0;
  component::SpeedGrid::Place place;
};

/// Where a block is solved, as component::SpeedGrid lays it out for a shaft whose laws do not bend.
struct WideGrid {
  std::vector<double> solved_rad_s;  ///< standstill first
  std::size_t nodes = 0;
  std::vector<double> node_of_solved;  ///< [node][solved]: a node is their weighted sum
};

struct WideDuty {
  std::vector<WideStep> steps;
  std::size_t buckets = 0;
  WideGrid grid;
};

/// The sumps of a block and what it has gathered so far.
struct WideSump {
  // 1 row each
  numerics::LaneRows oil_K{1}, per_capacity_K_J{1}, conductance_W_K{1}, air_W_K{1}, ambient_K{1};
  numerics::LaneRows other_heat_W{1}, moves{1}, into_sump_J{1};
  numerics::LaneRows contact_J;  ///< [bucket][contact]
  double fastest_per_s = 0.0;    ///< above the rate of every lane's sump
};

/// Advances every sump by a step with the heat of the contacts [W], as duty::temperature_after.
[[gnu::always_inline]] inline void advance(WideSump& sump, const WideStep& step, double driven,
                                           const double* into_oil_W) {
  double* const oil = sump.oil_K[0];
  const double* const per_capacity = sump.per_capacity_K_J[0];
  const double* const standing = sump.conductance_W_K[0];
  const double* const air = sump.air_W_K[0];
  const double* const around = sump.ambient_K[0];
  const double* const other = sump.other_heat_W[0];
  const double* const moves = sump.moves[0];
  const double air_share = step.air_share;
  const double dt = step.dt_s;
  const double stated_K = step.ambient_K;
  const double replaced = stated_K > 0.0 && !step.parked ? 1.0 : 0.0;
  if (sump.fastest_per_s * dt < small_decay) {
#pragma GCC ivdep
    for (std::size_t i = 0; i < numerics::lanes; ++i) {
      const double g = standing[i] + air_share * air[i];
      const double ambient = around[i] + replaced * (stated_K - around[i]);
      const double net = driven * (into_oil_W[i] + other[i]) - g * (oil[i] - ambient);
      const double per_J = dt * per_capacity[i];
      oil[i] += moves[i] * net * per_J * mean_decay_of_small(g * per_J);
    }
    return;
  }
#pragma GCC ivdep
  for (std::size_t i = 0; i < numerics::lanes; ++i) {
    const double g = standing[i] + air_share * air[i];
    const double ambient = around[i] + replaced * (stated_K - around[i]);
    const double net = driven * (into_oil_W[i] + other[i]) - g * (oil[i] - ambient);
    const double per_J = dt * per_capacity[i];
    const double x = g * per_J;
    const double slow = mean_decay_of_small(x), fast = mean_decay_of_large(x);
    oil[i] += moves[i] * net * per_J * (x < small_decay ? slow : fast);
  }
}

/// Marches a block with every stretch solved.
WideEffort march_solved(component::WideShaft& shafts, WideSump& sump, const WideDuty& duty,
                        numerics::LaneWidth width);

/// The same with tables.
class TableRoom;
WideEffort march_tabulated(component::WideShaft& shafts, WideSump& sump, const WideDuty& duty,
                           numerics::LaneWidth width, TableRoom& room);

}  // namespace ohmdrag::energy
