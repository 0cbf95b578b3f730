#pragma once

#include "ohmdrag/contact/friction_kernel.hpp"
#include "ohmdrag/material/oil_kernel.hpp"

namespace ohmdrag::component {

struct FilmFriction {
  double friction;
  double per_K;
  double film_friction;
};

/// Friction of a mixed film at the viscosity of its contact, for one sample or for lanes.
/// \param log_duty_per_Pa_s  ln(u/F'), -infinity at standstill
template <class Math>
[[gnu::always_inline]] inline FilmFriction film_friction_at(const contact::MixedFilmConstants& film,
                                                            const material::LogViscosity& eta,
                                                            double log_duty_per_Pa_s) {
  const contact::MixedFilmPoint point =
      contact::mixed_film_at<Math>(film, log_duty_per_Pa_s + eta.log_eta);
  return {point.friction, -point.per_log_duty * eta.thinning_per_K, point.film_friction};
}

}  // namespace ohmdrag::component
