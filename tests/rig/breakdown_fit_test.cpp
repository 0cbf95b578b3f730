#include "ohmdrag/rig/breakdown_fit.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include "ohmdrag/rig/count_interval.hpp"
#include "support/effort.hpp"

using namespace ohmdrag;
using rig::BreakdownLaw;
using rig::Evidence;
using rig::Trial;

namespace {

Trial trial(Evidence evidence, double volts) { return {evidence, Voltage::from_value(volts)}; }

/// Films of one strength each, strained by one of three plateaus.
std::vector<Trial> simulated(unsigned seed, BreakdownLaw law, std::size_t edges) {
  std::mt19937_64 random(seed);
  std::vector<Trial> trials;
  for (std::size_t i = 0; i < edges; ++i) {
    const double plateau = std::vector{10.0, 20.0, 30.0}[i % 3];
    const double strength = law == BreakdownLaw::weibull
                                ? std::weibull_distribution<double>(3.5, 25.0)(random)
                                : std::lognormal_distribution<double>(std::log(22.0), 0.35)(random);
    if (strength > plateau)
      trials.push_back(trial(Evidence::held, plateau));
    else if (i % 4 == 0)
      trials.push_back(trial(Evidence::broke_below, plateau));
    else
      trials.push_back(trial(Evidence::broke_at, strength));
  }
  return trials;
}

}  // namespace

TEST_CASE("a complete sample meets the textbook's equations of a Weibull distribution") {
  std::vector<Trial> trials;
  for (const double volts : {8.0, 11.0, 12.5, 14.0, 15.0, 17.5, 19.0, 21.0, 22.0, 26.0})
    trials.push_back(trial(Evidence::broke_at, volts));
  const auto fit = rig::fit_breakdown(trials, BreakdownLaw::weibull);
  REQUIRE(fit.told);
  const double m = 1.0 / fit.spread, scale = std::exp(fit.location);
  // sum x^m ln x / sum x^m - 1/m = mean ln x;  scale^m = mean x^m.
  double powers = 0.0, products = 0.0, logarithms = 0.0;
  for (const Trial& t : trials) {
    const double x = t.voltage.value();
    powers += std::pow(x, m);
    products += std::pow(x, m) * std::log(x);
    logarithms += std::log(x);
  }
  CHECK(products / powers - 1.0 / m == Approx(logarithms / 10.0).epsilon(1e-8));
  CHECK(std::pow(scale, m) == Approx(powers / 10.0).epsilon(1e-8));
  CHECK(fit.quantile(1.0 - std::exp(-1.0)).value() == Approx(scale).epsilon(1e-12));
}

TEST_CASE("a complete sample gives mean and deviation of a log-normal distribution") {
  std::vector<Trial> trials;
  double sum = 0.0, squares = 0.0;
  for (const double ln_V : {2.1, 2.3, 2.4, 2.55, 2.6, 2.8, 2.9, 3.0, 3.3}) {
    trials.push_back(trial(Evidence::broke_at, std::exp(ln_V)));
    sum += ln_V;
    squares += ln_V * ln_V;
  }
  const auto fit = rig::fit_breakdown(trials, BreakdownLaw::log_normal);
  REQUIRE(fit.told);
  const double mean = sum / 9.0, deviation = std::sqrt(squares / 9.0 - mean * mean);
  CHECK(fit.location == Approx(mean).epsilon(1e-9));
  CHECK(fit.spread == Approx(deviation).epsilon(1e-8));
  CHECK(std::sqrt(fit.variance_location) == Approx(deviation / 3.0).epsilon(1e-6));
  CHECK(fit.quantile(0.5).value() == Approx(std::exp(mean)).epsilon(1e-9));
}

TEST_CASE("censored breakdowns: intervals hold the truth") {
  const auto law = GENERATE(BreakdownLaw::weibull, BreakdownLaw::log_normal);
  const bool weibull = law == BreakdownLaw::weibull;
  const double spread = weibull ? 1.0 / 3.5 : 0.35;
  const double median = weibull ? 25.0 * std::pow(std::log(2.0), 1.0 / 3.5) : 22.0;
  int held_median = 0, held_spread = 0;
  const int seeds = test::effort(500);
  for (int seed = 1; seed <= seeds; ++seed) {
    const auto fit = rig::fit_breakdown(simulated(static_cast<unsigned>(seed), law, 150), law);
    REQUIRE(fit.told);
    if (fit.median_V.low < median && median < fit.median_V.high) ++held_median;
    if (fit.spread_of_ln_V.low < spread && spread < fit.spread_of_ln_V.high) ++held_spread;
  }
  CAPTURE(weibull, held_median, held_spread, seeds);
  CHECK(held_median >= 0.90 * seeds);
  CHECK(held_median <= 0.985 * seeds);
  CHECK(held_spread >= 0.90 * seeds);
  CHECK(held_spread <= 0.985 * seeds);
}

TEST_CASE("what tells no distribution is not told") {
  const auto law = GENERATE(BreakdownLaw::weibull, BreakdownLaw::log_normal);
  std::vector<Trial> trials;
  SECTION("too few breakdowns") {
    for (int i = 0; i < 7; ++i) trials.push_back(trial(Evidence::broke_at, 10.0 + i));
    for (int i = 0; i < 100; ++i) trials.push_back(trial(Evidence::held, 20.0));
  }
  SECTION("one voltage, some broke on the plateau") {
    for (int i = 0; i < 20; ++i) trials.push_back(trial(Evidence::broke_below, 20.0));
    for (int i = 0; i < 20; ++i) trials.push_back(trial(Evidence::held, 20.0));
  }
  SECTION("all broke at the same voltage") {
    for (int i = 0; i < 20; ++i) trials.push_back(trial(Evidence::broke_at, 20.0));
  }
  CHECK_FALSE(rig::fit_breakdown(trials, law).told);
}

TEST_CASE("breakdown voltages are positive numbers") {
  for (const double volts : {0.0, -3.0, std::numeric_limits<double>::quiet_NaN()}) {
    const std::vector<Trial> trials{trial(Evidence::held, volts)};
    CHECK_THROWS_AS(rig::fit_breakdown(trials, BreakdownLaw::weibull), std::invalid_argument);
  }
}

TEST_CASE("counts: none, all, and what is refused") {
  CHECK(rig::poisson_interval(0).low == 0.0);
  CHECK(rig::poisson_interval(0).high == Approx(2.9957322736));
  CHECK(rig::binomial_interval(0, 59).high == Approx(1.0 - std::pow(0.05, 1.0 / 59.0)));
  CHECK(rig::binomial_interval(20, 20).low == Approx(std::pow(0.05, 1.0 / 20.0)));
  // A share of a large number is a rate.
  const auto rate = rig::poisson_interval(12), share = rig::binomial_interval(12, 10'000'000);
  CHECK(share.low * 1e7 == Approx(rate.low).epsilon(1e-5));
  CHECK(share.high * 1e7 == Approx(rate.high).epsilon(1e-5));
  CHECK_THROWS_AS(rig::binomial_interval(0, 0), std::invalid_argument);
  CHECK_THROWS_AS(rig::binomial_interval(3, 2), std::invalid_argument);
}
