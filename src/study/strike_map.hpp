#pragma once

#include <memory>
#include <vector>

#include "study/duty_walk.hpp"

namespace ohmdrag::study {

class MapLane;

/// Where it strikes over speed and oil, with the time of the duties; all variants on one grid.
class StrikeMaps {
 public:
  StrikeMaps();
  ~StrikeMaps();

  /// \param walker  must outlive this
  void join(Walker& walker);
  /// After the walk.
  void fill(const ServiceMix& mix, std::vector<VariantFindings>& findings) const;

 private:
  std::vector<std::unique_ptr<MapLane>> lanes_;
};

}  // namespace ohmdrag::study
