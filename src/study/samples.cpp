#include "study/samples.hpp"

#include <algorithm>

namespace ohmdrag::study {
namespace {

/// Order statistic at a share of a sorted sample, linear between neighbours (type 7 of R. J.
/// Hyndman, Y. Fan, The American Statistician 50 (1996) 361-365). Beside an infinite neighbour
/// nothing lies between: the nearer one, of two as near the finite one. Always the finite one would
/// let a single draw decide for all others at the low end of a small sample.
double quantile_of(const std::vector<double>& sorted, double share) {
  const double place = share * static_cast<double>(sorted.size() - 1);
  const auto i = static_cast<std::size_t>(place);
  if (i + 1 >= sorted.size()) return sorted.back();
  const double weight = place - static_cast<double>(i);
  if (weight == 0.0 || sorted[i] == sorted[i + 1]) return sorted[i];
  if (std::isinf(sorted[i]) || std::isinf(sorted[i + 1])) {
    const bool lower_is_finite = !std::isinf(sorted[i]);
    return weight < 0.5 || (weight == 0.5 && lower_is_finite) ? sorted[i] : sorted[i + 1];
  }
  return sorted[i] + weight * (sorted[i + 1] - sorted[i]);
}

}  // namespace

Interval interval_of(std::vector<double> values) {
  std::erase_if(values, [](double v) { return std::isnan(v); });
  if (values.empty()) return {not_a_figure, not_a_figure, not_a_figure};
  std::sort(values.begin(), values.end());
  return {quantile_of(values, 0.025), quantile_of(values, 0.5), quantile_of(values, 0.975)};
}

}  // namespace ohmdrag::study
