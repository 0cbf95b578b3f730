#include "study/open_shaft.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>

#include "study/electric.hpp"
#include "study/years_lane.hpp"

namespace ohmdrag::study {

OpenShaft open_shaft_of_baseline(const Ensemble& ensemble) {
  const auto worst = [&](double ElectricSample::*member) {
    return reduce(ensemble.samples[ensemble.baseline],
                  [&](const VariantSample& s) { return highest_over_points(s, member); });
  };
  return {worst(&ElectricSample::verdict_edge_V), worst(&ElectricSample::held_V)};
}

OpenShaft open_shaft_of(const Ensemble& ensemble, std::size_t variant) {
  const Case& world = ensemble.world(variant);
  const std::size_t draws = ensemble.samples[variant].size();
  std::vector<double> edge_V(draws), held_V(draws);
  oneapi::tbb::parallel_for(std::size_t{0}, draws, [&](std::size_t i) {
    const Draw draw(*ensemble.draws, static_cast<int>(i));
    const WorldModel model(world, draw);
    const VariantModel open = without_path(VariantModel(model, ensemble.question->variants[variant],
                                                        draw, ensemble.histories[variant]));
    const ElectricModel electric(model, open, draw);
    for (const OperatingPoint& point : world.points) {
      const ElectricSample at = electric.at(point, draw);
      edge_V[i] = std::max(edge_V[i], at.verdict_edge_V);
      held_V[i] = std::max(held_V[i], at.held_V);
    }
  });
  return {interval_of(edge_V), interval_of(held_V)};
}

}  // namespace ohmdrag::study
