#include "ohmdrag/component/shaft_table.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "component/table_kernel.hpp"
#include "ohmdrag/component/modulus_bends.hpp"
#include "ohmdrag/component/table_row.hpp"

namespace ohmdrag::component {

using numerics::lanes;

namespace {

constexpr std::size_t oil_points = ShaftTable::oil_points;
constexpr double widest_panel_K = 42.0;
// Where no modulus bends, panels begin here and are this wide.
constexpr double panels_from_K = 293.15, usual_panel_K = 40.0;
// Two steady states come with a loop gain near 1.
constexpr double largest_loop_gain = 0.5;
// Of the largest power of a panel, at points between its own.
constexpr double tolerance = 1e-4;
// Of a solved point: what is left is some 1e-8 of its torque.
constexpr double step_tolerance_K = 0.02;
// As good as standing still, and still a speed with a logarithm.
constexpr double standstill_of_top = 1e-9;

// Shares of the range of speeds and of the panel: the top speed at both ends, the others
// incommensurate, so that no set of points meets them all.
constexpr std::array probes{std::pair{1.0, 0.0},    std::pair{1.0, 1.0},    std::pair{0.117, 0.53},
                            std::pair{0.237, 0.29}, std::pair{0.371, 0.71}, std::pair{0.491, 0.93},
                            std::pair{0.618, 0.13}, std::pair{0.743, 0.45}, std::pair{0.831, 0.07},
                            std::pair{0.871, 0.88}, std::pair{0.933, 0.61}, std::pair{0.961, 0.29}};
// Of a block: standstill at each point of the oil, then the probes.
constexpr std::size_t first_probe = oil_points;
static_assert(first_probe + probes.size() <= lanes);

/// Lanes beyond the last probe repeat it.
const std::pair<double, double>& probe_of(std::size_t lane) {
  return probes[std::clamp(lane, first_probe, first_probe + probes.size() - 1) - first_probe];
}

bool is_held(const ShaftTable::Panel& panel) { return panel.low_K == panel.high_K; }

double at_point(const ShaftTable::Panel& panel, std::size_t point) {
  return panel.middle_K + 0.5 * (panel.high_K - panel.low_K) * oil_chebyshev().at[point];
}

/// Every lane of a half block as one lane of another block, of the other half as the next.
void lay_out_pair(const WideOilSide& from, std::size_t lane, WideOilSide& to) {
  const auto lay_out = [lane](const numerics::LaneSpan& source, const numerics::LaneSpan& rows) {
    for (std::size_t row = 0; row < rows.rows(); ++row)
      for (std::size_t i = 0; i < lanes; ++i)
        rows[row][i] = source[row][lane + (i < lanes / 2 ? 0 : 1)];
  };
  lay_out(from.oil_K, to.oil_K);
  lay_out(from.film_cubes, to.film_cubes);
  lay_out(from.force_share, to.force_share);
  lay_out(from.log_share, to.log_share);
}

ShaftTable::Panel panel_of(double low_K, double high_K) {
  return {.low_K = low_K, .high_K = high_K, .middle_K = 0.5 * (low_K + high_K)};
}

}  // namespace

ShaftTable::ShaftTable(const ShaftSystem& system, const SpeedGrid& grid, Temperature dry,
                       numerics::LaneWidth width)
    : system_(&system),
      grid_(&grid),
      dry_(dry),
      width_(width),
      figures_((system.contacts.size() / figure_step + 1) * figure_step),
      bends_K_(modulus_bends_K(system)) {}

ShaftTable::Shaft::Shaft(const ShaftTable& table)
    : lanes({*table.system_}, table.width_), state(lanes.state()) {
  state.step_tolerance_K = step_tolerance_K;
  std::array<double, numerics::lanes> dry_K;
  dry_K.fill(table.dry_.value());
  lanes.set_dry(dry_K.data());
  const double standstill_rad_s =
      std::max(standstill_of_top, standstill_of_top * table.grid_->between(1.0));
  for (std::size_t i = 0; i < numerics::lanes; ++i) {
    const auto& probe = probe_of(i);
    const double speed_rad_s = i < first_probe ? 0.0 : table.grid_->between(probe.first);
    apart_rad_s[i] = std::max(speed_rad_s, standstill_rad_s);
  }
  apart = lanes.dry_side();
  lanes.fill(apart, apart_rad_s.data());
  for (WideOilSide& side : oil) side = lanes.oil_side();
  oil_apart = lanes.oil_side();
}

const ShaftTable::Panel& ShaftTable::panel(Temperature oil, bool held) {
  const double oil_K = oil.value();
  const auto serves = [&](const Panel& panel) {
    return held ? is_held(panel) && panel.low_K == oil_K
                : !is_held(panel) && oil_K >= panel.low_K && oil_K <= panel.high_K;
  };
  if (const auto found = std::ranges::find_if(panels_, serves); found != panels_.end())
    return *found;
  Panel& panel = panels_.emplace_back(held ? panel_of(oil_K, oil_K) : panel_around(oil_K));
  if (figures_ > most_figures) return panel;
  panel.tabulated = tabulate(panel, false);
  if (panel.tabulated) return panel;
  if (!held)
    panel = oil_K < panel.middle_K ? panel_of(panel.low_K, panel.middle_K)
                                   : panel_of(panel.middle_K, panel.high_K);
  panel.tabulated = tabulate(panel, true);
  return panel;
}

ShaftTable::Panel ShaftTable::panel_around(double oil_K) const {
  const auto above = std::ranges::upper_bound(bends_K_, oil_K);
  const bool ends_above = above != bends_K_.end(), ends_below = above != bends_K_.begin();
  double from_K = ends_below ? *(above - 1) : ends_above ? *above : panels_from_K;
  double width_K = usual_panel_K;
  if (ends_below && ends_above) {
    const double whole_K = *above - from_K;
    width_K = whole_K / std::ceil(whole_K / widest_panel_K);
  }
  from_K += std::floor((oil_K - from_K) / width_K) * width_K;
  Panel panel = panel_of(from_K, from_K + width_K);
  // A sum of widths may end a rounding away from the bend.
  if (ends_above && std::abs(panel.high_K - *above) < 1e-6) panel = panel_of(from_K, *above);
  return panel;
}

bool ShaftTable::tabulate(Panel& panel, bool finely) {
  if (!shaft_) shaft_.emplace(*this);
  largest_W_ = 0.0;
  const Speeds& at = speeds(finely);
  shaft_->values.assign((1 + at.solved_rad_s.size()) * oil_points * figures_, 0.0);
  try {
    if (!solve_apart(panel) || !solve(panel, at)) return false;
  } catch (const std::domain_error&) {
    return false;  // somewhere in the panel, perhaps where the duty never comes
  }
  panel.coefficients.assign(grid_->nodes() * oil_points * figures_, 0.0);
  numerics::run_at_width(width_, [&] {
    const auto make = [&]<std::size_t figures>() {
      coefficients_of<figures>(shaft_->values.data(), at.solved_rad_s.size(), panel,
                               oil_chebyshev(), at.spreads, panel.coefficients.data());
    };
    if (figures_ == figure_step)
      make.template operator()<figure_step>();
    else
      make.template operator()<most_figures>();
  });
  return agrees(panel);
}

const ShaftTable::Speeds& ShaftTable::speeds(bool finely) {
  std::optional<Speeds>& found = shaft_->speeds[finely ? 1 : 0];
  if (found) return *found;
  found.emplace(Speeds{grid_->solved_rad_s(finely), grid_->spreads(finely), {}});
  std::vector<double>& solved = found->solved_rad_s;
  while (solved.size() % half_block != 0) solved.push_back(solved.back());
  std::array<double, lanes> twice;
  for (std::size_t s = 0; s < solved.size(); s += half_block) {
    for (std::size_t i = 0; i < lanes; ++i) twice[i] = solved[s + i % half_block];
    found->dry.push_back(shaft_->lanes.dry_side());
    shaft_->lanes.fill(found->dry.back(), twice.data());
  }
  return *found;
}

bool ShaftTable::settle(const WideOilSide& oil, const WideDrySide& dry) {
  WideShaftState& state = shaft_->state;
  shaft_->lanes.settle(oil, dry, state);
  const double* const gain = state.loop_gain[0];
  return std::all_of(gain, gain + lanes, [](double g) { return g <= largest_loop_gain; });
}

void ShaftTable::take(std::size_t lane, double speed_rad_s, double* figures) {
  const WideShaftState& state = shaft_->state;
  figures[0] = state.into_oil_W[0][lane];
  double power_W = 0.0;
  for (std::size_t c = 0; c < system_->contacts.size(); ++c) {
    power_W += state.power_W[c][lane];
    figures[1 + c] = state.power_W[c][lane] / speed_rad_s;
  }
  largest_W_ = std::max(largest_W_, power_W);
}

bool ShaftTable::solve_apart(const Panel& panel) {
  Shaft& shaft = *shaft_;
  std::array<double, lanes> oil_K;
  for (std::size_t i = 0; i < lanes; ++i) {
    const auto& probe = probe_of(i);
    oil_K[i] =
        i < first_probe ? at_point(panel, i) : std::lerp(panel.low_K, panel.high_K, probe.second);
  }
  shaft.lanes.fill(shaft.oil_apart, oil_K.data());
  // From cold: a warm start might keep a hot state where the cool one still exists.
  for (std::size_t f = 0; f < shaft.state.friction.rows(); ++f)
    std::fill(shaft.state.friction[f], shaft.state.friction[f] + lanes, 0.0);
  if (!settle(shaft.oil_apart, shaft.apart)) return false;
  for (std::size_t p = 0; p < oil_points; ++p)
    take(p, shaft.apart_rad_s[p], shaft.values.data() + p * figures_);
  if (is_held(panel))
    std::fill(shaft.values.begin() + std::ptrdiff_t(figures_),
              shaft.values.begin() + std::ptrdiff_t(oil_points * figures_), 0.0);
  shaft.between.assign(probes.size() * figures_, 0.0);
  for (std::size_t p = 0; p < probes.size(); ++p)
    take(first_probe + p, shaft.apart_rad_s[first_probe + p], shaft.between.data() + p * figures_);
  return true;
}

bool ShaftTable::solve(const Panel& panel, const Speeds& at) {
  Shaft& shaft = *shaft_;
  const bool held = is_held(panel);
  const std::size_t used = held ? 1 : pairs;
  for (std::size_t pair = 0; pair < used; ++pair)
    lay_out_pair(shaft.oil_apart, 2 * pair, shaft.oil[pair]);
  for (std::size_t block = 0; block < at.dry.size(); ++block) {
    for (std::size_t f = 0; f < shaft.state.friction.rows(); ++f)
      std::fill(shaft.state.friction[f], shaft.state.friction[f] + lanes, 0.0);
    for (std::size_t pair = 0; pair < used; ++pair) {
      // The warmer half of the pair before is the nearer one.
      for (std::size_t f = 0; pair > 0 && f < shaft.state.friction.rows(); ++f)
        std::copy_n(shaft.state.friction[f] + half_block, half_block, shaft.state.friction[f]);
      if (!settle(shaft.oil[pair], at.dry[block])) return false;
      for (std::size_t i = 0; i < (held ? half_block : lanes); ++i) {
        const std::size_t speed = block * half_block + i % half_block;
        const std::size_t point = 2 * pair + i / half_block;
        take(i, at.solved_rad_s[speed],
             shaft.values.data() + ((1 + speed) * oil_points + point) * figures_);
      }
    }
  }
  return true;
}

bool ShaftTable::agrees(const Panel& panel) const {
  const double allowed_W = tolerance * largest_W_;
  std::array<double, most_figures> found;
  for (std::size_t p = 0; p < probes.size(); ++p) {
    const double speed_rad_s = shaft_->apart_rad_s[first_probe + p];
    const SpeedGrid::Place place = grid_->place(AngularVelocity::from_value(speed_rad_s));
    if (!place.within) continue;  // standstill of a grid of few speeds
    read(panel, place, std::lerp(panel.low_K, panel.high_K, probes[p].second), found.data());
    const double* const exact = shaft_->between.data() + p * figures_;
    if (!(std::abs(found[0] - exact[0]) <= allowed_W)) return false;
    for (std::size_t c = 0; c < system_->contacts.size(); ++c)
      if (!(std::abs(found[1 + c] - exact[1 + c]) * speed_rad_s <= allowed_W)) return false;
  }
  return true;
}

void ShaftTable::read(const Panel& panel, const SpeedGrid::Place& speed, double oil_K,
                      double* figures) const {
  const double x = oil_K - panel.middle_K;
  for (std::size_t f = 0; f < figures_; f += figure_step) {
    FigurePowers powers;
    if (figures_ == figure_step)
      read_powers<figure_step>(panel.coefficients.data(), speed, f, powers);
    else
      read_powers<most_figures>(panel.coefficients.data(), speed, f, powers);
    for (std::size_t k = 0; k < figure_step; ++k) {
      figures[f + k] = 0.0;
      for (std::size_t p = oil_points; p-- > 0;)
        figures[f + k] = figures[f + k] * x + powers.of[p][k];
    }
  }
}

std::optional<double> ShaftTable::at(const SpeedGrid::Place& speed, Temperature oil, bool held,
                                     std::span<double> torque_Nm) {
  if (!speed.within) return std::nullopt;
  const Panel& here = panel(oil, held);
  if (!here.tabulated) return std::nullopt;
  std::array<double, most_figures> figures;
  read(here, speed, oil.value(), figures.data());
  std::copy_n(figures.data() + 1, torque_Nm.size(), torque_Nm.begin());
  return figures[0];
}

}  // namespace ohmdrag::component
