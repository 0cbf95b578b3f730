#include "ohmdrag/material/seal_limits.hpp"

#include <limits>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::material;
using test::near;
using test::within;

namespace {

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
const SealLimits limits{.continuous_low = from_celsius(-40.0),
                        .continuous_high = 100.0_degC,
                        .sump_high = 90.0_degC,
                        .short_term = 120.0_degC,
                        .surface_speed = 13.0_m_s};
const LipSpeedChart chart{.small_diameter = 35.0_mm,
                          .small_speed = 8000.0_rpm,
                          .large_diameter = 75.0_mm,
                          .large_speed = 4000.0_rpm,
                          .beyond = 15.0_m_s};
const GraphiteTransition air{.begin = 150.0_degC, .end = 185.0_degC};

}  // namespace

TEST_CASE("a margin is positive inside its limit and kept up to it", "[derived]") {
  CHECK_THAT(below(100.0_degC, 80.0_degC).left, within(20.0_K, 1e-9_K));
  CHECK(below(100.0_degC, 100.0_degC).kept());
  CHECK_FALSE(below(15.0_m_s, 16.0_m_s).kept());
  CHECK(above(from_celsius(-40.0), 20.0_degC).left > 0.0_K);
  CHECK_FALSE(above(from_celsius(-40.0), from_celsius(-41.0)).kept());
  CHECK(below(60000.0_Pa, 30000.0_Pa).left == 30000.0_Pa);
}

TEST_CASE("a lip inside all its limits raises no flag", "[derived]") {
  const auto margins = seal_margins(limits, 95.0_degC, 80.0_degC, -12.0_m_s);
  CHECK(margins.flags.empty());
  CHECK_THAT(margins.hot->left, within(5.0_K, 1e-9_K));
  CHECK_THAT(margins.speed->left, near(1.0_m_s, 1e-12));
  CHECK_THAT(margins.cold->left, within(135.0_K, 1e-9_K));
}

TEST_CASE("every limit that is not kept is flagged, temperature first", "[derived]") {
  const auto margins = seal_margins(limits, 125.0_degC, 95.0_degC, 14.0_m_s);
  REQUIRE(margins.flags.size() == 4);
  CHECK(margins.flags[0].high == Approx(100.0));
  CHECK(margins.flags[1].high == Approx(120.0));
  CHECK(margins.flags[2].value == Approx(95.0));
  CHECK(margins.flags[3].quantity == "surface speed, m/s");
  CHECK(seal_margins(limits, from_celsius(-45.0), 20.0_degC, 1.0_m_s).flags.size() == 1);
}

TEST_CASE("limits that are not known give no margin", "[derived]") {
  const auto margins = seal_margins({}, 500.0_degC, 500.0_degC, 100.0_m_s);
  CHECK_FALSE(margins.hot);
  CHECK_FALSE(margins.speed);
  CHECK(margins.flags.empty());
}

TEST_CASE("the speed limit falls as the diameter rises", "[derived]") {
  CHECK_THAT(speed_limit(12.0_m_s, 80.0_mm), near(0.5 * speed_limit(12.0_m_s, 40.0_mm), 1e-14));
}

TEST_CASE("the chart caps the speed of small shafts", "[derived]") {
  CHECK_THAT(chart_surface_speed(chart, 17.5_mm),
             near(0.5 * chart_surface_speed(chart, 35.0_mm), 1e-12));
  CHECK_THAT(speed_limit(chart_surface_speed(chart, 20.0_mm), 20.0_mm), near(8000.0_rpm, 1e-12));
  // Half way between both ends the mean of both surface speeds.
  CHECK_THAT(chart_surface_speed(chart, 55.0_mm),
             near(0.5 * (chart_surface_speed(chart, 35.0_mm) + chart_surface_speed(chart, 75.0_mm)),
                  1e-12));
  CHECK(chart_surface_speed(chart, 76.0_mm) == 15.0_m_s);
}

TEST_CASE("pressure times speed does not ask for the direction", "[derived]") {
  const auto pu = pressure_speed(0.5_MPa, -2.0_m_s);
  CHECK_THAT(pu, near(PressureSpeed::from_value(1e6), 1e-14));
  CHECK_FALSE(below(PressureSpeed::from_value(0.9e6), pu).kept());
  CHECK(pressure_speed(0.5_MPa, 0.0_m_s) == PressureSpeed{});
}

TEST_CASE("graphite passes from water-lubricated through its transition", "[derived]") {
  CHECK(graphite_verdict(air, 120.0_degC, 20.0_K).state == GraphiteState::water_lubricated);
  CHECK_FALSE(graphite_verdict(air, 120.0_degC, 20.0_K).flag);
  CHECK(graphite_verdict(air, 150.0_degC, 0.0_K).state == GraphiteState::in_transition);
  const auto beyond = graphite_verdict(air, 150.0_degC, 40.0_K);
  CHECK(beyond.state == GraphiteState::beyond_transition);
  CHECK_THAT(beyond.margin.left, within(-40.0_K, 1e-9_K));
  REQUIRE(beyond.flag);
  CHECK(beyond.flag->value == Approx(190.0));
}

TEST_CASE("undefined limits are refused", "[derived]") {
  CHECK_THROWS_AS(below(100.0_degC, from_celsius(not_a_number)), std::invalid_argument);
  CHECK_THROWS_AS(below(Speed::from_value(not_a_number), 1.0_m_s), std::invalid_argument);
  SealLimits bad = limits;
  bad.surface_speed = 0.0_m_s;
  CHECK_THROWS_AS(seal_margins(bad, 20.0_degC, 20.0_degC, 1.0_m_s), std::invalid_argument);
  CHECK_THROWS_AS(seal_margins(limits, from_celsius(not_a_number), 20.0_degC, 1.0_m_s),
                  std::invalid_argument);
  CHECK_THROWS_AS(speed_limit(0.0_m_s, 40.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(speed_limit(12.0_m_s, 0.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(chart_surface_speed(chart, 0.0_mm), std::invalid_argument);
  LipSpeedChart reversed = chart;
  reversed.large_diameter = 30.0_mm;
  CHECK_THROWS_AS(chart_surface_speed(reversed, 40.0_mm), std::invalid_argument);
  CHECK_THROWS_AS(pressure_speed(-1.0_Pa, 1.0_m_s), std::invalid_argument);
  CHECK_THROWS_AS(pressure_speed(1.0_Pa, Speed::from_value(not_a_number)), std::invalid_argument);
  CHECK_THROWS_AS((graphite_verdict({185.0_degC, 150.0_degC}, 20.0_degC, 1.0_K)),
                  std::invalid_argument);
  CHECK_THROWS_AS(graphite_verdict(air, 20.0_degC, TemperatureDifference::from_value(-1.0)),
                  std::invalid_argument);
}
