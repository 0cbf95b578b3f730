// How many specimens show a share of parts, and how wide a tolerance limit of few specimens is.
//
// Success run: textbook rule of reliability testing, n = ln(1 - C)/ln(R). Of its usual figures a
// table of a public page on reliability, confidence and sample size
// (codingace.net/statistics/confidence_reliability_sample_size.html) prints 29, 59, 46 with one
// failure, and 230; 22 and 45 are from memory, and follow from the formula that the page prints.
//
// Tolerance factors: the page real-statistics.com/sampling-distributions/tolerance-interval prints
// 1.9017 by the noncentral t for 40 values, 90 % of all and 99 % confidence. Others: tables of
// one-sided factors as in ISO 16269-6 and M. G. Natrella, Experimental Statistics, NBS Handbook 91,
// 1963, Table A-7, from memory; of the latter's approximation a copy of the example of the
// NIST/SEMATECH e-Handbook of Statistical Methods, section 7.2.6.3, was read (43 values, 90 %,
// 99 %: 1.8752; the e-Handbook's exact 1.8740 is from memory).

#include "ohmdrag/numerics/sample_size.hpp"

#include <catch2/catch.hpp>

using ohmdrag::numerics::normal_tolerance_factor;
using ohmdrag::numerics::share_at_least;
using ohmdrag::numerics::specimens_needed;

TEST_CASE("success runs have their printed numbers of specimens", "[printed]") {
  CHECK(specimens_needed(0.90, 0.95) == 29);
  CHECK(specimens_needed(0.95, 0.95) == 59);
  CHECK(specimens_needed(0.90, 0.95, 1) == 46);
  CHECK(specimens_needed(0.99, 0.90) == 230);
}

TEST_CASE("success runs have the numbers that are remembered", "[formula]") {
  CHECK(specimens_needed(0.90, 0.90) == 22);
  CHECK(specimens_needed(0.95, 0.90) == 45);
  CHECK(specimens_needed(0.95, 0.95) == 59);
  CHECK(specimens_needed(0.99, 0.90) == 230);
  CHECK(share_at_least(22, 22, 0.90) >= 0.90);
  CHECK(share_at_least(21, 21, 0.90) < 0.90);
}

TEST_CASE("the tolerance factor of 40 values is the printed one", "[printed]") {
  CHECK(normal_tolerance_factor(40, 39, 0.90, 0.99) == Approx(1.9017).margin(0.00005));
}

TEST_CASE("tolerance factors are those of the remembered tables", "[formula]") {
  struct Row {
    int values;
    double share, confidence, factor;
  };
  const auto row =
      GENERATE(Row{10, 0.90, 0.95, 2.355}, Row{10, 0.95, 0.90, 2.568}, Row{10, 0.95, 0.95, 2.911},
               Row{10, 0.99, 0.95, 3.981}, Row{5, 0.90, 0.95, 3.407}, Row{20, 0.95, 0.95, 2.396});
  CAPTURE(row.values, row.share, row.confidence);
  CHECK(normal_tolerance_factor(row.values, row.values - 1, row.share, row.confidence) ==
        Approx(row.factor).margin(0.001));
}

TEST_CASE("the tolerance factor of 43 values is a little below its approximation", "[formula]") {
  const double factor = normal_tolerance_factor(43, 42, 0.90, 0.99);
  CHECK(factor == Approx(1.8740).margin(0.0002));
  CHECK(factor < 1.8752);
}
