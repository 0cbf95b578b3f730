#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "ohmdrag/quantity/print.hpp"
#include "rig/friction_remarks.hpp"

namespace ohmdrag::rig {

namespace {

/// Temperatures this close show no course over temperature.
constexpr double least_temperature_range_K = 5.0;
/// A trend is said from so many of its standard errors on, and from this share of the friction.
constexpr double clear_trend = 3.0, least_trend = 0.01;
/// Where order and speed go together more closely, a drift cannot be told from the law.
constexpr double order_is_speed = 0.5;
constexpr std::size_t fewest_for_trend = 5;

std::string percent(double share) { return print_number(100.0 * share, 2) + " %"; }

/// Readings against something, by their place in the data.
struct Against {
  std::vector<std::size_t> datum;
  std::vector<double> x;
};

struct Trend {
  double slope = 0.0, error = 0.0;
  bool clear(double over) const {
    return std::abs(slope) > clear_trend * error && std::abs(slope) * over > least_trend;
  }
};

/// Of the relative residuals; its error holds what the tare, which readings share, may be off.
Trend trend_of(const Against& against, const FrictionProblem& problem, const FrictionFit& fit) {
  const auto n = static_cast<double>(against.x.size());
  double mean_x = 0.0, mean_y = 0.0;
  std::vector<double> y;
  for (std::size_t k = 0; k < against.x.size(); ++k) {
    const FittedPoint& point = fit.points[against.datum[k]];
    y.push_back((point.torque / point.modelled).value() - 1.0);
    mean_x += against.x[k] / n;
    mean_y += y.back() / n;
  }
  double xx = 0.0, xy = 0.0, yy = 0.0;
  const auto& errors = problem.tare_errors_Nm();
  std::vector<double> by_knot(errors.size(), 0.0);
  for (std::size_t k = 0; k < y.size(); ++k) {
    const double dx = against.x[k] - mean_x, dy = y[k] - mean_y;
    xx += dx * dx;
    xy += dx * dy;
    yy += dy * dy;
    const std::size_t i = against.datum[k];
    for (const auto& [knot, share] : problem.data()[i].tare_knots)
      by_knot[knot] += dx * share * errors[knot] / fit.points[i].modelled.value();
  }
  const double slope = xy / xx;
  double variance = std::max(0.0, yy - slope * xy) / (n - 2.0) / xx;
  for (const double one : by_knot) variance += one * one / (xx * xx);
  return {slope, std::sqrt(variance)};
}

double correlation(const std::vector<double>& a, const std::vector<double>& b) {
  const auto n = static_cast<double>(a.size());
  double mean_a = 0.0, mean_b = 0.0, aa = 0.0, bb = 0.0, ab = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    mean_a += a[i] / n;
    mean_b += b[i] / n;
  }
  for (std::size_t i = 0; i < a.size(); ++i) {
    aa += (a[i] - mean_a) * (a[i] - mean_a);
    bb += (b[i] - mean_b) * (b[i] - mean_b);
    ab += (a[i] - mean_a) * (b[i] - mean_b);
  }
  return ab / std::sqrt(aa * bb);
}

/// Over temperature, which dry laws do not know.
void add_temperature(const FrictionProblem& problem, FrictionFit& fit) {
  if (!fit.temperatures) return;
  const double range = (fit.temperatures->second - fit.temperatures->first).value();
  Against against;
  for (std::size_t i = 0; i < fit.points.size(); ++i) {
    const FittedPoint& point = fit.points[i];
    if (!point.read.temperature || point.far_off) continue;
    against.datum.push_back(i);
    against.x.push_back(point.read.temperature->value());
  }
  if (range < least_temperature_range_K || against.x.size() < fewest_for_trend) return;
  const Trend trend = trend_of(against, problem, fit);
  if (!trend.clear(range)) return;
  fit.warnings.push_back(fmt::format(
      "Friction {} by {} over the {} K of the run beyond what the law says: the constants are "
      "those of {:.0f} to {:.0f} degC.",
      trend.slope < 0.0 ? "falls" : "rises", percent(std::abs(trend.slope) * range),
      print_number(range, 2), in_celsius(fit.temperatures->first),
      in_celsius(fit.temperatures->second)));
}

/// Over the order of the readings of each specimen, 0 to 1.
void add_drift(const FrictionProblem& problem, FrictionFit& fit) {
  std::map<std::string, double> count, last;
  for (const FittedPoint& point : fit.points) ++count[point.read.specimen];
  Against against;
  std::vector<double> speed;
  for (std::size_t i = 0; i < fit.points.size(); ++i) {
    const FittedPoint& point = fit.points[i];
    const double place = last[point.read.specimen]++ / count[point.read.specimen];
    if (point.far_off) continue;
    against.datum.push_back(i);
    against.x.push_back(place);
    speed.push_back(std::log(problem.data()[i].state.speed_m_s));
  }
  if (fit.hysteresis || against.x.size() < fewest_for_trend ||
      !(std::abs(correlation(against.x, speed)) < order_is_speed))
    return;  // of sweeps the gap says it
  const Trend trend = trend_of(against, problem, fit);
  if (!trend.clear(1.0)) return;
  fit.warnings.push_back(fmt::format(
      "The torque drifts: it {} by {} from the first reading to the last beyond what the law says. "
      "Did the specimen run in, warm up or wear, does the zero of the transducer wander? Repeat "
      "the first speed at the end.",
      trend.slope < 0.0 ? "falls" : "rises", percent(std::abs(trend.slope))));
}

}  // namespace

void add_trend_remarks(const FrictionProblem& problem, FrictionFit& fit) {
  add_temperature(problem, fit);
  add_drift(problem, fit);
}

}  // namespace ohmdrag::rig
