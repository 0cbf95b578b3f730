#include "ohmdrag/component/published_rule.hpp"

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::component;
using test::near;

namespace {

constexpr RuleOil oil{80.0_degC, 30.0_mm2_s};
const std::vector<PublishedRule> rules{TorqueByDiameter{3.737e-3}, PowerByDiameterSquared{7.69e-6},
                                       PowerByOilTemperature{.coefficient_W_min_per_mm2 = 1e-7}};

}  // namespace

TEST_CASE("every rule gives the same torque at every speed and none of its power at rest",
          "[derived]") {
  for (const auto& rule : rules) {
    const auto slow = rule_loss(rule, 40.0_mm, 1000.0_rpm, oil);
    const auto fast = rule_loss(rule, 40.0_mm, 9000.0_rpm, oil);
    const auto rest = rule_loss(rule, 40.0_mm, 0.0_rpm, oil);
    const auto back = rule_loss(rule, 40.0_mm, from_rpm(-1000.0), oil);
    CHECK_THAT(fast.torque, near(slow.torque, 1e-14));
    CHECK_THAT(fast.power, near(9.0 * slow.power, 1e-14));
    CHECK(rest.power == 0.0_W);
    CHECK_THAT(rest.torque, near(slow.torque, 1e-14));
    CHECK_THAT(back.torque, near(-slow.torque, 1e-14));
    CHECK_THAT(back.power, near(slow.power, 1e-14));
  }
}

TEST_CASE("a negative bracket is replaced by its floor and flagged with its raw value",
          "[derived]") {
  const PowerByOilTemperature rule{.coefficient_W_min_per_mm2 = 1e-7};
  const RuleOil hot{130.0_degC, 25.0_mm2_s};
  const double raw = oil_temperature_bracket(rule, hot);
  CHECK(raw < 0.0);
  // Linear in temperature: zero at 123.38 degC.
  CHECK(raw == Approx(-1.6 * (130.0 - 123.38)).epsilon(1e-3));
  const auto loss = rule_loss(rule, 40.0_mm, 3000.0_rpm, hot);
  CHECK_THAT(loss.power, near(20e-7 * 1600.0 * 3000.0 * 1.0_W, 1e-12));
  REQUIRE_FALSE(loss.flags.empty());
  CHECK(loss.flags[0].quantity == "bracket, replaced by its floor");
  CHECK(loss.flags[0].value == raw);
}

TEST_CASE("a rule beyond industrial gear oils and 80 mm is flagged", "[derived]") {
  const PowerByOilTemperature rule{.coefficient_W_min_per_mm2 = 1e-7};
  CHECK(rule_loss(rule, 40.0_mm, 3000.0_rpm, {80.0_degC, 100.0_mm2_s}).flags.empty());
  CHECK(rule_loss(rule, 40.0_mm, 3000.0_rpm, oil).flags.size() == 1);
  CHECK(rule_loss(TorqueByDiameter{3.737e-3}, 81.0_mm, 3000.0_rpm, oil).flags.size() == 1);
  CHECK(rule_loss(TorqueByDiameter{3.737e-3}, 80.0_mm, 3000.0_rpm, oil).flags.empty());
}

TEST_CASE("undefined rules are refused", "[derived]") {
  CHECK_THROWS_AS(rule_loss(TorqueByDiameter{0.0}, 40.0_mm, 1.0_rpm, oil), std::invalid_argument);
  CHECK_THROWS_AS(rule_loss(rules[1], 0.0_mm, 1.0_rpm, oil), std::invalid_argument);
  CHECK_THROWS_AS(rule_loss(rules[2], 40.0_mm, 1.0_rpm, {80.0_degC, 0.1_mm2_s}),
                  std::invalid_argument);
}
