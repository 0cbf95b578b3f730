#include "ohmdrag/material/viscosity.hpp"

#include <stdexcept>

namespace ohmdrag::material {

namespace {

double lg_lg(double shifted_mm2_s) { return std::log10(std::log10(shifted_mm2_s)); }

}  // namespace

Walther::Walther(double a, double b, double constant)
    : a_(a),
      b_(b),
      constant_(constant),
      log_k_(std::log(std::numbers::ln10) + a * std::numbers::ln10) {}

Walther Walther::through(Temperature t1, KinematicViscosity nu1, Temperature t2,
                         KinematicViscosity nu2, double constant) {
  if (!(constant >= 0.0 && constant < 1.0))
    throw std::invalid_argument("viscosity: the constant must be at least 0 and below 1");
  if (!(t1.value() > 0.0 && t2 > t1))
    throw std::invalid_argument("viscosity: the first anchor must be the colder one");
  if (!(nu1 > nu2)) throw std::invalid_argument("viscosity: it must fall as the temperature rises");
  const double shifted_2 = in_mm2_per_s(nu2) + constant;
  if (!(shifted_2 > 1.0))
    throw std::invalid_argument(
        "viscosity: nu + c must exceed 1 mm2/s, or its double logarithm is undefined");
  const double y1 = lg_lg(in_mm2_per_s(nu1) + constant);
  const double y2 = lg_lg(shifted_2);
  const double b = (y1 - y2) / std::log10(t2.value() / t1.value());
  return {y1 + b * std::log10(t1.value()), b, constant};
}

KinematicViscosity Walther::at(Temperature temperature) const {
  if (!(temperature.value() > 0.0))
    throw std::invalid_argument("viscosity: the temperature must be above absolute zero");
  return KinematicViscosity::from_value(1e-6 * point(temperature.value()).viscosity_mm2_s);
}

Temperature Walther::temperature_at(KinematicViscosity viscosity) const {
  const double shifted = in_mm2_per_s(viscosity) + constant_;
  if (!(shifted > 1.0))
    throw std::invalid_argument("viscosity: no temperature gives nu + c of 1 mm2/s or less");
  return Temperature::from_value(std::pow(10.0, (a_ - lg_lg(shifted)) / b_));
}

std::optional<numerics::RangeFlag> outside_walther(const Walther& oil, Temperature temperature) {
  constexpr auto formula = "oil viscosity over temperature";
  if (const auto flag = numerics::flag_outside(formula, "temperature, degC",
                                               in_celsius(temperature), -30.0, 150.0))
    return flag;
  return numerics::flag_outside(formula, "viscosity, mm2/s", in_mm2_per_s(oil.at(temperature)), 2.0,
                                numerics::no_limit);
}

}  // namespace ohmdrag::material
