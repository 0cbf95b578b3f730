#pragma once

#include <vector>

#include "ohmdrag/study/case.hpp"
#include "study/samples.hpp"

/// The service mix: what a year or a million kilometres of all duties together add up to.
namespace ohmdrag::study {

/// Weight of each duty per unit of service: shares of the distance for driven duties, of the
/// running hours for constant running. Without a mix every duty weighs the same.
struct ServiceMix {
  std::vector<double> share;  ///< per duty, sums to 1
  bool driven = false;        ///< shares are of the distance
};

/// \throws std::invalid_argument if driven duties and constant running are mixed.
ServiceMix service_mix(const Case& question);

/// What one passage of a duty weighs: its share over its distance, or over its time.
inline double weight_of(const ServiceMix& mix, std::size_t duty, double distance_m, double time_s) {
  return mix.share[duty] / (mix.driven ? distance_m : time_s);
}

/// Means over the mix, per second of running.
struct ServiceMean {
  double seconds_per_unit = 0.0;  ///< running time per metre (driven) or per second (1)
  BearingSample per_second;       ///< every sum of the bearing per second of running
};
ServiceMean service_mean(const ServiceMix& mix, const VariantSample& sample, std::size_t bearing);
/// Adds one way to the frame to the sum over all of them.
void add_way(const BearingSample& way, BearingSample& sum);

/// Running hours a year of the duties in the mix; nothing if none states them.
std::optional<double> hours_a_year(const Case& question, const ServiceMix& mix);

/// Running hours of the service: of its distance, stated, or of its years; nothing if the case says
/// none of them.
std::optional<double> service_hours(const Case& question, const ServiceMix& mix,
                                    const VariantSample& sample);

/// Distance of the service; none for a machine.
std::optional<double> service_distance_km(const Case& question, const ServiceMix& mix);

/// A figure per kilometre or per hour of a duty, averaged over the mix.
template <class Figure>
double over_mix(const ServiceMix& mix, const VariantSample& sample, const Figure& per_unit) {
  double sum = 0.0;
  for (std::size_t d = 0; d < mix.share.size(); ++d)
    if (mix.share[d] > 0.0) sum += mix.share[d] * per_unit(sample.duties[d]);
  return sum;
}

}  // namespace ohmdrag::study
