#include "ohmdrag/voltage/threshold.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace ohmdrag::voltage {

double film_share(double film_ratio) {
  if (!(film_ratio >= 0.0))
    throw std::invalid_argument("film share: the film ratio must not be negative");
  const double x = std::clamp(0.5 * (film_ratio - 1.0), 0.0, 1.0);
  return x * x * (3.0 - 2.0 * x);
}

Voltage static_threshold(ElectricField breakdown, Length h_min, double film_ratio) {
  if (!(breakdown > ElectricField{} && h_min >= Length{}))
    throw std::invalid_argument(
        "threshold: the breakdown field must be positive and the film not negative");
  return 2.0 * film_share(film_ratio) * breakdown * h_min;
}

Voltage one_film_threshold(ElectricField breakdown, Length h_min, double film_ratio) {
  return 0.5 * static_threshold(breakdown, h_min, film_ratio);
}

ThresholdBand threshold_band(const BreakdownBand& breakdown, Length h_min, double film_ratio) {
  return {.at_05 = static_threshold(breakdown.at_05, h_min, film_ratio),
          .at_50 = static_threshold(breakdown.at_50, h_min, film_ratio),
          .at_95 = static_threshold(breakdown.at_95, h_min, film_ratio)};
}

PulseCredit pulse_credit(Time t0, Time duration) {
  if (!(t0 >= Time{} && duration > Time{}))
    throw std::invalid_argument(
        "pulse credit: t0 must not be negative and the duration must be positive");
  const double raw = 1.0 + std::sqrt(double(t0 / duration));
  return {.factor = std::min(raw, pulse_credit_cap), .raw = raw, .capped = raw > pulse_credit_cap};
}

double edge_probability(Voltage voltage, Voltage threshold, double width) {
  if (!(threshold >= Voltage{} && width > 0.0))
    throw std::invalid_argument(
        "edge probability: the threshold must not be negative and the width must be positive");
  const double magnitude_V = std::abs(voltage.value());
  if (!(magnitude_V > threshold.value())) return 0.0;
  const double excess = (magnitude_V / threshold.value() - 1.0) / width;
  return -std::expm1(-excess * excess);
}

}  // namespace ohmdrag::voltage
