#include "ohmdrag/numerics/coverage.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace ohmdrag::numerics {

CoverageInterval coverage_interval(std::span<const double> sorted, double share,
                                   IntervalKind kind) {
  if (!(share > 0.0 && share < 1.0))
    throw std::invalid_argument("coverage interval: the share lies between 0 and 1");
  if (std::any_of(sorted.begin(), sorted.end(), [](double value) { return std::isnan(value); }) ||
      !std::is_sorted(sorted.begin(), sorted.end()))
    throw std::invalid_argument("coverage interval: the values are numbers that rise");
  const auto held =
      static_cast<std::size_t>(std::lround(share * static_cast<double>(sorted.size())));
  if (held + 1 > sorted.size())
    throw std::invalid_argument("coverage interval: too few values to leave one out");
  const std::size_t left_out = sorted.size() - held;
  const auto from = [&](std::size_t rank) {
    return CoverageInterval{sorted[rank - 1], sorted[rank - 1 + held]};
  };
  CoverageInterval interval = from((left_out + 1) / 2);
  if (kind == IntervalKind::symmetric) return interval;
  for (std::size_t rank = 1; rank <= left_out; ++rank) {
    const CoverageInterval other = from(rank);
    if (other.width() < interval.width()) interval = other;
  }
  return interval;
}

}  // namespace ohmdrag::numerics
