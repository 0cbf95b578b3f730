#include "rig/force_regression.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>

#include "ohmdrag/numerics/least_squares.hpp"
#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::rig {

namespace {

constexpr double same_force = 0.02;
constexpr std::size_t fewest_one_way = 3, forces_for_bend = 4;
/// Residuals below are rounding and nothing is far off.
constexpr double rounding = 1e-9;

/// Rows of a linear model: one intercept a specimen, the exponent, then what else is sought.
class Regression {
 public:
  Regression(const std::vector<LogReading>& readings, double log_reference, double off)
      : readings_(readings) {
    std::set<std::string> names;
    for (const LogReading& reading : readings) names.insert(reading.specimen);
    specimens_.assign(names.begin(), names.end());
    for (const LogReading& reading : readings) {
      if (!(reading.value - off > 0.0))
        throw std::invalid_argument(fmt::format(
            "reading {} is {} and what is to be taken off it {}: nothing is left. Is the sign "
            "turned round, is lead or tare that of another rig?",
            reading.point + 1, print_number(reading.value, 3), print_number(off, 3)));
      y_.push_back(std::log(reading.value - off));
      x_.push_back(reading.log_force - log_reference);
    }
    find_ways();
  }

  std::size_t specimens() const { return specimens_.size(); }
  std::size_t exponent() const { return specimens_.size(); }
  bool two_ways() const { return two_ways_; }
  const std::vector<double>& x() const { return x_; }
  const std::vector<double>& y() const { return y_; }
  std::size_t columns(bool bend) const {
    return specimens_.size() + 1 + (two_ways_ ? 1 : 0) + (bend ? 1 : 0);
  }

  numerics::LeastSquaresFit fit(bool bend) const {
    const std::size_t n = columns(bend);
    if (readings_.size() < n + 2)
      throw std::invalid_argument(
          fmt::format("{} readings tell no {} constants", readings_.size(), n));
    std::vector<double> mean_square(1, 0.0);
    for (const double x : x_) mean_square[0] += x * x / static_cast<double>(x_.size());
    const auto residuals = [&](std::span<const double> at, std::span<double> r,
                               std::span<double> slopes) {
      for (std::size_t i = 0; i < y_.size(); ++i) {
        const auto row = slopes.subspan(i * n, n);
        std::ranges::fill(row, 0.0);
        const auto of = std::ranges::find(specimens_, readings_[i].specimen) - specimens_.begin();
        row[static_cast<std::size_t>(of)] = -1.0;
        row[exponent()] = -x_[i];
        if (two_ways_) row[exponent() + 1] = -way_[i];
        if (bend) row[n - 1] = -(x_[i] * x_[i] - mean_square[0]);
        r[i] = y_[i];
        for (std::size_t j = 0; j < n; ++j) r[i] += at[j] * row[j];
      }
    };
    const std::vector<numerics::FitParameter> start(n);
    return numerics::least_squares(residuals, y_.size(), start, {.loss = numerics::Loss::huber});
  }

 private:
  void find_ways() {
    way_.assign(x_.size(), 0.0);
    for (std::size_t i = 1; i < x_.size(); ++i) {
      if (readings_[i].specimen != readings_[i - 1].specimen) continue;
      const double step = x_[i] - x_[i - 1];
      way_[i] = std::abs(step) <= same_force ? way_[i - 1] : step > 0.0 ? 0.5 : -0.5;
    }
    for (std::size_t i = way_.size(); i-- > 1;)
      if (way_[i - 1] == 0.0 && readings_[i].specimen == readings_[i - 1].specimen)
        way_[i - 1] = way_[i];
    std::size_t turns = 0;
    for (std::size_t i = 1; i < way_.size(); ++i) turns += way_[i] * way_[i - 1] < 0.0 ? 1 : 0;
    const auto count = [&](double way) {
      return static_cast<std::size_t>(std::ranges::count(way_, way));
    };
    const std::size_t fewest = std::max(fewest_one_way, way_.size() / 4);  // a jump is no way
    two_ways_ = 4 * turns <= way_.size() && count(0.5) >= fewest && count(-0.5) >= fewest;
  }

  const std::vector<LogReading>& readings_;
  std::vector<std::string> specimens_;
  std::vector<double> x_, y_, way_;
  bool two_ways_ = false;
};

std::size_t distinct(std::vector<double> x) {
  std::ranges::sort(x);
  std::size_t count = 0;
  double last = 0.0;
  for (const double value : x)
    if (count == 0 || value > last + same_force) {
      ++count;
      last = value;
    }
  return count;
}

/// Mean of the intercepts, with what specimens scatter on top.
void tell_level(const numerics::LeastSquaresFit& fit, std::size_t specimens, double of_off,
                PowerOfForce& out) {
  const auto n = static_cast<double>(specimens);
  double mean = 0.0, variance = 0.0, own = 0.0, squares = 0.0;
  for (std::size_t i = 0; i < specimens; ++i) {
    mean += fit.parameter[i] / n;
    own += fit.covariance[i * fit.parameter.size() + i] / n;
    for (std::size_t j = 0; j < specimens; ++j)
      variance += fit.covariance[i * fit.parameter.size() + j] / (n * n);
  }
  double half =
      std::pow(numerics::student_95(static_cast<double>(fit.degrees_of_freedom)), 2) * variance;
  half += std::pow(normal_95 * of_off, 2);
  if (specimens > 1) {
    for (std::size_t i = 0; i < specimens; ++i)
      squares += std::pow(fit.parameter[i] - mean, 2) / (n - 1.0);
    out.part_scatter = std::sqrt(std::max(0.0, squares - own));
    half += std::pow(numerics::student_95(n - 1.0) * *out.part_scatter, 2) / n;
  }
  out.level = std::exp(mean);
  out.level_ends = {std::exp(mean - std::sqrt(half)), std::exp(mean + std::sqrt(half))};
}

double mean_level(const numerics::LeastSquaresFit& fit, std::size_t specimens) {
  double mean = 0.0;
  for (std::size_t i = 0; i < specimens; ++i)
    mean += fit.parameter[i] / static_cast<double>(specimens);
  return mean;
}

}  // namespace

PowerOfForce power_of_force(const std::vector<LogReading>& readings, double log_reference,
                            double off, double off_error) {
  const Regression regression(readings, log_reference, off);
  const auto fit = regression.fit(false);
  const std::size_t k = regression.exponent();
  const double t = numerics::student_95(static_cast<double>(fit.degrees_of_freedom));
  double of_exponent = 0.0, of_level = 0.0;
  if (off_error > 0.0) {
    const Regression moved(readings, log_reference, off - off_error);  // never below nothing
    const auto other = moved.fit(false);
    of_exponent = other.parameter[k] - fit.parameter[k];
    of_level = mean_level(other, moved.specimens()) - mean_level(fit, regression.specimens());
  }
  PowerOfForce out;
  out.exponent = {fit.parameter[k], std::hypot(fit.standard_error(k), of_exponent),
                  std::hypot(t * fit.standard_error(k), normal_95 * of_exponent)};
  tell_level(fit, regression.specimens(), of_level, out);
  out.deviation = fit.deviation;
  if (regression.two_ways())
    out.hysteresis = {fit.parameter[k + 1], fit.standard_error(k + 1), fit.half_width(k + 1)};
  if (distinct(regression.x()) >= forces_for_bend &&
      readings.size() >= regression.columns(true) + 2) {
    const auto bent = regression.fit(true);
    const std::size_t j = regression.columns(true) - 1;
    const auto [low, high] = std::ranges::minmax(regression.x());
    const double change = 2.0 * (high - low);
    out.bend = {change * bent.parameter[j], change * bent.standard_error(j),
                change * bent.half_width(j)};
  }
  for (const std::size_t i : fit.outliers)
    if (std::abs(fit.residual[i]) > rounding) out.far_off.push_back(readings[i].point);
  for (std::size_t i = 0; i < readings.size(); ++i)
    out.modelled.emplace_back(readings[i].point, std::exp(regression.y()[i] - fit.residual[i]));
  return out;
}

}  // namespace ohmdrag::rig
