#pragma once

#include <span>

#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::bearing {

/// Two-parameter Weibull life by the age that 90 % survive.
struct Weibull {
  Time l10;      ///< > 0, may be infinite: this cause never kills
  double slope;  ///< beta > 0
};

/// Survival probability at an age.
///
///     S(t) = exp[-ln(1/0.9) (t/L10)^beta]
///
/// Limits  1 at t = 0; 0.9 at t = L10.
/// Source  W. Weibull (1951); slopes 10/9 (balls) and 9/8 (rollers) of G. Lundberg, A. Palmgren
///         (1947), 1.5 of ISO/TR 1281-2:2008.
double survival(const Weibull& life, Time age);
/// 1 - survival(), accurate where it is small.
double failure_probability(const Weibull& life, Time age);
/// The age with a survival probability in (0, 1).
Time age_at_survival(const Weibull& life, double survival);
/// Mean life, Gamma(1 + 1/beta) times the characteristic life.
Time mean_life(const Weibull& life);
/// From the characteristic life eta, which 1/e survive.
Weibull weibull_of_characteristic_life(Time characteristic, double slope);
Time characteristic_life(const Weibull& life);

/// L50/L10 = (ln 2/ln(1/0.9))^(1/beta).
double median_over_l10(double slope);
/// L10 of a life that is stated as a median.
Time l10_from_median(Time median, double slope);

/// Life with a time before which nothing fails, in any unit of life.
///
///     S(x) = exp{-[(x - x0)/(theta - x0)]^b},  1 for x <= x0
///
/// Source  W. Weibull (1951); with L10 as unit, x0 = 0.05 and b = 1.5 it is the reliability factor
///         of ISO/TR 1281-2:2008.
struct ThreeParameterWeibull {
  double minimum;  ///< x0
  double scale;    ///< theta - x0 > 0
  double slope;    ///< b > 0
};
double survival(const ThreeParameterWeibull& life, double age);
double age_at_survival(const ThreeParameterWeibull& life, double survival);
double mean_life(const ThreeParameterWeibull& life);
double standard_deviation(const ThreeParameterWeibull& life);

/// L10 of a system that fails with its first part, all with one slope.
///
///     L = (sum L_i^-beta)^(-1/beta)
///
/// Limits  beta = 1: damage rates add, linear damage of one part by several causes. Infinite lives
///         drop out; no part or only infinite ones: infinite.
/// Source  derived: product of survivals; G. Lundberg, A. Palmgren (1947).
Time system_l10(std::span<const Time> l10, double slope);
/// The same with a slope for each part: the age where the survivals multiply to 0.9.
///
/// Accuracy  1e-12 relative.
Time system_l10(std::span<const Weibull> parts);

}  // namespace ohmdrag::bearing
