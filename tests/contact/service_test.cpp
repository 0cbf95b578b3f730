#include "ohmdrag/contact/service.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "contact/lip_course.hpp"

using namespace ohmdrag;
using namespace ohmdrag::contact;

namespace {

const LipEdge edge{.air_angle_rad = 25.0 * std::numbers::pi / 180.0,
                   .oil_angle_rad = 45.0 * std::numbers::pi / 180.0,
                   .new_width = Length::from_value(0.15e-3)};

LipForce lip(double per_decade, double chemical_h, double interference_mm) {
  return {.spring = LineForce::from_value(60.0),
          .rubber = LineForce::from_value(60.0),
          .set = {.final_set = 0.05, .set_time = Time::from_value(100.0 * 3600.0)},
          .relaxation = {.per_decade = per_decade,
                         .log_time = Time::from_value(60.0),
                         .chemical_time = Time::from_value(chemical_h * 3600.0),
                         .at = from_celsius(125.0),
                         .activation_temperature = TemperatureDifference::from_value(10825.0),
                         .stretch = 0.6},
          .modulus = {{from_celsius(20.0), 1.0}, {from_celsius(120.0), 0.5}},
          .radial_interference = Length::from_value(interference_mm * 1e-3),
          .pressure_length = Length::from_value(1.5e-3)};
}

const WearPair flooded{WearRate::from_value(1e-17), WearRate::from_value(5e-19)};
const WearPair none{WearRate{}, std::nullopt};

History history(double hours, double km, double celsius) {
  return {Time::from_value(hours * 3600.0), Length::from_value(km * 1e3), from_celsius(celsius)};
}

}  // namespace

TEST_CASE("a new lip is new") {
  const Aged aged = aged_lip(lip(0.05, 3000.0, 0.6), edge, flooded, history(0.0, 0.0, 80.0), {});
  CHECK(aged.spring.value() == Approx(60.0).epsilon(1e-12));
  CHECK(aged.elastic.value() == Approx(60.0).epsilon(1e-12));
  CHECK(aged.width.value() == Approx(0.15e-3).epsilon(1e-12));
  CHECK(aged.wear.value() == 0.0);
  CHECK(aged.groove->value() == 0.0);
}

TEST_CASE("without wear the lip relaxes as its law says, whatever the softening") {
  const LipForce law = lip(0.05, 3000.0, 0.6);
  const Aged aged = aged_lip(law, edge, none, history(1000.0, 36000.0, 110.0), {});
  const double left =
      relaxation(law.relaxation, Time::from_value(3.6e6), from_celsius(110.0)).value;
  CHECK(aged.elastic.value() == Approx(60.0 * left).epsilon(1e-12));
  CHECK(aged.spring.value() ==
        Approx(60.0 * spring_factor(law.set, Time::from_value(3.6e6))).epsilon(1e-12));
  CHECK(aged.width == edge.new_width);
  CHECK_FALSE(aged.groove);
}

TEST_CASE("the steps of an ageing lip, side by side, are those of its law", "[derived]") {
  const LipForce law = lip(0.09, 800.0, 0.6);
  const Temperature hot = from_celsius(105.0);
  constexpr int steps = 13;
  for (const double hours : {0.0, 3.0, 20000.0}) {
    const Time age = Time::from_value(hours * 3600.0);
    const LipCourse narrow = lip_course(law, age, hot, steps, numerics::LaneWidth::two);
    REQUIRE(narrow.spring.size() == steps);
    for (int i = 0; i < steps; ++i) {
      CAPTURE(hours, i);
      const LipForceResult now = lip_force(law, {(i + 0.5) / steps * age, hot, Length{}, {}});
      CHECK(60.0 * narrow.spring[std::size_t(i)] == Approx(now.spring.value()).epsilon(1e-13));
      CHECK(60.0 * narrow.rubber[std::size_t(i)] == Approx(now.rubber.value()).epsilon(1e-13));
    }
    for (const numerics::LaneWidth width : numerics::lane_widths()) {
      CAPTURE(numerics::name(width));
      const LipCourse wide = lip_course(law, age, hot, steps, width);
      CHECK(wide.spring == narrow.spring);
      CHECK(wide.rubber == narrow.rubber);
    }
  }
}

TEST_CASE("a lip whose force stays wears as the closed form says, and so does the shaft") {
  // Springs only, so wear takes no force: set 0, all 0.12 N/mm in the spring.
  LipForce law = lip(0.0, 1e12, 0.6);
  law.spring = LineForce::from_value(120.0);
  law.rubber = LineForce{};
  law.set.final_set = 0.0;
  const History life = history(1000.0, 36000.0, 80.0);
  const Aged aged = aged_lip(law, edge, flooded, life, {}, 512);
  const Length closed = worn_width(edge, flooded.contact, LineForce::from_value(120.0), life.way);
  CHECK(aged.width.value() == Approx(closed.value()).epsilon(1e-12));
  CHECK(aged.worn.value() == Approx(1e-17 * 120.0 * 3.6e7).epsilon(1e-12));
  const Length groove =
      groove_depth(*flooded.shaft, edge, flooded.contact, LineForce::from_value(120.0), life.way);
  CHECK(aged.groove->value() == Approx(groove.value()).epsilon(1e-3));
}

TEST_CASE("the steps of an ageing lip converge, and those it takes are enough") {
  const LipForce law = lip(0.05, 3000.0, 0.4);
  const History life = history(5000.0, 180000.0, 110.0);
  const Pressure over = Pressure::from_value(3e4);
  // From hardly any wear to one that takes all interference.
  for (const double rate : {1e-18, 5e-18, 5e-17, 2e-16}) {
    CAPTURE(rate);
    const WearPair abrasive{WearRate::from_value(rate), WearRate::from_value(5e-19)};
    const Aged fine = aged_lip(law, edge, abrasive, life, over, 16384);
    const Aged usual = aged_lip(law, edge, abrasive, life, over);
    CHECK(usual.wear.value() == Approx(fine.wear.value()).epsilon(1e-3));
    CHECK(usual.groove->value() == Approx(fine.groove->value()).epsilon(1e-3));
    CHECK(usual.worn.value() == Approx(fine.worn.value()).epsilon(2e-3));
    CHECK(usual.elastic.value() == Approx(fine.elastic.value()).epsilon(1e-3));
    CHECK(usual.line_force() < LineForce::from_value(120.0));
  }
}

TEST_CASE("pressure on a lip wears it faster and does not stay in its own force") {
  const LipForce law = lip(0.05, 3000.0, 0.6);
  const History life = history(1000.0, 36000.0, 80.0);
  const Aged without = aged_lip(law, edge, flooded, life, {});
  const Aged with = aged_lip(law, edge, flooded, life, Pressure::from_value(3e4));
  CHECK(with.wear > without.wear);
  CHECK(with.line_force() < without.line_force());
}

TEST_CASE("an elastic pad wears out of its own force, a sprung one when its length is used") {
  const WearPair dry{WearRate::from_value(5e-15), WearRate::from_value(5e-19)};
  const Length way = Length::from_value(9.37e7);
  const Pad elastic{.line_force = LineForce::from_value(10.0),
                    .width = Length::from_value(4e-3),
                    .deflection = Length::from_value(1e-3),
                    .wear_length = {}};
  const Aged ring = aged_pad(elastic, dry, way);
  // exp(-10 N/m / 1 mm * 5e-6 mm3/(N m) * 9.37e7 m / 4 mm) = exp(-1.171)
  CHECK(ring.elastic.value() / 10.0 == Approx(std::exp(-1.17125)).epsilon(1e-9));
  CHECK(ring.wear.value() == Approx(1e-3 * (1.0 - std::exp(-1.17125))).epsilon(1e-9));
  CHECK(ring.groove->value() == Approx(ring.wear.value() * 1e-4).epsilon(1e-12));

  Pad sprung = elastic;
  sprung.deflection.reset();
  sprung.wear_length = Length::from_value(2e-3);
  const Aged brush = aged_pad(sprung, dry, way);
  CHECK(brush.spring.value() == 10.0);
  CHECK(brush.wear.value() == Approx(5e-15 * 10.0 * 9.37e7 / 4e-3).epsilon(1e-12));
  CHECK(*brush.length_used == Approx(0.585625));
  const Aged used_up = aged_pad(sprung, dry, 2.0 * way);
  CHECK(used_up.line_force().value() == 0.0);
  CHECK(used_up.wear == *sprung.wear_length);
  CHECK(*used_up.length_used == Approx(2.0 * *brush.length_used));
}

TEST_CASE("a hot ring presses and wears less, and its force at 20 degC is told") {
  const WearPair dry{WearRate::from_value(5e-15), std::nullopt};
  Pad pad{.line_force = LineForce::from_value(10.0),
          .width = Length::from_value(4e-3),
          .deflection = Length::from_value(1e-3),
          .wear_length = {}};
  const Aged cold = aged_pad(pad, dry, Length::from_value(9.37e7));
  pad.hot_share = 0.5;
  const Aged hot = aged_pad(pad, dry, Length::from_value(9.37e7));
  CHECK(hot.elastic.value() / 10.0 == Approx(std::sqrt(cold.elastic.value() / 10.0)).epsilon(1e-9));
}

TEST_CASE("the mean of ageing lies between the temperatures, nearer to the hot one") {
  AgeingMean mean(TemperatureDifference::from_value(10825.0));
  mean.add(from_celsius(60.0), Time::from_value(1.0));
  CHECK(in_celsius(mean.mean()) == Approx(60.0).epsilon(1e-9));
  mean.add(from_celsius(110.0), Time::from_value(1.0));
  const double celsius = in_celsius(mean.mean());
  CHECK(celsius > 85.0);
  CHECK(celsius < 110.0);
  // By hand: rates exp(-10825/333.15) and exp(-10825/383.15), mean, and back.
  const double rate = 0.5 * (std::exp(-10825.0 / 333.15) + std::exp(-10825.0 / 383.15));
  CHECK(celsius == Approx(-10825.0 / std::log(rate) - 273.15).epsilon(1e-9));
}

TEST_CASE("running-in fades") {
  const RunningIn law{0.3, Time::from_value(5.0 * 3600.0)};
  CHECK(running_in_factor(law, Time{}) == Approx(1.3).epsilon(1e-12));
  CHECK(running_in_factor(law, Time::from_value(5.0 * 3600.0)) ==
        Approx(1.0 + 0.3 / std::numbers::e).epsilon(1e-12));
  CHECK(running_in_factor(law, Time::from_value(1e9)) == 1.0);
}

TEST_CASE("service refuses what it cannot mean") {
  CHECK_THROWS_AS(AgeingMean(TemperatureDifference{}), std::invalid_argument);
  CHECK_THROWS_AS(AgeingMean(TemperatureDifference::from_value(1.0)).mean(), std::logic_error);
  CHECK_THROWS_AS(aged_lip(lip(0.05, 3000.0, 0.6), edge, flooded, history(1.0, -1.0, 80.0), {}),
                  std::invalid_argument);
  CHECK_THROWS_AS(aged_pad({}, none, {}), std::invalid_argument);
  CHECK_THROWS_AS(running_in_factor({-0.1, Time::from_value(1.0)}, {}), std::invalid_argument);
}
