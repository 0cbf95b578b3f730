#pragma once

#include <vector>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// What the tolerance of a shaft's diameter does to the force of a contact on it.
namespace ohmdrag::contact {

/// Limits of one tolerance class over one range of nominal diameters: above < d <= up_to.
struct FitBand {
  Length above;            ///< >= 0
  Length up_to;            ///< > above
  Length lower_deviation;  ///< smallest minus nominal diameter
  Length upper_deviation;  ///< largest minus nominal diameter, >= lower_deviation
};

/// A tolerance class such as h11: its bands in rising diameter. The deviations are data.
using FitClass = std::vector<FitBand>;

struct ShaftLimits {
  Length lower_deviation;
  Length upper_deviation;
  Length smallest;  ///< diameter
  Length largest;   ///< diameter
};

/// The limits of a shaft of this nominal diameter.
/// \throws std::invalid_argument for bands outside what their members name, or a diameter that no
///         band covers.
ShaftLimits shaft_limits(const FitClass& fit, Length nominal_diameter);

struct FitEffect {
  double elastic_force;
  double power;
  std::vector<numerics::RangeFlag> flags;
};

/// Force and power of a contact on a shaft that differs from its nominal diameter.
///
///     force of the elastic part:  F'/F'_nominal = 1 + Dd/i
///     power at equal line force:  P/P_nominal   = (1 + Dd/d)^2
///
/// Sign: a smaller shaft (Dd < 0) presses less.
///
/// Validity  elastic part proportional to its interference; a garter spring keeps its force, so the
///           factor acts on the rubber part alone. Power: friction that does not depend on speed.
/// Limits    Dd = 0: 1. Dd = -i: no force is left; below, the contact is open: 0, flagged.
/// Accuracy  of the stiffness of a lip, about 20 % of the change.
/// Source    derived: linear spring; P = pi^2 mu F' d^2 n.
///
/// \param nominal_diameter       d [m], > 0
/// \param diametral_interference i [m], > 0: nominal shaft minus free diameter of the contact
/// \param deviation              Dd [m], > -d
/// \throws std::invalid_argument for an argument outside its range.
FitEffect fit_effect(Length nominal_diameter, Length diametral_interference, Length deviation);

}  // namespace ohmdrag::contact
