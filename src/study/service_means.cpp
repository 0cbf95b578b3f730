#include "study/service_means.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <algorithm>

namespace ohmdrag::study {
namespace {

/// Bearings and other ways to the frame, at most in a variant: a place that the world of another
/// one lacks has means of zero there.
std::size_t most_places(const Ensemble& ensemble) {
  std::size_t most = 0;
  for (std::size_t v = 0; v < ensemble.samples.size(); ++v) {
    const Case& world = ensemble.world(v);
    most = std::max(most, world.bearings.size() + world.paths_to_frame.size());
  }
  return most;
}

}  // namespace

ServiceMeans::ServiceMeans(const Ensemble& ensemble)
    : ensemble_(ensemble), mix_(service_mix(*ensemble.question)) {
  const std::size_t draws = ensemble.samples.front().size();
  of_place_.assign(ensemble.samples.size(), {most_places(ensemble), {draws, ServiceMean{}}});
  sum_.assign(ensemble.samples.size(), {draws, BearingSample{}});
  oneapi::tbb::parallel_for(std::size_t{0}, draws, [&](std::size_t i) {
    for (std::size_t v = 0; v < ensemble.samples.size(); ++v) {
      const VariantSample& sample = ensemble.samples[v][i];
      if (sample.duties.empty()) continue;
      for (std::size_t place = 0; place < of_place_[v].size(); ++place) {
        of_place_[v][place][i] = service_mean(mix_, sample, place);
        add_way(of_place_[v][place][i].per_second, sum_[v][i]);
      }
    }
  });
}

}  // namespace ohmdrag::study
