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
  if (!(inside > 0.0))
    throw std::invalid_argument("distribution: nothing of it lies between its floor and ceiling");
  const double share = below + u * inside;
  // Deep in the lower tail the sum may round down to the edge itself.
  if (!(share > 0.0)) return z_floor;
  return std::clamp(boost::math::quantile(StandardNormal(), share), z_floor, z_ceiling);
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
      if (!(low <= high))
        throw std::invalid_argument(
            "distribution: nothing of it lies between its floor and ceiling");
      return low + u * (high - low);
    }
    case Shape::normal: {
      const double sigma = half_width / normal_95;
      if (!(sigma > 0.0)) throw std::invalid_argument("distribution: half-width must be positive");
      const double z = truncated_quantile(u, (floor - mid) / sigma, (ceiling - mid) / sigma);
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
      const double z = truncated_quantile(u, z_at(floor), z_at(ceiling));
      return std::clamp(mid * std::exp(sigma * z), floor, ceiling);
    }
  }
  throw std::invalid_argument("distribution: unknown shape");
}

Interval Distribution::interval() const {
  return {quantile(0.025), quantile(0.5), quantile(0.975)};
}

double UncertainNumber::at(double u_spread, double u_scatter) const {
  const double centre = spread.quantile(u_spread);
  Distribution part = scatter;
  switch (scatter.shape) {
    case Shape::exact:
      return centre;
    case Shape::normal:
    case Shape::uniform:
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
