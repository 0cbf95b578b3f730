#pragma once

#include "ohmdrag/bearing/rating_life.hpp"

/// Arithmetic of the life modification factor for inner loops, over the functions of
/// numerics::LibraryMath (one state) or numerics::LaneMath (many side by side). The laws, their
/// sources and ranges are in rating_life.hpp; here nothing is checked.
namespace ohmdrag::bearing {

/// ln of 0.1, 0.4 and 4: where the law ends and where its band changes; it also does at kappa 1.
inline constexpr double log_thinnest = -2.302585092994046, log_band = -0.916290731874155,
                        log_thickest = 1.3862943611198906;

/// What a power of zero is taken from: as good as none.
inline constexpr double next_to_nothing = 1e-300;

/// The coefficient of a viscosity ratio, c of LifeFactorLaw::effect() = c^power. It passes through
/// zero at kappa = 0.1; its rounding is of either sign there.
template <class Math>
[[gnu::always_inline]] inline double coefficient(const LifeFactorLaw& law, double log_kappa) {
  const double not_below = log_kappa > log_thinnest ? log_kappa : log_thinnest;
  const double used = not_below < log_thickest ? not_below : log_thickest;
  const bool thin = used < log_band;
  const double thicker_power = used < 0.0 ? 0.19087 : 0.071739;
  const double power = thin ? 0.054381 : thicker_power;
  return law.ceiling - (thin ? law.thin : law.thick) * Math::exp(-power * used);
}
/// ln of the effect's size.
template <class Math>
[[gnu::always_inline]] inline double log_effect(const LifeFactorLaw& law, double coefficient) {
  const double size = coefficient < 0.0 ? -coefficient : coefficient;
  return law.coefficient_power * Math::log(size > next_to_nothing ? size : next_to_nothing);
}

/// ln of a of contamination_factor().
/// \param log_clean  ln(k d_m^0.55)
[[gnu::always_inline]] inline double log_cleanness(double log_clean, double log_kappa) {
  const double any = log_clean + 0.68 * log_kappa;
  return any < 0.0 ? any : 0.0;
}

/// ln of 1/a_ISO of the bracket y, without its ends.
template <class Math>
[[gnu::always_inline]] inline double log_harm(const LifeFactorLaw& law, double bracket) {
  constexpr double log_10 = 2.302585092994046;
  return log_10 - law.life_power * Math::log(bracket > next_to_nothing ? bracket : next_to_nothing);
}
/// 1/a_ISO out of it: damage over basic damage.
template <class Math>
[[gnu::always_inline]] inline double harm_of_log(double log_harm) {
  constexpr double least = 1.0 / LifeFactorLaw::largest_factor;
  const double harm = Math::exp(log_harm);
  return harm > least ? harm : least;
}
template <class Math>
[[gnu::always_inline]] inline double harm_of(const LifeFactorLaw& law, double bracket) {
  return harm_of_log<Math>(log_harm<Math>(law, bracket));
}

/// with_ep_additive(): contamination factor from which the additive helps, and the factor it
/// reaches at most.
inline constexpr double least_helped_contamination = 0.2, most_helped_factor = 3.0;
/// 1/a_ISO with it.
[[gnu::always_inline]] inline double helped_harm(double harm, double harm_at_one, bool helped) {
  constexpr double least = 1.0 / most_helped_factor;
  const double with = harm_at_one > least ? harm_at_one : least;
  const double lesser = with < harm ? with : harm;
  return helped ? lesser : harm;
}

}  // namespace ohmdrag::bearing
