#pragma once

#include <variant>
#include <vector>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// From fibres to line force: rings and brushes of conductive fibres that stand still on the
/// housing while the shaft turns.
namespace ohmdrag::contact {

/// One round fibre, clamped at its root, free at its tip.
struct Fibre {
  Length diameter;         ///< > 0
  Length free_length;      ///< L > 0, root to tip
  Pressure young_modulus;  ///< E > 0, along the fibre
  Density density;         ///< > 0
};

/// E pi d^4/64 [N m2]. \throws std::invalid_argument for members outside the ranges they name (all
/// functions of this header do).
using BendingStiffness = Quantity<decltype(si::force() * si::area())>;
BendingStiffness bending_stiffness(const Fibre& fibre);

/// The fibre leans against the shaft and bends aside.
struct LeaningFibre {
  double lean_rad;  ///< psi between the fibre and the radius of the shaft, in (0, pi/2]
};
/// The fibre stands on the shaft end-on and buckles.
struct BuckledFibre {
  double end_factor;  ///< K > 0: 2 with a tip that slides freely, 0.7 with a tip held by friction
};
using FibreAttitude = std::variant<LeaningFibre, BuckledFibre>;

struct FibreForce {
  Force radial;
  std::vector<numerics::RangeFlag> flags;
};

/// Radial force of one fibre at a radial interference delta.
///
///     leaning   N = 3 E I delta / (L^3 sin^2 psi)
///     buckled   N = [pi^2 E I / (K L)^2] (1 + delta / (2 L))
///
/// Sign: an interference is positive; the shaft pushes the fibre outwards.
///
/// Validity  Euler-Bernoulli bending, no friction between tip and shaft, no neighbours.
///           Leaning: tip deflection delta/sin(psi) up to 0.2 L, and N cos(psi) up to a tenth of
///           the fixed-free buckling load, beyond which the fibre softens; both flagged.
///           Buckled: delta up to 0.2 L, flagged; the rise is that of a tip free to turn.
/// Limits    leaning: linear, 0 at delta = 0; psi -> 0 stiffens without bound (then it buckles).
///           buckled: the Euler load as delta -> 0+, taken as 0 at delta = 0: the compression
///           before buckling is neglected.
/// Accuracy  of the laws against large deflection: leaning 4 % low, buckled 1 % low, both at 0.2 L;
///           a tenth of the buckling load softens by a tenth. Of a real tuft: a factor 2, fibres
///           share neighbours, friction and spread of length.
/// Source    Euler-Bernoulli beam theory: cantilever, Euler column; post-buckling rise derived from
///           the elastica to first order in the shortening.
FibreForce fibre_force(const Fibre& fibre, const FibreAttitude& attitude, Length interference);

/// Bending strain at the root of a leaning fibre, 3 d v/(2 L^2) with the tip deflection
/// v = delta/sin(psi). Source as fibre_force().
double root_strain(const Fibre& fibre, const LeaningFibre& attitude, Length interference);

/// Fibres of an area of the element's face.
using FibreDensity = Quantity<decltype(si::dimensionless() / si::area())>;

/// A ring of fibres around the shaft.
struct FibreRing {
  Fibre fibre;
  FibreAttitude attitude;
  FibreDensity density;     ///< > 0, over the face towards the shaft
  Length width;             ///< > 0, along the shaft
  double share_in_contact;  ///< in (0, 1]
};

struct RingDesign {
  LineForce line_force;
  Pressure mean_pressure;  ///< F'/width
  double fibres;           ///< that touch, around the circumference
  std::vector<numerics::RangeFlag> flags;
};

/// F' = share * density * width * N.   Source    derived: fibres act in parallel.
/// \throws std::invalid_argument also for a diameter that is not positive, or a negative
///         interference.
RingDesign ring_design(const FibreRing& ring, Length shaft_diameter, Length interference);

/// A brush: a number of fibres pressed together. F = share * count * N.
struct FibreBrush {
  Fibre fibre;
  FibreAttitude attitude;
  double count;             ///< > 0
  double share_in_contact;  ///< in (0, 1]
};
FibreForce brush_design(const FibreBrush& brush, Length interference);

// --- run-out ----------------------------------------------------------------------------------

struct RunOut {
  Length total_indicator_reading;  ///< >= 0, peak to peak of one turn
  Length static_eccentricity;      ///< >= 0, shaft axis off the element's axis
  double dynamic_stiffening;       ///< kappa_d >= 1
};

/// e = half the total indicator reading plus the static eccentricity.
Length eccentricity(const RunOut& run_out);

struct LeastForce {
  LineForce least;       ///< F'_min, not below zero
  double share_lost;     ///< kappa_d e / delta, as computed
  bool opens_each_turn;  ///< the raw F'_min is not positive
  std::vector<numerics::RangeFlag> flags;
};

/// Least line force around the circumference and over a turn.
///
///     F'_min = F' (1 - kappa_d e / delta)
///
/// Validity  force proportional to the interference (lip, leaning fibres); the mean force and the
///           friction do not change. A share above 0.5 is flagged.
/// Limits    e = 0: F'. kappa_d e >= delta: 0, the contact opens once a turn, flagged.
/// Accuracy  kappa_d is an engineering choice (2).
/// Source    derived: linear stiffness; kappa_d assumed.
/// \throws std::invalid_argument unless F' >= 0 and the interference delta is positive.
LeastForce least_line_force(LineForce line_force, Length interference, const RunOut& run_out);

/// First bending frequency of the fibre with a free tip.
///
///     omega_1 = 1.8751^2 sqrt(E I / (rho A L^4))
///
/// Source    Euler-Bernoulli cantilever; 1.8751 is the first root of 1 + cos x cosh x = 0.
AngularVelocity fibre_frequency(const Fibre& fibre);

/// Force the tip needs to move to and fro at a frequency, over that of slow motion.
///
///     g = (x^3/3) (1 + cos x cosh x) / (sin x cosh x - cos x sinh x)
///     x = 1.8751 sqrt(omega/omega_1)
///
/// Sign: falls from 1, through 0 at omega_1, where the tip follows by itself, to negative values:
/// above it inertia pulls the tip off the receding shaft.
///
/// Validity  no damping; x < 3.9266 (4.385 omega_1), where the fibre with a held tip resonates.
/// Limits    omega -> 0: 1 - (11/140) x^4, the inertia of the static shape, (33/140) of its mass.
/// Source    derived: Euler-Bernoulli beam, tip moved, no moment at the tip.
/// \throws std::invalid_argument for a frequency at or above that resonance, or not a number.
double tip_stiffness_ratio(const Fibre& fibre, AngularVelocity frequency);

struct LeastInterference {
  Length interference;
  bool follows;  ///< false: no interference keeps contact, the value is infinite
  std::vector<numerics::RangeFlag> flags;
};

/// Least interference that keeps leaning fibres on a shaft of this run-out at every speed up to the
/// top speed.
///
///     delta_min = e max[kappa_d, max |g(omega)|],   0 <= omega <= omega_top
///
/// From N = k delta + k g e cos(omega t) >= 0: the tip moves by e once a turn.
///
/// Validity  leaning fibres, one push a turn (out-of-roundness of n lobes pushes n times: give n
///           times the speed), no damping, no neighbours. Top speed above omega_1 is flagged: there
///           contact rests on preload against inertia.
/// Limits    e = 0: 0. Slow shaft: kappa_d e. omega_top -> 4.385 omega_1: infinite, flagged.
/// Accuracy  damping by neighbours and friction helps, entangled fibres have no one length:
///           indicative, a factor 2.
/// Source    derived from tip_stiffness_ratio().
LeastInterference least_interference(const Fibre& fibre, const RunOut& run_out,
                                     AngularVelocity top_speed);

}  // namespace ohmdrag::contact
