#include "ohmdrag/voltage/discharge.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/numerics/lane_math.hpp"
#include "ohmdrag/voltage/strike_kernel.hpp"
#include "ohmdrag/voltage/threshold.hpp"
#include "ohmdrag/voltage/verdict.hpp"

namespace ohmdrag::voltage {

namespace {

Voltage magnitude(Voltage v) { return Voltage::from_value(std::abs(v.value())); }

/// One way an edge may strike.
struct Strike {
  double probability = 0.0;
  Voltage at;
};

Strike strike(const Stress& stress, const DischargeLaw& law) {
  if (stress.voltage == Voltage{}) return {};
  const Voltage threshold = law.threshold * pulse_credit(law.t0, stress.duration).factor;
  return {.probability = edge_probability(stress.voltage, threshold, law.width),
          .at = discharge_voltage(stress.voltage, law.threshold)};
}

}  // namespace

Voltage discharge_voltage(Voltage voltage, Voltage threshold) {
  if (!(threshold >= Voltage{}))
    throw std::invalid_argument("discharge: the threshold must not be negative");
  return std::min(magnitude(voltage), threshold);
}

Energy discharge_energy(Capacitance capacitance, Voltage voltage) {
  if (!(capacitance > Capacitance{}))
    throw std::invalid_argument("discharge: the capacitance must be positive");
  return 0.5 * capacitance * voltage * voltage;
}

Current peak_discharge_current(Voltage voltage, const DischargeLoop& loop) {
  const double l_H = loop.inductance.value();
  const double r_ohm = loop.resistance.value();
  const double c_F = loop.capacitance.value();
  if (!(l_H > 0.0 && r_ohm >= 0.0 && c_F > 0.0))
    throw std::invalid_argument(
        "discharge loop: L and C must be positive and R must not be negative");
  const double a = r_ohm / (2.0 * l_H);
  const double w0 = 1.0 / std::sqrt(l_H * c_F);
  const double swing = std::sqrt(std::abs((a - w0) * (a + w0)));
  // All three dampings by exp(-a t*) / (w0 L): at its peak the sine (or hyperbolic sine) of the
  // swing equals swing/w0.
  double decay = 1.0;  // a t*
  if (swing < 1e-6 * w0)
    decay = 1.0;  // critical; t* = 1/a to twelve digits
  else if (a < w0)
    decay = a > 0.0 ? a * std::atan(swing / a) / swing : 0.0;
  else
    decay = a * std::log((a + swing) / w0) / swing;  // atanh(swing/a), exact where they agree
  return Current::from_value(std::abs(voltage.value()) * std::exp(-decay) / (w0 * l_H));
}

CurrentDensity apparent_current_density(Current current, Area area) {
  if (!(area > Area{})) throw std::invalid_argument("current density: the area must be positive");
  return current / area;
}

EdgeRates edge_rates(Frequency carrier, double modulation, Time rise) {
  if (!(carrier > Frequency{} && rise > Time{}))
    throw std::invalid_argument("edge rates: carrier and rise must be positive");
  const double spacing = 4.0 * double(rise * carrier) / std::numbers::sqrt3;
  const auto [one, two, three] =
      edges_per_period<numerics::LibraryMath>(spacing, modulation, verdict_legs(modulation) == 3);
  return {.one_leg = one * carrier, .two_legs = two * carrier, .three_legs = three * carrier};
}

EdgeRates rates_at_standstill(const EdgeRates& rates, double blocked_share) {
  if (!(blocked_share >= 0.0 && blocked_share <= 1.0))
    throw std::invalid_argument("edge rates: the blocked share must be within 0 and 1");
  const double left = 1.0 - blocked_share;
  return {left * rates.one_leg, left * rates.two_legs, left * rates.three_legs};
}

DischargeRates discharge_rates(std::span<const EdgeClass> classes, const Stress& held,
                               const DischargeLaw& law) {
  if (!(law.area > Area{}))
    throw std::invalid_argument("discharge: the contact area must be positive");
  const Strike from_held = strike(held, law);
  DischargeRates out{};
  Frequency edges;
  for (const EdgeClass& kind : classes) {
    if (!(kind.rate >= Frequency{}))
      throw std::invalid_argument("discharge: a rate of edges must not be negative");
    const Strike from_edge = strike(kind.stress, law);
    const Strike& struck = from_edge.probability >= from_held.probability ? from_edge : from_held;
    const Frequency rate = struck.probability * kind.rate;
    edges += kind.rate;
    if (rate == Frequency{}) continue;
    out.rate += rate;
    out.power += rate * discharge_energy(law.capacitance, struck.at);
    out.strongest = std::max(out.strongest, struck.at);
  }
  out.dose_rate = out.power / law.area;
  if (edges > Frequency{}) out.probability_per_edge = out.rate / edges;
  return out;
}

}  // namespace ohmdrag::voltage
