#include "energy/table_walk.hpp"

#include "energy/duty_step.hpp"
#include "ohmdrag/component/table_row.hpp"

namespace ohmdrag::energy {

namespace {

using component::Figures;
using component::ShaftTable;

Figures& figures_at(double* values) { return *reinterpret_cast<Figures*>(values); }

// Each step of the oil waits for the one before: the sums below are ordered for the shortest way
// from one temperature to the next, not for the fewest operations.

/// Gathers what a shaft's contacts take over a stretch, and returns their heat into the oil, W.
///
/// \param energy_J  of the bucket: the first figure is a power, the others are torques
template <std::size_t count>
[[gnu::always_inline]] inline double contacts(const WalkedShaft& shaft, const PlacedSpeed& place,
                                              double oil_K, double dt_s, double turned_rad,
                                              double* energy_J) {
  const double x = oil_K - shaft.middle_K;
  const double x2 = x * x, x4 = x2 * x2;
  double into_oil_W = 0.0;
  for (std::size_t f = 0; f < count; f += ShaftTable::figure_step) {
    component::FigurePowers powers;
    component::read_powers<count>(shaft.coefficients, place, f, powers);
    const Figures* const h = powers.of;
    const Figures found = ((h[0] + x * h[1]) + x2 * (h[2] + x * h[3])) + x4 * (h[4] + x * h[5]);
    const Figures by{f == 0 ? dt_s : turned_rad, turned_rad, turned_rad, turned_rad};
    figures_at(energy_J + f) += found * by;
    if (f == 0) into_oil_W = found[0];
  }
  return into_oil_W;
}

/// Of the viscous torques on a shaft. The speed comes first, for it does not wait for the oil.
[[gnu::always_inline]] inline double viscous_scale(const WalkedShaft& shaft,
                                                   const PlacedSpeed& place, double oil_K) {
  const std::array<double, 4>& c = shaft.viscosity_power;
  const double v = place.viscous_speed;
  const double t = oil_K - shaft.from_K;
  return bearing::viscous_scale((v * c[0] + t * (v * c[1])) + t * t * (v * c[2] + t * (v * c[3])));
}

/// The sump's step, as duty::temperature_after: most steps are alike.
struct SumpStep {
  double dt_s = -1.0, air_share = 0.0;
  double conductance_W_K = 0.0, moved_K_W = 0.0;

  [[gnu::always_inline]] inline void to(const TableWalk& walk, const DutyStep& step) {
    if (step.dt_s == dt_s && step.air_share == air_share) return;
    dt_s = step.dt_s;
    air_share = step.air_share;
    conductance_W_K = walk.conductance_W_K + air_share * walk.air_W_K;
    const double per_W = dt_s * walk.per_capacity_K_J;
    const double x = conductance_W_K * per_W;
    moved_K_W = per_W * (x < small_decay ? mean_decay_of_small(x) : mean_decay_of_large(x));
  }
};

}  // namespace

std::size_t walk(TableWalk& walk, std::size_t from, std::size_t to, numerics::LaneWidth width) {
  std::size_t next = from;
  numerics::run_at_width(width, [&] {
    // In locals: through a reference each step would wait for a store and a load.
    std::size_t i = from;
    double oil_K = walk.oil_K;
    const std::size_t count = walk.shafts.size();
    WalkedShaft* const shafts = walk.shafts.data();
    const double low_K = walk.low_K, high_K = walk.high_K;
    SumpStep sump;
    const bool moves = walk.moves;
    do {
      const DutyStep& step = walk.steps[i];
      const double dt_s = step.dt_s;
      walk.oil_at_K[i] = oil_K;
      double heat_W = walk.load_W[i] + walk.other_heat_W;
      if (moves) {
        sump.to(walk, step);
        const double ambient_K = step.ambient_K > 0.0 ? step.ambient_K : walk.ambient_K;
        heat_W -= sump.conductance_W_K * (oil_K - ambient_K);
      }
      for (std::size_t s = 0; s < count; ++s) {
        WalkedShaft& shaft = shafts[s];
        const PlacedSpeed& place = walk.places[i * count + s];
        const double turned_rad = place.speed_rad_s * dt_s;
        if (shaft.coefficients) {
          double* const energy_J = shaft.energy_J.data() + step.bucket * shaft.figures;
          heat_W += shaft.figures == ShaftTable::figure_step
                        ? contacts<ShaftTable::figure_step>(shaft, place, oil_K, dt_s, turned_rad,
                                                            energy_J)
                        : contacts<ShaftTable::most_figures>(shaft, place, oil_K, dt_s, turned_rad,
                                                             energy_J);
        }
        if (shaft.viscous_Nm > 0.0) {
          const double scale = viscous_scale(shaft, place, oil_K);
          shaft.scaled_rad[step.bucket] += scale * turned_rad;
          heat_W += scale * (shaft.viscous_Nm * place.speed_rad_s);
        }
      }
      if (moves) oil_K += heat_W * sump.moved_K_W;
      ++i;
    } while (i < to && oil_K >= low_K && oil_K <= high_K);
    walk.oil_K = oil_K;
    next = i;
  });
  return next;
}

}  // namespace ohmdrag::energy
