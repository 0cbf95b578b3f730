// Statistics of breakdowns and of counts, as fits of shaft-voltage records use them.
//
// [NIST]     NIST/SEMATECH e-Handbook of Statistical Methods, section 8.4.1.3 (read, as stored of
//            www.itl.nist.gov/div898/handbook/apr/section4/apr413.htm): ten failures and ten units
//            taken off at 500 h, fitted by maximum likelihood.
// [Garwood]  F. Garwood, Fiducial limits for the Poisson distribution, Biometrika 28 (1936)
// 437-442,
//            by limits that two public pages on exact Poisson intervals print (read).
// [Clopper]  C. J. Clopper, E. S. Pearson, Biometrika 26 (1934) 404-413 (formula from memory).
// [Hanley]   J. A. Hanley, A. Lippman-Hand, J. Am. Med. Assoc. 249 (1983) 1743-1745 (from memory):
//            nothing in n, so less than 3/n.
#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "ohmdrag/rig/breakdown_fit.hpp"
#include "ohmdrag/rig/count_interval.hpp"
#include "rig/shaft_voltage_record.hpp"

using namespace ohmdrag;
using rig::BreakdownLaw;
using rig::Evidence;

namespace {

/// [NIST], in hours there; a number is a number.
std::vector<rig::Trial> handbook_units() {
  std::vector<rig::Trial> trials;
  for (const double failed : {54, 187, 216, 240, 244, 335, 361, 373, 375, 386})
    trials.push_back({Evidence::broke_at, Voltage::from_value(failed)});
  for (int i = 0; i < 10; ++i) trials.push_back({Evidence::held, Voltage::from_value(500.0)});
  return trials;
}

}  // namespace

TEST_CASE("handbook: Weibull fit of censored lives", "[printed]") {
  const auto fit = rig::fit_breakdown(handbook_units(), BreakdownLaw::weibull);
  REQUIRE(fit.told);
  CHECK(std::exp(fit.location) == Approx(606.5280).margin(5e-4));
  CHECK(1.0 / fit.spread == Approx(1.7208).margin(5e-5));
  CHECK(fit.log_likelihood == Approx(-75.135).margin(5e-4));
  CHECK(fit.aic() == Approx(154.27).margin(5e-3));
}

TEST_CASE("handbook: the log-normal law fits these lives a little worse", "[printed]") {
  const auto fit = rig::fit_breakdown(handbook_units(), BreakdownLaw::log_normal);
  REQUIRE(fit.told);
  CHECK(fit.aic() == Approx(154.39).margin(5e-3));
}

TEST_CASE("exact limits of a Poisson count", "[printed]") {
  // Printed for 95 %: 25 gives 16.18 to 36.90, 10 gives 4.80 to 18.39.
  CHECK(rig::poisson_interval(25).low == Approx(16.18).margin(5e-3));
  CHECK(rig::poisson_interval(25).high == Approx(36.90).margin(6e-3));
  CHECK(rig::poisson_interval(10).low == Approx(4.80).margin(6e-3));
  CHECK(rig::poisson_interval(10).high == Approx(18.39).margin(5e-3));
}

TEST_CASE("no event: the upper limit of 3 over the number", "[formula]") {
  CHECK(rig::poisson_interval(0).high == Approx(3.0).epsilon(0.0015));
  // [Hanley], from memory: good for n above 30.
  CHECK(rig::binomial_interval(0, 100).high == Approx(3.0 / 100.0).epsilon(0.02));
  CHECK(rig::binomial_interval(0, 1000).high == Approx(3.0 / 1000.0).epsilon(0.003));
  // The success run: 59 of 59 show 95 % at 95 % confidence.
  CHECK(rig::binomial_interval(59, 59).low >= 0.95);
  CHECK(rig::binomial_interval(58, 58).low < 0.95);
}

TEST_CASE("exact limits of a share", "[formula]") {
  // [Clopper]: low and high solve P(X >= k) = 0.025 and P(X <= k) = 0.025 of the binomial law.
  const std::size_t k = 3, n = 20;
  const auto share = rig::binomial_interval(k, n);
  const auto at_most = [&](std::size_t most, double p) {
    double sum = 0.0, term = std::pow(1.0 - p, double(n));
    for (std::size_t i = 0; i <= most; ++i) {
      sum += term;
      term *= p / (1.0 - p) * static_cast<double>(n - i) / static_cast<double>(i + 1);
    }
    return sum;
  };
  CHECK(at_most(k, share.high) == Approx(0.025).epsilon(1e-9));
  CHECK(1.0 - at_most(k - 1, share.low) == Approx(0.025).epsilon(1e-9));
}

TEST_CASE("the coupling of a record is that of the capacitive divider", "[formula]") {
  // BVR = C_wr/C_T: Busse, Erdman, Kerkman, Schlegel, Skibinski, APEC 1996 (abstract read). 100 pF
  // of 1 nF at a link of 400 V: 10 %, so the shaft steps by 13.3 V at an edge of a third.
  const test::ShaftTruth truth{
      .link_V = 400.0, .ratio = 100.0 / 1000.0, .median_V = 1e4, .duration_s = 1e-3};
  rig::ShaftVoltageRun run;
  run.open = test::shaft_record(truth, 3, true);
  run.probe_capacitance = Capacitance::from_value(0.0);
  run.total_capacitance = {Capacitance::from_value(1e-9), {}};
  const auto fit = rig::fit_shaft_voltage(run);
  CHECK(fit.coupling->value == Approx(0.1).epsilon(1e-3));
  CHECK(fit.winding_rotor->value.value() == Approx(100e-12).epsilon(1e-3));
  CHECK(fit.open.step.value() == Approx(400.0 / 3.0 * 0.1).epsilon(2e-3));
}

TEST_CASE("a rise of 0.35 over the bandwidth is the instrument's own", "[formula]") {
  // A single pole of bandwidth B rises from 10 to 90 % in ln(9)/(2 pi B) = 0.3497/B (textbook).
  test::ShaftTruth truth{.median_V = 1e4, .duration_s = 0.5e-3};
  rig::ShaftVoltageRun run;
  run.open = test::shaft_record(truth, 3, true);
  const double own_s = std::log(9.0) / (2.0 * 3.14159265358979) / 10e6;
  CHECK(own_s * 10e6 == Approx(0.35).epsilon(1e-3));
  const auto warns = [&](double bandwidth_Hz) {
    run.bandwidth = Frequency::from_value(bandwidth_Hz);
    for (const std::string& warning : rig::fit_shaft_voltage(run).warnings)
      if (warning.find("0.35 over its bandwidth") != std::string::npos) return true;
    return false;
  };
  CHECK(warns(10e6));        // 35 ns of 48 measured
  CHECK_FALSE(warns(20e6));  // 17.5 ns of 48
}
