#include "ohmdrag/component/shaft_table.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace ohmdrag::component {

namespace {

// A speed range is solved at so many speeds, or at twice as many; the short ones between two bends
// of a law at fewer.
constexpr std::size_t usual_speeds = 16, short_speeds = 8;
constexpr std::size_t usual_cells = 72, short_cells = 12;
// Films and convection begin with a power of the speed, which no polynomial follows down to rest:
// up to this share of the top, in the cube root, is a range of its own and spoils no other.
constexpr double slow_range = 0.2;
// A range below this share of the whole, in the cube root of the speed, is short.
constexpr double short_range = 0.25;
// Oil: as many temperatures over a span, which is at most so wide.
constexpr std::size_t usual_powers = 5, fine_powers = 7;
constexpr std::size_t most_powers = fine_powers;
// Figures times powers; a shaft with more than eight contacts is not tabulated.
constexpr std::size_t widest_row = 64;
constexpr double widest_span_K = 40.0;
constexpr double spans_from_K = 293.15;
// Two steady states come with a loop gain near 1.
constexpr double largest_loop_gain = 0.5;
// Of the largest power of a span, at points between its own.
constexpr double tolerance = 1e-4;

// The Chebyshev points of -1 to 1, ends among them.
std::vector<double> chebyshev_points(std::size_t count) {
  std::vector<double> points(count, 0.0);
  for (std::size_t i = 0; count > 1 && i < count; ++i)
    points[i] = -std::cos(std::numbers::pi * static_cast<double>(i) / double(count - 1));
  return points;
}

// What each of the points counts at a place between them (Lagrange).
std::vector<double> shares_at(const std::vector<double>& points, double x) {
  std::vector<double> shares(points.size(), 1.0);
  for (std::size_t i = 0; i < points.size(); ++i)
    for (std::size_t j = 0; j < points.size(); ++j)
      if (j != i) shares[i] *= (x - points[j]) / (points[i] - points[j]);
  return shares;
}

// From values at Chebyshev points to those at the nodes of an even grid over the same range.
using Spread = std::vector<std::vector<double>>;  // [node][point]
Spread spread_over(std::size_t points, std::size_t cells) {
  const std::vector<double> at = chebyshev_points(points);
  Spread rows;
  for (std::size_t node = 0; node <= cells; ++node)
    rows.push_back(shares_at(at, 2.0 * static_cast<double>(node) / double(cells) - 1.0));
  return rows;
}

// The four that are ever needed, of numbers alone.
const Spread& spread_of(bool wide, bool finely) {
  static const std::array all{
      spread_over(short_speeds, short_cells), spread_over(2 * short_speeds, short_cells),
      spread_over(usual_speeds, usual_cells), spread_over(2 * usual_speeds, usual_cells)};
  return all[(wide ? 2 : 0) + (finely ? 1 : 0)];
}

// From values at the Chebyshev points to the coefficients of the powers: Newton's divided
// differences, multiplied out.
void to_powers(const std::vector<double>& points, std::span<double> values, std::size_t stride) {
  const std::size_t count = points.size();
  std::array<double, most_powers> newton{}, power{};
  for (std::size_t i = 0; i < count; ++i) newton[i] = values[i * stride];
  for (std::size_t order = 1; order < count; ++order)
    for (std::size_t i = count; i-- > order;)
      newton[i] = (newton[i] - newton[i - 1]) / (points[i] - points[i - order]);
  power[0] = newton[count - 1];
  for (std::size_t i = count - 1; i-- > 0;) {
    for (std::size_t p = count; p-- > 1;) power[p] = power[p - 1] - points[i] * power[p];
    power[0] = newton[i] - points[i] * power[0];
  }
  for (std::size_t p = 0; p < count; ++p) values[p * stride] = power[p];
}

// Where the friction laws of a shaft bend over the speed.
std::vector<double> bends_of(const ShaftSystem& system) {
  std::vector<double> bends_rad_s;
  for (const ShaftContact& c : system.contacts)
    if (std::holds_alternative<contact::PtfeContact>(c.law))
      for (const Speed& bend : contact::ptfe_bends)
        bends_rad_s.push_back(bend.value() / (0.5 * system.diameter.value()));
  return bends_rad_s;
}

}  // namespace

SpeedGrid::SpeedGrid(const ShaftSystem& system, AngularVelocity top) {
  if (!(top.value() > 0.0)) throw std::invalid_argument("shaft table: the top speed must be > 0");
  const double top_root = std::cbrt(top.value());
  bends_ = {0.0, slow_range * top_root, top_root};
  for (const double bend_rad_s : bends_of(system))
    if (bend_rad_s < top.value()) bends_.push_back(std::cbrt(bend_rad_s));
  std::ranges::sort(bends_);
  bends_.erase(std::unique(bends_.begin(), bends_.end()), bends_.end());
  for (std::size_t i = 1; i < bends_.size(); ++i) {
    const bool wide = bends_[i] - bends_[i - 1] > short_range * bends_.back();
    pieces_.push_back({.root = {bends_[i - 1], bends_[i], wide ? usual_cells : short_cells},
                       .first_node = nodes_,
                       .wide = wide});
    nodes_ += pieces_.back().root.nodes();
  }
}

SpeedGrid::Place SpeedGrid::place(AngularVelocity speed) const {
  Place result;
  result.speed_rad_s = std::abs(speed.value());
  const double root = std::cbrt(result.speed_rad_s);
  for (const Piece& piece : pieces_) {
    if (!piece.root.holds(root)) continue;
    result.nodes = piece.root.place(root);
    result.nodes.first += piece.first_node;
    result.within = true;
    break;
  }
  return result;
}

ShaftTable::ShaftTable(const ShaftSystem& system, const SpeedGrid& grid, Temperature dry)
    : system_(&system), grid_(&grid), dry_(dry) {
  for (const ShaftContact& c : system.contacts)
    if (c.softening && c.body_in_oil)
      for (const contact::ModulusPoint& point : c.softening->modulus)
        bends_K_.push_back(point.temperature.value());
  std::ranges::sort(bends_K_);
}

std::optional<double> ShaftTable::at(const SpeedGrid::Place& speed, Temperature oil, bool held,
                                     std::span<double> torque_Nm) {
  if (!speed.within) return std::nullopt;
  const Span& span = span_of(oil.value(), held);
  if (!span.tabulated) return std::nullopt;
  return read(span, speed, oil.value(), torque_Nm);
}

const ShaftTable::Span& ShaftTable::span_of(double oil_K, bool held) {
  const auto serves = [&](const Span& span) {
    const bool single = span.from_K == span.to_K;
    return held ? single && span.from_K == oil_K
                : !single && oil_K >= span.from_K && oil_K <= span.to_K;
  };
  if (last_ < spans_.size() && serves(spans_[last_])) return spans_[last_];
  const auto found = std::ranges::find_if(spans_, serves);
  last_ = static_cast<std::size_t>(found - spans_.begin());
  if (found != spans_.end()) return *found;
  if (held) {
    spans_.push_back(tabulate(oil_K, oil_K));
  } else {
    const double steps = std::floor((oil_K - spans_from_K) / widest_span_K);
    double from_K = spans_from_K + steps * widest_span_K, to_K = from_K + widest_span_K;
    for (const double bend_K : bends_K_) {
      if (bend_K <= oil_K) from_K = std::max(from_K, bend_K);
      if (bend_K > oil_K) to_K = std::min(to_K, bend_K);
    }
    spans_.push_back(tabulate(from_K, to_K));
  }
  return spans_.back();
}

ShaftTable::Span ShaftTable::tabulate(double from_K, double to_K) const {
  Span span{from_K, to_K};
  span.tabulated = fill(span, false) || fill(span, true);
  if (!span.tabulated) span.polynomial.clear();
  return span;
}

bool ShaftTable::fill(Span& span, bool finely) const {
  const std::size_t count = figures();
  span.powers = span.from_K == span.to_K ? 1 : finely ? fine_powers : usual_powers;
  const std::size_t row = span.powers * count;
  if (row > widest_row) return false;
  span.polynomial.assign(grid_->nodes() * row, 0.0);
  double largest_W = 0.0;
  for (const SpeedGrid::Piece& piece : grid_->pieces()) {
    const Spread& spread = spread_of(piece.wide, finely);
    Solved solved;
    if (!solve_piece(piece, span, spread.front().size(), solved)) return false;
    largest_W = std::max(largest_W, solved.largest_W);
    for (std::size_t node = 0; node < spread.size(); ++node) {
      double* const to = span.polynomial.data() + (piece.first_node + node) * row;
      for (std::size_t s = 0; s < spread[node].size(); ++s) {
        const double share = spread[node][s];
        const double* const from = solved.figures.data() + s * row;
        for (std::size_t k = 0; k < row; ++k) to[k] += share * from[k];
      }
    }
  }
  return agrees(span, largest_W);
}

bool ShaftTable::solve_piece(const SpeedGrid::Piece& piece, const Span& span, std::size_t speeds,
                             Solved& solved) const {
  const std::size_t count = figures(), row = span.powers * count;
  solved.figures.resize(speeds * row);
  const std::vector<double> speed_points = chebyshev_points(speeds);
  const std::vector<double> oil_points = chebyshev_points(span.powers);
  const double low = piece.root.node(0), high = piece.root.node(piece.root.nodes() - 1);
  try {
    for (std::size_t t = 0; t < span.powers; ++t) {
      const double share = 0.5 * (1.0 + oil_points[t]);
      const Surroundings around{Temperature::from_value(std::lerp(span.from_K, span.to_K, share)),
                                dry_};
      for (std::size_t s = 0; s < speeds; ++s) {
        const double root = std::lerp(low, high, 0.5 * (1.0 + speed_points[s]));
        // From cold: a warm start might keep a hot state where the cool one still exists.
        const ShaftState state =
            solve(*system_, AngularVelocity::from_value(root * root * root), around);
        if (state.loop_gain > largest_loop_gain) return false;
        double* const to = solved.figures.data() + s * row + t * count;
        double power_W = 0.0;
        for (std::size_t c = 0; c + 1 < count; ++c) {
          to[c] = std::abs(state.contacts[c].torque.value());
          power_W += state.contacts[c].power.value();
        }
        to[count - 1] = into_oil(*system_, state).value();
        solved.largest_W = std::max(solved.largest_W, power_W);
      }
    }
  } catch (const std::domain_error&) {
    return false;  // somewhere in the span, perhaps where the duty never comes
  }
  for (std::size_t s = 0; s < speeds; ++s)
    for (std::size_t k = 0; k < count; ++k)
      to_powers(oil_points, std::span(solved.figures).subspan(s * row + k), count);
  return true;
}

bool ShaftTable::agrees(const Span& span, double largest_W) const {
  // Shares of the range of speeds (in the cube root) and of the span of temperatures:
  // incommensurate, so that no set of points meets them all.
  constexpr std::array probes{std::pair{0.37, 0.71}, std::pair{0.618, 0.13}, std::pair{0.743, 0.45},
                              std::pair{0.871, 0.88}, std::pair{0.961, 0.29}};
  const double top = grid_->pieces().back().root.node(grid_->pieces().back().root.nodes() - 1);
  std::vector<double> torque_Nm(system_->contacts.size());
  const double allowed_W = tolerance * largest_W;
  for (const auto& [of_root, of_span] : probes) {
    const double root = of_root * top;
    const AngularVelocity speed = AngularVelocity::from_value(root * root * root);
    const Temperature oil = Temperature::from_value(std::lerp(span.from_K, span.to_K, of_span));
    const SpeedGrid::Place place = grid_->place(speed);
    const double oil_W = read(span, place, oil.value(), torque_Nm);
    const ShaftState exact = solve(*system_, speed, {oil, dry_});
    if (!(std::abs(oil_W - into_oil(*system_, exact).value()) <= allowed_W)) return false;
    for (std::size_t c = 0; c < torque_Nm.size(); ++c)
      if (!(std::abs(torque_Nm[c] * place.speed_rad_s - exact.contacts[c].power.value()) <=
            allowed_W))
        return false;
  }
  return true;
}

double ShaftTable::read(const Span& span, const SpeedGrid::Place& speed, double oil_K,
                        std::span<double> torque_Nm) const {
  const std::size_t count = figures(), row = span.powers * count;
  std::array<double, widest_row> here;
  const double* const first = span.polynomial.data() + speed.nodes.first * row;
  const auto& w = speed.nodes.weights;
  for (std::size_t k = 0; k < row; ++k)
    here[k] = w[0] * first[k] + w[1] * first[row + k] + w[2] * first[2 * row + k] +
              w[3] * first[3 * row + k];
  const double x =
      span.powers == 1 ? 0.0 : 2.0 * (oil_K - span.from_K) / (span.to_K - span.from_K) - 1.0;
  double* const result = here.data() + (span.powers - 1) * count;
  for (std::size_t p = span.powers - 1; p-- > 0;)
    for (std::size_t k = 0; k < count; ++k) result[k] = result[k] * x + here[p * count + k];
  std::copy_n(result, count - 1, torque_Nm.begin());
  return result[count - 1];
}

}  // namespace ohmdrag::component
