#include "bearing/film_sums.hpp"

#include <algorithm>
#include <array>

#include "ohmdrag/material/permittivity.hpp"
#include "ohmdrag/material/permittivity_kernel.hpp"
#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::bearing {

namespace {

constexpr std::size_t lanes = 8;
using Row = std::array<double, lanes>;

/// contact_permittivity() without its checks.
[[gnu::always_inline]] inline double permittivity_of(double permittivity, double around,
                                                     double under_pressure, double pressure_Pa) {
  const double squeezed = material::permittivity_of_polarisation(material::polarisation_at_density(
      permittivity, material::compression_of_oil(1e-9 * pressure_Pa)));
  return permittivity + under_pressure * (squeezed - permittivity) + around;
}

}  // namespace

FilmSums film_sums(std::span<const double> loads_N, const UnitContact& inner,
                   const UnitContact& outer, const LoadPowers& powers, const ContactOil& oil,
                   numerics::LaneWidth width) {
  Row area_sum{}, capacitance_sum{};
  double worst_N = 0.0, unloaded = 0.0;
  numerics::run_at_width(width, [&] {
    using Math = numerics::LaneMath;
    // Copies: the compiler knows that no sum is written into them.
    const UnitContact in = inner, out = outer;
    const LoadPowers by = powers;
    const double permittivity = oil.permittivity;
    const double around = (oil.capacitance_factor - 1.0) * oil.permittivity;
    const double under_pressure = oil.dielectric == Dielectric::under_pressure ? 1.0 : 0.0;
    for (std::size_t first = 0; first < loads_N.size(); first += lanes) {
      // An element without load counts nothing; 1 N stands for it, as no logarithm is in a branch.
      Row load_N, counts{}, area, capacitance;
      load_N.fill(1.0);
      const std::size_t used = std::min(lanes, loads_N.size() - first);
      for (std::size_t l = 0; l < used; ++l) {
        const double here_N = loads_N[first + l];
        unloaded += here_N > 0.0 ? 0.0 : 1.0;
        if (!(here_N > 0.0)) continue;
        worst_N = std::max(worst_N, here_N);
        load_N[l] = here_N;
        counts[l] = 1.0;
      }
#pragma GCC ivdep
      for (std::size_t l = 0; l < lanes; ++l) {
        const double load = load_N[l];
        const double log_load = Math::log(load);
        const double unit_area = Math::exp(by.area * log_load);
        const double unit_film = Math::exp(by.central * log_load);
        const double inner_m2 = in.area_m2 * unit_area, outer_m2 = out.area_m2 * unit_area;
        const double c_i = permittivity_of(permittivity, around, under_pressure, load / inner_m2) *
                           inner_m2 / (in.central_m * unit_film);
        const double c_o = permittivity_of(permittivity, around, under_pressure, load / outer_m2) *
                           outer_m2 / (out.central_m * unit_film);
        area[l] = inner_m2;
        capacitance[l] = c_i * c_o / (c_i + c_o);
      }
      for (std::size_t l = 0; l < lanes; ++l) {
        area_sum[l] += counts[l] * area[l];
        capacitance_sum[l] += counts[l] * capacitance[l];
      }
    }
  });
  FilmSums sums{.worst_N = worst_N, .unloaded = unloaded};
  for (std::size_t l = 0; l < lanes; ++l) {
    sums.area_inner_m2 += area_sum[l];
    sums.capacitance_F += material::vacuum_permittivity_F_per_m * capacitance_sum[l];
  }
  return sums;
}

}  // namespace ohmdrag::bearing
