#pragma once

#include <numbers>

/// Arithmetic of the loss of force over time for inner loops, over the functions of
/// numerics::LibraryMath (one sample) or numerics::LaneMath (many side by side). The laws, their
/// sources and ranges are in force_loss.hpp; here nothing is checked.
namespace ohmdrag::contact {

/// What the laws need, prepared once for a temperature.
struct RelaxationConstants {
  double per_decade;
  double log_time_s;
  double chemical_rate_per_s;  ///< acceleration over chemical time
  double stretch;
};

/// Share that the slow slide of the chains leaves, which a long time may take below zero.
template <class Math>
[[gnu::always_inline]] inline double physical_share(const RelaxationConstants& law, double age_s) {
  return 1.0 - law.per_decade / std::numbers::ln10 * Math::log(1.0 + age_s / law.log_time_s);
}

/// Share that ageing leaves: exp(-(rate age)^stretch).
template <class Math>
[[gnu::always_inline]] inline double chemical_share(const RelaxationConstants& law, double age_s) {
  const double aged = law.chemical_rate_per_s * age_s;
  const double lost = aged > 0.0 ? Math::exp(law.stretch * Math::log(aged)) : 0.0;
  return Math::exp(-lost);
}

/// Share of a spring's force: 1 - set (1 - exp(-age/time)).
template <class Math>
[[gnu::always_inline]] inline double spring_share(double final_set, double set_time_s,
                                                  double age_s) {
  return 1.0 - final_set * (1.0 - Math::exp(-age_s / set_time_s));
}

}  // namespace ohmdrag::contact
