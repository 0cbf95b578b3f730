#include "voltage/branch.hpp"

#include <algorithm>
#include <stdexcept>

#include "voltage/plain_complex.hpp"

namespace ohmdrag::voltage {

void require_defined(const GroundingPath& path) {
  if (!(path.resistance >= Resistance{} && path.inductance >= Inductance{} &&
        path.across >= Capacitance{}))
    throw std::invalid_argument(
        "path: resistance, inductance and capacitance must not be negative");
  for (const Film& film : path.films)
    if (!(film.resistance >= Resistance{} && film.capacitance >= Capacitance{}))
      throw std::invalid_argument(
          "path: resistance and capacitance of a film must not be negative");
}

Branch::Branch(const GroundingPath& path)
    : r_ohm(path.resistance.value()), l_H(path.inductance.value()) {
  require_defined(path);
  for (const Film& film : path.films) {
    const Leak leak{film.resistance.value(), film.capacitance.value()};
    if (leak.r_ohm == 0.0) continue;
    if (leak.c_F == 0.0) {
      r_ohm += leak.r_ohm;
      continue;
    }
    // Two of one time constant are one film; kept apart they would be a state that nothing drives.
    const auto same = std::ranges::find_if(films, [&](const Leak& other) {
      return std::abs(other.rate_per_s() - leak.rate_per_s()) <= 1e-12 * leak.rate_per_s();
    });
    if (same == films.end())
      films.push_back(leak);
    else
      *same = {same->r_ohm + leak.r_ohm, 1.0 / (1.0 / same->c_F + 1.0 / leak.c_F)};
  }
}

std::complex<double> Branch::impedance_ohm(std::complex<double> s_per_s) const {
  std::complex<double> z_ohm = r_ohm + s_per_s * l_H;
  for (const Leak& film : films)
    z_ohm += quotient(film.r_ohm, 1.0 + s_per_s * (film.r_ohm * film.c_F));
  return z_ohm;
}

std::complex<double> Branch::impedance_slope(std::complex<double> s_per_s) const {
  std::complex<double> slope = l_H;
  for (const Leak& film : films) {
    const std::complex<double> part = quotient(film.r_ohm, 1.0 + s_per_s * (film.r_ohm * film.c_F));
    slope -= film.c_F * product(part, part);
  }
  return slope;
}

}  // namespace ohmdrag::voltage
