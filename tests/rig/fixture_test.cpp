#include "ohmdrag/rig/fixture.hpp"

#include <catch2/catch.hpp>
#include <numbers>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/rig/series_pair.hpp"
#include "rig/sweep_log.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using Catch::Matchers::Contains;
using Complex = std::complex<double>;
using rig::Fixture;
using rig::FixtureForm;
using rig::FixtureImpedance;
using rig::Sweep;

namespace {

constexpr Complex j{0.0, 1.0};

/// Leads of 50 mohm and 20 nH, 5 pF across the clips.
struct Leads {
  Complex series, across;
  explicit Leads(Frequency frequency) {
    const double w = 2.0 * std::numbers::pi * frequency.value();
    series = 0.05 + j * w * 20e-9;
    across = 1.0 / (j * w * 5e-12);
  }
  /// What an instrument shows of a specimen behind them, first leads, then clips.
  Complex seen(Complex ohm) const { return series + 1.0 / (1.0 / ohm + 1.0 / across); }
};

Sweep seen(const Sweep& specimen) {
  Sweep out = specimen;
  for (rig::SweepPoint& point : out) point.ohm = Leads(point.frequency).seen(point.ohm);
  return out;
}
Sweep shorted(Sweep sweep) {
  for (rig::SweepPoint& point : sweep) point.ohm = Leads(point.frequency).series;
  return sweep;
}
Sweep opened(Sweep sweep) {
  for (rig::SweepPoint& point : sweep)
    point.ohm = Leads(point.frequency).series + Leads(point.frequency).across;
  return sweep;
}

Sweep specimen(double ohm) {
  return test::sweep_log({.path = {Resistance::from_value(ohm), 30.0_nH}, .noise = 0.0}, 1);
}

std::string refusal(const Sweep& measured, const Fixture& fixture) {
  try {
    rig::compensated(measured, fixture);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "not refused";
}

std::string all(const std::vector<std::string>& notes) {
  std::string text;
  for (const std::string& note : notes) text += note + '\n';
  return text;
}

}  // namespace

TEST_CASE("leads and clips are taken off exactly") {
  const Sweep truth = specimen(2.0), measured = seen(truth);
  const Fixture fixture{.short_circuit = shorted(truth), .open = opened(truth), .load = {}};
  const auto out = rig::compensated(measured, fixture);
  REQUIRE(out.sweep.size() == truth.size());
  for (std::size_t i = 0; i < truth.size(); ++i)
    CHECK(std::abs(out.sweep[i].ohm / truth[i].ohm - 1.0) < 1e-8);
}

TEST_CASE("a load makes up for the gain of the instrument as well") {
  const Complex z{1.2, 0.7}, gain{1.1, -0.05}, standard = 50.0;
  const Leads leads(1.0_MHz);
  const FixtureImpedance shown{gain * leads.series, gain * (leads.series + leads.across),
                               gain * leads.seen(standard), standard};
  const Complex seen = gain * leads.seen(z);
  const Complex out = rig::without_fixture(seen, shown, FixtureForm::series_first);
  CHECK(std::abs(out / z - 1.0) < 1e-8);
  CHECK(std::abs(rig::without_fixture(seen, {shown.short_ohm, shown.open_ohm, {}, {}},
                                      FixtureForm::series_first) /
                     z -
                 1.0) > 0.05);
  CHECK_THROWS_WITH(
      rig::without_fixture(seen, {{}, {}, shown.load_ohm, standard}, FixtureForm::series_first),
      Contains("needs open and short"));
}

TEST_CASE("a symmetric fixture is another form") {
  // A T of two equal arms a and a leg g: open a + g, short a + a g/(a + g).
  const Complex a{0.1, 0.2}, g{0.0, -5000.0}, z{30.0, 4.0};
  const Complex open = a + g, closed = a + a * g / (a + g), seen = a + (a + z) * g / (a + z + g);
  const Complex out = rig::without_fixture(seen, {closed, open, {}, {}}, FixtureForm::symmetric);
  CHECK(std::abs(out / z - 1.0) < 1e-9);
}

TEST_CASE("one log of the fixture takes off its own part, none takes off nothing") {
  const Complex z{3.0, 1.0};
  const auto form = FixtureForm::series_first;
  CHECK(rig::without_fixture(z, {}, form) == z);
  CHECK(rig::without_fixture(z, {Complex{0.1, 0.2}, {}, {}, {}}, form) == z - Complex{0.1, 0.2});
  const Complex open{0.0, -100.0}, seen = 1.0 / (1.0 / z + 1.0 / open);
  CHECK(std::abs(rig::without_fixture(seen, {{}, open, {}, {}}, form) / z - 1.0) < 1e-12);
}

TEST_CASE("a fixture is read between its frequencies, not beside them") {
  const Sweep truth = specimen(2.0), measured = seen(truth);
  Sweep coarse;
  for (std::size_t i = 0; i < truth.size(); i += 2) coarse.push_back(truth[i]);
  const auto out = rig::compensated(measured, {shorted(coarse), {}, {}});
  CHECK(std::abs(out.sweep[1].ohm / truth[1].ohm - 1.0) < 1e-3);
  coarse.pop_back();
  CHECK_THAT(refusal(measured, {shorted(coarse), {}, {}}), Contains("over one band"));
}

TEST_CASE("the rule of hundred is said, with where it is broken") {
  const Sweep truth = specimen(2.0);
  const auto of_short = rig::compensated(seen(truth), {shorted(truth), {}, {}});
  CHECK_THAT(all(of_short.warnings), Contains("short of the fixture is more than a hundredth"));
  const Sweep large = specimen(20e3);
  const auto of_open = rig::compensated(seen(large), {shorted(large), opened(large), {}});
  CHECK_THAT(all(of_open.warnings), Contains("open of the fixture"));
  const Sweep small = test::sweep_log({.path = {100.0_ohm, 0.0_nH}, .to_Hz = 1e5, .noise = 0.0}, 1);
  CHECK(rig::compensated(seen(small), {shorted(small), opened(small), {}}).warnings.empty());
}

TEST_CASE("logs of a fixture that cannot be are refused in words") {
  const Sweep truth = specimen(2.0), measured = seen(truth);
  CHECK_THAT(refusal(measured, {opened(truth), shorted(truth), {}}), Contains("swapped"));
  CHECK_THAT(refusal(measured, {shorted(truth), {}, truth}), Contains("log all three"));
  CHECK_THAT(refusal(shorted(truth), {shorted(truth), {}, {}}), Contains("nothing is left"));
  const Sweep tiny = specimen(0.001);
  Sweep small = tiny;
  for (rig::SweepPoint& point : small) point.ohm = 0.001;
  CHECK_THAT(refusal(seen(small), {shorted(truth), {}, {}}), Contains("less than a tenth of the"));
  Sweep huge = truth;
  for (rig::SweepPoint& point : huge) point.ohm = 1e9;
  CHECK_THAT(refusal(seen(huge), {{}, opened(truth), {}}),
             Contains("more than ten times the open"));
}

TEST_CASE("two contacts in series: the mean is exact, one of them is not") {
  Sweep pair = specimen(2.0);
  const Sweep mean = rig::share_of_series(pair, 2);
  for (std::size_t i = 0; i < pair.size(); ++i) CHECK(mean[i].ohm == 0.5 * pair[i].ohm);
  CHECK(rig::parallel_over_mean(0.5) == 0.5);
  CHECK(rig::parallel_over_mean(0.65) == Approx(0.455));
}

TEST_CASE("three pairs over other frequencies are refused") {
  const Sweep ab = specimen(2.0);
  Sweep other = ab;
  other.back().frequency *= 1.1;
  CHECK_THROWS_WITH(rig::resolved_pairs(ab, ab, other), Contains("same frequencies"));
}
