#pragma once

#include <optional>

#include "ohmdrag/bearing/weibull.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// Mechanical and electrical life of one bearing together. No electrical life: no electrical limit,
/// the mechanical life stays exactly.
namespace ohmdrag::life {

/// Linear damage of one bearing by both mechanisms: 1/L = 1/L_m + 1/L_e. The conservative answer.
///
/// Source    as bearing::mixed_life.
/// \throws std::invalid_argument if a life is not positive.
Time linear_damage_life(Time mechanical, std::optional<Time> electrical);

/// L10 of two independent mechanisms in competition.
///
///     (t/eta_m)^b_m + (t/eta_e)^b_e = ln(1/0.9)
///
/// Limits    (L_m^-b + L_e^-b)^(-1/b) for a common slope b; never above either life.
/// Accuracy  rounding; 1e-12 for unequal slopes.
/// Source    as bearing::system_l10.
/// \throws std::invalid_argument if a life or slope is not positive.
Time competing_risks_life(const bearing::Weibull& mechanical,
                          const std::optional<bearing::Weibull>& electrical);

/// Probability that one bearing sees an event of either kind within the service.
///
///     P = 1 - exp(-(t/eta_m)^b_m - (t/eta_e)^b_e)
///
/// Source    derived: series system of two independent Weibull lives.
/// \throws std::invalid_argument if a life or slope is not positive or the time negative.
double event_probability(Time service, const bearing::Weibull& mechanical,
                         const std::optional<bearing::Weibull>& electrical);

}  // namespace ohmdrag::life
