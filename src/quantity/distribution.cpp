#include "ohmdrag/quantity/distribution.hpp"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "ohmdrag/quantity/uncertain.hpp"

namespace ohmdrag {
namespace {

// Promotion to long double would double the cost of a draw and buy digits nobody has.
using Policy = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
using StandardNormal = boost::math::normal_distribution<double, Policy>;

// Beyond this the normal tail is below the smallest double.
constexpr double no_tail = 38.0;

[[noreturn]] void refuse_empty() {
  throw std::invalid_argument("distribution: nothing of it lies between its floor and ceiling");
}

double share_below(double z) {
  if (z < -no_tail) return 0.0;
  if (z > no_tail) return 1.0;
  return boost::math::cdf(StandardNormal(), z);
}

/// Standard normal quantile rescaled to the part between two limits.
double truncated_quantile(double u, double z_floor, double z_ceiling) {
  if (z_floor < -no_tail && z_ceiling > no_tail) return normal_quantile(u);
  // Shares near 1 have lost their digits: cut the upper tail as its mirror image.
  if (z_floor > 0.0) return -truncated_quantile(1.0 - u, -z_ceiling, -z_floor);
  const double below = share_below(z_floor);
  const double inside = share_below(z_ceiling) - below;
  if (!(inside > 0.0)) refuse_empty();
  const double share = below + u * inside;
  // Deep in the lower tail the sum may round down to the edge itself.
  if (!(share > 0.0)) return z_floor;
  return std::clamp(boost::math::quantile(StandardNormal(), share), z_floor, z_ceiling);
}

/// Median of a triangle over its centre, in half widths.
double median_offset(double lean) {
  return lean >= 0.0 ? std::sqrt(1.0 + lean) - 1.0 : 1.0 - std::sqrt(1.0 - lean);
}

/// Share of a triangle between -1 and 1 below x, and its inverse.
double triangle_share(double x, double lean) {
  if (x <= -1.0) return 0.0;
  if (x >= 1.0) return 1.0;
  if (x < lean) return (x + 1.0) * (x + 1.0) / (2.0 * (1.0 + lean));
  return 1.0 - (1.0 - x) * (1.0 - x) / (2.0 * (1.0 - lean));
}
double triangle_quantile(double u, double lean) {
  const double at_mode = 0.5 * (1.0 + lean);
  return u <= at_mode ? std::sqrt(2.0 * u * (1.0 + lean)) - 1.0
                      : 1.0 - std::sqrt(2.0 * (1.0 - u) * (1.0 - lean));
}

}  // namespace

double normal_quantile(double u) {
  if (!(u > 0.0 && u < 1.0)) throw std::invalid_argument("quantile: u must lie between 0 and 1");
  return boost::math::quantile(StandardNormal(), u);
}

double Distribution::quantile(double u) const {
  if (!(u > 0.0 && u < 1.0)) throw std::invalid_argument("quantile: u must lie between 0 and 1");
  switch (shape) {
    case Shape::exact:
      return mid;
    case Shape::uniform: {
      const double low = std::max(mid - half_width, floor);
      const double high = std::min(mid + half_width, ceiling);
      if (!(low <= high)) refuse_empty();
      return low + u * (high - low);
    }
    case Shape::triangular: {
      if (!(half_width > 0.0 && std::abs(lean) <= 1.0))
        throw std::invalid_argument("distribution: a triangle has a width and its mode inside");
      const double centre = mid - half_width * median_offset(lean);
      const double below = triangle_share((floor - centre) / half_width, lean);
      const double inside = triangle_share((ceiling - centre) / half_width, lean) - below;
      if (!(inside > 0.0)) refuse_empty();
      return std::clamp(centre + half_width * triangle_quantile(below + u * inside, lean), floor,
                        ceiling);
    }
    case Shape::normal: {
      const double sigma = half_width / normal_95;
      if (!(sigma > 0.0)) throw std::invalid_argument("distribution: half-width must be positive");
      const double z = truncated_quantile(u, std::max((floor - mid) / sigma, cut_below * normal_95),
                                          std::min((ceiling - mid) / sigma, cut_above * normal_95));
      return std::clamp(mid + sigma * z, floor, ceiling);
    }
    case Shape::log_normal: {
      const double sigma = half_width / normal_95;
      if (!(sigma > 0.0 && mid > 0.0))
        throw std::invalid_argument("distribution: log-normal needs a positive mid and width");
      const double infinity = std::numeric_limits<double>::infinity();
      const auto z_at = [&](double limit) {
        return limit > 0.0 ? std::log(limit / mid) / sigma : -infinity;
      };
      const double z = truncated_quantile(u, std::max(z_at(floor), cut_below * normal_95),
                                          std::min(z_at(ceiling), cut_above * normal_95));
      return std::clamp(mid * std::exp(sigma * z), floor, ceiling);
    }
  }
  throw std::invalid_argument("distribution: unknown shape");
}

Interval Distribution::interval() const {
  return {quantile(0.025), quantile(0.5), quantile(0.975)};
}

Distribution Distribution::triangle(double low, double mode, double high) {
  if (!(low <= mode && mode <= high && low < high))
    throw std::invalid_argument("distribution: a triangle rises from low over mode to high");
  Distribution out;
  out.shape = Shape::triangular;
  out.half_width = 0.5 * high - 0.5 * low;
  const double centre = 0.5 * low + 0.5 * high;
  out.lean = std::clamp((mode - centre) / out.half_width, -1.0, 1.0);
  out.mid = centre + out.half_width * median_offset(out.lean);
  return out;
}

double Distribution::mode() const { return mid + half_width * (lean - median_offset(lean)); }

double Distribution::share_below(double value) const {
  if (shape == Shape::exact) return value > mid ? 1.0 : 0.0;
  // Every quantile rises with its share, so bisection needs no case for the shape.
  double low = 0.0, high = 1.0;
  constexpr int halvings = 50;
  for (int i = 0; i < halvings; ++i) {
    const double middle = 0.5 * (low + high);
    (quantile(middle) < value ? low : high) = middle;
  }
  constexpr double nothing = 1e-14;
  return low < nothing ? 0.0 : high > 1.0 - nothing ? 1.0 : 0.5 * (low + high);
}

double Distribution::standard_deviation() const {
  if (shape == Shape::exact) return 0.0;
  const bool logarithmic = shape == Shape::log_normal;
  constexpr int strata = 2000;
  double mean = 0.0, square = 0.0;
  const auto at = [&](int i) {
    const double value = quantile((i + 0.5) / strata);
    return logarithmic ? std::log(value / mid) : value - mid;
  };
  for (int i = 0; i < strata; ++i) {
    const double value = at(i);
    mean += value / strata;
    square += value * value / strata;
  }
  return std::sqrt(std::max(0.0, square - mean * mean));
}

double UncertainNumber::at(double u_spread, double u_scatter) const {
  const double centre = spread.quantile(u_spread);
  Distribution part = scatter;
  switch (scatter.shape) {
    case Shape::exact:
      return centre;
    case Shape::normal:
    case Shape::uniform:
    case Shape::triangular:
      part.floor = std::max(part.floor, spread.floor - centre);
      part.ceiling = std::min(part.ceiling, spread.ceiling - centre);
      return centre + part.quantile(u_scatter);
    case Shape::log_normal:
      if (centre > 0.0) {
        part.floor = std::max(part.floor, spread.floor / centre);
        part.ceiling = std::min(part.ceiling, spread.ceiling / centre);
      }
      return centre * part.quantile(u_scatter);
  }
  throw std::invalid_argument("scatter: unknown shape");
}

}  // namespace ohmdrag
