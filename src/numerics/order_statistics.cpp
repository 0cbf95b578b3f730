#include "ohmdrag/numerics/order_statistics.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <stdexcept>
#include <vector>

#include "ohmdrag/numerics/sample_size.hpp"

namespace ohmdrag::numerics {

namespace {

/// Of the values in the given order, the first that has enough before it.
template <class Order>
std::optional<double> limit(std::span<const double> values, double share, double confidence,
                            Order order) {
  if (!(share > 0.0 && share < 1.0 && confidence > 0.0 && confidence < 1.0))
    throw std::invalid_argument("tolerance limit: share and confidence lie between 0 and 1");
  if (std::any_of(values.begin(), values.end(), [](double value) { return std::isnan(value); }))
    throw std::invalid_argument("tolerance limit: a value is no number");
  const int n = static_cast<int>(values.size());
  const auto says_so = [&](int rank) { return share_at_least(rank, n, confidence) >= share; };
  if (n == 0 || !says_so(n)) return std::nullopt;
  int below = 0, rank = n;  // the share rises with the rank
  while (rank - below > 1) {
    const int middle = below + (rank - below) / 2;
    (says_so(middle) ? rank : below) = middle;
  }
  std::vector<double> ordered(values.begin(), values.end());
  const auto place = ordered.begin() + (rank - 1);
  std::nth_element(ordered.begin(), place, ordered.end(), order);
  return *place;
}

}  // namespace

std::optional<double> upper_tolerance_limit(std::span<const double> values, double share,
                                            double confidence) {
  return limit(values, share, confidence, std::less<>());
}

std::optional<double> lower_tolerance_limit(std::span<const double> values, double share,
                                            double confidence) {
  return limit(values, share, confidence, std::greater<>());
}

}  // namespace ohmdrag::numerics
