#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "ohmdrag/rig/endurance_fit.hpp"

/// The laws of growth on ln Z, over the growth g up to a reference time T in place of their own
/// strength: g is told by the run, whatever tau.
namespace ohmdrag::rig {

/// Growth and its slopes over g and over ln(tau).
struct Growth {
  double value = 0.0;
  double over_growth = 0.0;
  double over_log_time = 0.0;
};

/// Share of the growth that a time brings, 1 at T, and its slope over ln(tau).
struct Progress {
  double value = 0.0;
  double over_log_time = 0.0;
};

/// ln(1 + t/tau)/ln(1 + T/tau), or [1 - exp(-t/tau)]/[1 - exp(-T/tau)] of the saturating law.
inline Progress progress(GrowthLaw law, double t_s, double reference_s, double log_time) {
  const double tau = std::exp(log_time), x = t_s / tau, end = reference_s / tau;
  const bool saturating = law == GrowthLaw::saturating;
  const double above = saturating ? -std::expm1(-x) : std::log1p(x);
  const double below = saturating ? -std::expm1(-end) : std::log1p(end);
  const double above_slope = saturating ? -x * std::exp(-x) : -x / (1.0 + x);
  const double below_slope = saturating ? -end * std::exp(-end) : -end / (1.0 + end);
  return {above / below, (above_slope - above / below * below_slope) / below};
}

/// ln Z(t) - ln Z_0. Infinite where a law that is carried on leaves no contact; not a number where
/// a falling logarithmic law passes zero.
inline Growth growth(GrowthLaw law, double g, double t_s, double reference_s, double log_time) {
  if (law == GrowthLaw::none) return {};
  const Progress q = progress(law, t_s, reference_s, log_time);
  if (law == GrowthLaw::power) return {g * q.value, q.value, g * q.over_log_time};
  // Z/Z_0 = 1 + (e^g - 1) q, and for conductances in place of impedances with -g and a minus.
  const double sign = law == GrowthLaw::logarithmic ? 1.0 : -1.0;
  const double strength = std::expm1(sign * g);
  const double ratio = 1.0 + strength * q.value;
  if (law == GrowthLaw::saturating && !(ratio > 0.0))
    return {std::numeric_limits<double>::infinity(), 0.0, 0.0};
  return {sign * std::log(ratio), std::exp(sign * g) * q.value / ratio,
          sign * strength * q.over_log_time / ratio};
}

/// phi of the saturating law; contact::lost_share() takes up to 0.99.
inline double lost_at_last(double g, double reference_s, double log_time) {
  return -std::expm1(-g) / -std::expm1(-reference_s / std::exp(log_time));
}
inline constexpr double most_lost = 0.99;

}  // namespace ohmdrag::rig
