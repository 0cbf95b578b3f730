#include <array>
#include <catch2/catch.hpp>
#include <cmath>

#include "component/reference_shaft.hpp"
#include "ohmdrag/component/published_rule.hpp"
#include "support/near.hpp"

// General loss rules for lip seals. Constants of the rules: ISO/TR 14179-1:2001 from memory, not
// confirmed; the rule by diameter squared as quoted in one public gearbox loss model; the rule by
// oil temperature by H. Linke as quoted by C. Schlegel, A. Hösl, Modelica Conference 2009, its
// power of ten derived.

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::component;
using test::near;
using test::within;

namespace {

constexpr TorqueByDiameter fkm{3.737e-3};
constexpr TorqueByDiameter nbr{2.429e-3};
constexpr PowerByDiameterSquared square{7.69e-6};
constexpr PowerByOilTemperature by_oil{.coefficient_W_min_per_mm2 = 1e-7};
constexpr RuleOil oil_30{80.0_degC, 30.0_mm2_s};

Power power(const PublishedRule& rule, Length d, AngularVelocity n, const RuleOil& oil = oil_30) {
  return rule_loss(rule, d, n, oil).power;
}

double bracket(double oil_degC, double at_40_mm2_s) {
  return oil_temperature_bracket(
      by_oil, {from_celsius(oil_degC), KinematicViscosity::from_value(1e-6 * at_40_mm2_s)});
}

}  // namespace

TEST_CASE("seal torque proportional to diameter", "[published][formula]") {
  CHECK_THAT(rule_loss(fkm, 40.0_mm, 3000.0_rpm, oil_30).torque, near(0.14948_Nm, 1e-4));
  CHECK_THAT(rule_loss(nbr, 40.0_mm, 3000.0_rpm, oil_30).torque, near(0.09716_Nm, 1e-4));
  // P = T n / 9549 in kW, as the source writes it.
  CHECK_THAT(power(fkm, 40.0_mm, 3000.0_rpm), near(46.96_W, 1e-3));
  CHECK_THAT(power(nbr, 40.0_mm, 3000.0_rpm), near(30.52_W, 1e-3));
}

TEST_CASE("the three rules over diameter and speed", "[published][formula]") {
  struct Row {
    Length diameter;
    AngularVelocity speed;
    Speed surface;
    Power fkm, nbr, square, by_oil;
  };
  const auto row =
      GENERATE(Row{30.0_mm, 3000.0_rpm, 4.71_m_s, 35.22_W, 22.89_W, 20.76_W, 20.92_W},
               Row{40.0_mm, 1000.0_rpm, 2.09_m_s, 15.65_W, 10.17_W, 12.30_W, 12.39_W},
               Row{40.0_mm, 3000.0_rpm, 6.28_m_s, 46.96_W, 30.52_W, 36.91_W, 37.18_W},
               Row{40.0_mm, 6000.0_rpm, 12.57_m_s, 93.92_W, 61.05_W, 73.82_W, 74.37_W},
               Row{40.0_mm, 12000.0_rpm, 25.13_m_s, 187.8_W, 122.1_W, 147.7_W, 148.7_W},
               Row{50.0_mm, 3000.0_rpm, 7.85_m_s, 58.70_W, 38.15_W, 57.67_W, 58.10_W},
               Row{80.0_mm, 3000.0_rpm, 12.57_m_s, 93.92_W, 61.05_W, 147.7_W, 148.7_W});
  CAPTURE(row.diameter, in_rpm(row.speed));
  CHECK_THAT(rim_speed(row.speed, 0.5 * row.diameter), within(row.surface, 0.005_m_s));
  CHECK_THAT(power(fkm, row.diameter, row.speed), near(row.fkm, 1e-3));
  CHECK_THAT(power(nbr, row.diameter, row.speed), near(row.nbr, 1e-3));
  CHECK_THAT(power(square, row.diameter, row.speed), near(row.square, 1e-3));
  CHECK_THAT(power(by_oil, row.diameter, row.speed), near(row.by_oil, 1e-3));
}

TEST_CASE("the bracket of oil temperature and viscosity", "[published][formula]") {
  struct Row {
    double oil_degC;
    std::array<double, 6> brackets;  // over the viscosities below
  };
  const std::array<double, 6> at_40_mm2_s{20, 25, 30, 46, 100, 220};
  const auto row = GENERATE(Row{40, {122.98, 133.40, 141.47, 158.97, 186.62, 210.49}},
                            Row{60, {90.98, 101.40, 109.47, 126.97, 154.62, 178.49}},
                            Row{80, {58.98, 69.40, 77.47, 94.97, 122.62, 146.49}},
                            Row{95, {34.98, 45.40, 53.47, 70.97, 98.62, 122.49}},
                            Row{110, {10.98, 21.40, 29.47, 46.97, 74.62, 98.49}});
  for (std::size_t i = 0; i < at_40_mm2_s.size(); ++i) {
    CAPTURE(row.oil_degC, at_40_mm2_s[i]);
    CHECK(bracket(row.oil_degC, at_40_mm2_s[i]) == Approx(row.brackets[i]).margin(0.0051));
  }
}

TEST_CASE("the bracket of oil temperature ends at a temperature of its own",
          "[published][formula]") {
  struct Row {
    double at_40_mm2_s, zero_degC;
  };
  const auto row = GENERATE(Row{20, 116.9}, Row{25, 123.4}, Row{30, 128.4}, Row{46, 139.4},
                            Row{100, 156.6}, Row{220, 171.6});
  CAPTURE(row.at_40_mm2_s);
  // Given to a tenth of a degree: half of it is 0.08 of the bracket.
  CHECK(bracket(row.zero_degC, row.at_40_mm2_s) == Approx(0.0).margin(0.081));
  CHECK(bracket(123.38, 25) == Approx(0.0).margin(0.009));
}

TEST_CASE("a hot thin oil takes the floor of the bracket, with a warning", "[published][derived]") {
  // Not part of the rule: a floor of 20 in place of a gain of power.
  const RuleOil hot{130.0_degC, 25.0_mm2_s};
  CHECK(oil_temperature_bracket(by_oil, hot) < 0.0);
  const auto loss = rule_loss(by_oil, 40.0_mm, 3000.0_rpm, hot);
  CHECK_THAT(loss.power, near(20e-7 * 1600.0 * 3000.0 * 1.0_W, 1e-12));
  REQUIRE_FALSE(loss.flags.empty());
  CHECK(loss.flags[0].value < 0.0);
}

TEST_CASE("thinner oil loses less by the rule with oil temperature", "[published][formula]") {
  const RuleOil oil_25{80.0_degC, 25.0_mm2_s};
  CHECK_THAT(power(by_oil, 40.0_mm, 3000.0_rpm, oil_25), near(33.31_W, 1e-3));
}

TEST_CASE("the rules with and without oil temperature agree where both were made",
          "[published][derived]") {
  // Two sources, one number: the only check of the power of ten in the one by oil temperature.
  CHECK(power(by_oil, 40.0_mm, 3000.0_rpm) / power(square, 40.0_mm, 3000.0_rpm) ==
        Approx(1.007).margin(0.01));
}

TEST_CASE("a standard lip's own model lies among the general rules", "[published][derived]") {
  // 30 to 47 W at 3000, 60 to 95 W at 6000 1/min on 40 mm: the span of the rules. The film
  // coefficient was set on the rules at 3000 1/min, so this proves the scaling with speed only.
  const auto system = test::shaft({test::lip(0.12_N_mm, 0.0_mm)});
  const Power at_3000 = solve(system, 3000.0_rpm, test::warm).contacts[0].power;
  const Power at_6000 = solve(system, 6000.0_rpm, test::warm).contacts[0].power;
  CHECK(at_3000 > 30.0_W);
  CHECK(at_3000 < 47.0_W);
  CHECK(at_6000 > 60.0_W);
  CHECK(at_6000 < 95.0_W);
}

TEST_CASE("the constants of the rule by diameter in pounds and inches", "[published][formula]") {
  // lbf in per inch of diameter; 1 lbf in = 0.112985 N m (NIST SP 811).
  const auto in_pounds = [](const TorqueByDiameter& rule) {
    return rule_loss(rule, 25.4_mm, 1.0_rpm, oil_30).torque.value() / 0.112985;
  };
  CHECK(in_pounds(fkm) == Approx(0.840).margin(5e-4));
  CHECK(in_pounds(nbr) == Approx(0.546).margin(5e-4));
}

TEST_CASE("a rule by diameter meets the one by its square at one shaft", "[published][formula]") {
  const auto ratio = [](const PublishedRule& rule, Length d) {
    return (power(rule, d, 3000.0_rpm) / power(square, d, 3000.0_rpm)).value();
  };
  CHECK(ratio(fkm, 50.9_mm) == Approx(1.0).margin(1e-3));
  CHECK(ratio(nbr, 33.1_mm) == Approx(1.0).margin(2e-3));
  CHECK(ratio(fkm, 30.0_mm) > 1.0);
  CHECK(ratio(fkm, 80.0_mm) < 1.0);
}

TEST_CASE("about how many watts the rules give a 40 mm shaft", "[published][formula]") {
  struct Row {
    AngularVelocity speed;
    double low_W, high_W;
  };
  const auto row = GENERATE(Row{1000.0_rpm, 10.0, 16.0}, Row{3000.0_rpm, 30.0, 47.0},
                            Row{6000.0_rpm, 60.0, 95.0});
  const auto on_40 = [&](const PublishedRule& rule) {
    return power(rule, 40.0_mm, row.speed).value();
  };
  for (const PublishedRule& rule :
       {PublishedRule{fkm}, PublishedRule{nbr}, PublishedRule{square}, PublishedRule{by_oil}}) {
    CHECK(on_40(rule) > row.low_W);
    CHECK(on_40(rule) < row.high_W);
  }
  // +-21 % about the middle of the widest two.
  CHECK((on_40(fkm) - on_40(nbr)) / (on_40(fkm) + on_40(nbr)) == Approx(0.21).margin(0.005));
}

TEST_CASE("with natural logarithms the rule by oil temperature would be six times too high",
          "[published][derived]") {
  // What fixes decimal logarithms: 215 W in place of 37 W at 40 mm and 3000 1/min.
  const double natural = 145.0 - 1.6 * 80.0 + 350.0 * std::log(std::log(30.8));
  CHECK(1e-7 * natural * 1600.0 * 3000.0 == Approx(215.0).margin(0.5));
  CHECK(power(by_oil, 40.0_mm, 3000.0_rpm).value() == Approx(37.18).margin(0.005));
}

TEST_CASE("the friction that the rules ask of a lip of 0.12 N/mm", "[published][derived]") {
  // mu F' of the rules at 40 mm: 46.7, 59.5 and 38.7 N/m.
  struct Row {
    PublishedRule rule;
    double mu_line_force_N_m, friction;
  };
  const auto row = GENERATE(Row{square, 46.7, 0.39}, Row{fkm, 59.5, 0.50}, Row{nbr, 38.7, 0.32});
  const Force load = contact::radial_load(1.0_N_m, 40.0_mm);
  const Torque of_one = contact::friction_torque(1.0, load, 40.0_mm);
  const double asked = (rule_loss(row.rule, 40.0_mm, 3000.0_rpm, oil_30).torque / of_one).value();
  CHECK(asked == Approx(row.mu_line_force_N_m).margin(0.051));
  CHECK(asked / 120.0 == Approx(row.friction).margin(0.006));
}
