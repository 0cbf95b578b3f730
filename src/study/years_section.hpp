#pragma once

#include <memory>
#include <vector>

#include "study/years_lane.hpp"

namespace ohmdrag::study {

/// Discharges, dose, watts and survival from the begin of the service to its end.
class YearsOfVariants {
 public:
  explicit YearsOfVariants(const Ensemble& ensemble);
  ~YearsOfVariants();

  /// \param walker  must outlive this
  void join(Walker& walker);
  /// After the walk and after fill_life() of all variants.
  void fill(std::vector<VariantFindings>& findings) const;

 private:
  const Ensemble& ensemble_;
  ServiceMix mix_;
  std::vector<std::unique_ptr<YearsLane>> lanes_;
};

}  // namespace ohmdrag::study
