#pragma once

#include <optional>
#include <variant>

#include "ohmdrag/contact/ptfe_friction.hpp"
#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::contact {

/// Friction of a lip in oil, from boundary through mixed to fluid friction.
///
///     G = eta u / F'                        duty parameter on the line force
///     S = exp[-(G/G_c)^m]                   share of the load carried by solid contact
///     f = mu_b S + (1 - S) phi (G b/b_0)^(1/3),   b_0 = 0.2 mm
///
/// Validity  3e-5 <= G <= 2e-3, flooded, Newtonian oil, no pumping structures on the lip; the
///           viscosity is that of the contact, not of the sump. See outside_mixed_film().
/// Limits    G -> 0: f -> mu_b.  G -> infinity: f -> phi (G b/b_0)^(1/3).
///           F' -> 0: f grows without bound but f F' -> 0 as F'^(2/3).
/// Accuracy  about +-32 %: line force 20 %, friction 25 %, all else 5 %.
/// Source    cube root of the duty parameter: E. T. Jagger, Proc. IMechE 171 (1957) 597;
///           E. T. Jagger, P. S. Walker, Proc. IMechE 181 (1966) 191 (exponent from memory).
///           The load share in G and the local form (b/b_0)^(1/3) are derived: a smooth passage
///           between both limits that does not depend on the diameter.
struct MixedFilm {
  double boundary_friction;    ///< mu_b > 0
  double film_coefficient;     ///< phi > 0, stated at b_0 = 0.2 mm
  double transition_duty;      ///< G_c > 0
  double load_share_exponent;  ///< m > 0
  Length contact_width;        ///< b > 0, full width along the shaft
};

/// b_0: part of the definition of the film coefficient, not a property of a lip.
inline constexpr Length film_reference_width = Length::from_value(0.2e-3);

/// Dry contact: one coefficient at every speed.
struct ConstantFriction {
  double coefficient;  ///< >= 0
};

/// Dry PTFE: friction falls with the mean pressure F'/b and rises with speed.
struct PtfeContact {
  PtfeFriction friction;
  Length contact_width;  ///< b > 0, full width along the shaft
};

using FrictionLaw = std::variant<MixedFilm, ConstantFriction, PtfeContact>;

/// G = eta |u| / F'. \throws std::invalid_argument unless viscosity and line force are positive.
double duty_parameter(DynamicViscosity viscosity, Speed surface_speed, LineForce line_force);

/// Friction coefficient at a surface speed (its sign does not matter). Only a mixed film asks for
/// the viscosity. \throws std::invalid_argument for parameters outside those the members name, or a
/// mixed film
///         without positive viscosity and line force.
double friction_coefficient(const FrictionLaw& law, DynamicViscosity viscosity, Speed surface_speed,
                            LineForce line_force);

/// The mixed film with its slope: kernel of friction_coefficient and of the contact temperature.
struct MixedFilmPoint {
  double friction;
  double per_log_duty;   ///< df / d ln G, which is df / d ln eta
  double film_friction;  ///< phi (G b/b_0)^(1/3) alone: friction <= max(mu_b, film_friction)
};
/// Parameters are taken as checked; duty >= 0.
MixedFilmPoint mixed_film_point(const MixedFilm& film, double duty);

/// \throws std::invalid_argument for parameters outside those the members name.
void check(const FrictionLaw& law);

/// The law with every coefficient of friction times a factor >= 0, the transition kept.
FrictionLaw scaled(FrictionLaw law, double factor);

/// The flag of a contact duty outside the range of the mixed film; none at standstill.
std::optional<numerics::RangeFlag> outside_mixed_film(double contact_duty);

// --- force and torque of a ring or lip around a shaft -----------------------------------------

/// F = F' pi d: the sum of the radial force around the circumference.
Force radial_load(LineForce line_force, Length diameter);

/// F' = F / (pi d).
LineForce line_force_from_total(Force total, Length diameter);

/// The line force from a split-shaft force reading. One half of the shaft carries
/// F' d = integral of F' cos(phi) d/2 over half a turn, so the total load is pi times the reading.
///
/// Source    SAE J1901 (2002), lip force measurement, as quoted in its public summary; the factor
///           is derived.
LineForce line_force_from_split_reading(Force reading, Length diameter);

/// T = mu F d/2, the magnitude. All four throw std::invalid_argument for a diameter that is not
/// positive or a negative force or friction.
Torque friction_torque(double friction, Force load, Length diameter);

/// Torque needed to start turning: mu_b F d/2 for a mixed film; for dry contacts the torque at
/// vanishing speed times `static_over_running`.
Torque break_away_torque(const FrictionLaw& law, Force load, Length diameter,
                         double static_over_running);

}  // namespace ohmdrag::contact
