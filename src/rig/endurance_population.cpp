#include "rig/endurance_population.hpp"

#include <boost/math/distributions/chi_squared.hpp>
#include <limits>

namespace ohmdrag::rig {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

}  // namespace

Interval welch_interval(double mid, double first, double first_degrees, double second,
                        double second_degrees) {
  const double variance = first + second;
  if (!(variance > 0.0)) return {mid, mid, mid};
  const double degrees =
      variance * variance / (first * first / first_degrees + second * second / second_degrees);
  const double half = numerics::student_95(degrees) * std::sqrt(variance);
  return {mid - half, mid, mid + half};
}

Interval CurveSample::middle() const {
  const auto m = static_cast<double>(value.size());
  if (!several())
    return welch_interval(mean, noise_variance, noise_degrees, time_variance, noise_degrees);
  return welch_interval(mean, deviation * deviation / m, m - 1.0, time_variance, noise_degrees);
}

Interval CurveSample::further() const {
  if (!several()) return {-infinite, mean, infinite};
  const auto m = static_cast<double>(value.size());
  return welch_interval(mean, deviation * deviation * (1.0 + 1.0 / m), m - 1.0, time_variance,
                        noise_degrees);
}

Interval CurveSample::scatter() const {
  const double degrees = static_cast<double>(value.size()) - 1.0;
  const boost::math::chi_squared squares(degrees);
  const auto without_noise = [&](double chi_square) {
    return std::sqrt(std::max(0.0, deviation * deviation * degrees / chi_square - noise_variance));
  };
  return {without_noise(boost::math::quantile(squares, 0.975)), without_noise(degrees),
          without_noise(boost::math::quantile(squares, 0.025))};
}

double CurveSample::mean_of() const {
  const auto m = static_cast<double>(value.size());
  if (!(deviation > 0.0)) return m;
  return 1.0 / (1.0 / m + time_variance / (deviation * deviation));
}

CurveSamples::CurveSamples(const PooledFit& pooled, std::size_t specimens, double widening)
    : pooled_(pooled),
      specimens_(specimens),
      widening_(widening),
      degrees_(std::max(1.0, static_cast<double>(pooled.fit.residual.size()) / widening -
                                 static_cast<double>(pooled.fit.parameter.size()))) {}

CurveSample CurveSamples::sample(double t_s, const double* from_s) const {
  const numerics::LeastSquaresFit& fit = pooled_.fit;
  const std::size_t n = fit.parameter.size(), stride = pooled_.stride(), last = n - 1;
  const auto covariance = [&](std::size_t a, std::size_t b) {
    return widening_ * fit.covariance[a * n + b];
  };
  const double of_time = pooled_.with_time ? covariance(last, last) : 0.0;
  CurveSample out;
  out.noise_degrees = degrees_;
  double sum_of_time_slopes = 0.0;
  for (std::size_t i = 0; i < specimens_; ++i) {
    const double g = pooled_.growth_of(i);
    Growth here = growth(pooled_.law, g, t_s, pooled_.reference_s, pooled_.log_time);
    double of_level = 1.0;
    if (from_s) {
      const Growth before = growth(pooled_.law, g, *from_s, pooled_.reference_s, pooled_.log_time);
      here = {here.value - before.value, here.over_growth - before.over_growth,
              here.over_log_time - before.over_log_time};
      of_level = 0.0;
    }
    out.value.push_back(of_level * pooled_.level(i) + here.value);
    const double slope[2] = {of_level, here.over_growth};
    double variance = 0.0, time_slope = here.over_log_time;
    for (std::size_t a = 0; a < stride; ++a) {
      const std::size_t ia = stride * i + a;
      const double along = of_time > 0.0 ? covariance(ia, last) / of_time : 0.0;
      time_slope += slope[a] * along;
      for (std::size_t b = 0; b < stride; ++b) {
        const std::size_t ib = stride * i + b;
        // At a known tau: less what the two share by way of it.
        const double shared = of_time > 0.0 ? along * covariance(ib, last) : 0.0;
        variance += slope[a] * slope[b] * (covariance(ia, ib) - shared);
      }
    }
    out.noise_variance += std::max(0.0, variance) / static_cast<double>(specimens_);
    if (pooled_.with_time) sum_of_time_slopes += time_slope;
  }
  const auto m = static_cast<double>(specimens_);
  for (const double value : out.value) out.mean += value / m;
  double squares = 0.0;
  for (const double value : out.value) squares += (value - out.mean) * (value - out.mean);
  if (specimens_ > 1) out.deviation = std::sqrt(squares / (m - 1.0));
  const double mean_slope = sum_of_time_slopes / m;
  out.time_variance = mean_slope * mean_slope * of_time;
  return out;
}

}  // namespace ohmdrag::rig
