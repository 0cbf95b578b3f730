#pragma once

#include <memory>
#include <vector>

#include "study/combined_lives.hpp"
#include "study/years_lane.hpp"

/// Survival over the service from damage that comes together year by year.
namespace ohmdrag::study {

/// What an hour at one age of the contacts takes from a bearing.
struct DamageRate {
  double share_of_life = 0.0;  ///< of the element, as YearsAge
  double dose_J_m2_s = 0.0;
  double fatigue_per_h = 0.0;  ///< share of the rating life that 90 % survive
  double erosion_per_h = 0.0;  ///< share of the life under the law that 90 % survive
};

/// Survival of all bearings of a unit up to a share of its service.
///
///     S = prod exp{-ln(1/0.9) [theta_f^beta_f + theta_e^beta_e]},  theta = int dt/L10(t)
///
/// Validity  each cause by itself; damage does not depend on the order in which it comes.
/// Limits    1 at the begin; constant rates: the Weibull survival of their lives. A rate that is
///           infinite at any age kills at once.
/// Source    cumulative exposure: W. Nelson, Accelerated Testing (1990), from memory; the survivals
///           of a series system multiply.
/// \param curves    of each bearing, from curve_of()
/// \param elements  >= 1, used up one after another
double survival_of(const std::vector<std::vector<DamageRate>>& curves, const LifeSlopes& slopes,
                   double service_h, double share_of_service, double elements);

/// Fills the survivals of the steps and the words for them; after their hours and doses. Erosion
/// goes with the dose of each age, under the first law of the case.
void add_survival(const Ensemble& ensemble, const std::vector<std::unique_ptr<YearsLane>>& lanes,
                  std::vector<VariantFindings>& findings);

}  // namespace ohmdrag::study
