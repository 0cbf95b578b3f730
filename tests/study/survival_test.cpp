#include "study/survival.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/study/evaluate.hpp"
#include "study/sample_case.hpp"
#include "study/service_case.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using study::DamageRate;
using study::YearsStep;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

/// A bearing that loses these shares an hour at begin, middle and end.
std::vector<DamageRate> bearing_of(double fatigue_per_h, double begin, double middle, double end) {
  return {{0.0, 0.0, fatigue_per_h, begin},
          {0.5, 0.0, fatigue_per_h, middle},
          {1.0, 0.0, fatigue_per_h, end}};
}

const study::LifeSlopes slopes{1.5, 2.0};

/// A ring of 40 ohm that wears off its deflection: near the rise time of the edges, where a little
/// more resistance lets more through. One draw is the nominal case.
study::Case wearing_case() {
  study::Case c = sample_case();
  c.samples = 1;
  c.variants[1].grounding = sample_grounding(40.0_ohm, 0.006_N_mm);
  study::PadService pad = felt();
  pad.wear = wear(5e-8);
  for (study::Variant& variant : c.variants) {
    if (!variant.grounding) continue;
    auto& ring = std::get<study::RingElement>(variant.grounding->element.form);
    ring.resistance.end_of_service_factor = known(1.0);
    ring.service = pad;
  }
  study::DamageLaw law;
  law.kind = study::LawKind::dose;
  law.observed = "first raceway noise";
  law.after = known(20000.0_h);
  law.in_variant = "plain";
  c.laws = {law};
  return c;
}

study::YearsFindings years_of(const study::Case& c, std::size_t v) {
  return *study::evaluate(c, {.life = true}).variants.at(v).years;
}

}  // namespace

// W. Weibull (1951): a tenth has failed at L10; two independent causes multiply.
TEST_CASE("constant damage is the Weibull survival of its lives", "[formula]") {
  const auto curve = bearing_of(1.0 / 20000.0, 1.0 / 10000.0, 1.0 / 10000.0, 1.0 / 10000.0);
  const double whole = study::survival_of({curve}, slopes, 10000.0, 1.0, 1.0);
  CHECK(whole == Approx(std::pow(0.9, std::pow(0.5, 1.5)) * 0.9).epsilon(1e-12));
  CHECK(study::survival_of({curve, curve}, slopes, 10000.0, 1.0, 1.0) ==
        Approx(whole * whole).epsilon(1e-12));
  CHECK(study::survival_of({curve}, slopes, 10000.0, 0.0, 1.0) == 1.0);
}

TEST_CASE("a law that kills at once kills from the first hour on", "[derived]") {
  const auto curve = bearing_of(0.0, 0.0, infinite, infinite);
  CHECK(study::survival_of({curve}, slopes, 1000.0, 0.0, 1.0) == 1.0);
  CHECK(study::survival_of({curve}, slopes, 1000.0, 1e-9, 1.0) == 0.0);
}

TEST_CASE("what no cause harms survives", "[derived]") {
  CHECK(study::survival_of({bearing_of(0.0, 0.0, 0.0, 0.0)}, slopes, 1e9, 1.0, 3.0) == 1.0);
  CHECK(study::survival_of({}, slopes, 1e9, 1.0, 1.0) == 1.0);
}

TEST_CASE("damage is counted at the age it comes at", "[derived]") {
  const double x = 1e-4;
  const auto late = bearing_of(0.0, 0.0, 0.0, 2.0 * x), early = bearing_of(0.0, 2.0 * x, 0.0, 0.0);
  const auto at = [](const auto& curve, double share) {
    return study::survival_of({curve}, slopes, 10000.0, share, 1.0);
  };
  CHECK(at(late, 0.5) == 1.0);
  CHECK(at(early, 0.5) < 1.0);
  CHECK(at(late, 1.0) == Approx(at(early, 1.0)).epsilon(1e-12));
  // A triangle of half the service: theta = 0.5 * 0.5 * 2e-4 * 10 000.
  CHECK(at(late, 1.0) == Approx(std::pow(0.9, 0.5 * 0.5)).epsilon(1e-12));
}

TEST_CASE("survival follows the dose of a contact that ages", "[derived]") {
  const study::YearsFindings years = years_of(wearing_case(), 1);
  CHECK(years.survival_law == "dose");
  // By hand: the dose that came together, over that of the 20 000 h of the observation.
  const double dose_of_observation = 0.5 * years.steps.back().baseline_dose_J_per_mm2;
  for (const YearsStep& step : years.steps) {
    const double lived = step.dose_J_per_mm2 / dose_of_observation;
    CHECK(step.survival ==
          Approx(step.fatigue_survival * std::pow(0.9, lived * lived)).epsilon(1e-9));
    const double open = step.open_dose_J_per_mm2 / dose_of_observation;
    CHECK(step.open_survival ==
          Approx(step.fatigue_survival * std::pow(0.9, open * open)).epsilon(1e-9));
  }
  // An element that is better when new leaves more at half time than its end would.
  const YearsStep &half = years.steps[5], &end = years.steps.back();
  CHECK(half.dose_J_per_mm2 < 0.5 * end.dose_J_per_mm2);
  CHECK(end.survival > end.open_survival);
  // Failed open it is the present design: its oil has a stated temperature.
  CHECK(end.open_survival == Approx(end.baseline_survival).epsilon(1e-9));
}

TEST_CASE("survival falls over the service", "[derived]") {
  for (const std::size_t v : {0, 1, 2}) {
    const auto steps = years_of(wearing_case(), v).steps;
    CHECK(steps.front().survival == 1.0);
    for (std::size_t i = 1; i < steps.size(); ++i) {
      CHECK(steps[i].survival <= steps[i - 1].survival);
      CHECK(steps[i].survival <= steps[i].fatigue_survival);
    }
  }
}

TEST_CASE("without a law survival is that of fatigue, and the words say so", "[derived]") {
  study::Case c = wearing_case();
  c.laws.clear();
  for (const std::size_t v : {0, 1, 2}) {
    const study::YearsFindings years = years_of(c, v);
    CHECK(years.survival_law.empty());
    CHECK(years.survival_in_words.find("no law of damage is named") != std::string::npos);
    for (const YearsStep& step : years.steps) {
      CHECK(step.survival == step.fatigue_survival);
      CHECK(step.open_survival == step.fatigue_survival);
      CHECK(step.baseline_survival == step.fatigue_survival);
    }
  }
}

TEST_CASE("a law taught where nothing strikes leaves fatigue alone, and says so", "[derived]") {
  study::Case c = wearing_case();
  c.laws.front().in_variant = "quiet";
  auto quiet = std::make_shared<study::Case>(c);
  quiet->inverter->dc_link = known(1.0_V);
  auto variant = sample_variant("quiet", std::nullopt);
  variant.world = quiet;
  c.variants.push_back(variant);
  const study::YearsFindings years = years_of(c, 0);
  CHECK(years.survival_law.empty());
  CHECK(years.survival_in_words.find("says nothing here") != std::string::npos);
  CHECK(years.steps.back().survival == years.steps.back().fatigue_survival);
}
