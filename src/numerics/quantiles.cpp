#include "ohmdrag/numerics/quantiles.hpp"

#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/numerics/root.hpp"
#include "ohmdrag/quantity/distribution.hpp"

namespace ohmdrag::numerics {

namespace {

using Policy = boost::math::policies::policy<boost::math::policies::promote_double<false>>;

void require(bool met, const char* what) {
  if (!met) throw std::invalid_argument(what);
}
void require_share(double u) {
  require(u > 0.0 && u < 1.0, "quantile: u must lie between 0 and 1");
}

}  // namespace

double normal_quantile(double u, double mean, double deviation) {
  require(deviation > 0.0, "normal distribution: the deviation is positive");
  return mean + deviation * ohmdrag::normal_quantile(u);
}

double truncated_normal_quantile(double u, double mean, double deviation, double low, double high) {
  require(deviation > 0.0 && low < high,
          "truncated normal distribution: the deviation is positive and low below high");
  return Distribution{.shape = Shape::normal,
                      .mid = mean,
                      .half_width = deviation * ohmdrag::normal_quantile(0.975),
                      .floor = low,
                      .ceiling = high}
      .quantile(u);
}

double log_normal_quantile(double u, double median, double log_deviation) {
  require(median > 0.0 && log_deviation > 0.0,
          "log-normal distribution: median and deviation are positive");
  return median * std::exp(log_deviation * ohmdrag::normal_quantile(u));
}

double uniform_quantile(double u, double low, double high) {
  require_share(u);
  require(low < high, "uniform distribution: low lies below high");
  return low + u * (high - low);
}

double triangular_quantile(double u, double low, double mode, double high) {
  require_share(u);
  require(low < high && low <= mode && mode <= high,
          "triangular distribution: low, mode and high rise");
  const double width = high - low;
  if (u * width < mode - low) return low + std::sqrt(u * width * (mode - low));
  return high - std::sqrt((1.0 - u) * width * (high - mode));
}

double trapezoidal_quantile(double u, double low, double high, double top) {
  require_share(u);
  require(low < high, "trapezoidal distribution: low lies below high");
  require(top >= 0.0 && top <= 1.0, "trapezoidal distribution: the top is a share of the width");
  // The sum of two uniform parts with the widths (1 + top)/2 and (1 - top)/2 of the whole.
  const double width = high - low;
  const double slope_share = (1.0 - top) / (1.0 + top) / 2.0;  // of the draws below either slope
  const double foot = (1.0 - top) / 2.0;
  if (u < slope_share) return low + width * foot * std::sqrt(u / slope_share);
  if (1.0 - u < slope_share) return high - width * foot * std::sqrt((1.0 - u) / slope_share);
  return low + width * (foot + (u - slope_share) * (1.0 + top) / 2.0);
}

double curvilinear_trapezoidal_quantile(double u, double low, double high, double slack) {
  require_share(u);
  require(low < high, "curvilinear trapezoid: low lies below high");
  const double half = (high - low) / 2.0;
  require(slack >= 0.0 && slack <= half, "curvilinear trapezoid: the slack is 0 ... half width");
  if (slack == 0.0) return uniform_quantile(u, low, high);
  const double middle = low + half, inner = half - slack, outer = half + slack;
  const double tail = u < 0.5 ? u : 1.0 - u;
  const auto tail_beyond = [&](double t) {
    if (t >= outer) return 0.0;
    if (t >= inner && t > 0.0) return (outer - t - t * std::log(outer / t)) / (4.0 * slack);
    return 0.5 - (t > 0.0 ? t * std::log(outer / inner) / (4.0 * slack) : 0.0);
  };
  const double away =
      bracketed_root([&](double t) { return tail_beyond(t) - tail; }, 0.0, outer, 1e-12 * outer);
  return u < 0.5 ? middle - away : middle + away;
}

double student_quantile(double u, double centre, double scale, double degrees) {
  require_share(u);
  require(scale > 0.0 && degrees > 0.0,
          "Student's distribution: scale and degrees of freedom are positive");
  return centre + scale * boost::math::quantile(
                              boost::math::students_t_distribution<double, Policy>(degrees), u);
}

double arc_sine_quantile(double u, double low, double high) {
  require_share(u);
  require(low < high, "arc sine distribution: low lies below high");
  return low + (high - low) * (0.5 - 0.5 * std::cos(std::numbers::pi * u));
}

}  // namespace ohmdrag::numerics
