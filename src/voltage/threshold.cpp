#include "ohmdrag/voltage/threshold.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/numerics/lane_math.hpp"
#include "ohmdrag/voltage/strike_kernel.hpp"

namespace ohmdrag::voltage {

double film_share(double film_ratio) {
  if (!(film_ratio >= 0.0))
    throw std::invalid_argument("film share: the film ratio must not be negative");
  return share_of_film(film_ratio);
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
  const double root_t0 = std::sqrt(t0.value()),
               per_root_duration = 1.0 / std::sqrt(duration.value());
  const double raw = 1.0 + root_t0 * per_root_duration;
  return {.factor = credit_factor(root_t0, per_root_duration),
          .raw = raw,
          .capped = raw > pulse_credit_cap};
}

double edge_probability(Voltage voltage, Voltage threshold, double width) {
  if (!(threshold >= Voltage{} && width > 0.0))
    throw std::invalid_argument(
        "edge probability: the threshold must not be negative and the width must be positive");
  return strike_probability<numerics::LibraryMath>(std::abs(voltage.value()) / threshold.value(),
                                                   1.0 / width);
}

}  // namespace ohmdrag::voltage
