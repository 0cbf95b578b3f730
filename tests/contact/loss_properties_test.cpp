// What must hold whatever the numbers are: random inputs of a fixed seed over all orders of
// magnitude that a shaft can meet. Wear and loss of force.

#include <cmath>

#include "ohmdrag/contact/element_design.hpp"
#include "ohmdrag/contact/force_loss.hpp"
#include "ohmdrag/contact/friction.hpp"
#include "ohmdrag/contact/lip_wear.hpp"
#include "ohmdrag/contact/shaft_fit.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"
#include "support/random_input.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::check_continuous;
using test::RandomInput;

namespace {

constexpr int trials = 300;
constexpr unsigned seed = 20240517;

Relaxation some_relaxation(RandomInput& random) {
  return {.per_decade = random.uniform(0.0, 0.1),
          .log_time = Time::from_value(random.over_decades(1.0, 1e4)),
          .chemical_time = Time::from_value(3600.0 * random.over_decades(100.0, 1e5)),
          .at = from_celsius(random.uniform(90.0, 160.0)),
          .activation_temperature = TemperatureDifference::from_value(random.uniform(0.0, 15000.0)),
          .stretch = random.uniform(0.2, 1.0)};
}

}  // namespace

TEST_CASE("wear rises with way, load and wear rate and never turns back", "[derived]") {
  RandomInput random(seed);
  for (int i = 0; i < trials; ++i) {
    const auto k = WearRate::from_value(1e-9 * random.over_decades(1e-10, 1e-3));
    const auto f = LineForce::from_value(random.over_decades(1.0, 500.0));
    const auto way = Length::from_value(random.over_decades(1.0, 1e9));
    const LipEdge edge{.air_angle_rad = random.uniform(0.2, 0.8),
                       .oil_angle_rad = random.uniform(0.5, 1.2),
                       .new_width = Length::from_value(random.over_decades(1e-5, 5e-4))};
    const double more = random.uniform(1.01, 10.0);
    const Length width = worn_width(edge, k, f, way);
    CHECK(width >= edge.new_width);
    CHECK(worn_width(edge, k, f, more * way) >= width);
    CHECK(worn_width(edge, k, more * f, way) >= width);
    CHECK(worn_width(edge, more * k, f, way) >= width);
    CHECK(radial_wear(edge, width).value() >= 0.0);
    const Force load = radial_load(f, 40.0_mm);
    CHECK(worn_volume(k, load, way).value() > 0.0);
    CHECK(worn_volume(k, load, more * way) > worn_volume(k, load, way));
    CHECK(groove_depth(k, f, width, more * way) > groove_depth(k, f, width, way));
    const auto p = Pressure::from_value(random.over_decades(1e2, 1e8));
    const auto u = Speed::from_value(random.over_decades(1e-3, 100.0));
    CHECK(wear_depth_rate(k, p, u).value() > 0.0);
    CHECK(wear_depth_rate(k, p, more * u) > wear_depth_rate(k, p, u));
    CHECK(wear_depth_rate(k, p, -u) == wear_depth_rate(k, p, u));
    CHECK(wear_out_time(5.0_mm, k, p, more * u) < wear_out_time(5.0_mm, k, p, u));
  }
}

TEST_CASE("an elastic ring only loses force, at last all of it", "[derived]") {
  RandomInput random(seed);
  for (int i = 0; i < trials; ++i) {
    const ElasticRing ring{.line_force = LineForce::from_value(random.over_decades(1.0, 100.0)),
                           .deflection = Length::from_value(random.over_decades(1e-5, 3e-3)),
                           .width = Length::from_value(random.over_decades(2e-4, 1e-2))};
    const auto k = WearRate::from_value(1e-9 * random.over_decades(1e-9, 1e-3));
    LineForce before = ring.line_force;
    for (double way_m = 1.0; way_m < 1e12; way_m *= 30.0) {
      const auto worn = ring_force(ring, k, Length::from_value(way_m));
      CHECK(worn.line_force <= before);
      CHECK(worn.line_force.value() >= 0.0);
      CHECK(worn.wear.value() <= ring.deflection.value() * (1.0 + 1e-12));
      before = worn.line_force;
    }
  }
}

TEST_CASE("relaxation falls with time and, where it has an activation energy, with heat",
          "[derived]") {
  RandomInput random(seed);
  for (int i = 0; i < trials; ++i) {
    const Relaxation law = some_relaxation(random);
    const auto t = Time::from_value(random.over_decades(1.0, 1e8));
    const Temperature at = from_celsius(random.uniform(20.0, 170.0));
    const double left = relaxation(law, t, at).value;
    CHECK(left >= 0.0);
    CHECK(left <= 1.0);
    CHECK(relaxation(law, random.uniform(1.0, 100.0) * t, at).value <= left);
    CHECK(relaxation(law, t, at + 10.0_K).value <= left * (1.0 + 1e-12));
    CHECK(relaxation(law, Time{}, at).value == 1.0);
    check_continuous([&](double s) { return relaxation(law, Time::from_value(s), at).value; },
                     t.value());
  }
}

TEST_CASE("a spring sets steadily to its final set", "[derived]") {
  RandomInput random(seed);
  for (int i = 0; i < trials; ++i) {
    const SpringSet set{.final_set = random.uniform(0.0, 1.0),
                        .set_time = Time::from_value(random.over_decades(1e3, 1e7))};
    const auto t = Time::from_value(random.over_decades(1.0, 1e9));
    CHECK(spring_factor(set, 2.0 * t) <= spring_factor(set, t));
    CHECK(spring_factor(set, t) >= 1.0 - set.final_set - 1e-15);
    CHECK(spring_factor(set, t) <= 1.0);
  }
}

TEST_CASE("lip force is the sum of its parts and none of them turns negative by age", "[derived]") {
  RandomInput random(seed);
  const ModulusTable rubber{{from_celsius(-20.0), 2.5}, {from_celsius(-7.0), 1.5},
                            {20.0_degC, 1.0},           {60.0_degC, 0.75},
                            {100.0_degC, 0.6},          {150.0_degC, 0.5}};
  for (int i = 0; i < trials; ++i) {
    const LipForce lip{.spring = LineForce::from_value(random.uniform(0.0, 100.0)),
                       .rubber = LineForce::from_value(random.uniform(0.0, 100.0)),
                       .set = {.final_set = random.uniform(0.0, 0.2), .set_time = 100.0_h},
                       .relaxation = some_relaxation(random),
                       .modulus = rubber,
                       .radial_interference = Length::from_value(random.uniform(1e-4, 1e-3)),
                       .pressure_length = Length::from_value(random.uniform(0.0, 3e-3))};
    const LipState state{.age = Time::from_value(random.over_decades(1.0, 1e8)),
                         .temperature = from_celsius(random.uniform(-20.0, 150.0)),
                         .wear = Length::from_value(random.uniform(0.0, 1e-3)),
                         .over_pressure = Pressure::from_value(random.uniform(0.0, 5e4))};
    const auto now = lip_force(lip, state);
    CHECK(now.spring.value() >= 0.0);
    CHECK(now.rubber.value() >= 0.0);
    CHECK(now.total.value() ==
          Approx((now.spring + now.rubber + now.pressure).value()).margin(1e-12));
    LipState later = state;
    later.age = 3.0 * state.age;
    CHECK(lip_force(lip, later).total.value() <= now.total.value() * (1.0 + 1e-12));
    LipState more_worn = state;
    more_worn.wear = state.wear + 0.05_mm;
    CHECK(lip_force(lip, more_worn).total.value() <= now.total.value() * (1.0 + 1e-12));
    LipState hotter = state;
    hotter.temperature = state.temperature + 1.0_K;
    if (in_celsius(hotter.temperature) <= 150.0)
      CHECK(lip_force(lip, hotter).total.value() <= now.total.value() * (1.0 + 1e-12));
  }
}

TEST_CASE("the modulus of a rubber has no jump at its points", "[derived]") {
  const ModulusTable rubber{{from_celsius(-20.0), 2.5}, {20.0_degC, 1.0}, {150.0_degC, 0.5}};
  for (const double degC : {-20.0, -5.0, 20.0, 80.0, 150.0, 170.0})
    check_continuous(
        [&](double K) { return modulus_ratio(rubber, Temperature::from_value(K)).value; },
        from_celsius(degC).value());
}

TEST_CASE("a larger shaft presses more and a run-out takes force, step by step", "[derived]") {
  RandomInput random(seed);
  for (int i = 0; i < trials; ++i) {
    const auto d = Length::from_value(random.uniform(0.01, 0.1));
    const auto interference = Length::from_value(random.uniform(2e-4, 3e-3));
    const auto deviation = Length::from_value(random.uniform(-3e-3, 3e-4));
    const auto effect = fit_effect(d, interference, deviation);
    CHECK(effect.elastic_force >= 0.0);
    CHECK(effect.power > 0.0);
    CHECK(fit_effect(d, interference, deviation + 0.01_mm).elastic_force >= effect.elastic_force);

    const auto f = LineForce::from_value(random.over_decades(1.0, 200.0));
    const RunOut run_out{.total_indicator_reading = Length::from_value(random.uniform(0.0, 2e-4)),
                         .static_eccentricity = Length::from_value(random.uniform(0.0, 1e-4)),
                         .dynamic_stiffening = random.uniform(1.0, 3.0)};
    RunOut worse = run_out;
    worse.static_eccentricity = run_out.static_eccentricity + 0.01_mm;
    const auto least = least_line_force(f, interference, run_out);
    CHECK(least.least.value() >= 0.0);
    CHECK(least.least <= f);
    CHECK(least_line_force(f, interference, worse).least <= least.least);
    CHECK(least.opens_each_turn == (least.share_lost >= 1.0));
  }
}
