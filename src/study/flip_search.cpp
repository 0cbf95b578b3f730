#include "study/flip_search.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>

#include "ohmdrag/numerics/design_point.hpp"
#include "ohmdrag/numerics/first_change.hpp"

namespace ohmdrag::study {
namespace {

using Point = std::vector<double>;
using Points = std::vector<Point>;

double length(const Point& u) {
  return std::sqrt(std::inner_product(u.begin(), u.end(), u.begin(), 0.0));
}

class Search {
 public:
  Search(const DecisionsAt& decision, const StatesAt& state, std::size_t coordinates,
         std::optional<std::size_t> recommendation, const FlipEffort& effort,
         const std::vector<bool>& tried)
      : decision_(decision),
        state_(state),
        n_(coordinates),
        recommended_(recommendation),
        effort_(effort) {
    for (std::size_t c = 0; c < n_; ++c)
      if (tried.empty() || tried[c]) tried_.push_back(c);
  }

  FlipSearch run() {
    middle_ = at({Point(n_, 0.0)}).front();
    result_.at_middle = middle_.choice;
    result_.middle_differs = turned(middle_);
    if (n_ == 0 || middle_.states.empty() || result_.middle_differs) return result_;
    screen();
    follow_singles();
    for (const std::size_t way : nearest_ways()) search(way);
    if (result_.nearest) simplify();
    return result_;
  }

 private:
  std::vector<DecisionAt> at(const Points& points) {
    result_.evaluations += points.size();
    return decision_(points);
  }

  bool turned(const DecisionAt& there) const {
    return !there.states.empty() && there.choice != recommended_;
  }

  Point along(std::size_t coordinate, double score) const {
    Point u(n_, 0.0);
    u[coordinate] = score;
    return u;
  }

  void screen() {
    const std::vector<DecisionAt> high = ends(tried_, effort_.screen);
    std::vector<std::size_t> moving, place;
    for (std::size_t t = 0; t < tried_.size(); ++t) {
      if (!moves(high[t])) continue;
      moving.push_back(tried_[t]);
      place.push_back(t);
    }
    const std::vector<DecisionAt> low = ends(moving, -effort_.screen);
    slopes_.assign(middle_.states.size(), Point(n_, 0.0));
    for (std::size_t i = 0; i < moving.size(); ++i) {
      const DecisionAt &below = low[i], &above = high[place[i]];
      if (below.states.empty() || above.states.empty()) continue;
      for (std::size_t w = 0; w < slopes_.size(); ++w)
        slopes_[w][moving[i]] = slope(below, above, w);
    }
  }

  /// The decisions with one coordinate at a time at a score; what turns them is kept.
  std::vector<DecisionAt> ends(const std::vector<std::size_t>& coordinates, double score) {
    Points points;
    for (const std::size_t c : coordinates) points.push_back(along(c, score));
    std::vector<DecisionAt> decided = at(points);
    for (std::size_t i = 0; i < points.size(); ++i) {
      if (decided[i].states.empty()) ++result_.refused;
      if (turned(decided[i])) alone_.push_back(points[i]);
    }
    return decided;
  }

  /// No answer counts as a move: the other end may have one.
  bool moves(const DecisionAt& there) const {
    if (there.states.empty()) return true;
    for (std::size_t w = 0; w < middle_.states.size(); ++w)
      if (std::abs(there.states[w] - middle_.states[w]) > effort_.least_move) return true;
    return false;
  }

  /// Over the whole stretch; where both ends lie on the same side of the middle, the steeper half:
  /// a way of turning may have a corner in the middle.
  double slope(const DecisionAt& low, const DecisionAt& high, std::size_t way) const {
    const double left = (middle_.states[way] - low.states[way]) / effort_.screen;
    const double right = (high.states[way] - middle_.states[way]) / effort_.screen;
    if (left * right >= 0.0) return 0.5 * (left + right);
    // Towards lower states: the left half falls to the left if its slope is positive.
    const double fall_left = std::max(left, 0.0), fall_right = std::max(-right, 0.0);
    return fall_left >= fall_right ? fall_left : -fall_right;
  }

  /// Above zero as far as the nearest way has not turned, zero or less where the choice is another;
  /// infinite where there is no answer.
  double state_of(const DecisionAt& there) const {
    if (there.states.empty()) return std::numeric_limits<double>::infinity();
    const double nearest = std::ranges::min(there.states);
    // A choice may turn by a hair before a state is seen to.
    return turned(there) ? std::min(nearest, 0.0)
                         : std::max(nearest, std::numeric_limits<double>::min());
  }

  /// The first change on the ray to a point where it has changed.
  std::optional<FoundFlip> crossing(const Point& towards) {
    const double r = length(towards);
    const auto at_distance = [&](double distance) {
      Point u = towards;
      for (double& x : u) x *= distance / r;
      return u;
    };
    std::map<double, DecisionAt> turned_at;  // by distance
    const numerics::StateAlong along = [&](const std::vector<double>& distances) {
      Points points;
      for (const double distance : distances) points.push_back(at_distance(distance));
      const std::vector<DecisionAt> decided = at(points);
      std::vector<double> states;
      for (std::size_t i = 0; i < distances.size(); ++i) {
        states.push_back(state_of(decided[i]));
        if (turned(decided[i])) turned_at.insert_or_assign(distances[i], decided[i]);
      }
      return states;
    };
    const auto change = numerics::first_change(along, state_of(middle_), r, effort_.resolution);
    if (!change) return std::nullopt;
    const DecisionAt& there = turned_at.at(change->at);
    return FoundFlip{at_distance(change->at), change->at, way_of(there), there.choice};
  }

  /// The way that has gone farthest beyond zero.
  static std::size_t way_of(const DecisionAt& there) {
    return static_cast<std::size_t>(std::ranges::min_element(there.states) - there.states.begin());
  }

  void keep_nearest(const std::optional<FoundFlip>& flip) {
    if (flip && flip->distance <= effort_.farthest &&
        (!result_.nearest || flip->distance < result_.nearest->distance))
      result_.nearest = flip;
  }

  void follow_singles() {
    result_.alone = alone_.size();
    // Where many turn it alone, the first ones are enough: nothing is firm then.
    if (alone_.size() > effort_.most_single) alone_.resize(effort_.most_single);
    for (const Point& towards : alone_)
      if (auto flip = crossing(towards)) result_.single.push_back(std::move(*flip));
    std::ranges::stable_sort(result_.single, {}, &FoundFlip::distance);
    if (!result_.single.empty()) keep_nearest(result_.single.front());
  }

  /// Coordinates of one way that matter, the steepest first.
  std::vector<std::size_t> steepest(std::size_t way) const {
    const Point& slopes = slopes_[way];
    std::vector<std::size_t> order(n_);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order, std::greater{},
                             [&](std::size_t c) { return std::abs(slopes[c]); });
    const double least = effort_.least_slope * std::abs(slopes[order.front()]);
    while (!order.empty() &&
           (order.size() > effort_.most_inputs || !(std::abs(slopes[order.back()]) > least)))
      order.pop_back();
    return order;
  }

  std::vector<std::size_t> nearest_ways() const {
    std::vector<std::pair<double, std::size_t>> looks;
    for (std::size_t w = 0; w < slopes_.size(); ++w) {
      if (!(middle_.states[w] > 0.0)) continue;  // on the edge between two choices
      const double far = middle_.states[w] / length(slopes_[w]);
      // The slopes of a wide stretch may make it look twice as far as it is.
      if (far < 2.0 * effort_.farthest) looks.emplace_back(far, w);
    }
    std::ranges::sort(looks);
    std::vector<std::size_t> ways;
    for (const auto& [far, way] : looks)
      if (ways.size() < effort_.most_ways) ways.push_back(way);
    return ways;
  }

  void search(std::size_t way) {
    const std::vector<std::size_t> inputs = steepest(way);
    if (inputs.empty()) return;
    const auto whole = [&](const Point& part) {
      Point u(n_, 0.0);
      for (std::size_t i = 0; i < inputs.size(); ++i) u[inputs[i]] = part[i];
      return u;
    };
    const numerics::LimitState state = [&](const Points& parts) {
      Points points;
      for (const Point& part : parts) points.push_back(whole(part));
      result_.evaluations += points.size();
      std::vector<double> states;
      for (const std::optional<double>& there : state_(way, points))
        states.push_back(there.value_or(middle_.states[way]));
      return states;
    };
    numerics::DesignPointOptions options{.iterations = effort_.iterations,
                                         .step = 0.2,
                                         .farthest = effort_.farthest,
                                         .resolution = effort_.resolution,
                                         .closeness = effort_.closeness,
                                         .first_slopes = {}};
    for (const std::size_t c : inputs) options.first_slopes.push_back(slopes_[way][c]);
    const numerics::DesignPoint found = numerics::design_point(state, inputs.size(), options);
    if (!found.reached) return;
    Point scores = whole(found.normal_scores);
    const DecisionAt there = at({scores}).front();
    if (turned(there))
      keep_nearest(FoundFlip{std::move(scores), found.distance, way, there.choice});
  }

  /// As few coordinates as turn the choice at hardly more distance.
  void simplify() {
    const Point scores = result_.nearest->scores;
    std::vector<std::size_t> order(n_);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order, std::greater{},
                             [&](std::size_t c) { return std::abs(scores[c]); });
    const auto used =
        static_cast<std::size_t>(std::ranges::count_if(scores, [](double x) { return x != 0.0; }));
    const double allowed = std::min(effort_.dearer * result_.nearest->distance, effort_.farthest);
    Points points;
    for (std::size_t few = 1; few < used; ++few) {
      Point u(n_, 0.0);
      for (std::size_t i = 0; i < few; ++i) u[order[i]] = scores[order[i]];
      const double factor = allowed / length(u);
      for (double& x : u) x *= factor;
      points.push_back(std::move(u));
    }
    if (points.empty()) return;
    const std::vector<DecisionAt> decided = at(points);
    for (std::size_t i = 0; i < points.size(); ++i) {
      if (!turned(decided[i])) continue;
      if (const auto flip = crossing(points[i])) result_.nearest = flip;
      return;
    }
  }

  const DecisionsAt& decision_;
  const StatesAt& state_;
  std::size_t n_;
  std::optional<std::size_t> recommended_;
  const FlipEffort& effort_;
  std::vector<std::size_t> tried_;
  DecisionAt middle_;
  std::vector<Point> slopes_;  ///< by way
  Points alone_;               ///< ends of single coordinates where the choice has turned
  FlipSearch result_;
};

}  // namespace

FlipSearch flip_search(const DecisionsAt& decision, const StatesAt& state, std::size_t coordinates,
                       std::optional<std::size_t> recommendation, const FlipEffort& effort,
                       const std::vector<bool>& tried) {
  return Search(decision, state, coordinates, recommendation, effort, tried).run();
}

}  // namespace ohmdrag::study
