#include <algorithm>
#include <cmath>

#include "rig/record_events.hpp"

namespace ohmdrag::rig {

namespace {

/// Samples before a fall whose mean is the voltage that stood.
constexpr std::size_t samples_of_plateau = 4;
/// A fall ends within so many times what its steepest part may take.
constexpr std::size_t longest_in_lags = 3;
/// Shares of its steepest part between which it begins and ends.
constexpr double beginning = 0.25, ending = 0.15;

class FallSearch {
 public:
  FallSearch(const Signal& signal, const FallRule& rule) : signal_(signal), rule_(rule) {}

  std::vector<Fall> found() const {
    std::vector<Fall> falls;
    for (std::size_t s = 0; s < signal_.sweeps.size(); ++s) {
      const Sweep& sweep = signal_.sweeps[s];
      for (std::size_t i = sweep.begin; i + rule_.samples < sweep.end; ++i) {
        if (!drops(i, i + rule_.samples)) continue;
        if (const auto fall = fall_from(s, i)) {
          falls.push_back(*fall);
          i = std::max(i, fall->bottom);
        }
      }
    }
    return falls;
  }

 private:
  double v(std::size_t i) const { return signal_.shaft_V[i]; }
  /// The shaft apart from what the common mode drives.
  double apart(std::size_t i) const {
    return rule_.ratio != 0.0 ? v(i) - rule_.ratio * signal_.common_V[i] : v(i);
  }
  bool drops(std::size_t i, std::size_t j) const {
    const double sign = v(i) > 0.0 ? 1.0 : -1.0;
    return sign * (apart(i) - apart(j)) >= rule_.least_V;
  }

  std::optional<Fall> fall_from(std::size_t s, std::size_t i) const {
    const Sweep& sweep = signal_.sweeps[s];
    // The top is the last sample before the steepest drop, the bottom where it no longer falls.
    const double sign = v(i) > 0.0 ? 1.0 : -1.0;
    std::size_t top = i;
    double steepest = 0.0;
    for (std::size_t k = i; k < i + rule_.samples; ++k)
      if (const double drop = sign * (apart(k) - apart(k + 1)); drop > steepest) {
        steepest = drop;
        top = k;
      }
    while (top > sweep.begin && sign * (apart(top - 1) - apart(top)) > beginning * steepest) --top;
    std::size_t bottom = top + 1;
    const std::size_t last = std::min(sweep.end - 1, top + longest_in_lags * rule_.samples + 1);
    while (bottom < last && sign * (apart(bottom) - apart(bottom + 1)) > ending * steepest)
      ++bottom;
    if (bottom == last) return std::nullopt;  // an edge that goes on
    Fall fall{s, top, bottom, voltage_before(sweep, top, sign), 0.0, rises_into(sweep, top, sign)};
    if (fall.rising) fall.before_V += 0.5 * (v(top) - v(top - 1));
    fall.jump_V = apart(bottom) - apart(top);
    // The edge goes on while it breaks; where the common mode is taken off, so is that.
    if (fall.rising && rule_.ratio == 0.0)
      fall.jump_V -= static_cast<double>(bottom - top) * (v(top) - v(top - 1));
    if (-sign * fall.jump_V < 0.8 * rule_.least_V) return std::nullopt;
    const double left = (rule_.ratio == 0.0 || !fall.rising ? v(top) : fall.before_V) + fall.jump_V;
    if (std::abs(left) > most_left * std::abs(fall.before_V) + rule_.left_V) return std::nullopt;
    return fall;
  }

  bool rises_into(const Sweep& sweep, std::size_t top, double sign) const {
    if (top < sweep.begin + 2) return false;
    // Twice in a row by more than noise: a ramp, not a plateau.
    const double noise = 2.0 * signal_.shaft_noise_V;
    return sign * (v(top) - v(top - 1)) > noise && sign * (v(top - 1) - v(top - 2)) > noise;
  }
  double voltage_before(const Sweep& sweep, std::size_t top, double sign) const {
    if (rises_into(sweep, top, sign)) return v(top);
    double sum = 0.0;
    std::size_t n = 0;
    for (std::size_t k = top + 1; k-- > sweep.begin && n < samples_of_plateau; ++n) {
      if (std::abs(v(k) - v(top)) > 0.2 * std::abs(v(top)) + 4.0 * signal_.shaft_noise_V) break;
      sum += v(k);
    }
    return sum / static_cast<double>(n);
  }

  const Signal& signal_;
  const FallRule& rule_;
};

}  // namespace

std::vector<Fall> falls_of(const Signal& signal, const FallRule& rule) {
  return FallSearch(signal, rule).found();
}

std::vector<double> without_falls(const Signal& signal, const std::vector<Fall>& falls) {
  std::vector<double> out = signal.shaft_V;
  double lost = 0.0;  // by the falls of this sweep so far
  for (std::size_t f = 0; f < falls.size(); ++f) {
    const Fall& fall = falls[f];
    if (f == 0 || falls[f - 1].sweep != fall.sweep) lost = 0.0;
    lost += fall.jump_V;
    const bool last = f + 1 == falls.size() || falls[f + 1].sweep != fall.sweep;
    const std::size_t until = last ? signal.sweeps[fall.sweep].end : falls[f + 1].bottom;
    for (std::size_t i = fall.bottom; i < until; ++i) out[i] -= lost;
    const double from = out[fall.top], to = out[fall.bottom];
    for (std::size_t i = fall.top + 1; i < fall.bottom; ++i)
      out[i] = from + (to - from) * static_cast<double>(i - fall.top) /
                          static_cast<double>(fall.bottom - fall.top);
  }
  return out;
}

}  // namespace ohmdrag::rig
