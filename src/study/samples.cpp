#include "study/samples.hpp"

#include <algorithm>

namespace ohmdrag::study {
namespace {

/// Order statistic at a share of a sample, linear between neighbours (type 7 of R. J.
/// Hyndman, Y. Fan, The American Statistician 50 (1996) 361-365). Beside an infinite neighbour
/// nothing lies between: the nearer one, of two as near the finite one. Always the finite one would
/// let a single draw decide for all others at the low end of a small sample.
double quantile_of(std::vector<double>& values, double share) {
  const double place = share * static_cast<double>(values.size() - 1);
  const auto i = static_cast<std::size_t>(place);
  const auto at = values.begin() + static_cast<std::ptrdiff_t>(i);
  std::nth_element(values.begin(), at, values.end());
  const double here = *at;
  if (i + 1 >= values.size()) return here;
  const double weight = place - static_cast<double>(i);
  if (weight == 0.0) return here;
  const double next = *std::min_element(at + 1, values.end());
  if (here == next) return here;
  if (std::isinf(here) || std::isinf(next)) {
    const bool lower_is_finite = !std::isinf(here);
    return weight < 0.5 || (weight == 0.5 && lower_is_finite) ? here : next;
  }
  return here + weight * (next - here);
}

}  // namespace

Interval interval_of(std::vector<double> values) {
  std::erase_if(values, [](double v) { return std::isnan(v); });
  if (values.empty()) return {not_a_figure, not_a_figure, not_a_figure};
  return {quantile_of(values, 0.025), quantile_of(values, 0.5), quantile_of(values, 0.975)};
}

}  // namespace ohmdrag::study
