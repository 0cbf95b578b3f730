#pragma once

#include <variant>
#include <vector>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// General loss rules for spring-loaded lip seals in industrial oils, for comparison. All three
/// give a torque that does not depend on speed. Modern low-friction lips are 30 to 60 % lower (from
/// memory); the rules differ among themselves by +-21 % at 40 mm.
namespace ohmdrag::component {

/// Seal torque proportional to diameter.
///
///     T = C d        [N m], d [mm]
///
/// Source    constants of ISO/TR 14179-1:2001 from memory; not confirmed.
struct TorqueByDiameter {
  double coefficient_Nm_per_mm;
};

/// Seal power proportional to diameter squared and speed.
///
///     P = C d^2 n        [W], d [mm], n [1/min]
///
/// Source    as quoted in one public gearbox loss model under the label ISO/TR 14179-2.
struct PowerByDiameterSquared {
  double coefficient_W_min_per_mm2;
};

/// The same with oil temperature and viscosity.
///
///     P = C [145 - 1.6 t + 350 lg lg(nu40 + 0.8)] d^2 n
///     P [W], t oil [degC], nu40 [mm2/s at 40 degC], d [mm], n [1/min]
///
/// Validity  t <= 100 degC, nu40 46 to 460 mm2/s (industrial gear oils).
/// Limits    linear in t: the bracket turns negative, at 117 to 128 degC for nu40 20 to 30 mm2/s. A
///           floor takes its place and is flagged with the raw value.
/// Source    H. Linke, as quoted by C. Schlegel, A. Hösl, Modelica Conference 2009. The power of
/// ten
///           of C is derived: only 1e-7 with decimal logarithms agrees with the rule above (0.7 %
///           at 80 °C, nu40 30 mm2/s).
struct PowerByOilTemperature {
  double coefficient_W_min_per_mm2;
  double constant = 145.0;
  double per_degC = 1.6;
  double per_lg_lg_viscosity = 350.0;
  double viscosity_shift_mm2_s = 0.8;
  double bracket_floor = 20.0;  ///< derived: keeps the loss positive; not part of the rule
};

using PublishedRule = std::variant<TorqueByDiameter, PowerByDiameterSquared, PowerByOilTemperature>;

struct RuleOil {
  Temperature temperature;
  KinematicViscosity at_40;
};

struct RuleLoss {
  Torque torque;  ///< sign of the speed; at rest the limit n -> +0
  Power power;    ///< 0 at rest
  std::vector<numerics::RangeFlag> flags;
};

/// Loss of one seal. Flagged above 80 mm (no rule is known to hold there).
/// \throws std::invalid_argument unless coefficient and diameter are positive and nu40 + shift > 1.
RuleLoss rule_loss(const PublishedRule& rule, Length diameter, AngularVelocity speed,
                   const RuleOil& oil);

/// The bracket of PowerByOilTemperature before its floor.
double oil_temperature_bracket(const PowerByOilTemperature& rule, const RuleOil& oil);

}  // namespace ohmdrag::component
