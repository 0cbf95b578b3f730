#include "ohmdrag/bearing/rating_life.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "bearing/reference_bearings.hpp"
#include "ohmdrag/bearing/friction_torque.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::bearing;
using namespace ohmdrag::test;

namespace {

const Force b1_dynamic = Force::from_value(29516.04);
const Force b1_static = Force::from_value(18144.0);

Time hours(double h) { return Time::from_value(h * 3600.0); }

}  // namespace

TEST_CASE("ratings of the reference geometry", "[derived]") {
  const auto b1 = reference_b1();
  CHECK_THAT(dynamic_rating_of_geometry(b1), near(b1_dynamic, 1e-7));
  CHECK_THAT(static_rating_of_geometry(b1, 14.0), near(b1_static, 1e-12));
  CHECK_THAT(ball_fatigue_limit(b1_static, b1.pitch_diameter),
             near(Force::from_value(824.73), 1e-5));
  CHECK_THAT(dynamic_rating_of_geometry(bearing_6208()), near(29101.0_N, 2e-5));
  CHECK_THAT(static_rating_of_geometry(bearing_6208(), 14.0), near(17861.0_N, 2e-5));
  CHECK_THAT(ball_fatigue_limit(17861.0_N, 60.0_mm), near(Force::from_value(811.9), 1e-4));
}

TEST_CASE("fatigue limit shrinks for large bearings without a step", "[derived]") {
  CHECK_THAT(ball_fatigue_limit(22000.0_N, 100.0_mm), near(1000.0_N, 1e-12));
  CHECK_THAT(ball_fatigue_limit(22000.0_N, 400.0_mm), near(500.0_N, 1e-12));
  CHECK_THAT(roller_fatigue_limit(8200.0_N, 100.0_mm), near(1000.0_N, 1e-12));
  CHECK(roller_fatigue_limit(8200.0_N, 200.0_mm) < 1000.0_N);
}

TEST_CASE("equivalent load and life of the reference bearing", "[derived]") {
  // Own arithmetic in another language, 6000 1/min.
  struct Row {
    Force radial, axial;
    double e, y, load_N, million, life_h;
  };
  const Row row = GENERATE(Row{2500.0_N, 500.0_N, 0.224744, 1.956792, 2500.0, 1645.714, 4571.43},
                           Row{2500.0_N, 800.0_N, 0.251661, 1.768374, 2814.699, 1153.131, 3203.14},
                           Row{2500.0_N, 1500.0_N, 0.287280, 1.513598, 3670.397, 520.038, 1444.55});
  const auto p = deep_groove_equivalent_load(row.radial, row.axial, b1_static, 14.0);
  CHECK_THAT(p.limit_ratio, within(row.e, 2e-6));
  CHECK_THAT(p.axial_factor, within(row.y, 2e-2));
  CHECK_THAT(p.load, near(Force::from_value(row.load_N), 1e-6));
  CHECK_FALSE(p.outside);
  CHECK_THAT(basic_life_million_revolutions(b1_dynamic, p.load, ball_life_exponent),
             near(row.million, 1e-6));
  CHECK_THAT(basic_life(b1_dynamic, p.load, ball_life_exponent, 6000.0_rpm),
             near(hours(row.life_h), 4e-6));
}

TEST_CASE("outside the table its ends are used and flagged", "[derived]") {
  const auto low = deep_groove_equivalent_load(100.0_N, 50.0_N, b1_static, 14.0);
  REQUIRE(low.outside);
  CHECK(low.axial_factor == 2.30);
  CHECK_THAT(low.outside->value, near(14.0 * 50.0 / 18144.0, 1e-12));
  // The axial load does not count: nothing of the table enters.
  CHECK_FALSE(deep_groove_equivalent_load(1000.0_N, 50.0_N, b1_static, 14.0).outside);
  CHECK_FALSE(deep_groove_equivalent_load(1000.0_N, Force{}, b1_static, 14.0).outside);
  const auto high = deep_groove_equivalent_load(10000.0_N, 10000.0_N, b1_static, 14.0);
  REQUIRE(high.outside);
  CHECK(high.axial_factor == 1.00);
}

TEST_CASE("pure axial load", "[derived]") {
  const auto p = deep_groove_equivalent_load(Force{}, -800.0_N, b1_static, 14.0);
  CHECK_THAT(p.load, near(Force(p.axial_factor * 800.0_N), 1e-12));
}

TEST_CASE("equivalent load never falls with axial load but for the table's rounding", "[derived]") {
  Force last{};
  for (int axial_N = 0; axial_N <= 8000; axial_N += 5) {
    const Force next =
        deep_groove_equivalent_load(1500.0_N, Force::from_value(axial_N), b1_static, 14.0).load;
    CHECK(next >= last * (1.0 - 1e-12));
    last = next;
  }
}

TEST_CASE("life falls with load and speed and is unlimited without them", "[derived]") {
  CHECK(basic_life(b1_dynamic, 2000.0_N, 3.0, 3000.0_rpm) <
        basic_life(b1_dynamic, 1999.0_N, 3.0, 3000.0_rpm));
  CHECK(basic_life(b1_dynamic, 2000.0_N, 3.0, 3001.0_rpm) <
        basic_life(b1_dynamic, 2000.0_N, 3.0, 3000.0_rpm));
  CHECK(std::isinf(basic_life(b1_dynamic, Force{}, 3.0, 3000.0_rpm).value()));
  CHECK(std::isinf(basic_life(b1_dynamic, 2000.0_N, 3.0, AngularVelocity{}).value()));
  CHECK(basic_life(b1_dynamic, 2000.0_N, 3.0, -3000.0_rpm) ==
        basic_life(b1_dynamic, 2000.0_N, 3.0, 3000.0_rpm));
  CHECK_THROWS_AS(basic_life(b1_dynamic, -1.0_N, 3.0, 3000.0_rpm), std::invalid_argument);
  CHECK_FALSE(outside_life_load(b1_dynamic, 14758.0_N));
  CHECK(outside_life_load(b1_dynamic, 14759.0_N));
}

TEST_CASE("reference viscosity over speed", "[derived]") {
  CHECK(std::isinf(reference_viscosity(AngularVelocity{}, 60.0_mm).value()));
  CHECK(viscosity_ratio(10.0_mm2_s, AngularVelocity{}, 60.0_mm) == 0.0);
  CHECK_THAT(viscosity_ratio(10.0_mm2_s, 6000.0_rpm, 60.0_mm), near(4.0 / 3.0, 1e-4));
  // The published step at 1000 1/min.
  CHECK_THAT(in_mm2_per_s(reference_viscosity(999.9999_rpm, 60.0_mm)), within(18.799, 1e-3));
  CHECK_THAT(in_mm2_per_s(reference_viscosity(1000.0001_rpm, 60.0_mm)), within(18.371, 1e-3));
}

TEST_CASE("life modification factor: bands meet, limits hold", "[derived]") {
  const auto factor = GENERATE(ball_life_factor, roller_life_factor);
  const double x = GENERATE(0.01, 0.1, 0.5, 1.0);
  CHECK_THAT(factor(0.4 - 1e-12, x).value, near(factor(0.4, x).value, 3e-3));
  CHECK_THAT(factor(1.0 - 1e-12, x).value, near(factor(1.0, x).value, 1e-9));
  CHECK(factor(4.0, x).value == factor(40.0, x).value);
  CHECK_FALSE(factor(40.0, x).outside);
  const auto starved = factor(0.02, x);
  REQUIRE(starved.outside);
  CHECK(starved.outside->value == 0.02);
  CHECK(starved.value == factor(0.1, x).value);
  double last = 0.0;
  for (double kappa = 0.1; kappa <= 4.0; kappa += 0.01) {
    const double next = factor(kappa, x).value;
    CHECK(next >= last * (1.0 - 3e-3));  // the bands meet to the digits of their constants
    CHECK(next <= 50.0);
    CHECK(factor(kappa, 1.1 * x).value >= next * (1.0 - 1e-3));
    last = next;
  }
}

TEST_CASE("modified life loses with load", "[derived]") {
  double last_h = std::numeric_limits<double>::infinity();
  for (int load_N = 200; load_N <= 14000; load_N += 50) {
    const Force load = Force::from_value(load_N);
    const double life_h = ball_life_factor(1.3, 0.3 * 824.73 / load_N).value *
                          basic_life(b1_dynamic, load, ball_life_exponent, 6000.0_rpm).value() /
                          3600.0;
    CHECK(life_h < last_h);
    last_h = life_h;
  }
}

TEST_CASE("viscosity buys life with watts", "[derived]") {
  // Own arithmetic in another language: F_r 2500 N, F_a 800 N, 6000 1/min; P1 = 2500 N, f0 = 2,
  // z = 0.0005; e_C fixed. Life in whole hours.
  struct Row {
    KinematicViscosity nu;
    double kappa, life_02_h, life_04_h, life_06_h, loss_W;
  };
  const Row row = GENERATE(Row{3.75_mm2_s, 0.500, 1265, 1874, 2494, 37.47},
                           Row{7.5_mm2_s, 1.000, 4267, 9596, 17729, 50.18},
                           Row{10.0_mm2_s, 1.333, 5102, 12279, 23987, 57.44},
                           Row{15.0_mm2_s, 2.000, 6538, 17340, 36742, 70.35},
                           Row{30.0_mm2_s, 4.000, 9896, 31134, 76397, 102.37});
  const auto p = deep_groove_equivalent_load(2500.0_N, 800.0_N, b1_static, 14.0).load;
  const double life_h = basic_life(b1_dynamic, p, 3.0, 6000.0_rpm).value() / 3600.0;
  const double kappa = viscosity_ratio(row.nu, 6000.0_rpm, 60.0_mm);
  const double margin = ball_fatigue_limit(b1_static, 60.0_mm) / p;
  CHECK_THAT(kappa, within(row.kappa, 1e-3));
  CHECK_THAT(ball_life_factor(kappa, 0.2 * margin).value * life_h, within(row.life_02_h, 0.6));
  CHECK_THAT(ball_life_factor(kappa, 0.4 * margin).value * life_h, within(row.life_04_h, 0.6));
  CHECK_THAT(ball_life_factor(kappa, 0.6 * margin).value * life_h, within(row.life_06_h, 0.6));
  const PalmgrenConstants friction{.torque_factor = 2.0,
                                   .load_torque_factor = 0.0005,
                                   .load_torque_exponent = 0.55,
                                   .pitch_diameter = 60.0_mm,
                                   .static_rating = b1_static};
  const auto torque = palmgren_torque(friction, row.nu, 6000.0_rpm, 2500.0_N, 800.0_N).total();
  CHECK_THAT(Power(torque * 6000.0_rpm), within(Power::from_value(row.loss_W), 0.006_W));
}

TEST_CASE("contamination factor", "[derived]") {
  // Own arithmetic on constants from memory; 60 mm.
  struct Row {
    Cleanliness cleanliness;
    double kappa, expected;
  };
  const Row row =
      GENERATE(Row{{0.0864, 0.5663}, 1.0, 0.7025}, Row{{0.0432, 0.9987}, 1.0, 0.3059},
               Row{{0.0288, 1.6329}, 1.0, 0.1596}, Row{{0.0216, 2.3362}, 1.0, 0.0828},
               Row{{0.0864, 0.5796}, 1.0, 0.6997}, Row{{0.0133, 1.670}, 1.0, 0.0725},
               Row{{0.0864, 0.6796}, 1.0, 0.6787}, Row{{0.0133, 1.670}, 4.0 / 3.0, 0.088159});
  CHECK_THAT(contamination_factor(row.cleanliness, row.kappa, 60.0_mm), within(row.expected, 6e-5));
}

TEST_CASE("contamination factor stays in its method's range", "[derived]") {
  CHECK(contamination_factor({0.0864, 0.5663}, 1000.0, 60.0_mm) <= 1.0);
  CHECK(contamination_factor({0.00617, 4.06}, 1.0, 60.0_mm) == 0.0);
  CHECK(contamination_factor({0.0864, 0.5663}, 0.0, 60.0_mm) == 0.0);
}

TEST_CASE("modified life at one point", "[derived]") {
  // Own arithmetic: kappa 1.3333, e_C 0.088159, x 0.0258312.
  CHECK_THAT(ball_life_factor(4.0 / 3.0, 0.0258312).value, within(0.759841, 2e-5));
}

TEST_CASE("reliability factor refuses what the standard does not give", "[derived]") {
  CHECK(reliability_factor(0.9) == 1.0);
  CHECK_THROWS_AS(reliability_factor(0.89), std::invalid_argument);
  CHECK_THROWS_AS(reliability_factor(0.9999), std::invalid_argument);
  CHECK_THROWS_AS(reliability_factor(std::numeric_limits<double>::quiet_NaN()),
                  std::invalid_argument);
}

TEST_CASE("geometry factor ends where its table ends", "[derived]") {
  CHECK(geometry_factor(0.05) == 46.7);
  CHECK(geometry_factor(0.30) == 56.0);
  CHECK_THAT(geometry_factor(0.11), near(56.5, 1e-12));
  CHECK_THROWS_AS(geometry_factor(0.049), std::invalid_argument);
  CHECK_THROWS_AS(geometry_factor(0.301), std::invalid_argument);
}

TEST_CASE("static equivalent load", "[derived]") {
  CHECK(deep_groove_static_load(1000.0_N, 100.0_N) == 1000.0_N);
  CHECK_THAT(deep_groove_static_load(-1000.0_N, -1000.0_N), near(1100.0_N, 1e-12));
  CHECK(cylindrical_roller_equivalent_load(-1000.0_N) == 1000.0_N);
}

// ISO 281:2007 on proven EP additives, from memory: kappa = 1 may be taken, then a_ISO <= 3.
TEST_CASE("a proven EP additive lifts the factor of thin films in clean oil alone", "[derived]") {
  const auto with_additive = [](double kappa, double contamination, double margin) {
    return with_ep_additive(ball_life_factor(kappa, margin), ball_life_factor(1.0, margin), kappa,
                            contamination);
  };
  const double margin = 0.1;  // of kappa 1: 2.43
  CHECK(with_additive(0.5, 0.3, margin).value == ball_life_factor(1.0, margin).value);
  CHECK(with_additive(0.5, 0.2, margin).value == ball_life_factor(1.0, margin).value);
  CHECK(with_additive(0.5, 0.199, margin).value == ball_life_factor(0.5, margin).value);
  CHECK(with_additive(1.0, 0.3, margin).value == ball_life_factor(1.0, margin).value);
  CHECK(with_additive(2.0, 0.3, margin).value == ball_life_factor(2.0, margin).value);
  // Never more than 3 by the rule, never less than without it.
  REQUIRE(ball_life_factor(1.0, 0.3).value > 3.0);
  REQUIRE(ball_life_factor(0.5, 0.3).value < 3.0);
  CHECK(with_additive(0.5, 0.3, 0.3).value == 3.0);
  REQUIRE(ball_life_factor(0.9, 0.3).value > 3.0);
  CHECK(with_additive(0.9, 0.3, 0.3).value == ball_life_factor(0.9, 0.3).value);
  // A film outside the method stays flagged.
  CHECK(with_additive(0.05, 0.3, margin).outside);
  CHECK_FALSE(with_additive(0.5, 0.3, margin).outside);
}
