#include "ohmdrag/rig/shaft_voltage_fit.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>
#include <string>

#include "ohmdrag/rig/shaft_voltage_findings.hpp"
#include "rig/shaft_voltage_record.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using test::shaft_record;
using test::ShaftTruth;

namespace {

rig::ShaftVoltageRun run_of(const ShaftTruth& truth, unsigned seed = 1, bool with_common = true) {
  rig::ShaftVoltageRun run;
  run.open = shaft_record(truth, seed, with_common);
  if (!with_common) run.dc_link = Voltage::from_value(truth.link_V);
  return run;
}

std::string refusal(const rig::ShaftVoltageRun& run) {
  try {
    rig::fit_shaft_voltage(run);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "not refused";
}

std::string all(const std::vector<std::string>& texts) {
  std::string out;
  for (const std::string& text : texts) out += text + '\n';
  return out;
}

const ShaftTruth strong_film{.median_V = 1e4};

}  // namespace

TEST_CASE("without noise the ratio and the ringing come back") {
  ShaftTruth truth = strong_film;
  truth.noise_V = truth.resolution_V = truth.common_noise_V = truth.common_resolution_V = 0.0;
  truth.leak_s = 1e9;
  truth.quality = 2.0;  // dies down before the next edge
  const auto fit = rig::fit_shaft_voltage(run_of(truth));
  REQUIRE(fit.coupling);
  CHECK(fit.coupling->value == Approx(truth.ratio).epsilon(1e-8));
  REQUIRE(fit.ringing);
  CHECK(fit.ringing->frequency.value.value() == Approx(truth.ringing_Hz).epsilon(1e-8));
  CHECK(fit.ringing->quality.value == Approx(truth.quality).epsilon(1e-8));
  // The end of the ramp lies between two samples.
  CHECK(fit.ringing->share.value == Approx(truth.ringing_share).epsilon(0.02));
  CHECK(fit.open.rise->value() == Approx(0.8 * truth.rise_s).epsilon(0.02));
}

TEST_CASE("every collapse is found where and as high as it was") {
  const bool with_common = GENERATE(true, false);
  const ShaftTruth truth{.weibull = false, .median_V = 24.0, .shape = 0.15, .late_share = 0.3};
  test::ShaftEvents events;
  rig::ShaftVoltageRun run;
  run.open = shaft_record(truth, 4, with_common, &events);
  if (!with_common) run.dc_link = Voltage::from_value(800.0);
  const auto fit = rig::fit_shaft_voltage(run);
  CAPTURE(with_common);
  CHECK(fit.open.edges + 4 >= events.edges);  // some fall together
  REQUIRE(events.collapses > 30);
  CHECK(fit.open.collapses.size() + 2 >= events.collapses);
  CHECK(fit.open.collapses.size() <= events.collapses);
  for (const rig::Collapse& collapse : fit.open.collapses) {
    const double at_s = collapse.at.value();
    CHECK(std::ranges::any_of(events.collapse_s, [&](double truth_s) {
      return std::abs(truth_s - at_s) < 3.0 * truth.interval_s;
    }));
    CHECK(std::abs(collapse.voltage.value()) > 10.0);
  }
  const double rate = static_cast<double>(events.collapses) / truth.duration_s;
  CHECK(fit.open.rate_per_s->low < rate);
  CHECK(fit.open.rate_per_s->high > rate);
}

TEST_CASE("a record without a collapse gives bounds, no value") {
  const auto run = run_of(strong_film);
  const auto fit = rig::fit_shaft_voltage(run);
  CHECK(fit.open.collapses.empty());
  CHECK(fit.breakdown() == nullptr);
  REQUIRE(fit.held);
  CHECK(fit.held->edges == 59);
  CHECK(fit.held->share == Approx(0.95).epsilon(0.001));
  CHECK(fit.held->voltage > Voltage::from_value(15.0));
  CHECK(fit.open.rate_per_s->value == 0.0);
  CHECK(fit.open.rate_per_s->high == Approx(3.0 / 2e-3).epsilon(0.01));
  CHECK_THAT(all(fit.notes), Contains("a lower bound of the breakdown voltage, never its value"));
  const auto findings = rig::shaft_voltage_findings({}, "", run, fit);
  for (const rig::RunFigure& figure : findings.figures) {
    if (figure.key == "breakdown_median_V") CHECK_FALSE(figure.told);
    if (figure.key != "breakdown_lower_bound_V") continue;
    CHECK(std::isinf(figure.told->interval->second));
  }
}

TEST_CASE("a shaft that conducts tells neither ratio nor films, and says why") {
  ShaftTruth truth;
  truth.conducts = true;
  const auto fit = rig::fit_shaft_voltage(run_of(truth));
  CHECK_FALSE(fit.coupling);
  CHECK_FALSE(fit.breakdown());
  CHECK_FALSE(fit.held);
  CHECK_THAT(all(fit.notes), Contains("A bearing that conducts"));
  CHECK_THAT(refusal(run_of(truth, 1, false)), Contains("never steps: a bearing that conducts"));
}

TEST_CASE("films that conduct at times are told and left out") {
  rig::ShaftVoltageRun run = run_of({});
  // The second half of the record with the shaft at zero.
  for (std::size_t i = run.open.shaft.size() / 2; i < run.open.shaft.size(); ++i)
    run.open.shaft[i] = Voltage::from_value(i % 2 == 0 ? 0.25 : 0.0);
  const auto fit = rig::fit_shaft_voltage(run);
  CHECK(fit.open.idle_edges > 50);
  REQUIRE(fit.coupling);
  CHECK(fit.coupling->value == Approx(0.06).epsilon(0.01));
  CHECK_THAT(all(fit.notes), Contains("its bearings conduct at times"));
}

TEST_CASE("with and without a grounding contact, side by side") {
  rig::ShaftVoltageRun run = run_of({});
  ShaftTruth with;
  with.contact_s = 50e-9;
  with.duration_s = 0.5e-3;
  run.grounded = shaft_record(with, 2, true);
  const auto fit = rig::fit_shaft_voltage(run);
  REQUIRE(fit.grounded);
  CHECK_FALSE(fit.grounded->collapses_judged);
  CHECK(fit.grounded->peak < 0.8 * fit.open.peak);
  CHECK(fit.grounded->held < Voltage::from_value(0.2));
  CHECK_THAT(all(fit.notes), Contains("With the contact the shaft reaches"));
  const auto findings = rig::shaft_voltage_findings({}, "", run, fit);
  CHECK(findings.tables.front().rows.size() == 2);
}

TEST_CASE("the probe's capacitance is taken off and warned of") {
  rig::ShaftVoltageRun run = run_of(strong_film);
  run.probe_capacitance = Capacitance::from_value(50e-12);
  run.total_capacitance = {Capacitance::from_value(1000e-12), Capacitance::from_value(50e-12)};
  const auto fit = rig::fit_shaft_voltage(run);
  CHECK(fit.coupling_free->value == Approx(1.05 * fit.coupling->value));
  CHECK(fit.winding_rotor->value.value() == Approx(1050e-12 * fit.coupling->value));
  CHECK(fit.winding_rotor->half_width.value() == Approx(50e-12 * 0.06).epsilon(0.02));
  CHECK_THAT(all(fit.warnings), Contains("The probe adds 5 %"));
  run.probe_capacitance = Capacitance::from_value(5e-12);
  CHECK(all(rig::fit_shaft_voltage(run).warnings).find("The probe adds") == std::string::npos);
}

TEST_CASE("an instrument that is too slow is warned of") {
  SECTION("in bandwidth") {
    rig::ShaftVoltageRun run = run_of({});
    run.bandwidth = Frequency::from_value(8e6);  // 44 ns by itself
    CHECK_THAT(all(rig::fit_shaft_voltage(run).warnings), Contains("0.35 over its bandwidth"));
    run.bandwidth = Frequency::from_value(200e6);
    CHECK(all(rig::fit_shaft_voltage(run).warnings).find("0.35") == std::string::npos);
  }
  SECTION("in samples, with the common mode") {
    ShaftTruth truth;
    truth.interval_s = 30e-9;
    const auto fit = rig::fit_shaft_voltage(run_of(truth));
    CHECK_THAT(all(fit.warnings), Contains("sample faster"));
    CHECK(fit.open.collapses_judged);
  }
  SECTION("in samples, without") {
    ShaftTruth truth;
    truth.interval_s = 60e-9;
    const auto fit = rig::fit_shaft_voltage(run_of(truth, 1, false));
    CHECK_FALSE(fit.open.collapses_judged);
    CHECK_THAT(all(fit.notes), Contains("Collapses are not told"));
  }
}

TEST_CASE("short records, offsets and clipped peaks are warned of") {
  ShaftTruth truth;
  SECTION("short") {
    truth.duration_s = 0.3e-3;
    CHECK_THAT(all(rig::fit_shaft_voltage(run_of(truth)).warnings), Contains("is short"));
  }
  SECTION("offset") {
    truth.offset_V = 3.0;
    CHECK_THAT(all(rig::fit_shaft_voltage(run_of(truth)).warnings), Contains("not at zero"));
  }
  SECTION("clipped peaks") {
    truth.median_V = 1e4;
    truth.full_V = 52.0;
    CHECK_THAT(all(rig::fit_shaft_voltage(run_of(truth)).warnings), Contains("clips"));
  }
}

TEST_CASE("records that nothing should be fitted to are refused in words") {
  SECTION("few samples") {
    CHECK_THAT(refusal(run_of({.duration_s = 1e-6})), Contains("has 100 samples"));
  }
  SECTION("time backwards") {
    rig::ShaftVoltageRun run = run_of({});
    std::swap(run.open.time[500], run.open.time[501]);
    CHECK_THAT(refusal(run), Contains("time runs back"));
  }
  SECTION("nothing connected") {
    rig::ShaftVoltageRun run = run_of({});
    for (Voltage& v : run.open.shaft) v = Voltage::from_value(0.1);
    CHECK_THAT(refusal(run), Contains("all the time: is the probe connected?"));
  }
  SECTION("swapped columns") {
    rig::ShaftVoltageRun run = run_of(strong_film);
    std::swap(run.open.shaft, run.open.common_mode);
    CHECK_THAT(refusal(run), Contains("are the columns swapped"));
  }
  SECTION("one channel inverted") {
    rig::ShaftVoltageRun run = run_of({});
    for (Voltage& v : run.open.shaft) v = -v;
    CHECK_THAT(refusal(run), Contains("against the common mode"));
  }
  SECTION("saturated") {
    ShaftTruth truth;
    truth.full_V = 15.0;
    CHECK_THAT(refusal(run_of(truth)), Contains("the instrument is saturated"));
  }
  SECTION("millivolts read as volts") {
    rig::ShaftVoltageRun run = run_of({});
    for (Voltage& v : run.open.shaft) v = 1000.0 * v;
    CHECK_THAT(refusal(run), Contains("is the unit right"));
  }
  SECTION("a common mode beyond the link") {
    rig::ShaftVoltageRun run = run_of({});
    run.dc_link = Voltage::from_value(80.0);
    CHECK_THAT(refusal(run), Contains("more than twice the link"));
  }
  SECTION("the inverter off") {
    rig::ShaftVoltageRun run = run_of({});
    for (std::size_t i = 0; i < run.open.time.size(); ++i)
      run.open.common_mode[i] = Voltage::from_value(i % 2 == 0 ? 0.0 : 0.2);
    CHECK_THAT(refusal(run), Contains("the common mode never steps"));
  }
}

TEST_CASE("what is missing is told") {
  rig::ShaftVoltageRun run = run_of({}, 1, false);
  run.dc_link.reset();
  const auto fit = rig::fit_shaft_voltage(run);
  CHECK_FALSE(fit.coupling);
  CHECK_THAT(all(fit.notes), Contains("neither the common mode nor the link voltage is known"));
  CHECK_THAT(all(fit.notes), Contains("state the bandwidth"));
  CHECK(fit.breakdown());
}

TEST_CASE("a million samples are taken apart without looking twice at each pair") {
  ShaftTruth truth;
  truth.duration_s = 10e-3;
  const auto fit = rig::fit_shaft_voltage(run_of(truth));
  CHECK(fit.open.samples == 1'000'000);
  CHECK(fit.coupling);
  CHECK(fit.breakdown()->law == rig::BreakdownLaw::weibull);
}
