#pragma once

#include <vector>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// A mechanical face seal that runs on a film of gas: rubbing at start, floating at speed.
namespace ohmdrag::component {

/// Two flat rings that face each other; radii of the narrower one.
struct SealFaces {
  Length inner_radius;  ///< r_i >= 0
  Length outer_radius;  ///< r_o > r_i
};

/// The gas between the faces.
struct FaceGas {
  DynamicViscosity viscosity;  ///< mu > 0
  Density density;             ///< rho > 0, for the flow regime only
  Pressure pressure;      ///< p > 0, absolute: mean free path and compressibility scale with it
  Length mean_free_path;  ///< lambda >= 0; 0: the gas does not slip
};

/// Air as an ideal gas.
///
///     lambda = (mu/p) sqrt(pi R_s T / 2),   R_s = 287.05 J/(kg K)
///
/// Validity  as material::air_viscosity.
/// Limits    lambda ~ 1/p: at 1 bar 1.3 % longer than at 101 325 Pa.
/// Source    kinetic theory of gases, from memory.
///
/// \throws std::invalid_argument unless temperature and pressure are positive.
FaceGas air_between_faces(Temperature temperature, Pressure pressure);

/// Radius at which a contact pressed evenly over the faces acts.
///
///     r_m = (2/3)(r_o^3 - r_i^3)/(r_o^2 - r_i^2)
///
/// Limits    r_i -> r_o: both radii.  r_i = 0: 2/3 r_o.
/// Source    derived: moment of an even pressure.
///
/// \throws std::invalid_argument for faces outside the ranges the members name.
Length mean_friction_radius(const SealFaces& faces);

/// Drag of the full gas film.
///
///     T = pi mu omega (r_o^4 - r_i^4) / [2 (h + 2 lambda)]
///
/// Sign: that of the speed, it opposes rotation.
///
/// Validity  parallel, flat faces, laminar shear (Re = rho u h/mu < 500), first-order slip
///           (lambda/h < 0.1); flow through the gap does not change the shear. See
///           outside_gas_film().
/// Limits    omega -> 0: 0.  h -> infinity: 0.  lambda = 0: no slip.  h -> 0 with slip: finite,
///           but solid contact comes first.
/// Accuracy  exact for parallel faces; the height of the film is the uncertainty (T ~ 1/h).
/// Source    derived: Couette flow summed over the rings; slip at both walls in the first order of
///           J. C. Maxwell (1879), full accommodation, from memory.
///
/// \throws std::invalid_argument for members outside the ranges they name, or h <= 0.
Torque gas_film_torque(const SealFaces& faces, const FaceGas& gas, Length film,
                       AngularVelocity speed);

/// Compressibility number: how strongly the gas is squeezed before it leaves the gap.
///
///     Lambda_c = 6 mu |omega| (r_o^2 - r_i^2) / (p h^2)
///
/// Source    gas lubrication, from memory. Throws as gas_film_torque.
double compressibility_number(const SealFaces& faces, const FaceGas& gas, Length film,
                              AngularVelocity speed);

/// Flags of Reynolds number (at the outer radius) and slip.
std::vector<numerics::RangeFlag> outside_gas_film(const SealFaces& faces, const FaceGas& gas,
                                                  Length film, AngularVelocity speed);

/// A gas face seal from rest through lift-off to its full film.
///
///     S = exp[-(omega/omega_lo)^2]              share of solid contact
///     T = S mu_b F_c r_m + (1 - S) T_film(h)
///     h = h_ref sqrt(omega/omega_ref)           gas acts like a liquid: Lambda_c,ref < 10
///     h = h_ref                                 else
///
/// A liquid-like film carries W ~ mu omega/h^2, so h ~ sqrt(omega) at a constant closing force.
/// Along that line Lambda_c ~ omega/h^2 does not change: the reference point decides once whether
/// it holds. The film is kept between `least_film` and `highest_film`; either bound is flagged.
///
/// Sign: torque has that of the speed; at rest that of the limit n -> +0, the break-away torque.
///
/// Validity  as gas_film_torque above lift-off. Grooves, distortion by heat and pressure, and dirt
///           are not in it.
/// Limits    omega -> 0: T = mu_b F_c r_m, P = 0.  omega >> omega_lo: the gas film alone. Between,
///           power has a local maximum below lift-off, then a minimum.
/// Accuracy  a factor of 2 at the full film for a film known within a factor of 2; around lift-off
///           only the order of magnitude, because lift-off speed is an input.
/// Source    derived: load shared between solid contact and film. Contact at start and its loss
///           above a speed: Hu et al., Chin. J. Mech. Eng. 31 (2018), s10033-018-0224-7.
struct GasFaceSeal {
  SealFaces faces;
  double boundary_friction;    ///< mu_b >= 0; 0.10 to 0.20 carbon on silicon carbide, from memory
  Force contact_force;         ///< F_c >= 0, closing force on the faces at rest
  AngularVelocity lift_off;    ///< omega_lo > 0
  Length reference_film;       ///< h_ref > 0; 3 to 5 um for grooved gas faces, from memory
  AngularVelocity film_speed;  ///< omega_ref > 0 at which h_ref is stated
  Length least_film;           ///< > 0, about 0.5 um: below, the faces touch
  Length highest_film;         ///< >= least_film, 5 to 8 um
};

struct GasFaceSealState {
  double contact_share;    ///< S
  Length film;             ///< h as used
  double compressibility;  ///< Lambda_c at h
  Torque torque;
  Power power;  ///< never negative; 0 at rest
  std::vector<numerics::RangeFlag> flags;
};

/// \throws std::invalid_argument for members outside the ranges they name.
GasFaceSealState gas_face_seal_state(const GasFaceSeal& seal, const FaceGas& gas,
                                     AngularVelocity speed);

}  // namespace ohmdrag::component
