#include <algorithm>

#include "ohmdrag/material/lubricant.hpp"
#include "study/fatigue.hpp"
#include "study/fatigue_lanes.hpp"
#include "study/samples.hpp"

namespace ohmdrag::study {

using numerics::lanes;

namespace {

double total(const LaneRow& row) {
  double sum = 0.0;
  for (const double value : row.of) sum += value;
  return sum;
}

}  // namespace

void OilFatigue::accumulate(const WorldModel& model, std::span<const energy::Stretch> stretches,
                            std::span<const std::shared_ptr<const FatigueColumn>> columns,
                            const OilColumns& oil, const numerics::LaneRows& oil_K,
                            std::vector<BearingSample>& bearings) const {
  if (!cleanliness_) return;
  const numerics::LaneWidth width = numerics::widest_lanes();
  std::vector<LifeLaw> laws;
  for (std::size_t b = 0; b < bearings_.size(); ++b)
    laws.push_back(life_law(*cleanliness_, bearings_[b].pitch_diameter, bearings_[b].fatigue_limit,
                            model.bearings[b].roller, proven_ep_additive_));
  std::vector<FatigueSums> sums(bearings_.size());
  std::vector<BearingSample> computed(bearings_.size());  // where the oil holds nothing
  for (std::size_t at = 0; at < oil_K.rows(); ++at) {
    if (find_fatigue(columns, laws, oil, oil_K[at], at, width, sums)) continue;
    const std::size_t from = at * lanes, to = std::min(from + lanes, stretches.size());
    for (std::size_t i = from; i < to; ++i)
      if (!stretches[i].parked)
        for (std::size_t b = 0; b < bearings_.size(); ++b)
          add(model, b, stretches[i],
              material::kinematic_viscosity(model.oil,
                                            Temperature::from_value(oil_K[at][i - from])),
              computed[b]);
  }
  for (std::size_t b = 0; b < bearings_.size(); ++b) {
    BearingSample& sum = bearings[b];
    sum.turning_s += columns[b]->turning_s;
    sum.kappa_s += total(sums[b].kappa_s) + computed[b].kappa_s;
    sum.modified_damage +=
        total(sums[b].damage) / reliability_factor_ + computed[b].modified_damage;
    sum.thin_s += total(sums[b].thin_s) + computed[b].thin_s;
    sum.thin_modified_damage +=
        total(sums[b].thin_damage) / reliability_factor_ + computed[b].thin_modified_damage;
    sum.overloaded_s += columns[b]->overloaded_s;
  }
}

}  // namespace ohmdrag::study
