#pragma once

#include "ohmdrag/contact/friction.hpp"
#include "ohmdrag/numerics/lane_math.hpp"

/// Arithmetic of the friction laws for inner loops, over the functions of numerics::LibraryMath
/// (one sample) or numerics::LaneMath (many side by side). The laws, their sources and ranges are
/// in friction.hpp and ptfe_friction.hpp; here nothing is checked.
namespace ohmdrag::contact {

/// A mixed film as its inner loop wants it.
struct MixedFilmConstants {
  double boundary_friction;
  double film_factor;  ///< phi (b/b_0)^(1/3)
  double log_transition;
  double load_share_exponent;
};
MixedFilmConstants mixed_film_constants(const MixedFilm& film);

/// The mixed film over ln G; -infinity is standstill. Both powers of G are exponentials of ln G.
template <class Math>
[[gnu::always_inline]] inline MixedFilmPoint mixed_film_at(const MixedFilmConstants& film,
                                                           double log_duty) {
  const double x = Math::exp(film.load_share_exponent * (log_duty - film.log_transition));
  const double share = Math::exp(-x);
  const double fluid = film.film_factor * Math::exp(log_duty * (1.0 / 3.0));
  const double mu_b = film.boundary_friction;
  return {.friction = mu_b * share + (1.0 - share) * fluid,
          .per_log_duty = share * film.load_share_exponent * x * (fluid - mu_b) +
                          (1.0 - share) * fluid * (1.0 / 3.0),
          .film_friction = fluid};
}

/// Dry PTFE: the coefficients at the three printed speeds and everything but speed and pressure.
struct PtfeConstants {
  double slow_coefficient;
  double middle_coefficient;
  double fast_coefficient;
  double filled_factor;
  double least_pressure_Pa;
};

PtfeConstants ptfe_constants(const PtfeFriction& law);

inline constexpr double ptfe_slow_m_s = ptfe_bends[0].value();
inline constexpr double ptfe_middle_m_s = ptfe_bends[1].value();
inline constexpr double ptfe_fast_m_s = ptfe_bends[2].value();
inline constexpr double psi_Pa = 4.4482216152605 / (0.0254 * 0.0254);  // pound-force a square inch

/// Straight in ln u between the printed speeds, level beyond them, times the pressure [psi] to the
/// power of -0.2. Without the factor of filled PTFE.
template <class Math>
[[gnu::always_inline]] inline double unfilled_ptfe_friction(const PtfeConstants& law,
                                                            double pressure_Pa, double u_m_s) {
  const double not_slower = u_m_s < ptfe_slow_m_s ? ptfe_slow_m_s : u_m_s;
  const double u = not_slower > ptfe_fast_m_s ? ptfe_fast_m_s : not_slower;
  const double log_u = Math::log(u);
  const double log_slow = Math::log(ptfe_slow_m_s);
  const double log_middle = Math::log(ptfe_middle_m_s);
  const double log_fast = Math::log(ptfe_fast_m_s);
  const double below = law.slow_coefficient + (law.middle_coefficient - law.slow_coefficient) *
                                                  (log_u - log_slow) / (log_middle - log_slow);
  const double above = law.middle_coefficient + (law.fast_coefficient - law.middle_coefficient) *
                                                    (log_u - log_middle) / (log_fast - log_middle);
  const double used_Pa = pressure_Pa < law.least_pressure_Pa ? law.least_pressure_Pa : pressure_Pa;
  return (u <= ptfe_middle_m_s ? below : above) * Math::exp(-0.2 * Math::log(used_Pa / psi_Pa));
}

}  // namespace ohmdrag::contact
