#include "energy/settled_table.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "ohmdrag/component/modulus_bends.hpp"
#include "ohmdrag/numerics/chebyshev_powers.hpp"
#include "ohmdrag/numerics/weighted_rows.hpp"

namespace ohmdrag::energy {

using numerics::LaneRows;
using numerics::lanes;

namespace {

// A panel that a corner does not end is this wide.
constexpr double widest_panel_K = 32.0;
// Of a node: what is left is some 1e-8 of its torque.
constexpr double step_tolerance_K = 5e-3;
// A start lies a little inside its panel: the oil of a cold start may cool before it warms.
constexpr double below_start_K = 1.0;
// A corner up to this many widths away becomes its end.
constexpr double stretched = 1.3;

bool feels_oil(const component::ShaftContact& contact) {
  return !std::holds_alternative<contact::ConstantFriction>(contact.law) ||
         (contact.softening && contact.body_in_oil);
}

double end_above(const std::vector<double>& corners_K, double from_K) {
  const auto corner = std::ranges::upper_bound(corners_K, from_K);
  return corner != corners_K.end() && *corner < from_K + stretched * widest_panel_K
             ? *corner
             : from_K + widest_panel_K;
}

double end_below(const std::vector<double>& corners_K, double from_K) {
  const auto corner = std::ranges::lower_bound(corners_K, from_K);
  return corner != corners_K.begin() && *(corner - 1) > from_K - stretched * widest_panel_K
             ? *(corner - 1)
             : from_K - widest_panel_K;
}

}  // namespace

LaneRows& TableRoom::rows(std::size_t count) {
  if (used_ == rows_.size()) rows_.emplace_back();
  LaneRows& free = rows_[used_++];
  if (free.rows() < count) free = LaneRows(count);
  return free;
}

SettledTable::SettledTable(component::WideShaft& shafts, const WideGrid& grid,
                           const double* start_K, numerics::LaneWidth width, TableRoom& room)
    : shafts_(shafts),
      room_(room),
      grid_(grid),
      width_(width),
      constant_Nm_(shafts.contacts()),
      index_(lanes, 0) {
  for (std::size_t c = 0; c < shafts.contacts(); ++c) {
    bool feels = false;
    for (std::size_t lane = 0; lane < shafts.shafts(); ++lane)
      feels = feels || feels_oil(shafts.system(lane).contacts[c]);
    feels_.push_back(feels);
    if (feels) felt_.push_back(c);
  }
  for (std::size_t lane = 0; lane < lanes; ++lane) {
    const component::ShaftSystem& system = shafts.system(lane);
    corners_K_.push_back(component::modulus_bends_K(system));
  }
  for (const double omega : grid_.solved_rad_s) {
    dry_.push_back(shafts.dry_side());
    shafts.fill(dry_.back(), AngularVelocity::from_value(omega));
  }
  for (std::size_t p = 0; p < oil_points; ++p) {
    oil_.push_back(shafts.oil_side());
    state_.push_back(shafts.state());
    state_.back().step_tolerance_K = step_tolerance_K;
    start_.emplace_back(3 * state_.back().friction.rows());
  }
  room_.clear();
  by_power_ = &room_.rows(grid_.solved_rad_s.size() * functions() * oil_points);
  now_ = &room_.rows(functions() * grid_.nodes * oil_points);

  Panel first;
  for (std::size_t lane = 0; lane < lanes; ++lane) {
    const double from_K = start_K[lane];
    first.low_K[0][lane] =
        std::max(from_K - below_start_K, end_below(corners_K_[lane], std::nextafter(from_K, 1e9)));
    first.high_K[0][lane] = end_above(corners_K_[lane], from_K);
  }
  fill(first);
  panels_.emplace(0, std::move(first));
  // All at once what take() does lane by lane.
  const Panel& here = panel(0);
  const std::size_t values = functions() * grid_.nodes * oil_points * lanes;
  std::copy((*here.coefficients)[0], (*here.coefficients)[0] + values, (*now_)[0]);
  for (std::size_t lane = 0; lane < lanes; ++lane) centre(lane, here);
}

void SettledTable::centre(std::size_t lane, const Panel& panel) {
  const double low = panel.low_K[0][lane], high = panel.high_K[0][lane];
  middle_K_[0][lane] = 0.5 * (high + low);
  per_half_width_[0][lane] = 2.0 / (high - low);
}

SettledTable::Panel& SettledTable::panel(int index) {
  if (const auto found = panels_.find(index); found != panels_.end()) return found->second;
  Panel next;
  const Panel& beside = panel(index > 0 ? index - 1 : index + 1);
  for (std::size_t lane = 0; lane < lanes; ++lane) {
    if (index > 0) {
      next.low_K[0][lane] = beside.high_K[0][lane];
      next.high_K[0][lane] = end_above(corners_K_[lane], beside.high_K[0][lane]);
    } else {
      next.high_K[0][lane] = beside.low_K[0][lane];
      next.low_K[0][lane] = end_below(corners_K_[lane], beside.low_K[0][lane]);
    }
  }
  fill(next);
  return panels_.emplace(index, std::move(next)).first->second;
}

void SettledTable::fill(Panel& panel) {
  const auto& points = numerics::chebyshev_powers<oil_points>();
  panel.coefficients = &room_.rows(functions() * grid_.nodes * oil_points);
  std::array<double, lanes> oil_K;
  for (std::size_t p = 0; p < oil_points; ++p) {
    for (std::size_t i = 0; i < lanes; ++i) {
      const double middle = 0.5 * (panel.high_K[0][i] + panel.low_K[0][i]);
      oil_K[i] = middle + 0.5 * (panel.high_K[0][i] - panel.low_K[0][i]) * points.at[p];
    }
    shafts_.fill(oil_[p], oil_K.data());
  }
  const std::size_t solved = grid_.solved_rad_s.size();
  for (std::size_t s = 0; s < solved; ++s) {
    for (std::size_t p = 0; p < oil_points; ++p) settle(s, p);
    const double omega = grid_.solved_rad_s[s];
    numerics::run_at_width(width_, [&] {
      for (std::size_t f = 0; f < functions(); ++f) {
        const bool heat = f == felt_.size();
        const double scale = heat ? 1.0 : omega > 0.0 ? 1.0 / omega : 0.0;
        for (std::size_t k = 0; k < oil_points; ++k) {
          double* const to = (*by_power_)[(f * solved + s) * oil_points + k];
          std::fill(to, to + lanes, 0.0);
          for (std::size_t p = 0; p < oil_points; ++p) {
            const double* const value =
                heat ? state_[p].into_oil_W[0] : state_[p].power_W[felt_[f]];
            const double weight = scale * points.to_power[k][p];
#pragma GCC ivdep
            for (std::size_t i = 0; i < lanes; ++i) to[i] += weight * value[i];
          }
        }
      }
    });
  }
  for (std::size_t c = 0; c < feels_.size(); ++c)
    if (const double omega = grid_.solved_rad_s.back(); !feels_[c] && omega > 0.0)
      for (std::size_t i = 0; i < lanes; ++i) constant_Nm_[c][i] = state_[0].power_W[c][i] / omega;

  numerics::run_at_width(width_, [&] {
    for (std::size_t f = 0; f < functions(); ++f)
      for (std::size_t n = 0; n < grid_.nodes; ++n) {
        double* const node = (*panel.coefficients)[(f * grid_.nodes + n) * oil_points];
        std::fill(node, node + oil_points * lanes, 0.0);
        numerics::add_weighted_rows<oil_points * lanes>(
            &grid_.node_of_solved[n * solved], solved, (*by_power_)[f * solved * oil_points], node);
      }
  });
}

// Settles one node, from the frictions at the slower ones: their parabola goes on.
void SettledTable::settle(std::size_t speed, std::size_t point) {
  component::WideShaftState& state = state_[point];
  LaneRows& before = start_[point];
  const std::size_t films = state.friction.rows();
  const bool first = grid_.solved_rad_s[0] == 0.0 ? speed == 1 : speed == 0;
  const std::size_t behind = speed - (grid_.solved_rad_s[0] == 0.0 ? 1 : 0);
  for (std::size_t f = 0; f < films && !first; ++f) {
    double* const now = state.friction[f];
    for (std::size_t i = 0; i < lanes; ++i) {
      const double last = now[i], second = before[3 * f][i], third = before[3 * f + 1][i];
      now[i] = behind >= 3   ? last + 2.0 * (last - second) - (second - third)
               : behind == 2 ? last + (last - second)
                             : last;
      before[3 * f + 1][i] = second;
      before[3 * f][i] = last;
    }
  }
  shafts_.settle(oil_[point], dry_[speed], state);
  ++solves_;
}

WideEffort SettledTable::effort() const {
  WideEffort effort{.solves = solves_};
  for (const component::WideShaftState& state : state_) effort.evaluations += state.evaluations;
  return effort;
}

void SettledTable::take(std::size_t lane, int index) {
  const Panel& from = panel(index);
  index_[lane] = index;
  centre(lane, from);
  const std::size_t rows = functions() * grid_.nodes * oil_points;
  for (std::size_t row = 0; row < rows; ++row) (*now_)[row][lane] = (*from.coefficients)[row][lane];
}

void SettledTable::follow(const double* oil_K) {
  for (std::size_t lane = 0; lane < lanes; ++lane) {
    int index = index_[lane];
    while (oil_K[lane] > panel(index).high_K[0][lane]) ++index;
    while (oil_K[lane] < panel(index).low_K[0][lane]) --index;
    if (index != index_[lane]) take(lane, index);
  }
}

}  // namespace ohmdrag::energy
