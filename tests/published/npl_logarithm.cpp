#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <vector>

#include "ohmdrag/numerics/gum.hpp"
#include "ohmdrag/numerics/monte_carlo.hpp"
#include "ohmdrag/numerics/quantiles.hpp"

// M. G. Cox, P. M. Harris, Software Support for Metrology Best Practice Guide No. 6, Uncertainty
// Evaluation, National Physical Laboratory, report DEM-ES-011, section 9.2, table 9.2 (values as
// quoted in public test data): Y = ln X, X rectangular between 0.1 and 1.1.

using namespace ohmdrag::numerics;

TEST_CASE("the logarithm of a wide rectangle", "[published][printed]") {
  const auto gum = first_order([](std::span<const double> x) { return std::log(x[0]); },
                               std::vector<GumInput>{{0.6, 1.0 / std::sqrt(12.0)}});
  CHECK(gum.estimate == Approx(-0.511).margin(5e-4));
  CHECK(gum.uncertainty == Approx(0.481).margin(5e-4));
  const double factor = coverage_factor(0.95, std::numeric_limits<double>::infinity());
  CHECK(gum.estimate + factor * gum.uncertainty == Approx(0.432).margin(5e-4));

  const auto result = adaptive_monte_carlo(
      trials_of(
          [](std::span<const double> u) { return std::log(uniform_quantile(u[0], 0.1, 1.1)); }, 1,
          Points::quasi_random, 1),
      {.interval = IntervalKind::shortest, .significant_digits = 3});
  CHECK(result.stabilised);
  CHECK(result.estimate == Approx(-0.665).margin(5e-4));
  CHECK(result.uncertainty == Approx(0.606).margin(5e-4));
  // Printed: -1.895 … 0.095, out of trials; exact: ln 0.15 … ln 1.1.
  CHECK(result.shortest.low == Approx(-1.895).margin(3e-3));
  CHECK(result.shortest.low == Approx(std::log(0.15)).margin(1e-3));
  CHECK(result.shortest.high == Approx(0.095).margin(5e-4));
  CHECK_FALSE(agreement(gum, factor, result.shortest, 1).within());
}
