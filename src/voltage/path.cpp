#include "ohmdrag/voltage/path.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/numerics/root.hpp"
#include "voltage/branch.hpp"
#include "voltage/plain_complex.hpp"

namespace ohmdrag::voltage {

namespace {

constexpr double turn = 2.0 * std::numbers::pi;

double angular_rad_s(Frequency frequency) {
  if (!(frequency >= Frequency{}))
    throw std::invalid_argument("path: the frequency must not be negative");
  return turn * frequency.value();
}

/// The zero of a function that is not above zero at the low end and not below it at the high one,
/// ends included, where rounding may have moved it past one of them.
template <class F>
double zero_between(const F& f, double low, double high) {
  if (!(f(low) < 0.0)) return low;
  if (!(f(high) > 0.0)) return high;
  return numerics::bracketed_root(f, low, high, 1e-12 * low);
}

}  // namespace

std::complex<double> impedance_ohm(const GroundingPath& path, Frequency frequency) {
  const std::complex<double> s{0.0, angular_rad_s(frequency)};
  const std::complex<double> branch = Branch(path).impedance_ohm(s);
  return quotient(branch, 1.0 + product(s * path.across.value(), branch));
}

Resistance impedance_magnitude(const GroundingPath& path, Frequency frequency) {
  return Resistance::from_value(size(impedance_ohm(path, frequency)));
}

double impedance_phase_deg(const GroundingPath& path, Frequency frequency) {
  return std::arg(impedance_ohm(path, frequency)) * 180.0 / std::numbers::pi;
}

Resistance direct_resistance(const GroundingPath& path) {
  require_defined(path);
  Resistance sum = path.resistance;
  for (const Film& film : path.films) sum += film.resistance;
  return sum;
}

GroundingPath with_resistances(const GroundingPath& path, double factor) {
  require_defined(path);
  if (!(factor >= 0.0)) throw std::invalid_argument("path: the factor must not be negative");
  GroundingPath scaled = path;
  scaled.resistance *= factor;
  for (Film& film : scaled.films) film.resistance *= factor;
  return scaled;
}

ShaftNode loaded_node(const ShaftNode& node, const MaybePath& path) {
  return path ? ShaftNode{node.winding_rotor, node.total + path->across} : node;
}

std::optional<Frequency> inductive_corner(const GroundingPath& path) {
  const Branch branch(path);
  if (branch.l_H == 0.0) return std::nullopt;
  const double highest = direct_resistance(path).value() / branch.l_H;
  if (branch.films.empty()) return Frequency::from_value(highest / turn);
  const auto real_part = [&](double w) { return branch.impedance_ohm({0.0, w}).real(); };
  // The real part only falls, so that at the highest frequency bounds the root from below.
  const double w = zero_between([&](double w_) { return w_ * branch.l_H - real_part(w_); },
                                real_part(highest) / branch.l_H, highest);
  return Frequency::from_value(w / turn);
}

std::optional<Frequency> path_resonance(const ShaftNode& node, const GroundingPath& path) {
  const Branch branch(path);
  bearing_voltage_ratio(node);  // refuses an undefined node
  if (branch.l_H == 0.0) return std::nullopt;
  const double node_elastance = 1.0 / loaded_node(node, path).total.value();
  double elastance = node_elastance;
  for (const Branch::Leak& film : branch.films) elastance += 1.0 / film.c_F;
  const auto excess = [&](double x) {
    double sum = x * branch.l_H - node_elastance;
    for (const Branch::Leak& film : branch.films) {
      const double capacitive = x / (film.rate_per_s() * film.rate_per_s());
      sum -= capacitive / (film.c_F * (1.0 + capacitive));
    }
    return sum;
  };
  const double x = zero_between(excess, node_elastance / branch.l_H, elastance / branch.l_H);
  return Frequency::from_value(std::sqrt(x) / turn);
}

std::complex<double> attenuation(const ShaftNode& node, const MaybePath& path,
                                 Frequency frequency) {
  bearing_voltage_ratio(node);  // refuses an undefined node
  const double w_rad_s = angular_rad_s(frequency);
  if (!path) return 1.0;
  const std::complex<double> drive =
      product({0.0, w_rad_s * node.total.value()}, impedance_ohm(*path, frequency));
  return quotient(drive, 1.0 + drive);
}

double attenuation_dB(const ShaftNode& node, const MaybePath& path, Frequency frequency) {
  return 20.0 * std::log10(size(attenuation(node, path, frequency)));
}

Film punctured(const Film& film, Voltage voltage, Voltage frit) {
  if (!(film.resistance >= Resistance{} && film.capacitance >= Capacitance{}))
    throw std::invalid_argument("path: resistance and capacitance of a film must not be negative");
  if (!(voltage >= Voltage{} && frit > Voltage{}))
    throw std::invalid_argument("film: needs a voltage of at least 0 and a positive U_frit");
  if (voltage <= frit) return film;
  return {film.resistance * (frit / voltage).value(), film.capacitance};
}

}  // namespace ohmdrag::voltage
