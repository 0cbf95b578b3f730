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

std::size_t DesignAxis::levels() const { return values.empty() ? steps : values.size(); }

std::string DesignAxis::level(std::size_t i) const {
  if (!values.empty()) return values[i];
  if (i == 0) return in_digits(from);
  if (i + 1 == steps) return in_digits(to);
  const double share = static_cast<double>(i) / static_cast<double>(steps - 1);
  return in_digits(between(from, to, share, by_ratio));
}

std::function<std::vector<std::string>(std::size_t)> factorial_cells(std::vector<DesignAxis> axes) {
  return [axes = std::move(axes)](std::size_t row) {
    std::vector<std::string> cells(axes.size());
    for (std::size_t a = axes.size(); a-- > 0;) {
      cells[a] = axes[a].level(row % axes[a].levels());
      row /= axes[a].levels();
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

void check_range(double from, double to, std::size_t steps, bool by_ratio) {
  if (steps < 2) throw std::invalid_argument("a range has at least two steps, its ends");
  if (from == to) throw std::invalid_argument("both ends of the range are the same");
  if (by_ratio && !(from > 0.0 && to > 0.0))
    throw std::invalid_argument("steps by ratio need both ends above zero");
}

}  // namespace ohmdrag::study
