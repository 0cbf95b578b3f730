#pragma once

#include <vector>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// How the force of a lip or ring falls with age, heat and wear.
///
/// The force of a case is that of the new part at 20 degC and nominal diameter. Tolerance,
/// temperature and age act on it once each; a force measured hot or aged must not enter here.
namespace ohmdrag::contact {

/// Stress relaxation of a rubber held at constant deflection: a physical part in the logarithm of
/// time and a chemical part that heat speeds up.
///
///     R = [1 - m lg(1 + t/t_0)] exp[-(t/tau)^nu]
///     tau = tau_ref exp[(E_a/R_g) (1/T - 1/T_ref)]
///
/// Validity  one constant temperature, in air or in an oil that does not swell or harden it.
/// Limits    t = 0: 1. t -> infinity: 0. The logarithm alone would turn negative at
///           t_0 (10^(1/m) - 1); it is cut at 0 there and flagged.
/// Accuracy  that of its constants; remembered ones leave tau within a factor 5.
/// Source    structure as quoted in reviews of compression stress relaxation of elastomers;
///           Arrhenius acceleration: standard textbook form.
struct Relaxation {
  double per_decade;                             ///< m >= 0
  Time log_time;                                 ///< t_0 > 0
  Time chemical_time;                            ///< tau_ref > 0 at `at`
  Temperature at;                                ///< T_ref
  TemperatureDifference activation_temperature;  ///< E_a/R_g >= 0, 10 825 K for 90 kJ/mol
  double stretch;                                ///< nu in (0, 1]
};

struct ForceFactor {
  double value;
  std::vector<numerics::RangeFlag> flags;
};

/// R of a part aged at one temperature.
/// \throws std::invalid_argument for members outside the ranges they name, a negative time or a
///         temperature not above absolute zero.
ForceFactor relaxation(const Relaxation& law, Time age, Temperature temperature);

/// How many times faster the chemical part runs at one temperature than at another.
///
///     a = exp[(E_a/R_g) (1/T_reference - 1/T)]
///
/// Limits    1 at equal temperatures.
/// Source    S. Arrhenius (1889); standard textbook form.
/// \throws std::invalid_argument unless both are above absolute zero and E_a/R_g >= 0.
double ageing_acceleration(TemperatureDifference activation_temperature, Temperature reference,
                           Temperature temperature);

/// A garter spring that takes a set.
///
///     F'/F'_0 = 1 - s (1 - exp[-t/t_s])
///
/// Limits    t = 0: 1 (the force is that of the new part). t -> infinity: 1 - s.
/// Source    derived: first-order approach to a final set.
struct SpringSet {
  double final_set;  ///< s in [0, 1]
  Time set_time;     ///< t_s > 0
};

/// \throws std::invalid_argument for members outside the ranges they name or a negative age.
double spring_factor(const SpringSet& set, Time age);

/// A modulus over temperature, as a ratio to that at 20 degC.
struct ModulusPoint {
  Temperature temperature;
  double ratio;  ///< > 0
};
using ModulusTable = std::vector<ModulusPoint>;

/// E(T)/E(20 degC): linear between the points, the nearest end outside them, flagged.
/// \throws std::invalid_argument unless there are points, in rising temperature, with positive
///         ratios, and the temperature is a number.
ForceFactor modulus_ratio(const ModulusTable& table, Temperature temperature);

/// A lip with its sources of force.
///
///     F' = F'_s [1 - s (1 - exp(-t/t_s))] + F'_r R(t,T) (1 - w/delta) E(T)/E(20 degC) + dp l_p
///
/// A lip without a spring has F'_s = 0; a lip of filled PTFE is all "rubber" with its own modulus
/// table.
///
/// Validity  small changes of shape: the spring keeps its length, the lip is linear in deflection.
/// Limits    new, 20 degC, unworn, without pressure: F'_s + F'_r. w = delta: the spring alone.
/// Accuracy  end-of-life force within about 30 % of the loss with fitted constants; a band only
///           with remembered ones. A life test replaces it.
/// Source    derived: forces in parallel, each with its own loss. Pressure term: fluid pressure on
///           the length of lip it lifts or presses, derived.
struct LipForce {
  LineForce spring;            ///< F'_s >= 0, new
  LineForce rubber;            ///< F'_r >= 0, new, 20 degC
  SpringSet set;               ///< of the spring
  Relaxation relaxation;       ///< of the rubber
  ModulusTable modulus;        ///< of the rubber
  Length radial_interference;  ///< delta > 0, of the new lip on the shaft
  Length pressure_length;      ///< l_p >= 0
};

struct LipState {
  Time age;                 ///< >= 0, at `temperature`
  Temperature temperature;  ///< of the lip
  Length wear;              ///< w >= 0, radial, from the new flat
  Pressure over_pressure;   ///< dp, oil side over air side; negative if the air side is higher
};

/// The parts of the line force and their sum.
struct LipForceResult {
  LineForce spring;
  LineForce rubber;
  LineForce pressure;  ///< negative with a negative pressure difference
  LineForce total;     ///< not below zero; the lip that lifts is flagged
  std::vector<numerics::RangeFlag> flags;
};

/// \throws std::invalid_argument for members outside the ranges they name.
LipForceResult lip_force(const LipForce& lip, const LipState& state);

/// A dry elastic ring whose own wear unloads it.
///
///     F' = F'_0 exp(-c' k s / b),   c' = F'_0/delta_0
///
/// Validity  linear stiffness, constant contact width, constant wear rate. A ring behind a spring
///           of constant force keeps F'_0 until its wear length is used: see wear_out_time().
/// Limits    s = 0: F'_0. s -> infinity: 0, with the ring worn by its deflection delta_0.
/// Accuracy  the exponent is proportional to k: remembered k leave it within a factor 3 to 10.
/// Source    derived: F' = c' (delta_0 - w), b dw = k F' ds.
struct ElasticRing {
  LineForce line_force;  ///< F'_0 >= 0, new
  Length deflection;     ///< delta_0 > 0, of the new ring on the shaft
  Length width;          ///< b > 0
};

struct RingForce {
  LineForce line_force;
  Length wear;  ///< radial
};

/// \throws std::invalid_argument for members outside the ranges they name, or a negative wear rate
///         or way.
RingForce ring_force(const ElasticRing& ring, WearRate wear_rate, Length way);

}  // namespace ohmdrag::contact
