#pragma once

#include <optional>
#include <vector>

#include "ohmdrag/contact/electrical.hpp"
#include "ohmdrag/contact/friction.hpp"

/// A conductive ring that runs in oil: what the oil carries neither rubs nor conducts.
namespace ohmdrag::contact {

/// Parameters of the oil on a ring.
struct WettedRing {
  MixedFilm film;           ///< load share and friction; the ring's own transition duty
  double residual_oil;      ///< chi >= 1, resistance of an oily over a clean contact
  Length oil_thickness;     ///< h_f > 0, where the oil carries
  double oil_permittivity;  ///< relative, >= 1
};

struct WettedState {
  double load_share = 0.0;  ///< S of the force carried by solid contact, 0 to 1
  double friction = 0.0;
  std::optional<Resistance> resistance;  ///< none: the ring floats off, an open contact
  Capacitance capacitance;               ///< beside the resistance
  /// Always holds "contact resistance not guaranteed".
  std::vector<numerics::RangeFlag> flags;
};

/// Share of the force that solid contact carries in a mixed film, S = exp[-(G/G_c)^m].
/// \throws std::invalid_argument as check(), or for a negative duty.
double solid_load_share(const MixedFilm& film, double duty);

/// The oil that carries, as a capacitor beside the solid contact, C = eps_0 eps_r (1 - S) pi d
/// b/h_f.
///
/// Source    derived: parallel plates.
/// \throws std::invalid_argument for a share outside 0 to 1, lengths that are not positive or a
///         permittivity below 1.
Capacitance oil_capacitance(double load_share, Length diameter, Length width, Length oil_thickness,
                            double oil_permittivity);

/// Friction, resistance and capacitance of an oil-wetted ring from one load share.
///
///     S = exp[-(G/G_c)^m],   f = mu_b S + (1 - S) phi (G b/b_0)^(1/3),   G = eta |u| / F'
///     R = chi R_dry(S F')
///     C = eps_0 eps_r (1 - S) pi d b / h_f
///
/// Validity  a ring flooded at its contact; the force reaches the fibres as it reaches a lip.
///           Flagged always: no resistance can be relied on once oil is present. Flags of the mixed
///           film and of the dry law (at S F') are passed on.
/// Limits    u -> 0: S = 1, resistance chi R_dry(F'), no capacitance. S -> 0: open, a capacitor.
/// Accuracy  resistance within decades: chi is 1 to 1e4.
/// Source    derived: one load share for friction and current. chi 10 (1 to 1e4), h_f 0.5 um and a
///           transition duty of 2e-4 (2e-5 to 2e-3) for a ring are assumed.
/// \param viscosity  at the contact's temperature.
/// \throws std::invalid_argument for members outside the ranges they name, and as ring_resistance
///         and duty_parameter.
WettedState wetted_ring(const WettedRing& ring, const DryResistance& dry, LineForce line_force,
                        Length diameter, DynamicViscosity viscosity, Speed surface_speed);

}  // namespace ohmdrag::contact
