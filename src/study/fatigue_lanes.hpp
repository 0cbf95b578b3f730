#pragma once

#include <vector>

#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/numerics/lane_width.hpp"
#include "study/oil_lanes.hpp"

/// Fatigue of a block of stretches computed side by side: OilFatigue of every bearing.
namespace ohmdrag::study {

/// What all stretches of a bearing have in common.
struct LifeLaw {
  bearing::LifeFactorLaw law;
  double log_clean;  ///< ln(k d_m^0.55)
  double limit;      ///< (C_u times what the diameter leaves of e_C)^q
  bool proven_additive;
  double helped_above;   ///< ln of a of the contamination factor from which an additive helps
  double effect_at_one;  ///< of a viscosity ratio of 1
};

LifeLaw life_law(const bearing::Cleanliness& oil, Length pitch_diameter, Force fatigue_limit,
                 bool roller, bool proven_additive);

/// Sums over the blocks, lane by lane, so that no width of vector changes their order.
struct FatigueSums {
  LaneRow kappa_s;
  LaneRow damage;  ///< before the factor of reliability
  LaneRow thin_s, thin_damage;
};

/// False, and nothing is added, if the oil does not hold every temperature of the block.
bool find_fatigue(std::span<const std::shared_ptr<const FatigueColumn>> columns,
                  std::span<const LifeLaw> laws, const OilColumns& oil, const double* oil_K,
                  std::size_t at, numerics::LaneWidth width, std::vector<FatigueSums>& sums);

}  // namespace ohmdrag::study
