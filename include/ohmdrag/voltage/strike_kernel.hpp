#pragma once

#include "ohmdrag/voltage/threshold.hpp"

/// Arithmetic of strikes for inner loops, over the functions of numerics::LibraryMath (one state)
/// or numerics::LaneMath (many side by side). The laws, their sources and ranges are in
/// threshold.hpp and discharge.hpp; here nothing is checked.
namespace ohmdrag::voltage {

/// film_share().
[[gnu::always_inline]] inline double share_of_film(double film_ratio) {
  const double any = 0.5 * (film_ratio - 1.0);
  const double not_below = any > 0.0 ? any : 0.0;
  const double x = not_below < 1.0 ? not_below : 1.0;
  return x * x * (3.0 - 2.0 * x);
}

/// pulse_credit() of sqrt(t0) and of one over the root of the duration.
[[gnu::always_inline]] inline double credit_factor(double root_t0, double per_root_duration) {
  const double raw = 1.0 + root_t0 * per_root_duration;
  return raw < pulse_credit_cap ? raw : pulse_credit_cap;
}

/// edge_probability() of V/V_th.
template <class Math>
[[gnu::always_inline]] inline double strike_probability(double ratio, double per_width) {
  const double excess = (ratio - 1.0) * per_width;
  const double probability = -Math::expm1(-(excess * excess));
  return ratio > 1.0 ? probability : 0.0;
}

/// edge_rates() over the carrier frequency.
struct EdgesPerPeriod {
  double one_leg, two_legs, three_legs;
};
/// \param spacing       4 t_r f_sw/sqrt(3)
/// \param all_together  below the modulation where all legs switch together
template <class Math>
[[gnu::always_inline]] inline EdgesPerPeriod edges_per_period(double spacing, double modulation,
                                                              bool all_together) {
  // Three edges a half-period hold one and a half pairs: more than that, beyond sin(pi/4), are all.
  constexpr double surely_all = 0.7075, most_pairs = 1.5;
  constexpr double six_per_pi = 1.909859317102744;
  const double any = spacing / modulation;
  const double meeting = any < surely_all ? any : surely_all;
  const double apart = six_per_pi * Math::asin(meeting);
  const double pairs = all_together ? 2.0 * most_pairs : apart;
  const bool all = pairs > most_pairs;
  return {all ? 0.0 : 6.0 - 4.0 * pairs, all ? 0.0 : 2.0 * pairs, all ? 2.0 : 0.0};
}

}  // namespace ohmdrag::voltage
