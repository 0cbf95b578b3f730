#include "ohmdrag/numerics/still_ends.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <stdexcept>
#include <vector>

#include "ohmdrag/numerics/coverage.hpp"
#include "ohmdrag/numerics/monte_carlo.hpp"

namespace ohmdrag::numerics {
namespace {

double standard_deviation(std::span<const double> values) {
  const auto n = static_cast<double>(values.size());
  double mean = 0.0, squares = 0.0;
  for (const double value : values) mean += value / n;
  for (const double value : values) squares += (value - mean) * (value - mean);
  return std::sqrt(squares / (n - 1.0));
}

double error_of(const std::vector<double>& ends) {
  const auto infinite = std::ranges::count_if(ends, [](double end) { return std::isinf(end); });
  if (infinite == static_cast<std::ptrdiff_t>(ends.size()) &&
      std::ranges::all_of(ends, [&](double end) { return end == ends.front(); }))
    return 0.0;
  if (infinite > 0) return std::numeric_limits<double>::infinity();
  return 2.0 * standard_deviation(ends) / std::sqrt(static_cast<double>(ends.size()));
}

/// None where too many values are infinite to have one.
std::optional<double> uncertainty_of(std::span<const double> values) {
  if (std::ranges::none_of(values, [](double value) { return std::isinf(value); }))
    return standard_deviation(values);
  std::vector<double> rising(values.begin(), values.end());
  std::ranges::sort(rising);
  constexpr double within_one_deviation = 0.6826894921370859;
  const CoverageInterval middle =
      coverage_interval(rising, within_one_deviation, IntervalKind::symmetric);
  const double half = 0.5 * (middle.high - middle.low);
  return std::isfinite(half) ? std::optional(half) : std::nullopt;
}

}  // namespace

StillEnds still_ends(std::span<const double> values, std::size_t block, double coverage,
                     int digits) {
  if (block == 0 || values.size() < 2 * block || values.size() % block != 0)
    throw std::invalid_argument("still ends: at least two whole blocks");
  std::vector<double> lows, highs;
  for (std::size_t first = 0; first < values.size(); first += block) {
    const auto own = values.subspan(first, block);
    std::vector<double> rising(own.begin(), own.end());
    std::ranges::sort(rising);
    const CoverageInterval ends = coverage_interval(rising, coverage, IntervalKind::symmetric);
    lows.push_back(ends.low);
    highs.push_back(ends.high);
  }
  const auto finite_or = [](double end, double otherwise) {
    return std::isfinite(end) ? std::abs(end) : otherwise;
  };
  const double uncertainty =
      uncertainty_of(values).value_or(finite_or(lows.front(), finite_or(highs.front(), 0.0)));
  return {error_of(lows), error_of(highs), numerical_tolerance(uncertainty, digits)};
}

}  // namespace ohmdrag::numerics
