#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/study/draws.hpp"

// The distributions that a case gives its numbers, against formulas of
//   JCGM 100:2008, Guide to the Expression of Uncertainty in Measurement, 4.3.7 and 4.3.9: uniform
//   a^2/3, symmetric triangle a^2/6;
//   M. Evans, N. Hastings, B. Peacock, Statistical Distributions, 2000: any triangle;
//   N. L. Johnson, S. Kotz, N. Balakrishnan, Continuous Univariate Distributions, vol. 1, 1994,
//   section 13.10: truncated normal;
//   K. Pearson, On further methods of determining correlation, 1907: rank correlation of normal
//   values.
// All from memory; the values are our arithmetic.

using namespace ohmdrag;

namespace {

double density(double z) { return std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi); }
double share(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

}  // namespace

TEST_CASE("uniform and triangle have the GUM's variances", "[published][formula]") {
  const Distribution uniform{.shape = Shape::uniform, .mid = 7.0, .half_width = 2.0};
  CHECK(uniform.standard_deviation() == Approx(2.0 / std::sqrt(3.0)).epsilon(1e-3));
  CHECK(Distribution::triangle(5.0, 7.0, 9.0).standard_deviation() ==
        Approx(2.0 / std::sqrt(6.0)).epsilon(1e-3));
}

TEST_CASE("a leaning triangle has the textbook's variance", "[published][formula]") {
  const double a = 1.0, b = 5.0, m = GENERATE(1.0, 2.0, 4.5, 5.0);
  const double variance = (a * a + b * b + m * m - a * b - a * m - b * m) / 18.0;
  CHECK(Distribution::triangle(a, m, b).standard_deviation() ==
        Approx(std::sqrt(variance)).epsilon(1e-3));
}

TEST_CASE("a cut normal distribution has the textbook's variance", "[published][formula]") {
  Distribution d{.shape = Shape::normal, .mid = 10.0, .half_width = 2.0 * normal_95};
  const double low = -0.5, high = 1.5;  // standard deviations
  d.cut_below = low / normal_95;
  d.cut_above = high / normal_95;
  const double inside = share(high) - share(low);
  const double mean = (density(low) - density(high)) / inside;
  const double variance = 1.0 + (low * density(low) - high * density(high)) / inside - mean * mean;
  CHECK(d.standard_deviation() == Approx(2.0 * std::sqrt(variance)).epsilon(1e-3));
  CHECK(d.quantile(0.5) ==
        Approx(10.0 + 2.0 * normal_quantile(share(low) + 0.5 * inside)).epsilon(1e-9));
}

TEST_CASE("correlated draws have Pearson's rank correlation", "[published][formula]") {
  const double r = GENERATE(-0.9, 0.5, 0.95);
  UncertainNumber a, b;
  a.key = "a";
  b.key = "b";
  a.spread = {.shape = Shape::normal, .mid = 5.0, .half_width = 1.0};
  b.spread = {.shape = Shape::log_normal, .mid = 5.0, .half_width = 1.0};
  const std::vector<const UncertainNumber*> numbers{&a, &b};
  const std::vector<study::Correlation> together{{{"a", "b"}, {1.0, r, r, 1.0}, false}};
  const study::Draws draws(numbers, 2048, 5, together);
  const auto ranks = [&](const UncertainNumber& number) {
    const std::vector<double> values = draws.column(number);
    std::vector<double> sorted = values, out;
    std::ranges::sort(sorted);
    for (const double value : values)
      out.push_back(double(std::ranges::lower_bound(sorted, value) - sorted.begin()));
    return out;
  };
  const std::vector<double> x = ranks(a), y = ranks(b);
  double both = 0.0, own = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    both += (x[i] - 1023.5) * (y[i] - 1023.5);
    own += (x[i] - 1023.5) * (x[i] - 1023.5);
  }
  CHECK(both / own == Approx(6.0 / std::numbers::pi * std::asin(0.5 * r)).margin(0.01));
}
