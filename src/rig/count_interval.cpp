#include "ohmdrag/rig/count_interval.hpp"

#include <boost/math/distributions/beta.hpp>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <stdexcept>

namespace ohmdrag::rig {

namespace {

constexpr double tail = 0.025, one_sided = 0.05;

double beta_quantile(double a, double b, double p) {
  return boost::math::quantile(boost::math::beta_distribution<double>(a, b), p);
}

}  // namespace

CountInterval poisson_interval(std::size_t count) {
  const auto n = static_cast<double>(count);
  if (count == 0) return {0.0, 0.0, -std::log(one_sided)};
  const boost::math::chi_squared_distribution<double> below(2.0 * n), above(2.0 * n + 2.0);
  return {n, 0.5 * boost::math::quantile(below, tail),
          0.5 * boost::math::quantile(above, 1.0 - tail)};
}

CountInterval binomial_interval(std::size_t count, std::size_t trials) {
  if (trials == 0) throw std::invalid_argument("a share needs a trial");
  if (count > trials) throw std::invalid_argument("more came out than trials were made");
  const auto k = static_cast<double>(count), n = static_cast<double>(trials);
  if (count == 0) return {0.0, 0.0, -std::expm1(std::log(one_sided) / n)};
  if (count == trials) return {1.0, std::pow(one_sided, 1.0 / n), 1.0};
  return {k / n, beta_quantile(k, n - k + 1.0, tail), beta_quantile(k + 1.0, n - k, 1.0 - tail)};
}

}  // namespace ohmdrag::rig
