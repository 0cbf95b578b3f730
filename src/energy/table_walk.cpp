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
/// The same among doubles in memory.
using StoredWalks [[gnu::vector_size(most_side_by_side * sizeof(double)), gnu::may_alias]] = double;

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
/// The first figure is a power, the others are torques.
/// \param x  T - middle, with its square and its fourth power
template <std::size_t count>
[[gnu::always_inline]] inline double contacts(const PlacedSpeed& place, double x, double x2,
                                              double x4, double dt_s, double turned_rad,
                                              std::size_t bucket, const WalkedShaft& shaft) {
  double into_oil_W = 0.0;
  for (std::size_t f = 0; f < count; f += ShaftTable::figure_step) {
    component::FigurePowers powers;
    component::read_powers<count>(shaft.coefficients.data(), place, f, powers);
    const Figures* const h = powers.of;
    const Figures found = ((h[0] + x * h[1]) + x2 * (h[2] + x * h[3])) + x4 * (h[4] + x * h[5]);
    const Figures by{f == 0 ? dt_s : turned_rad, turned_rad, turned_rad, turned_rad};
    double* const energy_J = &shaft.energy_J(bucket, f);
    if (shaft.energy_J.stride == 1)
      *reinterpret_cast<Figures*>(energy_J) += found * by;
    else
      for (std::size_t k = 0; k < ShaftTable::figure_step && f + k < shaft.used; ++k)
        energy_J[k * shaft.energy_J.stride] += (found * by)[k];
    if (f == 0) into_oil_W = found[0];
  }
  return into_oil_W;
}

/// The same of every walk, side by side.
template <std::size_t used>
[[gnu::always_inline]] inline void contacts_in_lanes(const double* coefficients,
                                                     const PlacedSpeed& place, const Walks& x,
                                                     const Walks& x2, const Walks& x4, double dt_s,
                                                     double turned_rad, double* energy_J,
                                                     Walks& into_oil_W) {
  constexpr std::size_t power = used * most_side_by_side, row = ShaftTable::oil_points * power;
  const double* const c = coefficients + place.first * row;
  const double w0 = place.weights[0], w1 = place.weights[1], w2 = place.weights[2],
               w3 = place.weights[3];
  for (std::size_t f = 0; f < used; ++f) {
    const auto at = [&](std::size_t k) -> const StoredWalks& {
      return *reinterpret_cast<const StoredWalks*>(c + f * most_side_by_side + k);
    };
    Walks h[ShaftTable::oil_points];
    for (std::size_t p = 0; p < ShaftTable::oil_points; ++p) {
      const std::size_t k = p * power;
      h[p] = (w0 * at(k) + w1 * at(row + k)) + (w2 * at(2 * row + k) + w3 * at(3 * row + k));
    }
    const Walks found = ((h[0] + x * h[1]) + x2 * (h[2] + x * h[3])) + x4 * (h[4] + x * h[5]);
    const double by = f == 0 ? dt_s : turned_rad;
    *reinterpret_cast<StoredWalks*>(energy_J + f * most_side_by_side) += found * by;
    if (f > 0) continue;
    into_oil_W = found;
    if (turned_rad == 0.0) return;  // torques of a shaft that stands take nothing
  }
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

/// \tparam usual   is_usual(): nothing to ask for
/// \tparam used    figures of a row where walks hold them in lanes; else 0
/// \param several  room for all shafts where there are more
template <std::size_t count, bool usual, std::size_t used = 0>
[[gnu::always_inline]] inline void side_by_side(TableWalk* const* walks, std::size_t to,
                                                Shafts* several,
                                                const double* coefficients = nullptr) {
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
      if constexpr (used > 0) {
        contacts_in_lanes<used>(coefficients, place, x, x2, x4, dt_s, turned_rad,
                                &all.of[0]->energy_J(step.bucket), into_oil_W);
      } else {
        for_each_walk<count>([&](auto of_walk) __attribute__((always_inline)) {
          constexpr std::size_t w = of_walk;
          const WalkedShaft& shaft = *all.of[w];
          constexpr std::size_t few = ShaftTable::figure_step, many = ShaftTable::most_figures;
          if (usual || (!shaft.coefficients.empty() && shaft.figures == few))
            into_oil_W[w] =
                contacts<few>(place, x[w], x2[w], x4[w], dt_s, turned_rad, step.bucket, shaft);
          else if (!shaft.coefficients.empty())
            into_oil_W[w] =
                contacts<many>(place, x[w], x2[w], x4[w], dt_s, turned_rad, step.bucket, shaft);
        });
      }
      heat_W += into_oil_W;
      if (turned_rad == 0.0 || (!usual && !(all.of[0]->viscous_Nm > 0.0))) continue;
      // The speed comes first, for it does not wait for the oil.
      const double v = place.viscous_speed;
      const auto& c = all.viscosity_power;
      const Walks t = oil_K - all.from_K;
      const Walks power = (v * c[0] + t * (v * c[1])) + t * t * (v * c[2] + t * (v * c[3]));
      const Walks scale = power < least_power ? slow_scale + Walks{} : power;
      if constexpr (used > 0)
        *reinterpret_cast<StoredWalks*>(&all.of[0]->scaled_rad(step.bucket)) += scale * turned_rad;
      else
        for_each_walk<count>([&](auto w) __attribute__((always_inline)) {
          all.of[w]->scaled_rad(step.bucket) += scale[decltype(w)::value] * turned_rad;
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
  return walk.moves && walk.shafts.size() == 1 && !walk.shafts[0].coefficients.empty() &&
         walk.shafts[0].figures == ShaftTable::figure_step && walk.shafts[0].viscous_Nm > 0.0;
}

}  // namespace

void WalkLanes::begin(std::size_t used, std::size_t buckets) {
  if (used != used_) laid_in_ = {};
  used_ = used;
  energy_J_.assign(buckets * used * most_side_by_side, 0.0);
  scaled_rad_.assign(buckets * most_side_by_side, 0.0);
}

void WalkLanes::lay_in(std::size_t lane, std::span<const double> coefficients) {
  constexpr std::size_t few = ShaftTable::figure_step;
  const std::size_t rows = coefficients.size() / few, size = rows * used_ * most_side_by_side;
  if (coefficients_.size() != size) {
    laid_in_ = {};
    coefficients_.assign(size, 0.0);
  }
  if (laid_in_[lane] == coefficients.data()) return;
  laid_in_[lane] = coefficients.data();
  const double* from = coefficients.data();
  double* to = coefficients_.data() + lane;
  for (std::size_t row = 0; row < rows; ++row, from += few)
    for (std::size_t f = 0; f < used_; ++f, to += most_side_by_side) *to = from[f];
}

void walk(std::span<TableWalk* const> walks, std::size_t to, numerics::LaneWidth width) {
  static_assert(most_side_by_side == 4 && fewest_in_lanes == 3);
  const bool usual =
      walks.size() < fewest_in_lanes &&
      std::ranges::all_of(walks, [](const TableWalk* walk) { return is_usual(*walk); });
  std::vector<Shafts> shafts(usual ? 0 : walks[0]->shafts.size());
  numerics::run_at_width(width, [&] {
    switch (walks.size()) {
      case 1:
        return usual ? side_by_side<1, true>(walks.data(), to, nullptr)
                     : side_by_side<1, false>(walks.data(), to, shafts.data());
      case 2:
        return usual ? side_by_side<2, true>(walks.data(), to, nullptr)
                     : side_by_side<2, false>(walks.data(), to, shafts.data());
      case 3:
        return side_by_side<3, false>(walks.data(), to, shafts.data());
      default:
        return side_by_side<4, false>(walks.data(), to, shafts.data());
    }
  });
}

void walk(std::span<TableWalk* const> walks, std::size_t to, numerics::LaneWidth width,
          WalkLanes& lanes) {
  static_assert(most_side_by_side == 4 && fewest_in_lanes == 3 && ShaftTable::figure_step == 4);
  for (std::size_t w = 0; w < walks.size(); ++w) lanes.lay_in(w, walks[w]->shafts[0].coefficients);
  numerics::run_at_width(width, [&] {
    const auto over = [&]<std::size_t used>() {
      walks.size() < most_side_by_side
          ? side_by_side<3, true, used>(walks.data(), to, nullptr, lanes.coefficients())
          : side_by_side<4, true, used>(walks.data(), to, nullptr, lanes.coefficients());
    };
    switch (lanes.used()) {
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
