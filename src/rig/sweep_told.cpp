#include "rig/sweep_told.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::rig {

namespace {

using enum CircuitPart;

constexpr double turn = 2.0 * std::numbers::pi;
/// A part shows where it makes, or takes, this share of the whole.
constexpr double shows = 0.1;
/// What a strap of some 10 cm has; what a fixture has, from memory.
constexpr double usual_H = 50e-9, usual_F = 20e-12;

std::string hertz(double f_Hz) { return print_quantity(f_Hz, Dimension::frequency, 2); }
std::string henry(double l_H) { return print_quantity(l_H, Dimension::inductance, 2); }
std::string farad(double c_F) { return print_quantity(c_F, Dimension::capacitance, 2); }
std::string ohms(double r_ohm) { return print_quantity(r_ohm, Dimension::resistance, 2); }

class Teller {
 public:
  Teller(const Sweep& sweep, const FittedCircuit& circuit, SweepFit& out)
      : circuit_(circuit), out_(out) {
    for (const SweepPoint& point : sweep) {
      const double w = angular_frequency(point);
      w_high_ = std::max(w_high_, w);
      const double size = std::abs(circuit_at(circuit.sizes, w).ohm);
      inductive_share_ = std::max(inductive_share_, w * of(inductance) / size);
      // Where |Z| over w is least, an inductance shows first.
      least_inductance_ = least_inductance_ > 0.0 ? std::min(least_inductance_, shows * size / w)
                                                  : shows * size / w;
    }
    top_ohm_ = std::abs(circuit_at(circuit.sizes, w_high_).ohm);
  }

  void tell() {
    tell_resistance();
    tell_inductance();
    tell_capacitance();
    tell_film();
    tell_direct();
  }

 private:
  double of(CircuitPart part) const { return circuit_.sizes[static_cast<std::size_t>(part)]; }
  bool has(CircuitPart part) const { return of(part) > 0.0; }
  std::size_t column(CircuitPart part) const {
    return static_cast<std::size_t>(std::ranges::find(circuit_.parts, part) -
                                    circuit_.parts.begin());
  }
  double covariance(CircuitPart a, CircuitPart b) const {
    return circuit_.covariance[column(a) * circuit_.parts.size() + column(b)];
  }

  template <class Q>
  FactorEstimate<Q> estimate(double si, double variance) const {
    const double error = std::sqrt(variance);
    constexpr double largest = 700.0;  // e^700 is still a number
    return {Q::from_value(si), error, std::exp(std::min(largest, circuit_.student * error))};
  }
  template <class Q>
  FactorEstimate<Q> estimate(CircuitPart part) const {
    return estimate<Q>(of(part), covariance(part, part));
  }
  template <class Q>
  static bool well_known(const FactorEstimate<Q>& estimate) {
    return estimate.factor <= told_within_factor;
  }

  void tell_resistance() {
    const auto known = estimate<Resistance>(resistance);
    if (well_known(known)) {
      out_.resistance = known;
      return;
    }
    if (has(film_resistance))
      out_.notes.push_back(fmt::format(
          "The resistance in series with the film is not told: up to {} the film makes nearly all "
          "of the impedance. Sweep up until the magnitude levels off.",
          hertz(w_high_ / turn)));
    else
      out_.notes.push_back(fmt::format(
          "The resistance is hidden behind the inductance, below some {}: sweep down to {}, where "
          "it would be as large.",
          ohms(of(resistance) * std::min(known.factor, 1e3)),
          hertz(of(resistance) / (turn * of(inductance)))));
  }

  void tell_inductance() {
    if (!has(inductance)) {
      out_.notes.push_back(
          fmt::format("The sweep tells no inductance: up to {} only more than {} would show. One "
                      "of {}, a strap "
                      "of some 10 cm, shows from {} on.",
                      hertz(w_high_ / turn), henry(least_inductance_), henry(usual_H),
                      hertz(std::max(w_high_, shows * top_ohm_ / usual_H) / turn)));
      return;
    }
    const auto known = estimate<Inductance>(inductance);
    if (inductive_share_ < shows)
      out_.notes.push_back(fmt::format(
          "An inductance of {} makes less than a tenth of the impedance up to {}: an error of "
          "phase of {} degrees would look the same, so it is not reported. It shows from {} on.",
          henry(of(inductance)), hertz(w_high_ / turn),
          print_number(360.0 / turn * inductive_share_, 2),
          hertz(shows * top_ohm_ / of(inductance) / turn)));
    else if (!well_known(known))
      out_.notes.push_back(
          fmt::format("The inductance is known to a factor of {} only, and not reported: sweep "
                      "further up.",
                      print_number(known.factor, 2)));
    else
      out_.inductance = known;
  }

  void tell_capacitance() {
    if (!has(capacitance)) {
      if (has(film_resistance)) return;
      if (out_.inductance)
        out_.notes.push_back(fmt::format(
            "The sweep tells no capacitance across the contact: with this inductance it is below "
            "{}. One of {} shows at {}.",
            farad(1.0 / (w_high_ * w_high_ * of(inductance))), farad(usual_F),
            hertz(1.0 / std::sqrt(of(inductance) * usual_F) / turn)));
      else
        out_.notes.push_back(fmt::format(
            "The sweep tells no capacitance across the contact: up to {} only more than {} would "
            "show.",
            hertz(w_high_ / turn), farad(shows / (w_high_ * top_ohm_))));
      return;
    }
    const auto known = estimate<Capacitance>(capacitance);
    const double w0 = has(inductance) ? 1.0 / std::sqrt(of(inductance) * of(capacitance))
                                      : shows / (of(resistance) * of(capacitance));
    if (w0 > w_high_)
      out_.notes.push_back(fmt::format(
          "A capacitance of {} across the contact would resonate at {}, above the band: "
          "it is fitted beside the others and not reported.",
          farad(of(capacitance)), hertz(w0 / turn)));
    else if (!well_known(known))
      out_.notes.push_back(fmt::format(
          "The capacitance across the contact is known to a factor of {} only, and not reported.",
          print_number(known.factor, 2)));
    else
      out_.capacitance = known;
  }

  void tell_film() {
    if (!has(film_resistance)) return;
    const auto film = estimate<Resistance>(film_resistance);
    const auto beside = estimate<Capacitance>(film_capacitance);
    const double corner = 1.0 / (of(film_resistance) * of(film_capacitance));
    if (well_known(film))
      out_.film_resistance = film;
    else
      out_.notes.push_back(
          fmt::format("The resistance of the film is not told: its corner, {}, lies below or among "
                      "the lowest frequencies. Sweep down until the magnitude levels off.",
                      hertz(corner / turn)));
    if (w_high_ > shows * corner && well_known(beside))
      out_.film_capacitance = beside;
    else
      out_.notes.push_back(
          fmt::format("The capacitance of the film is not told: its corner lies near {}. Sweep up "
                      "through it.",
                      hertz(corner / turn)));
  }

  void tell_direct() {
    if (!has(film_resistance)) {
      out_.direct_resistance = out_.resistance;
      return;
    }
    const double sum = of(resistance) + of(film_resistance);
    const double a = of(resistance) / sum, b = of(film_resistance) / sum;
    // A part that hardly counts may not be known at all.
    double variance = b * b * covariance(film_resistance, film_resistance);
    if (std::isfinite(covariance(resistance, resistance)))
      variance += a * a * covariance(resistance, resistance) +
                  2.0 * a * b * covariance(resistance, film_resistance);
    const auto known = estimate<Resistance>(sum, std::max(variance, 0.0));
    if (well_known(known)) out_.direct_resistance = known;
  }

  const FittedCircuit& circuit_;
  SweepFit& out_;
  double w_high_ = 0.0, inductive_share_ = 0.0, least_inductance_ = 0.0;
  double top_ohm_ = 0.0;
};

}  // namespace

void tell_parts(const Sweep& sweep, const FittedCircuit& circuit, SweepFit& out) {
  Teller(sweep, circuit, out).tell();
}

}  // namespace ohmdrag::rig
