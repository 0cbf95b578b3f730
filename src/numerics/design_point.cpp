#include "ohmdrag/numerics/design_point.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "ohmdrag/numerics/first_change.hpp"

namespace ohmdrag::numerics {
namespace {

using Point = std::vector<double>;

double length(const Point& u) {
  return std::sqrt(std::inner_product(u.begin(), u.end(), u.begin(), 0.0));
}

Point scaled(const Point& u, double factor) {
  Point result = u;
  for (double& x : result) x *= factor;
  return result;
}

double distance_between(const Point& a, const Point& b) {
  double sum = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += (a[i] - b[i]) * (a[i] - b[i]);
  return std::sqrt(sum);
}

class Search {
 public:
  Search(const LimitState& limit_state, std::size_t inputs, const DesignPointOptions& options)
      : limit_state_(limit_state), inputs_(inputs), options_(options) {}

  DesignPoint run() {
    Point u(inputs_, 0.0);
    at_origin_ = at({u}).front();
    double g = at_origin_;
    if (!(g > 0.0))
      throw std::invalid_argument("design point: the limit state is not above zero at the origin");
    Point slopes = options_.first_slopes.empty() ? slopes_at(u) : options_.first_slopes;
    for (std::size_t i = 0; i < options_.iterations; ++i) {
      const Point next = best_step(u, g, slopes);
      if (next.empty()) break;
      cross_ray(next);
      const bool settled = distance_between(next, u) < options_.closeness;
      u = next;
      if (settled || i + 1 == options_.iterations) break;
      slopes = slopes_at(u);
    }
    result_.distance = result_.reached ? length(result_.normal_scores) : 0.0;
    return result_;
  }

 private:
  std::vector<double> at(const std::vector<Point>& points) {
    result_.evaluations += points.size();
    return limit_state_(points);
  }

  Point slopes_at(const Point& u) {
    std::vector<Point> around;
    for (std::size_t i = 0; i < inputs_; ++i)
      for (const double side : {-1.0, 1.0}) {
        around.push_back(u);
        around.back()[i] += side * options_.step;
      }
    const std::vector<double> g = at(around);
    Point slopes(inputs_);
    for (std::size_t i = 0; i < inputs_; ++i)
      slopes[i] = (g[2 * i + 1] - g[2 * i]) / (2.0 * options_.step);
    return slopes;
  }

  /// The next iterate, its limit state into `g`; empty where the slopes lead nowhere.
  Point best_step(const Point& u, double& g, const Point& slopes) {
    const double steepness = length(slopes);
    if (!(steepness > 0.0)) return {};
    const double along = std::inner_product(slopes.begin(), slopes.end(), u.begin(), 0.0) - g;
    Point target = scaled(slopes, along / (steepness * steepness));
    if (const double far = length(target); far > options_.farthest)
      target = scaled(target, options_.farthest / far);
    const double weight = 2.0 * std::max(length(u), 1.0) / steepness;
    std::vector<Point> candidates;
    for (const double share : {1.0, 0.5, 0.25}) {
      candidates.push_back(u);
      for (std::size_t i = 0; i < inputs_; ++i) candidates.back()[i] += share * (target[i] - u[i]);
    }
    const std::vector<double> states = at(candidates);
    const auto merit = [&](std::size_t c) {
      const double r = length(candidates[c]);
      return 0.5 * r * r + weight * std::abs(states[c]);
    };
    std::size_t best = 0;
    for (std::size_t c = 1; c < candidates.size(); ++c)
      if (merit(c) < merit(best)) best = c;
    g = states[best];
    return candidates[best];
  }

  /// Where the state changes on the ray through `u`, no farther than what is known.
  void cross_ray(const Point& u) {
    const double r = length(u);
    if (!(r > 0.0)) return;
    const double limit = result_.reached ? length(result_.normal_scores) : options_.farthest;
    const StateAlong along = [&](const std::vector<double>& places) {
      std::vector<Point> points;
      for (const double place : places) points.push_back(scaled(u, place / r));
      return at(points);
    };
    const auto change = first_change(along, at_origin_, limit, options_.resolution);
    if (!change || !(change->at < limit)) return;
    result_.reached = true;
    result_.normal_scores = scaled(u, change->at / r);
  }

  const LimitState& limit_state_;
  std::size_t inputs_;
  const DesignPointOptions& options_;
  double at_origin_ = 0.0;
  DesignPoint result_;
};

}  // namespace

DesignPoint design_point(const LimitState& limit_state, std::size_t inputs,
                         const DesignPointOptions& options) {
  if (inputs == 0) throw std::invalid_argument("design point: no inputs");
  if (!options.first_slopes.empty() && options.first_slopes.size() != inputs)
    throw std::invalid_argument("design point: slopes that are not one an input");
  return Search(limit_state, inputs, options).run();
}

}  // namespace ohmdrag::numerics
