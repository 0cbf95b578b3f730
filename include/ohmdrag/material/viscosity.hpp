#pragma once

#include <cmath>
#include <optional>

#include "ohmdrag/material/oil_kernel.hpp"
#include "ohmdrag/numerics/lane_math.hpp"
#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::material {

/// Kinematic viscosity of a mineral or synthetic oil over temperature, through two known points.
///
///     lg lg(nu + c) = A - B lg T        nu [mm2/s], T [K]
///
/// Sign: viscosity falls as temperature rises (B > 0).
///
/// Validity  liquid between about -30 and 150 degC and nu >= 2 mm2/s; see outside_walther().
/// Limits    reproduces its two anchors; nu -> 1 - c mm2/s as T -> infinity.
/// Accuracy  within 0.5 % between the anchors for the published tables tested; the choice of c
///           (0.7 or 0.8) moves the result up to 8 % at -30 degC and 3 % at 177 degC.
/// Source    C. Walther (1931); short form of ASTM D341 (c = 0.7) and DIN 51563 (c = 0.8), as
///           quoted in public fluid-property descriptions; standards not read.
class Walther {
 public:
  /// Through two anchors at any two temperatures, the first the colder one.
  /// \throws std::invalid_argument unless t1 < t2, nu1 > nu2 and nu2 + c > 1 mm2/s, 0 <= c < 1.
  static Walther through(Temperature t1, KinematicViscosity nu1, Temperature t2,
                         KinematicViscosity nu2, double constant);

  /// Through the data-sheet anchors at 40 and 100 degC. Throws as through().
  Walther(KinematicViscosity at_40, KinematicViscosity at_100, double constant)
      : Walther(through(from_celsius(40.0), at_40, from_celsius(100.0), at_100, constant)) {}

  /// \throws std::invalid_argument unless the temperature is above absolute zero.
  KinematicViscosity at(Temperature temperature) const;

  /// The temperature at which the oil has this viscosity.
  /// \throws std::invalid_argument unless nu + c > 1 mm2/s.
  Temperature temperature_at(KinematicViscosity viscosity) const;

  double a() const { return a_; }
  double b() const { return b_; }
  double constant() const { return constant_; }

  /// Kernel of the hot loops: viscosity and -d ln(nu)/dT at a temperature that is known positive.
  WaltherPoint point(double temperature_K) const {
    return walther_point<numerics::LibraryMath>(log_k_, b_, constant_, temperature_K);
  }
  double log_k() const { return log_k_; }

 private:
  Walther(double a, double b, double constant);

  double a_;
  double b_;
  double constant_;
  double log_k_;
};

/// The flag of a temperature outside -30 to 150 degC or of a viscosity below 2 mm2/s, where the
/// short form no longer holds; the temperature is named first if both are outside.
std::optional<numerics::RangeFlag> outside_walther(const Walther& oil, Temperature temperature);

}  // namespace ohmdrag::material
