#include "ohmdrag/contact/force_loss.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "contact/force_loss_kernel.hpp"
#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::contact {

namespace {

using numerics::flag_outside;
using numerics::no_limit;

void require(bool met, const char* what) {
  if (!met) throw std::invalid_argument(what);
}

/// `raw` if it is not negative, else 0 and a flag.
double not_below_zero(double raw, std::string_view formula, std::string_view quantity,
                      std::vector<numerics::RangeFlag>& flags) {
  const auto flag = flag_outside(formula, quantity, raw, 0.0, no_limit);
  if (!flag) return raw;
  flags.push_back(*flag);
  return 0.0;
}

void append(std::vector<numerics::RangeFlag>& to, const std::vector<numerics::RangeFlag>& more) {
  to.insert(to.end(), more.begin(), more.end());
}

}  // namespace

double ageing_acceleration(TemperatureDifference activation_temperature, Temperature reference,
                           Temperature temperature) {
  require(activation_temperature.value() >= 0.0,
          "ageing: the activation temperature must not be negative");
  require(reference.value() > 0.0 && temperature.value() > 0.0,
          "ageing: temperatures must be above absolute zero");
  return std::exp(activation_temperature.value() *
                  (1.0 / reference.value() - 1.0 / temperature.value()));
}

ForceFactor relaxation(const Relaxation& law, Time age, Temperature temperature) {
  require(law.per_decade >= 0.0, "relaxation: the loss per decade must not be negative");
  require(law.log_time.value() > 0.0 && law.chemical_time.value() > 0.0,
          "relaxation: both times must be positive");
  require(law.stretch > 0.0 && law.stretch <= 1.0,
          "relaxation: the stretching exponent must lie above 0 and up to 1");
  require(age.value() >= 0.0, "relaxation: the age must not be negative");

  const RelaxationConstants constants{
      law.per_decade, law.log_time.value(),
      ageing_acceleration(law.activation_temperature, law.at, temperature) /
          law.chemical_time.value(),
      law.stretch};
  using Math = numerics::LibraryMath;
  ForceFactor result{.value = 0.0, .flags = {}};
  const double physical =
      not_below_zero(physical_share<Math>(constants, age.value()),
                     "relaxation in the logarithm of time", "remaining share", result.flags);
  result.value = physical * chemical_share<Math>(constants, age.value());
  return result;
}

double spring_factor(const SpringSet& set, Time age) {
  require(set.final_set >= 0.0 && set.final_set <= 1.0,
          "spring set: the final set must lie between 0 and 1");
  require(set.set_time.value() > 0.0, "spring set: its time must be positive");
  require(age.value() >= 0.0, "spring set: the age must not be negative");
  return spring_share<numerics::LibraryMath>(set.final_set, set.set_time.value(), age.value());
}

ForceFactor modulus_ratio(const ModulusTable& table, Temperature temperature) {
  require(!table.empty(), "modulus over temperature: the table has no points");
  require(!std::isnan(temperature.value()), "modulus over temperature: not a temperature");
  for (std::size_t i = 0; i < table.size(); ++i) {
    require(table[i].ratio > 0.0, "modulus over temperature: every ratio must be positive");
    require(i == 0 || table[i].temperature > table[i - 1].temperature,
            "modulus over temperature: temperatures must rise");
  }

  ForceFactor result{.value = 0.0, .flags = {}};
  if (const auto flag =
          flag_outside("modulus over temperature", "temperature, degC", in_celsius(temperature),
                       in_celsius(table.front().temperature), in_celsius(table.back().temperature)))
    result.flags.push_back(*flag);

  const auto above = std::ranges::upper_bound(table, temperature, {}, &ModulusPoint::temperature);
  if (above == table.begin()) {
    result.value = table.front().ratio;
  } else if (above == table.end()) {
    result.value = table.back().ratio;
  } else {
    const ModulusPoint& low = *(above - 1);
    const double share = ((temperature - low.temperature) / (above->temperature - low.temperature));
    result.value = low.ratio + share * (above->ratio - low.ratio);
  }
  return result;
}

LipForceResult lip_force(const LipForce& lip, const LipState& state) {
  require(lip.spring.value() >= 0.0 && lip.rubber.value() >= 0.0,
          "lip force: spring and rubber parts must not be negative");
  require(lip.radial_interference.value() > 0.0, "lip force: the interference must be positive");
  require(lip.pressure_length.value() >= 0.0,
          "lip force: the length under pressure must not be negative");
  require(state.wear.value() >= 0.0, "lip force: the wear must not be negative");
  require(!std::isnan(state.over_pressure.value()), "lip force: not a pressure");

  LipForceResult result{};
  const ForceFactor relaxed = relaxation(lip.relaxation, state.age, state.temperature);
  const ForceFactor softened = modulus_ratio(lip.modulus, state.temperature);
  append(result.flags, relaxed.flags);
  append(result.flags, softened.flags);
  const double left =
      not_below_zero(1.0 - (state.wear / lip.radial_interference).value(), "force of a worn lip",
                     "interference left, share", result.flags);

  result.spring = lip.spring * spring_factor(lip.set, state.age);
  result.rubber = lip.rubber * (relaxed.value * left * softened.value);
  result.pressure = state.over_pressure * lip.pressure_length;
  const LineForce sum = result.spring + result.rubber + result.pressure;
  result.total = LineForce::from_value(
      not_below_zero(sum.value(), "lip lifts off the shaft", "line force, N/m", result.flags));
  return result;
}

RingForce ring_force(const ElasticRing& ring, WearRate wear_rate, Length way) {
  require(ring.line_force.value() >= 0.0, "elastic ring: the line force must not be negative");
  require(ring.deflection.value() > 0.0 && ring.width.value() > 0.0,
          "elastic ring: deflection and width must be positive");
  require(wear_rate.value() >= 0.0 && way.value() >= 0.0,
          "elastic ring: wear rate and way must not be negative");
  const Pressure stiffness = ring.line_force / ring.deflection;
  const double exponent = stiffness * wear_rate * (way / ring.width);
  return {.line_force = ring.line_force * std::exp(-exponent),
          .wear = ring.deflection * -std::expm1(-exponent)};
}

}  // namespace ohmdrag::contact
