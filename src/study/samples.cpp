#include "study/samples.hpp"

#include <algorithm>

namespace ohmdrag::study {
namespace {

using Place = std::vector<double>::iterator;

/// The order statistic at or below a share of a sample.
Place place_of(std::vector<double>& values, double share) {
  return values.begin() + static_cast<std::ptrdiff_t>(share * double(values.size() - 1));
}

/// Order statistic at a share of a sample, linear between neighbours (type 7 of R. J.
/// Hyndman, Y. Fan, The American Statistician 50 (1996) 361-365). Beside an infinite neighbour
/// nothing lies between: the nearer one, of two as near the finite one. Always the finite one would
/// let a single draw decide for all others at the low end of a small sample.
/// \param from, to  the values between are those that belong there in order, and place_of() is
/// there
double quantile_of(std::vector<double>& values, double share, Place from, Place to) {
  const Place at = place_of(values, share);
  std::nth_element(from, at, to);
  const double here = *at;
  if (at + 1 == values.end()) return here;
  const double weight = share * double(values.size() - 1) - double(at - values.begin());
  if (weight == 0.0) return here;
  const double next = *std::min_element(at + 1, at + 1 < to ? to : values.end());
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
  constexpr double low = 0.025, middle = 0.5, high = 0.975;
  Interval interval;
  interval.mid = quantile_of(values, middle, values.begin(), values.end());
  // The middle stands in its place now: each end is sought on its own side of it.
  const Place mid = place_of(values, middle), top = place_of(values, high);
  interval.high = quantile_of(values, high, std::min(mid + 1, top), values.end());
  interval.low = quantile_of(values, low, values.begin(), std::max(mid, place_of(values, low) + 1));
  return interval;
}

}  // namespace ohmdrag::study
