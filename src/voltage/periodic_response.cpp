#include "ohmdrag/voltage/periodic_response.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <utility>

#include "voltage/motion.hpp"

namespace ohmdrag::voltage {

namespace {

/// The voltage from one corner or beginning of an oscillation to the next.
struct Piece {
  double from_s = 0.0;
  double length_s = 0.0;
  Motion motion;
};

/// What an oscillation does when it begins, and its forced part from then on.
struct Start {
  double from_s = 0.0;
  std::vector<std::complex<double>> free_V;  ///< by mode
  Term forced;                               ///< with the tails of all periods before
};

std::vector<Start> starts_of(const Waveform& waveform, const StepModes& modes) {
  std::vector<Start> starts;
  for (const Oscillation& oscillation : waveform.oscillations) {
    const double w_rad_s = 2.0 * std::numbers::pi * oscillation.frequency.value();
    Motion motion;
    for (const StepMode& mode : modes.all()) motion.push_back({mode.rate_per_s, 0.0, 0.0});
    add_oscillation(motion, modes, modes.ratio() * oscillation.amplitude.value(),
                    {-w_rad_s / (2.0 * oscillation.quality), w_rad_s});
    Start start{oscillation.from.value(), {}, motion.back()};
    start.forced.free_V /= -exp_less_one(start.forced.rate_per_s * waveform.period.value());
    for (std::size_t k = 0; k < modes.all().size(); ++k) start.free_V.push_back(motion[k].free_V);
    starts.push_back(std::move(start));
  }
  return starts;
}

/// Lines only: slope of the common mode after a time, in V/s.
double slope_after(const Waveform& waveform, double t_s) {
  const auto& corners = waveform.corners;
  if (corners.size() < 2) return 0.0;
  const auto next = std::ranges::find_if(
      corners, [t_s](const Corner& corner) { return corner.at.value() > t_s; });
  const bool wraps = next == corners.begin() || next == corners.end();
  const Corner& a = wraps ? corners.back() : *std::prev(next);
  const Corner& b = wraps ? corners.front() : *next;
  const double length_s = b.at.value() - a.at.value() + (wraps ? waveform.period.value() : 0.0);
  return (b.value.value() - a.value.value()) / length_s;
}

std::vector<double> piece_starts(const Waveform& waveform) {
  std::vector<double> times{0.0};
  for (const Corner& corner : waveform.corners) times.push_back(corner.at.value());
  for (const Oscillation& o : waveform.oscillations) times.push_back(o.from.value());
  std::ranges::sort(times);
  times.erase(std::unique(times.begin(), times.end()), times.end());
  return times;
}

void begin(Motion& motion, const std::vector<Start>& starts, double at_s) {
  for (const Start& start : starts)
    if (start.from_s == at_s)
      for (std::size_t k = 0; k < start.free_V.size(); ++k) motion[k].free_V += start.free_V[k];
}

/// Oscillations of one frequency and quality are one term.
void add_forced(Motion& motion, const std::vector<Start>& starts, double at_s, double period_s) {
  const std::size_t modes = motion.size();
  for (const Start& start : starts) {
    const double since_s = at_s - start.from_s + (at_s < start.from_s ? period_s : 0.0);
    Term term = start.forced;
    term.free_V *= std::exp(term.rate_per_s * since_s);
    const auto same =
        std::find_if(motion.begin() + static_cast<std::ptrdiff_t>(modes), motion.end(),
                     [&](const Term& t) { return t.rate_per_s == term.rate_per_s; });
    if (same == motion.end())
      motion.push_back(term);
    else
      same->free_V += term.free_V;
  }
}

/// The modes at the end of a piece, as they begin the next.
void move_on(Motion& modes, double length_s) {
  for (Term& term : modes) {
    const std::complex<double> grown = exp_less_one(term.rate_per_s * length_s);
    const std::complex<double> lasted =
        term.rate_per_s == 0.0 ? std::complex<double>{length_s} : grown / term.rate_per_s;
    term.free_V += term.free_V * grown + term.driven_V_per_s * lasted;
  }
}

}  // namespace

struct PeriodicResponse::Solved {
  ShaftNode node;
  MaybePath path;
  Waveform waveform;
  std::vector<Piece> pieces;
};

PeriodicResponse::PeriodicResponse(const ShaftNode& node, const MaybePath& path,
                                   Waveform waveform) {
  require_defined(waveform);
  const StepModes modes(node, path);
  if (!modes.forgets())
    throw std::invalid_argument("periodic response: a path without resistance has no steady state");
  auto solved = std::make_shared<Solved>(Solved{node, path, std::move(waveform), {}});
  const Waveform& wave = solved->waveform;
  const double period_s = wave.period.value();
  const std::vector<Start> starts = starts_of(wave, modes);
  const std::vector<double> times = piece_starts(wave);
  const auto length_s = [&](std::size_t i) {
    return (i + 1 < times.size() ? times[i + 1] : period_s) - times[i];
  };
  const auto enter = [&](Motion& motion, std::size_t i) {
    begin(motion, starts, times[i]);
    const double slope = modes.ratio() * slope_after(wave, times[i]);
    for (std::size_t k = 0; k < motion.size(); ++k)
      motion[k].driven_V_per_s = slope * modes.all()[k].weight;
  };

  // Once from rest: what a period leaves. Then from the state that a period reproduces.
  Motion state;
  for (const StepMode& mode : modes.all()) state.push_back({mode.rate_per_s, 0.0, 0.0});
  for (std::size_t i = 0; i < times.size(); ++i) {
    enter(state, i);
    move_on(state, length_s(i));
  }
  for (Term& term : state)
    if (path) term.free_V /= -exp_less_one(term.rate_per_s * period_s);
  if (!path) {
    // Nothing is forgotten: the mean of the whole period is zero.
    Motion entering{{0.0, 0.0, 0.0}};
    begin(entering, starts, 0.0);
    add_forced(entering, starts, 0.0, period_s);
    const double start_V = value_at(wave, Time{}).value() - voltage::harmonic_V(wave, 0).real();
    state.front().free_V = modes.ratio() * start_V - value_V(entering, 0.0);
  }
  for (std::size_t i = 0; i < times.size(); ++i) {
    enter(state, i);
    Piece piece{times[i], length_s(i), state};
    add_forced(piece.motion, starts, times[i], period_s);
    solved->pieces.push_back(std::move(piece));
    move_on(state, length_s(i));
  }
  solved_ = std::move(solved);
}

Voltage PeriodicResponse::at(Time time) const {
  const double period_s = solved_->waveform.period.value();
  double t_s = std::fmod(time.value(), period_s);
  if (t_s < 0.0) t_s += period_s;
  const auto next = std::ranges::upper_bound(solved_->pieces, t_s, {}, &Piece::from_s);
  const Piece& piece = *std::prev(next);
  return Voltage::from_value(value_V(piece.motion, t_s - piece.from_s));
}

PeriodicResponse::Largest PeriodicResponse::largest() const {
  Peak best;
  for (const Piece& piece : solved_->pieces) {
    const Peak start{value_V(piece.motion, 0.0), piece.from_s};
    if (start.magnitude_V() > best.magnitude_V()) best = start;
    const Peak here = voltage::largest(piece.motion, piece.length_s, {best.v_V, -1.0});
    if (here.time_s >= 0.0) best = {here.v_V, piece.from_s + here.time_s};
  }
  return {Voltage::from_value(best.magnitude_V()), Time::from_value(best.time_s)};
}

std::complex<double> PeriodicResponse::harmonic_V(int n) const {
  const std::complex<double> source_V = voltage::harmonic_V(solved_->waveform, n);
  if (n == 0) return 0.0;
  const Frequency frequency = double(n) / solved_->waveform.period;
  return bearing_voltage_ratio(solved_->node) * source_V *
         attenuation(solved_->node, solved_->path, frequency);
}

std::vector<std::complex<double>> PeriodicResponse::harmonics_V(int up_to) const {
  std::vector<std::complex<double>> lines = voltage::harmonics_V(solved_->waveform, up_to);
  const double ratio = bearing_voltage_ratio(solved_->node);
  lines.front() = 0.0;
  for (std::size_t n = 1; n < lines.size(); ++n)
    lines[n] *=
        ratio * attenuation(solved_->node, solved_->path, double(n) / solved_->waveform.period);
  return lines;
}

}  // namespace ohmdrag::voltage
