#include "ohmdrag/numerics/sample_size.hpp"

#include <algorithm>
#include <boost/math/distributions/beta.hpp>
#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/non_central_t.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <cstdint>
#include <stdexcept>

namespace ohmdrag::numerics {

namespace {

constexpr int most_specimens = 1'000'000;

void require(bool met, const char* what) {
  if (!met) throw std::invalid_argument(what);
}
bool inside(double share) { return share > 0.0 && share < 1.0; }

}  // namespace

int specimens_needed(double share, double confidence, int failures) {
  require(inside(share) && inside(confidence),
          "number of specimens: share and confidence lie between 0 and 1");
  require(failures >= 0, "number of specimens: failures are not negative");
  const auto proves = [&](int n) {
    const boost::math::binomial failing(n, 1.0 - share);
    return boost::math::cdf(failing, failures) <= 1.0 - confidence;
  };
  require(failures < most_specimens && proves(most_specimens),
          "number of specimens: more than a million would be needed");
  int below = failures, above = most_specimens;  // as many as may fail prove nothing
  while (above - below > 1) {
    const int middle = below + (above - below) / 2;
    (proves(middle) ? above : below) = middle;
  }
  return above;
}

double share_at_least(int held, int specimens, double confidence) {
  require(specimens > 0 && held >= 0 && held <= specimens,
          "share of parts: between none and all of the specimens can hold");
  require(inside(confidence), "share of parts: the confidence lies between 0 and 1");
  if (held == 0) return 0.0;
  const boost::math::beta_distribution<> share(held, specimens - held + 1.0);
  return boost::math::quantile(share, 1.0 - confidence);
}

double normal_tolerance_factor(double mean_of, double degrees, double share, double confidence) {
  require(mean_of > 0.0 && degrees > 0.0, "tolerance factor: specimens and degrees are positive");
  require(inside(share) && inside(confidence),
          "tolerance factor: share and confidence lie between 0 and 1");
  const double root = std::sqrt(mean_of);
  const double shift = root * boost::math::quantile(boost::math::normal(), share);
  return boost::math::quantile(boost::math::non_central_t(degrees, shift), confidence) / root;
}

double normal_share_at_least(double factor, double mean_of, double degrees, double confidence) {
  require(mean_of > 0.0 && degrees > 0.0, "tolerance factor: specimens and degrees are positive");
  require(inside(confidence) && std::isfinite(factor),
          "tolerance factor: the factor is finite, the confidence between 0 and 1");
  // The noncentrality of which `factor` is the quantile; nobody tells shares beyond z = 8 apart.
  constexpr double farthest = 8.0;
  const double root = std::sqrt(mean_of);
  const auto excess = [&](double z) {
    return boost::math::cdf(boost::math::non_central_t(degrees, z * root), factor * root) -
           confidence;
  };
  if (excess(-farthest) <= 0.0) return 0.0;
  double z = farthest;
  if (excess(farthest) < 0.0) {
    std::uintmax_t steps = 100;
    const auto [low, high] = boost::math::tools::toms748_solve(
        excess, -farthest, farthest, boost::math::tools::eps_tolerance<double>(40), steps);
    z = low + (high - low) / 2.0;
  }
  return boost::math::cdf(boost::math::normal(), z);
}

}  // namespace ohmdrag::numerics
