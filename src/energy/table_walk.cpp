#include "energy/table_walk.hpp"

#include <algorithm>
#include <utility>

#include "energy/duty_step.hpp"
#include "ohmdrag/component/table_row.hpp"

namespace ohmdrag::energy {

namespace {

using component::Figures;
using component::ShaftTable;

// Each step of the oil waits for the one before: the sums below are ordered for the shortest way
// from one temperature to the next, not for the fewest operations.

/// One double of every walk. Left to itself the compiler takes so short a loop apart.
using Walks [[gnu::vector_size(most_side_by_side * sizeof(double))]] = double;

// bearing::viscous_scale() for all of them at once.
constexpr double slow_scale = bearing::viscous_scale(0.0), least_power = 158.74010519681994;
static_assert(bearing::viscous_scale(least_power) == least_power);
static_assert(bearing::viscous_scale((1.0 - 1e-15) * least_power) == slow_scale);

/// A shaft of every walk.
struct Shafts {
  WalkedShaft* of[most_side_by_side];
  Walks middle_K, from_K, viscous_Nm, viscosity_power[4];
};

/// Gathers what a shaft's contacts take over a stretch, and returns their heat into the oil, W.
///
/// \param x         T - middle, with its square and its fourth power
/// \param energy_J  of the bucket: the first figure is a power, the others are torques
template <std::size_t count>
[[gnu::always_inline]] inline double contacts(const double* coefficients, const PlacedSpeed& place,
                                              double x, double x2, double x4, double dt_s,
                                              double turned_rad, double* energy_J) {
  double into_oil_W = 0.0;
  for (std::size_t f = 0; f < count; f += ShaftTable::figure_step) {
    component::FigurePowers powers;
    component::read_powers<count>(coefficients, place, f, powers);
    const Figures* const h = powers.of;
    const Figures found = ((h[0] + x * h[1]) + x2 * (h[2] + x * h[3])) + x4 * (h[4] + x * h[5]);
    const Figures by{f == 0 ? dt_s : turned_rad, turned_rad, turned_rad, turned_rad};
    *reinterpret_cast<Figures*>(energy_J + f) += found * by;
    if (f == 0) into_oil_W = found[0];
  }
  return into_oil_W;
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

/// Of every walk with its index as a constant, or the vectors would leave their registers.
template <std::size_t count, class Function>
[[gnu::always_inline]] inline void for_each_walk(const Function& function) {
  [&]<std::size_t... w>(std::index_sequence<w...>) __attribute__((always_inline)) {
    (function(std::integral_constant<std::size_t, w>{}), ...);
  }
  (std::make_index_sequence<count>{});
}

/// \tparam usual   one shaft with bearings and few contacts, its oil moving: nothing to ask for
/// \param several  room for all shafts where there are more
template <std::size_t count, bool usual>
[[gnu::always_inline]] inline void side_by_side(TableWalk* const* walks, std::size_t to,
                                                Shafts* several) {
  const TableWalk& first = *walks[0];
  const std::size_t from = first.next, count_of_shafts = usual ? 1 : first.shafts.size();
  const DutyStep* const steps = first.steps + from;
  const PlacedSpeed* const places = first.places + from * count_of_shafts;
  const double* const load_W = first.load_W + from;
  const bool moves = usual || first.moves;
  Shafts one{};
  Shafts* const shafts = usual ? &one : several;
  Walks oil_K{}, low_K{}, high_K{}, other_heat_W{};
  double* oil_at_K[count];
  std::size_t most = to - from;
  for_each_walk<count>([&](auto of_walk) __attribute__((always_inline)) {
    constexpr std::size_t w = of_walk;
    TableWalk& walk = *walks[w];
    oil_K[w] = walk.oil_K;
    low_K[w] = walk.low_K;
    high_K[w] = walk.high_K;
    other_heat_W[w] = walk.other_heat_W;
    oil_at_K[w] = walk.oil_at_K + from;
    most = std::min(most, walk.to - from);
    for (std::size_t s = 0; s < count_of_shafts; ++s) {
      WalkedShaft& shaft = walk.shafts[s];
      Shafts& all = shafts[s];
      all.of[w] = &shaft;
      all.middle_K[w] = shaft.middle_K;
      all.from_K[w] = shaft.from_K;
      all.viscous_Nm[w] = shaft.viscous_Nm;
      for (std::size_t k = 0; k < shaft.viscosity_power.size(); ++k)
        all.viscosity_power[k][w] = shaft.viscosity_power[k];
    }
  });
  SumpStep sump;
  std::size_t done = 0;
  bool within = true;
  do {
    const DutyStep& step = steps[done];
    const double dt_s = step.dt_s;
    for_each_walk<count>([&](auto w) __attribute__((always_inline)) {
      oil_at_K[w][done] = oil_K[decltype(w)::value];
    });
    Walks heat_W = load_W[done] + other_heat_W;
    if (moves) {
      sump.to(first, step);
      const double ambient_K = step.ambient_K > 0.0 ? step.ambient_K : first.ambient_K;
      heat_W -= sump.conductance_W_K * (oil_K - ambient_K);
    }
    for (std::size_t s = 0; s < count_of_shafts; ++s) {
      const PlacedSpeed& place = places[done * count_of_shafts + s];
      const Shafts& all = shafts[s];
      const double turned_rad = place.speed_rad_s * dt_s;
      const Walks x = oil_K - all.middle_K, x2 = x * x, x4 = x2 * x2;
      Walks into_oil_W{};
      for_each_walk<count>([&](auto of_walk) __attribute__((always_inline)) {
        constexpr std::size_t w = of_walk;
        WalkedShaft& shaft = *all.of[w];
        double* const energy_J = shaft.energy_J.data();
        constexpr std::size_t few = ShaftTable::figure_step, many = ShaftTable::most_figures;
        if (usual || (shaft.coefficients && shaft.figures == few))
          into_oil_W[w] = contacts<few>(shaft.coefficients, place, x[w], x2[w], x4[w], dt_s,
                                        turned_rad, energy_J + step.bucket * few);
        else if (shaft.coefficients)
          into_oil_W[w] = contacts<many>(shaft.coefficients, place, x[w], x2[w], x4[w], dt_s,
                                         turned_rad, energy_J + step.bucket * many);
      });
      heat_W += into_oil_W;
      if (!usual && !(all.of[0]->viscous_Nm > 0.0)) continue;
      // The speed comes first, for it does not wait for the oil.
      const double v = place.viscous_speed;
      const auto& c = all.viscosity_power;
      const Walks t = oil_K - all.from_K;
      const Walks power = (v * c[0] + t * (v * c[1])) + t * t * (v * c[2] + t * (v * c[3]));
      const Walks scale = power < least_power ? slow_scale + Walks{} : power;
      for_each_walk<count>([&](auto w) __attribute__((always_inline)) {
        all.of[w]->scaled_rad[step.bucket] += scale[decltype(w)::value] * turned_rad;
      });
      heat_W += scale * (all.viscous_Nm * place.speed_rad_s);
    }
    if (moves) oil_K += heat_W * sump.moved_K_W;
    const auto inside = (oil_K >= low_K) & (oil_K <= high_K);
    auto kept = inside[0];
    for_each_walk<count>([&](auto w) __attribute__((always_inline)) {
      kept &= inside[decltype(w)::value];
    });
    within = kept != 0;
    ++done;
  } while (done < most && within);
  for_each_walk<count>([&](auto w) __attribute__((always_inline)) {
    walks[w]->oil_K = oil_K[decltype(w)::value];
    walks[w]->next += done;
  });
}

bool is_usual(const TableWalk& walk) {
  return walk.moves && walk.shafts.size() == 1 && walk.shafts[0].coefficients &&
         walk.shafts[0].figures == ShaftTable::figure_step && walk.shafts[0].viscous_Nm > 0.0;
}

}  // namespace

void walk(std::span<TableWalk* const> walks, std::size_t to, numerics::LaneWidth width) {
  static_assert(most_side_by_side == 4);
  const bool usual =
      std::ranges::all_of(walks, [](const TableWalk* walk) { return is_usual(*walk); });
  std::vector<Shafts> shafts(usual ? 0 : walks[0]->shafts.size());
  numerics::run_at_width(width, [&] {
    const auto over = [&]<std::size_t count>() {
      usual ? side_by_side<count, true>(walks.data(), to, shafts.data())
            : side_by_side<count, false>(walks.data(), to, shafts.data());
    };
    switch (walks.size()) {
      case 1:
        return over.template operator()<1>();
      case 2:
        return over.template operator()<2>();
      case 3:
        return over.template operator()<3>();
      default:
        return over.template operator()<4>();
    }
  });
}

}  // namespace ohmdrag::energy
