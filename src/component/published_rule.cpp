#include "ohmdrag/component/published_rule.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace ohmdrag::component {

namespace {

using numerics::flag_outside;
using numerics::no_limit;
using numerics::RangeFlag;

constexpr auto by_diameter = "seal torque proportional to diameter";
constexpr auto by_diameter_squared = "seal power proportional to diameter squared";
constexpr auto by_oil_temperature = "seal power by diameter, oil temperature and viscosity";

void add(std::vector<RangeFlag>& flags, const std::optional<RangeFlag>& flag) {
  if (flag) flags.push_back(*flag);
}

void check_coefficient(double coefficient) {
  if (!(coefficient > 0.0))
    throw std::invalid_argument("seal loss rule: the coefficient must be positive");
}

// P = c d^2 n with n in 1/min is a constant torque: T = P/omega = c d^2 30/pi.
Torque torque_of_square_rule(double coefficient_W_min_per_mm2, double d_mm) {
  return Torque::from_value(coefficient_W_min_per_mm2 * d_mm * d_mm * 30.0 / std::numbers::pi);
}

}  // namespace

double oil_temperature_bracket(const PowerByOilTemperature& rule, const RuleOil& oil) {
  const double shifted = in_mm2_per_s(oil.at_40) + rule.viscosity_shift_mm2_s;
  if (!(shifted > 1.0))
    throw std::invalid_argument(
        "seal loss rule: viscosity at 40 degC too small for its double logarithm");
  return rule.constant - rule.per_degC * in_celsius(oil.temperature) +
         rule.per_lg_lg_viscosity * std::log10(std::log10(shifted));
}

RuleLoss rule_loss(const PublishedRule& rule, Length diameter, AngularVelocity speed,
                   const RuleOil& oil) {
  if (!(diameter.value() > 0.0))
    throw std::invalid_argument("seal loss rule: the diameter must be positive");
  if (std::isnan(speed.value()))
    throw std::invalid_argument("seal loss rule: the speed is undefined");
  const double d_mm = diameter.value() * 1e3;

  RuleLoss loss;
  std::string_view formula;
  Torque magnitude;
  if (const auto* linear = std::get_if<TorqueByDiameter>(&rule)) {
    check_coefficient(linear->coefficient_Nm_per_mm);
    formula = by_diameter;
    magnitude = Torque::from_value(linear->coefficient_Nm_per_mm * d_mm);
  } else if (const auto* square = std::get_if<PowerByDiameterSquared>(&rule)) {
    check_coefficient(square->coefficient_W_min_per_mm2);
    formula = by_diameter_squared;
    magnitude = torque_of_square_rule(square->coefficient_W_min_per_mm2, d_mm);
  } else {
    const auto& by_oil = std::get<PowerByOilTemperature>(rule);
    check_coefficient(by_oil.coefficient_W_min_per_mm2);
    formula = by_oil_temperature;
    const double bracket = oil_temperature_bracket(by_oil, oil);
    add(loss.flags, flag_outside(formula, "bracket, replaced by its floor", bracket,
                                 by_oil.bracket_floor, no_limit));
    add(loss.flags, flag_outside(formula, "oil temperature, degC", in_celsius(oil.temperature),
                                 -no_limit, 100.0));
    add(loss.flags,
        flag_outside(formula, "viscosity at 40 degC, mm2/s", in_mm2_per_s(oil.at_40), 46.0, 460.0));
    magnitude = torque_of_square_rule(
        by_oil.coefficient_W_min_per_mm2 * std::max(bracket, by_oil.bracket_floor), d_mm);
  }
  add(loss.flags, flag_outside(formula, "shaft diameter, mm", d_mm, 0.0, 80.0));

  loss.torque = speed.value() < 0.0 ? -magnitude : magnitude;
  loss.power = loss.torque * speed;
  return loss;
}

}  // namespace ohmdrag::component
