#pragma once

#include <optional>

#include "ohmdrag/bearing/geometry.hpp"
#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// Rating life after the method of ISO 281:2007. The method excludes wear, corrosion and electrical
/// erosion: what a grounding contact is for never shows in these lives.
namespace ohmdrag::bearing {

constexpr double ball_life_exponent = 3.0;           ///< p
constexpr double roller_life_exponent = 10.0 / 3.0;  ///< p

/// Basic rating life in millions of revolutions, 90 % survival.
///
///     L10 = (C/P)^p
///
/// Validity  P <= 0.5 C and P <= C0, normal speeds, no slip.
/// Limits    P = 0: infinite.
/// Source    ISO 281:2007, basic rating life.
///
/// \throws std::invalid_argument unless C > 0, P >= 0, p > 0.
double basic_life_million_revolutions(Force dynamic_rating, Force load, double exponent);
/// The same as running time, L10 1e6/(60 n); infinite at rest or without load.
Time basic_life(Force dynamic_rating, Force load, double exponent, AngularVelocity omega);
/// P above 0.5 C, where the load alone would deform the contacts.
std::optional<numerics::RangeFlag> outside_life_load(Force dynamic_rating, Force load);

struct EquivalentLoad {
  Force load;           ///< P
  double limit_ratio;   ///< e: above it in F_a/F_r the axial load counts
  double axial_factor;  ///< Y where F_a/F_r > e
  /// f0 F_a/C0 outside the table and the table's end used instead; below the table only where the
  /// axial load counts at all.
  std::optional<numerics::RangeFlag> outside;
};

/// Dynamic equivalent load of a deep-groove ball bearing (nominal contact angle 0).
///
///     P = F_r                               F_a/F_r <= e
///     P = max(F_r, 0.56 F_r + Y F_a)        F_a/F_r >  e
///
/// e and Y over f0 F_a/C0 from the table, linear between its nine columns.
///
/// Sign: magnitudes of both loads count.
///
/// Limits    F_r = 0: P = Y F_a. P steps by up to 0.6 % upwards at F_a/F_r = e: the table's own
///           rounding.
/// Source    ISO 281:2007 Table 3, as quoted in several public copies.
///
/// \param static_factor  f0 of ISO 76
EquivalentLoad deep_groove_equivalent_load(Force radial, Force axial, Force static_rating,
                                           double static_factor);
/// Cylindrical rollers without axial load: P = |F_r|.
Force cylindrical_roller_equivalent_load(Force radial);

/// Static equivalent load of a deep-groove ball bearing, P0 = max(F_r, 0.6 F_r + 0.5 F_a).
///
/// Source  ISO 76:2006, from memory.
Force deep_groove_static_load(Force radial, Force axial);

/// Basic dynamic load rating of a single-row radial ball bearing from its geometry.
///
///     C = 1.3 f_c (cos alpha)^0.7 Z^(2/3) D_w^1.8          [N; mm]    D_w <= 25.4 mm
///     C = 1.3 f_c (cos alpha)^0.7 Z^(2/3) 3.647 D_w^1.4    [N; mm]    D_w >  25.4 mm
///
/// Validity  groove conformity 0.52: f_c does not depend on the bearing's own conformity.
/// Source    ISO 281:2007; form and table from memory, the table checked against the closed form
///           of G. Lundberg, A. Palmgren, Dynamic Capacity of Rolling Bearings (1947).
///
/// \throws std::invalid_argument on invalid geometry or a diameter ratio outside the table.
Force dynamic_rating_of_geometry(const BallBearing& bearing);
/// f_c of the above over D_w cos(alpha)/d_m, linear in the standard's table from 0.05 to 0.30.
double geometry_factor(double diameter_ratio);

/// Basic static load rating, C0 = f0 Z D_w^2 cos(alpha)  [N; mm].
///
/// Source  ISO 76:2006.
Force static_rating_of_geometry(const BallBearing& bearing, double static_factor);

/// Load of a single-row bearing at which its worst ball reaches a pressure on the inner ring,
/// C0 = Z Q cos(alpha)/5. With 4200 MPa it gives the f0 of ISO 76 within 0.5 % at g = 0.2.
///
/// Source  derived: Hertz contact, Stribeck's 5 for a bearing with normal play.
Force static_rating_of_pressure(const BallBearing& bearing, Pressure reduced_modulus,
                                Pressure inner_pressure);

/// Fatigue load limit, simplified.
///
///     C_u = C0/22    balls,   times (100 mm/d_m)^0.5 for d_m > 100 mm
///     C_u = C0/8.2   rollers, times (100 mm/d_m)^0.3 for d_m > 100 mm
///
/// Source  ISO 281:2007 Annex B (simplified); 22 agrees with (4200 MPa/1500 MPa)^3 = 21.95.
Force ball_fatigue_limit(Force static_rating, Length pitch_diameter);
Force roller_fatigue_limit(Force static_rating, Length pitch_diameter);

/// Viscosity at which the surfaces are just separated.
///
///     nu1 = 45000 n^-0.83 d_m^-0.5    n <  1000        [mm2/s; 1/min, mm]
///     nu1 =  4500 n^-0.5  d_m^-0.5    n >= 1000
///
/// Limits  infinite at rest; a step of 2.3 % at 1000 1/min is part of the published method.
/// Source  ISO 281:2007 Eqs. (28), (29).
KinematicViscosity reference_viscosity(AngularVelocity omega, Length pitch_diameter);
/// kappa = nu/nu1; 0 at rest.
double viscosity_ratio(KinematicViscosity nu, AngularVelocity omega, Length pitch_diameter);

/// Factor for a survival probability other than 90 %.
///
///     a1 = 0.95 (ln(1/S)/ln(1/0.9))^(1/1.5) + 0.05
///
/// Accuracy  agrees with ISO 281:2007 Table 12 to its printed digits.
/// Source    ISO/TR 1281-2:2008.
///
/// \throws std::invalid_argument unless 0.9 <= S <= 0.9995.
double reliability_factor(double survival);

/// Constants of a lubrication and cleanliness class.
struct Cleanliness {
  double factor;    ///< k
  double diameter;  ///< b
  bool operator==(const Cleanliness&) const = default;
};
/// Contamination factor.
///
///     e_C = a (1 - b/d_m^(1/3)),  a = k kappa^0.68 d_m^0.55 <= 1          [mm]
///
/// Limits  e_C in [0, 1] is part of the method.
/// Source  form of ISO 281:2007 Annex A; the constants of the classes are from memory.
double contamination_factor(const Cleanliness& cleanliness, double viscosity_ratio,
                            Length pitch_diameter);

struct LifeFactor {
  double value;                                ///< a_ISO
  std::optional<numerics::RangeFlag> outside;  ///< kappa < 0.1: value is the one at 0.1
};
/// Life modification factor of radial ball bearings.
///
///     a_ISO = 0.1 [1 - (2.5671 - A/kappa^m)^0.83 x^(1/3)]^-9.3,  x = e_C C_u/P
///
/// kappa 0.1-0.4: A 2.2649, m 0.054381; 0.4-1: 1.9987, 0.19087; 1-4: 1.9987, 0.071739.
///
/// Limits  kappa above 4 counts as 4; a_ISO at most 50; a bracket of zero or less gives 50: all
///         part of the method. kappa below 0.1 is outside it and flagged.
/// Source  ISO 281:2007 Eqs. (31)-(33), as quoted in public copies. Some copies print the exponent
///         0.19087 as 0.019087; only the former makes the bands meet at kappa = 0.4.
///
/// \param kappa        viscosity_ratio(), >= 0
/// \param load_margin  x = e_C C_u/P, >= 0
LifeFactor ball_life_factor(double kappa, double load_margin);
/// The same for radial roller bearings.
///
///     a_ISO = 0.1 [1 - (1.5859 - B/kappa^m) x^0.4]^-9.185
///
/// kappa 0.1-0.4: B 1.3993, m 0.054381; 0.4-1: 1.2348, 0.19087; 1-4: 1.2348, 0.071739.
///
/// Source  ISO 281:2007 Eqs. (34)-(36), as quoted in public copies.
LifeFactor roller_life_factor(double kappa, double load_margin);

/// Either law apart, for who tabulates it: a_ISO = 0.1 y^-p, y = 1 - effect(kappa) x^q.
struct LifeFactorLaw {
  double ceiling;            ///< the coefficient for kappa without bound
  double thin, thick;        ///< A below and above kappa 0.4
  double coefficient_power;  ///< of the coefficient
  double margin_power;       ///< q
  double life_power;         ///< -p

  static constexpr double thinnest = 0.1, thickest = 4.0;  ///< kappa: beyond, as there
  static constexpr double largest_factor = 50.0;

  /// \pre kappa >= 0
  double effect(double kappa) const;
  /// a_ISO for y.
  double factor(double bracket) const;
};
inline constexpr LifeFactorLaw ball_life_law{2.5671, 2.2649, 1.9987, 0.83, 1.0 / 3.0, -9.3};
inline constexpr LifeFactorLaw roller_life_law{1.5859, 1.3993, 1.2348, 1.0, 0.4, -9.185};
/// What a proven EP additive in the oil makes of a life modification factor.
///
///     kappa < 1 and e_C >= 0.2:  a_ISO of kappa = 1, but at most 3 and never below a_ISO of kappa
///
/// Limits    all other oils and films: as it is; its flag stays in any case.
/// Validity  additives whose effect in the bearing was shown by test; some attack it at heat.
/// Source    ISO 281:2007, from memory: not verified against the standard.
///
/// \param factor         of the viscosity ratio kappa
/// \param at_one         of a viscosity ratio of 1, otherwise alike
/// \param contamination  contamination_factor(), e_C
LifeFactor with_ep_additive(const LifeFactor& factor, const LifeFactor& at_one, double kappa,
                            double contamination);

}  // namespace ohmdrag::bearing
