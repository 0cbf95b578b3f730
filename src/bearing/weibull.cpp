#include "ohmdrag/bearing/weibull.hpp"

#include <algorithm>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/numerics/root.hpp"

namespace ohmdrag::bearing {

namespace {

const double log_at_l10 = -std::log(0.9);

void require_slope(double slope) {
  if (!(slope > 0.0 && std::isfinite(slope)))
    throw std::invalid_argument("Weibull: slope must be positive and finite");
}

void require_valid(const Weibull& life) {
  require_slope(life.slope);
  if (!(life.l10 > Time{})) throw std::invalid_argument("Weibull: L10 must be positive");
}

void require_valid(const ThreeParameterWeibull& life) {
  require_slope(life.slope);
  if (!(life.scale > 0.0)) throw std::invalid_argument("Weibull: scale must be positive");
}

void require_probability(double survival) {
  if (!(survival > 0.0 && survival < 1.0))
    throw std::invalid_argument("Weibull: survival must be between 0 and 1");
}

// -ln S(t).
double hazard(const Weibull& life, Time age) {
  require_valid(life);
  if (!(age >= Time{})) throw std::invalid_argument("Weibull: age must not be negative");
  return log_at_l10 * std::pow(double(age / life.l10), life.slope);
}

double gamma_at(double order, double slope) { return boost::math::tgamma(1.0 + order / slope); }

}  // namespace

double survival(const Weibull& life, Time age) { return std::exp(-hazard(life, age)); }

double failure_probability(const Weibull& life, Time age) {
  return -std::expm1(-hazard(life, age));
}

Time age_at_survival(const Weibull& life, double survival) {
  require_valid(life);
  require_probability(survival);
  return life.l10 * std::pow(-std::log(survival) / log_at_l10, 1.0 / life.slope);
}

Time characteristic_life(const Weibull& life) {
  require_valid(life);
  return life.l10 * std::pow(log_at_l10, -1.0 / life.slope);
}

Weibull weibull_of_characteristic_life(Time characteristic, double slope) {
  require_slope(slope);
  if (!(characteristic > Time{}))
    throw std::invalid_argument("Weibull: characteristic life must be positive");
  return {.l10 = characteristic * std::pow(log_at_l10, 1.0 / slope), .slope = slope};
}

Time mean_life(const Weibull& life) {
  return characteristic_life(life) * gamma_at(1.0, life.slope);
}

double median_over_l10(double slope) {
  require_slope(slope);
  return std::pow(std::numbers::ln2 / log_at_l10, 1.0 / slope);
}

Time l10_from_median(Time median, double slope) { return median / median_over_l10(slope); }

double survival(const ThreeParameterWeibull& life, double age) {
  require_valid(life);
  if (age <= life.minimum) return 1.0;
  return std::exp(-std::pow((age - life.minimum) / life.scale, life.slope));
}

double age_at_survival(const ThreeParameterWeibull& life, double survival) {
  require_valid(life);
  require_probability(survival);
  return life.minimum + life.scale * std::pow(-std::log(survival), 1.0 / life.slope);
}

double mean_life(const ThreeParameterWeibull& life) {
  require_valid(life);
  return life.minimum + life.scale * gamma_at(1.0, life.slope);
}

double standard_deviation(const ThreeParameterWeibull& life) {
  require_valid(life);
  const double mean = gamma_at(1.0, life.slope);
  return life.scale * std::sqrt(gamma_at(2.0, life.slope) - mean * mean);
}

Time system_l10(std::span<const Time> l10, double slope) {
  double sum = 0.0;
  for (const Time& life : l10) {
    require_valid(Weibull{.l10 = life, .slope = slope});
    sum += std::pow(life.value(), -slope);
  }
  return Time::from_value(std::pow(sum, -1.0 / slope));
}

Time system_l10(std::span<const Weibull> parts) {
  constexpr double infinite = std::numeric_limits<double>::infinity();
  double shortest_s = infinite, flattest = infinite;
  for (const auto& part : parts) {
    require_valid(part);
    shortest_s = std::min(shortest_s, part.l10.value());
    flattest = std::min(flattest, part.slope);
  }
  if (shortest_s == infinite) return Time::from_value(infinite);

  // The system lives no longer than its weakest part, and no shorter than one made of such parts
  // only, with the smallest of the slopes.
  const auto excess = [&](double log_age) {
    const Time age = Time::from_value(std::exp(log_age));
    double sum = 0.0;
    for (const auto& part : parts) sum += hazard(part, age);
    return sum / log_at_l10 - 1.0;
  };
  const double high = std::log(shortest_s);
  const double low = high - std::log(static_cast<double>(parts.size())) / flattest;
  constexpr double margin = 1e-9;  // both bounds are roots where all parts are alike
  return Time::from_value(
      std::exp(numerics::bracketed_root(excess, low - margin, high + margin, 1e-13)));
}

}  // namespace ohmdrag::bearing
