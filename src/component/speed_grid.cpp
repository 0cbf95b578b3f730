#include "ohmdrag/component/speed_grid.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ohmdrag::component {

namespace {

// Most of the range is solved at so many speeds; a short piece between two bends of a law at fewer.
constexpr std::size_t usual_points = 16, short_points = 8;
constexpr std::size_t usual_nodes = 64, short_nodes = 16;
// A piece below this share of the whole, in the stretched speed, is short.
constexpr double short_range = 0.25;
// Where free convection hands over to the turning shaft a speed has a corner on the imaginary axis:
// the logarithm must still be one there.
constexpr double speeds_in_logarithm = 400.0;
// Slower than this share of the highest speed a torque is that of this share: friction in a power
// of the speed has a corner at rest, and a crawl takes no energy worth a polynomial.
constexpr double crawl = 4e-4;
// What a top speed may be beyond the grid for the rounding of a logarithm.
constexpr double rounding = 1e-9;

/// Weight at t of every point in Lagrange's polynomial.
void lagrange(double t, std::span<const double> at, std::span<double> weight) {
  for (std::size_t p = 0; p < at.size(); ++p) {
    double product = 1.0;
    for (std::size_t q = 0; q < at.size(); ++q)
      if (q != p) product *= (t - at[q]) / (at[p] - at[q]);
    weight[p] = product;
  }
}

/// The Chebyshev points of -1 to 1, rising.
std::vector<double> chebyshev_points(std::size_t count) {
  std::vector<double> points;
  for (std::size_t p = 0; p < count; ++p)
    points.push_back(
        -std::cos(std::numbers::pi * (static_cast<double>(p) + 0.5) / static_cast<double>(count)));
  return points;
}

/// [node][point]: from values at Chebyshev points to those at even nodes over the same range.
std::vector<double> spread_over(std::size_t points, std::size_t nodes) {
  const std::vector<double> at = chebyshev_points(points);
  std::vector<double> rows(nodes * points);
  for (std::size_t n = 0; n < nodes; ++n)
    lagrange(-1.0 + 2.0 * static_cast<double>(n) / static_cast<double>(nodes - 1), at,
             std::span(rows).subspan(n * points, points));
  return rows;
}

/// The four that are ever needed, of numbers alone.
const std::vector<double>& spread_of(bool usual, bool finely) {
  static const std::array all{
      spread_over(short_points, short_nodes), spread_over(2 * short_points, short_nodes),
      spread_over(usual_points, usual_nodes), spread_over(2 * usual_points, usual_nodes)};
  return all[(usual ? 2 : 0) + (finely ? 1 : 0)];
}

/// Where the friction laws of a shaft bend over the speed.
std::vector<double> bends_of(const ShaftSystem& system) {
  std::vector<double> bends_rad_s;
  for (const ShaftContact& c : system.contacts)
    if (std::holds_alternative<contact::PtfeContact>(c.law))
      for (const Speed& bend : contact::ptfe_bends)
        bends_rad_s.push_back(bend.value() / (0.5 * system.diameter.value()));
  return bends_rad_s;
}

}  // namespace

void SpeedRange::add(AngularVelocity speed) {
  const double magnitude = std::abs(speed.value());
  if (!(magnitude > 0.0)) return;
  top_rad_s_ = std::max(top_rad_s_, magnitude);
  slowest_rad_s_ = slowest_rad_s_ > 0.0 ? std::min(slowest_rad_s_, magnitude) : magnitude;
  if (many_) return;
  const auto at = std::ranges::lower_bound(distinct_rad_s_, magnitude);
  if (at != distinct_rad_s_.end() && *at == magnitude) return;
  distinct_rad_s_.insert(at, magnitude);
  many_ = distinct_rad_s_.size() > few;
  if (many_) distinct_rad_s_.clear();
}

SpeedGrid::SpeedGrid(const ShaftSystem& system, const SpeedRange& speeds)
    : SpeedGrid(speeds, bends_of(system)) {}

SpeedGrid::SpeedGrid(const SpeedRange& speeds, std::span<const double> bends_rad_s)
    : scale_rad_s_(speeds.top_rad_s() / speeds_in_logarithm) {
  if (const auto distinct = speeds.distinct_rad_s();
      !distinct.empty() || speeds.top_rad_s() == 0.0) {
    few_rad_s_ = {0.0};
    few_rad_s_.insert(few_rad_s_.end(), distinct.begin(), distinct.end());
    nodes_ = std::max(few_rad_s_.size(), neighbours);
    return;
  }
  const double top_rad_s = speeds.top_rad_s();
  const double slowest_rad_s = std::max(speeds.slowest_rad_s(), crawl * top_rad_s);
  std::vector<double> ends{stretched(slowest_rad_s), stretched(top_rad_s)};
  for (const double bend_rad_s : bends_rad_s)
    if (bend_rad_s > slowest_rad_s && bend_rad_s < top_rad_s) ends.push_back(stretched(bend_rad_s));
  std::ranges::sort(ends);
  ends.erase(std::unique(ends.begin(), ends.end()), ends.end());
  for (std::size_t i = 1; i < ends.size(); ++i) {
    const bool usual = ends[i] - ends[i - 1] > short_range * (ends.back() - ends.front());
    pieces_.push_back({.from = ends[i - 1],
                       .to = ends[i],
                       .first_node = nodes_,
                       .nodes = usual ? usual_nodes : short_nodes,
                       .points = usual ? usual_points : short_points});
    nodes_ += pieces_.back().nodes;
  }
}

double SpeedGrid::stretched(double speed_rad_s) const {
  return std::log1p(speed_rad_s / scale_rad_s_);
}

double SpeedGrid::turned_back(double stretched) const {
  return scale_rad_s_ * std::expm1(stretched);
}

SpeedGrid::Place SpeedGrid::place(AngularVelocity speed) const {
  Place place;
  place.speed_rad_s = std::abs(speed.value());
  if (place.speed_rad_s == 0.0) {
    place.weights[0] = 1.0;
    place.within = true;
    return place;
  }
  if (!few_rad_s_.empty()) {
    const auto at = std::ranges::lower_bound(few_rad_s_, place.speed_rad_s);
    place.within = at != few_rad_s_.end() && *at == place.speed_rad_s;
    if (!place.within) return place;
    const auto node = static_cast<std::size_t>(at - few_rad_s_.begin());
    place.first = std::min(node, nodes_ - neighbours);
    place.weights[node - place.first] = 1.0;
    return place;
  }
  const double at = stretched(place.speed_rad_s);
  const auto piece = std::ranges::find_if(pieces_, [&](const Piece& p) {
    return at <= p.to + (&p == &pieces_.back() ? rounding : 0.0);
  });
  place.within = piece != pieces_.end();
  if (!place.within) return place;
  const double cells = static_cast<double>(piece->nodes - 1);
  const double t = std::clamp((at - piece->from) / (piece->to - piece->from), 0.0, 1.0) * cells;
  const double first =
      std::clamp(std::floor(t) - 1.0, 0.0, static_cast<double>(piece->nodes - neighbours));
  place.first = piece->first_node + static_cast<std::size_t>(first);
  constexpr std::array<double, neighbours> even{0.0, 1.0, 2.0, 3.0};
  lagrange(t - first, even, place.weights);
  return place;
}

std::vector<double> SpeedGrid::solved_rad_s(bool finely) const {
  if (!few_rad_s_.empty()) return {few_rad_s_.begin() + 1, few_rad_s_.end()};
  std::vector<double> solved;
  for (const Piece& piece : pieces_)
    for (const double point : chebyshev_points(finely ? 2 * piece.points : piece.points))
      solved.push_back(turned_back(std::lerp(piece.from, piece.to, 0.5 * (1.0 + point))));
  return solved;
}

std::vector<SpeedGrid::Spread> SpeedGrid::spreads(bool finely) const {
  if (!few_rad_s_.empty()) {
    const std::size_t solved = few_rad_s_.size() - 1;
    return {{.first_node = 1, .nodes = solved, .first_solved = 0, .solved = solved, .weights = {}}};
  }
  std::vector<Spread> spreads;
  std::size_t from = 0;
  for (const Piece& piece : pieces_) {
    const std::size_t points = finely ? 2 * piece.points : piece.points;
    spreads.push_back({.first_node = piece.first_node,
                       .nodes = piece.nodes,
                       .first_solved = from,
                       .solved = points,
                       .weights = spread_of(piece.points == usual_points, finely)});
    from += points;
  }
  return spreads;
}

double SpeedGrid::between(double share) const {
  if (!few_rad_s_.empty()) {
    const auto last = static_cast<double>(few_rad_s_.size() - 1);
    return few_rad_s_[static_cast<std::size_t>(std::lround(share * last))];
  }
  return turned_back(std::lerp(pieces_.front().from, pieces_.back().to, share));
}

bool SpeedGrid::same_as(const SpeedGrid& other) const {
  return scale_rad_s_ == other.scale_rad_s_ && few_rad_s_ == other.few_rad_s_ &&
         pieces_ == other.pieces_;
}

}  // namespace ohmdrag::component
