#include "ohmdrag/study/design.hpp"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>
#include <utility>

#include "ohmdrag/numerics/quasi_random.hpp"

namespace ohmdrag::study {
namespace {

/// Sixteen digits would show the rounding of the steps, 15 are those every double keeps.
std::string in_digits(double value) { return fmt::format("{:.15g}", value); }

/// Between both ends, in even steps or even ratios.
double between(double from, double to, double share, bool by_ratio) {
  return by_ratio ? from * std::pow(to / from, share) : from + share * (to - from);
}

}  // namespace

std::function<std::vector<std::string>(std::size_t)> factorial_cells(std::vector<DesignAxis> axes) {
  return [axes = std::move(axes)](std::size_t row) {
    std::vector<std::string> cells(axes.size());
    for (std::size_t a = axes.size(); a-- > 0;) {
      const auto& levels = axes[a].levels;
      cells[a] = levels[row % levels.size()];
      row /= levels.size();
    }
    return cells;
  };
}

std::function<std::vector<std::string>(std::size_t)> quasi_random_cells(
    std::vector<DesignAxis> axes, unsigned long long seed) {
  const numerics::QuasiRandom points(axes.size(), seed);
  return [axes = std::move(axes), points](std::size_t row) {
    std::vector<std::string> cells;
    for (std::size_t a = 0; a < axes.size(); ++a)
      cells.push_back(
          in_digits(between(axes[a].from, axes[a].to, points.value(a, row), axes[a].by_ratio)));
    return cells;
  };
}

std::vector<std::string> sets_of(const Design& design, const DesignRow& row) {
  std::vector<std::string> sets;
  for (std::size_t a = 0; a < design.axes.size(); ++a) {
    const DesignAxis& axis = design.axes[a];
    if (row.cells[a].empty()) continue;
    std::string set = axis.key + '=' + row.cells[a];
    for (const std::string& part : {axis.unit, axis.spread})
      if (!part.empty()) set += ' ' + part;
    sets.push_back(std::move(set));
  }
  return sets;
}

std::vector<std::string> levels_between(double from, double to, std::size_t count, bool by_ratio) {
  if (count < 2) throw std::invalid_argument("a range has at least two steps, its ends");
  if (from == to) throw std::invalid_argument("both ends of the range are the same");
  if (by_ratio && !(from > 0.0 && to > 0.0))
    throw std::invalid_argument("steps by ratio need both ends above zero");
  std::vector<std::string> levels;
  for (std::size_t i = 0; i < count; ++i) {
    const double share = static_cast<double>(i) / static_cast<double>(count - 1);
    levels.push_back(in_digits(i == 0           ? from
                               : i + 1 == count ? to
                                                : between(from, to, share, by_ratio)));
  }
  return levels;
}

}  // namespace ohmdrag::study
