#include "ohmdrag/bearing/film.hpp"
#include "ohmdrag/numerics/lane_math.hpp"
#include "ohmdrag/voltage/strike_kernel.hpp"
#include "study/strike_lanes.hpp"

namespace ohmdrag::study {

using numerics::LaneMath;
using numerics::lanes;
using numerics::LaneWidth;

namespace {

/// Power of the loading at which inlet heating leaves half the film.
constexpr double half_heated =
    bearing::inlet_heating_factor(1.0) / (1.0 - bearing::inlet_heating_factor(1.0));

/// Adds one bearing's film to the node.
[[gnu::always_inline]] inline void add_film(const StrikeColumns::Bearing& columns,
                                            const StruckBearing& bearing, double index,
                                            const double* dt_s, const double* heating,
                                            const LaneRow* oil, std::size_t at, NodeBlock& node,
                                            LaneRow& conducting, StrikeSums& sums) {
  const double* const minimum_m = columns.minimum_m[at];
  const double* const capacitance_F = columns.capacitance_F[at];
  const double* const area_m2 = columns.area_m2[at];
  const double* const unloaded = columns.unloaded[at];
  const double of_heating = columns.heating / half_heated, per_roughness = columns.per_roughness;
  const double films = bearing.films, element_F = bearing.unloaded_F, beside_F = bearing.beside_F;
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) {
    // Films as bearing::inlet_heating_factor() = 1/cooler leaves them.
    const double cooler = 1.0 + oil[0].of[i] * heating[i] * of_heating;
    const double film_m = oil[1].of[i] * minimum_m[i] / cooler;
    const double ratio = film_m * per_roughness;
    const double film_F = oil[2].of[i] * capacitance_F[i] * cooler;
    const double whole_F = films * film_F + unloaded[i] * element_F + beside_F;
    const bool conducts = ratio < 1.0;
    conducting.of[i] = conducts ? 1.0 : conducting.of[i];
    sums.conducting_s.of[i] += conducts ? dt_s[i] : 0.0;
    node.total_F.of[i] += conducts ? 0.0 : whole_F;
    const double gap_m = 2.0 * voltage::share_of_film(ratio) * film_m;
    const double any_gap_m = conducts ? unbridged_m : gap_m;
    const double so_far_m = node.gap_m.of[i];
    const bool weaker = any_gap_m < so_far_m;
    node.gap_m.of[i] = weaker ? any_gap_m : so_far_m;
    node.area_m2.of[i] = weaker ? area_m2[i] : node.area_m2.of[i];
    node.film_ratio.of[i] = weaker ? ratio : node.film_ratio.of[i];
    node.struck.of[i] = weaker ? index : node.struck.of[i];
  }
}

}  // namespace

bool find_films(const StrikeColumns& columns, std::span<const StruckBearing> bearings,
                const OilColumns& oil, const double* oil_K, double base_F, std::size_t at,
                LaneWidth width, NodeBlock& node, std::vector<StrikeSums>& sums) {
  const OilColumns::Pieces pieces = oil.pieces();
  const FilmColumns& films = *columns.films;
  bool held = false;
  numerics::run_at_width(width, [&] {
    OilBlock place;
    held = place_oil(pieces, oil_K, place);
    if (!held) return;
    LaneRow conducting, of_oil[3];
    look_up(pieces, OilColumns::heating, place, of_oil[0]);
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      conducting.of[i] = 0.0;
      node.total_F.of[i] = base_F;
      node.gap_m.of[i] = unbridged_m;
      node.area_m2.of[i] = 1.0;
      node.film_ratio.of[i] = 0.0;
      node.struck.of[i] = -1.0;
    }
    const double* const dt_s = films.dt_s[at];
    std::size_t kind = most_film_kinds;
    for (std::size_t b = 0; b < bearings.size(); ++b) {
      if (columns.bearings[b].kind != kind) {
        kind = columns.bearings[b].kind;
        look_up(pieces, OilColumns::minimum_of(kind), place, of_oil[1]);
        look_up(pieces, OilColumns::capacitance_of(kind), place, of_oil[2]);
      }
      add_film(columns.bearings[b], bearings[b], double(b), dt_s, films.heating[at], of_oil, at,
               node, conducting, sums[b]);
    }
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const double insulated_s = conducting.of[i] > 0.0 ? 0.0 : dt_s[i];
      node.log_F.of[i] = LaneMath::log(node.total_F.of[i]);
      node.live_s.of[i] = node.struck.of[i] < 0.0 ? 0.0 : insulated_s;
    }
  });
  return held;
}

void share_out(double winding_rotor_F, double rising_V, double falling_V, double held_V,
               LaneWidth width, const NodeBlock& node, StressBlock& stresses) {
  numerics::run_at_width(width, [&] {
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const double ratio = winding_rotor_F / node.total_F.of[i];
      stresses.rising.voltage_V.of[i] = ratio * rising_V;
      stresses.falling.voltage_V.of[i] = ratio * falling_V;
      stresses.held.voltage_V.of[i] = ratio * held_V;
    }
  });
}

}  // namespace ohmdrag::study
