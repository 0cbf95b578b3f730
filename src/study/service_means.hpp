#pragma once

#include <vector>

#include "study/ensemble.hpp"
#include "study/service.hpp"

namespace ohmdrag::study {

/// Means over the service mix in every draw of an ensemble, worked out once for all sections that
/// read them; of the draws that are there when it is made.
class ServiceMeans {
 public:
  /// In parallel over the draws.
  /// \param ensemble  must outlive this
  explicit ServiceMeans(const Ensemble& ensemble);

  const Ensemble& ensemble() const { return ensemble_; }
  const ServiceMix& mix() const { return mix_; }

  /// service_mean() of one place, draw by draw.
  /// \param place  a bearing or another way to the frame, in DutySample::bearings
  const std::vector<ServiceMean>& of(std::size_t variant, std::size_t place) const {
    return of_place_.at(variant).at(place);
  }
  /// service_sum(), draw by draw.
  const std::vector<BearingSample>& sum(std::size_t variant) const { return sum_.at(variant); }

 private:
  const Ensemble& ensemble_;
  ServiceMix mix_;
  std::vector<std::vector<std::vector<ServiceMean>>> of_place_;  ///< [variant][place][draw]
  std::vector<std::vector<BearingSample>> sum_;                  ///< [variant][draw]
};

}  // namespace ohmdrag::study
