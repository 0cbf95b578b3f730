#pragma once

#include <memory>
#include <vector>

#include "study/duty_walk.hpp"

namespace ohmdrag::study {

class CourseLane;

/// Oil and contact temperatures along the duties, variant by variant.
///
/// Method    marched as the energies are, everything at its middle; the step of the course is the
///           duty's time over most_steps, or a stretch where that is longer.
/// Limits    measured trips and bins without an order have no course; contacts settle within a
///           stretch, as energy::march says.
/// Source    derived.
class DutyCourses {
 public:
  static constexpr std::size_t most_steps = 150;

  DutyCourses();
  ~DutyCourses();

  /// \param walker  must outlive this
  void join(Walker& walker);
  /// After the walk.
  void fill(std::vector<VariantFindings>& findings) const;

 private:
  std::vector<std::unique_ptr<CourseLane>> lanes_;
};

}  // namespace ohmdrag::study
