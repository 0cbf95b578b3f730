#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <vector>

#include "ohmdrag/numerics/sobol_indices.hpp"

// Two functions whose variance can be split by hand.
// T. Ishigami, T. Homma, An importance quantification technique in uncertainty analysis for
// computer models, Proc. ISUMA'90, 398-403: sin x1 + a sin^2 x2 + b x3^4 sin x1, with a 7 and b
// 0.1. I. M. Sobol', Math. Comput. Simul. 55 (2001) 271-280, g-function: product of (|4x - 2| +
// a)/(1 + a), with a = 0, 0.5, 3, 9, 99, 99 as in A. Saltelli et al., Global Sensitivity Analysis,
// 2008. Formulas and rounded values from memory. Tolerance: 0.01 with 2^14 points.

using namespace ohmdrag::numerics;

namespace {

struct Shares {
  double first, total;
};

/// Against the exact indices, and within four standard errors where those mean something.
void check(const SobolIndices& found, const std::vector<Shares>& exact) {
  REQUIRE(found.group.size() == exact.size());
  for (std::size_t i = 0; i < exact.size(); ++i) {
    CAPTURE(i);
    CHECK(found.group[i].first == Approx(exact[i].first).margin(0.01));
    CHECK(found.group[i].total == Approx(exact[i].total).margin(0.01));
    CHECK(std::abs(found.group[i].first - exact[i].first) <
          4.0 * found.group[i].first_error + 1e-4);
    CHECK(std::abs(found.group[i].total - exact[i].total) <
          4.0 * found.group[i].total_error + 1e-4);
  }
}

double ishigami(std::span<const double> u) {
  const auto angle = [&](std::size_t i) { return std::numbers::pi * (2.0 * u[i] - 1.0); };
  const double x1 = angle(0), x2 = angle(1), x3 = angle(2);
  return std::sin(x1) + 7.0 * std::pow(std::sin(x2), 2) + 0.1 * std::pow(x3, 4) * std::sin(x1);
}

}  // namespace

TEST_CASE("indices of Ishigami and Homma's function", "[published][formula]") {
  const double a = 7.0, b = 0.1, p4 = std::pow(std::numbers::pi, 4);
  const double variance = a * a / 8.0 + b * p4 / 5.0 + b * b * p4 * p4 / 18.0 + 0.5;
  const double by_1 = 0.5 * std::pow(1.0 + b * p4 / 5.0, 2), by_2 = a * a / 8.0;
  const double by_13 = 8.0 * b * b * p4 * p4 / 225.0;
  // Rounded, as usually printed: 0.3139, 0.4424, 0; 0.5576, 0.4424, 0.2437.
  CHECK(by_1 / variance == Approx(0.3139).margin(5e-5));
  CHECK(by_2 / variance == Approx(0.4424).margin(5e-5));
  CHECK((by_1 + by_13) / variance == Approx(0.5576).margin(5e-5));
  CHECK(by_13 / variance == Approx(0.2437).margin(5e-5));

  const auto found = sobol_indices(SobolDesign(3, one_by_one(3)), ishigami);
  CHECK(found.mean == Approx(3.5).margin(0.01));
  CHECK(found.variance == Approx(variance).epsilon(0.01));
  check(found, {{by_1 / variance, (by_1 + by_13) / variance},
                {by_2 / variance, by_2 / variance},
                {0.0, by_13 / variance}});

  // The first and the third input as one group explain all that the second does not.
  check(sobol_indices(SobolDesign(3, {{0, 2}, {1}}), ishigami),
        {{1.0 - by_2 / variance, 1.0 - by_2 / variance}, {by_2 / variance, by_2 / variance}});
}

TEST_CASE("indices of Sobol's g-function", "[published][formula]") {
  const std::vector<double> a{0.0, 0.5, 3.0, 9.0, 99.0, 99.0};
  const auto part = [&](std::size_t i) { return 1.0 / (3.0 * (1.0 + a[i]) * (1.0 + a[i])); };
  double all = 1.0;
  for (std::size_t i = 0; i < a.size(); ++i) all *= 1.0 + part(i);
  std::vector<Shares> exact;
  for (std::size_t i = 0; i < a.size(); ++i)
    exact.push_back({part(i) / (all - 1.0), part(i) * all / (1.0 + part(i)) / (all - 1.0)});
  CHECK(exact[0].first == Approx(0.5868).margin(5e-5));
  CHECK(exact[1].first == Approx(0.2608).margin(5e-5));
  CHECK(exact[0].total == Approx(0.6901).margin(5e-5));

  const auto found = sobol_indices(SobolDesign(6, one_by_one(6)), [&](std::span<const double> x) {
    double product = 1.0;
    for (std::size_t i = 0; i < a.size(); ++i)
      product *= (std::abs(4.0 * x[i] - 2.0) + a[i]) / (1.0 + a[i]);
    return product;
  });
  CHECK(found.mean == Approx(1.0).margin(1e-3));
  CHECK(found.variance == Approx(all - 1.0).epsilon(0.01));
  check(found, exact);
}
