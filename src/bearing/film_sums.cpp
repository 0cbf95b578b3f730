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
[[gnu::always_inline]] inline double permittivity_of(const ContactOil& oil, double pressure_Pa) {
  const double squeezed = material::permittivity_of_polarisation(material::polarisation_at_density(
      oil.permittivity, material::compression_of_oil(1e-9 * pressure_Pa)));
  const bool under_pressure = oil.dielectric == Dielectric::under_pressure;
  return (under_pressure ? squeezed : oil.permittivity) +
         (oil.capacitance_factor - 1.0) * oil.permittivity;
}

}  // namespace

FilmSums film_sums(std::span<const double> loads_N, const UnitContact& inner,
                   const UnitContact& outer, const LoadPowers& powers, const ContactOil& oil,
                   numerics::LaneWidth width) {
  Row area{}, capacitance{}, worst{}, unloaded{};
  numerics::run_at_width(width, [&] {
    using Math = numerics::LaneMath;
    for (std::size_t first = 0; first < loads_N.size(); first += lanes) {
      Row load_N{}, there{};
      const std::size_t used = std::min(lanes, loads_N.size() - first);
      for (std::size_t l = 0; l < used; ++l) {
        load_N[l] = loads_N[first + l];
        there[l] = 1.0;
      }
      for (std::size_t l = 0; l < lanes; ++l) {
        const bool loaded = load_N[l] > 0.0;
        const double counts = loaded ? 1.0 : 0.0;
        const double log_load = Math::log(loaded ? load_N[l] : 1.0);
        const double unit_area = Math::exp(powers.area * log_load);
        const double unit_film = Math::exp(powers.central * log_load);
        const double inner_m2 = inner.area_m2 * unit_area, outer_m2 = outer.area_m2 * unit_area;
        const double c_i =
            permittivity_of(oil, load_N[l] / inner_m2) * inner_m2 / (inner.central_m * unit_film);
        const double c_o =
            permittivity_of(oil, load_N[l] / outer_m2) * outer_m2 / (outer.central_m * unit_film);
        area[l] += counts * inner_m2;
        capacitance[l] += counts * (c_i * c_o / (c_i + c_o));
        unloaded[l] += there[l] - counts;
        worst[l] = load_N[l] > worst[l] ? load_N[l] : worst[l];
      }
    }
  });
  FilmSums sums;
  for (std::size_t l = 0; l < lanes; ++l) {
    sums.area_inner_m2 += area[l];
    sums.capacitance_F += material::vacuum_permittivity_F_per_m * capacitance[l];
    sums.worst_N = std::max(sums.worst_N, worst[l]);
    sums.unloaded += unloaded[l];
  }
  return sums;
}

}  // namespace ohmdrag::bearing
