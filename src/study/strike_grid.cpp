#include "study/strike_grid.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

namespace ohmdrag::study {

std::size_t Axis::index(double x) const {
  const double place = std::clamp(std::floor((x - from) / step), 0.0, double(cells - 1));
  return static_cast<std::size_t>(place);
}

Axis axis(double low, double high, std::size_t most) {
  if (!(low < high && most >= 2))
    throw std::invalid_argument("axis: needs low < high and room for two cells");
  constexpr std::array round{1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0};
  for (double decade = 1.0;; decade *= 10.0)
    for (const double mantissa : round) {
      const double step = mantissa * decade;
      if (step != std::floor(step)) continue;
      const double from = std::floor(low / step) * step;
      const double cells = std::ceil((high - from) / step);
      if (cells <= double(most)) return {from, step, static_cast<std::size_t>(cells)};
    }
}

}  // namespace ohmdrag::study
