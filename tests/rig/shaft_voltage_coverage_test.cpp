#include <catch2/catch.hpp>
#include <cmath>
#include <string>
#include <vector>

#include "ohmdrag/quantity/distribution.hpp"
#include "rig/shaft_voltage_record.hpp"
#include "support/effort.hpp"

// Simulated records, fitted: how often the 95 % intervals hold what the simulation put in.

using namespace ohmdrag;
using test::ShaftTruth;

namespace {

/// Counts how often an interval held the truth.
struct Held {
  std::string what;
  int held = 0, told = 0;

  void take(double truth, double value, double half_width) {
    take(truth, Interval{value - half_width, value, value + half_width});
  }
  void take(double truth, const Interval& interval) {
    ++told;
    if (interval.low <= truth && truth <= interval.high) ++held;
  }
  double share() const { return static_cast<double>(held) / told; }
};

struct Counts {
  Held coupling{"coupling ratio"}, frequency{"ringing frequency"}, damping{"ringing damping"},
      quality{"quality"}, share{"ringing share"}, median{"median breakdown voltage"},
      spread{"spread"}, low{"5 % point"};
  int seeds = 0, best = 0;
};

double spread_of(const ShaftTruth& truth) {
  return truth.weibull ? 1.0 / truth.shape : truth.shape;
}
/// The voltage at which 5 % of the films break.
double low_of(const ShaftTruth& truth) {
  if (!truth.weibull) return truth.median_V * std::exp(truth.shape * normal_quantile(0.05));
  return truth.median_V * std::pow(std::log1p(-0.05) / std::log(0.5), 1.0 / truth.shape);
}

Counts counted(ShaftTruth truth, bool with_common) {
  Counts counts;
  for (int seed = 1; seed <= test::effort(200); ++seed) {
    // Another moment of the fundamental each time.
    truth.start_s = 1.37e-3 * seed;
    rig::ShaftVoltageRun run;
    run.open = test::shaft_record(truth, static_cast<unsigned>(seed), with_common);
    if (!with_common) run.dc_link = Voltage::from_value(truth.link_V);
    const rig::ShaftVoltageFit fit = rig::fit_shaft_voltage(run);
    ++counts.seeds;
    if (fit.coupling)
      counts.coupling.take(truth.ratio, fit.coupling->value, fit.coupling->half_width);
    if (fit.ringing) {
      const rig::RingingFit& ringing = *fit.ringing;
      const double damping = 3.14159265358979 * truth.ringing_Hz / truth.quality;
      counts.frequency.take(truth.ringing_Hz, ringing.frequency.value.value(),
                            ringing.frequency.half_width.value());
      counts.damping.take(damping, ringing.damping.value.value(),
                          ringing.damping.half_width.value());
      counts.quality.take(truth.quality, ringing.quality.value, ringing.quality.half_width);
      counts.share.take(truth.ringing_share, ringing.share.value, ringing.share.half_width);
    }
    const auto& films = truth.weibull ? fit.weibull : fit.log_normal;
    if (films && films->told) {
      counts.median.take(truth.median_V, films->median_V);
      counts.low.take(low_of(truth), films->at_5_percent_V);
      counts.spread.take(spread_of(truth), films->spread_of_ln_V);
    }
  }
  return counts;
}

void check(const Held& held, int seeds, double least_told = 0.95) {
  CAPTURE(held.what, held.held, held.told, seeds);
  CHECK(held.told >= least_told * seeds);
  CHECK(held.share() >= 0.90);
  CHECK(held.share() <= 0.985);
}

}  // namespace

TEST_CASE("intervals hold the truth: common mode recorded, Weibull film") {
  const Counts counts = counted({.duration_s = 1.5e-3}, true);
  for (const Held* held : {&counts.coupling, &counts.frequency, &counts.damping, &counts.quality,
                           &counts.share, &counts.median, &counts.spread, &counts.low})
    check(*held, counts.seeds);
}

TEST_CASE("intervals hold the truth: shaft and link alone, log-normal film that may break late") {
  const Counts counts = counted({.weibull = false,
                                 .median_V = 24.0,
                                 .shape = 0.25,
                                 .late_share = 0.3,
                                 .late_s = 0.5e-6,
                                 .duration_s = 1.5e-3},
                                false);
  for (const Held* held : {&counts.coupling, &counts.frequency, &counts.damping, &counts.quality,
                           &counts.share, &counts.median, &counts.spread, &counts.low})
    check(*held, counts.seeds);
}

TEST_CASE("intervals hold the truth: few collapses, most edges censored") {
  const Counts counts =
      counted({.rise_s = 120e-9, .median_V = 45.0, .interval_s = 20e-9, .duration_s = 3e-3}, true);
  for (const Held* held : {&counts.coupling, &counts.median, &counts.spread, &counts.low})
    check(*held, counts.seeds, 0.8);
}
