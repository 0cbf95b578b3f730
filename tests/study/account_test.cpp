// The account of watts: totals, targets, splits, heat into the sump, what a watt is worth.
#include <cmath>
#include <numeric>

#include "energy/sample_unit.hpp"
#include "ohmdrag/study/drag_map.hpp"
#include "ohmdrag/study/evaluate.hpp"
#include "study/heat_into_sump.hpp"
#include "study/sample_case.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using study::AccountRow;

namespace {

constexpr study::Sections budget{.budget = true};

const AccountRow& row_of(const study::VariantFindings& variant, const std::string& point,
                         const std::string& duty = {}) {
  for (const AccountRow& row : variant.account)
    if (row.point == point && row.duty == duty) return row;
  throw std::out_of_range(point + duty);
}

study::Target target(const char* point, const char* duty, Power max, double share = 0.9) {
  return {.point = point, .duty = duty, .max = known(max), .share_of_parts = share};
}

double width(const Interval& i) { return i.high - i.low; }

}  // namespace

TEST_CASE("the total of a draw is the sum of its parts", "[study]") {
  auto question = sample_case();
  question.samples = 1;
  const auto findings = study::evaluate(question, budget);
  for (const auto& variant : findings.variants) {
    double sum_W = 0.0;
    for (const auto& row : variant.budget) sum_W += row.own_W.mid;
    CHECK(row_of(variant, "running").total_W.mid == Approx(sum_W).epsilon(1e-12));
  }
}

TEST_CASE("what parts share is shared in their total", "[study]") {
  auto question = sample_case();
  auto twin = sample_bearing();
  twin.id = "far-end";  // the same torque factor: one draw for both
  question.bearings.push_back(twin);
  const auto together = study::evaluate(question, budget).variants[0];
  question.bearings[1].type.torque_factor.key = "bearing.other.torque_factor";
  const auto apart = study::evaluate(question, budget).variants[0];
  const double one = width(row_of(together, "running").parts[1].own_W);
  CHECK(row_of(together, "running").parts[1].component == "drive-end");
  CHECK(width(row_of(together, "running").total_W) > 1.1 * width(row_of(apart, "running").total_W));
  CHECK(width(row_of(together, "running").total_W) > 1.9 * one);
}

TEST_CASE("a target is weighed draw by draw", "[study]") {
  auto question = sample_case();
  const Interval total = row_of(study::evaluate(question, budget).variants[2], "running").total_W;
  const auto with = [&](double max_W) {
    question.targets = {target("running", "", Power::from_value(max_W))};
    return row_of(study::evaluate(question, budget).variants[2], "running");
  };
  CHECK(*with(total.mid).probability == Approx(0.5).margin(0.03));
  CHECK_FALSE(*with(total.mid).met);
  CHECK(*with(1.5 * total.high).probability == 1.0);
  CHECK(*with(1.5 * total.high).met);
  CHECK(*with(1.5 * total.high).margin_W == Approx(0.5 * total.high));
  CHECK(*with(0.0).probability == 0.0);
  CHECK_FALSE(row_of(study::evaluate(sample_case(), budget).variants[2], "running").target_W);
}

TEST_CASE("the reserve is the target less what is allocated to the parts that are there",
          "[study]") {
  auto question = sample_case();
  question.targets = {target("running", "", 100.0_W)};
  question.allocations = {
      {.component = "seal", .point = "running", .duty = {}, .max = known(40.0_W), .maturity = {}},
      {.component = "grounding",
       .point = "running",
       .duty = {},
       .max = known(9.0_W),
       .maturity = {}}};
  const auto findings = study::evaluate(question, budget);
  CHECK(*row_of(findings.variants[0], "running").reserve_W == Approx(60.0));
  CHECK(*row_of(findings.variants[2], "running").reserve_W == Approx(51.0));
  CHECK(row_of(findings.variants[2], "running").allocated_W == Approx(49.0));
}

TEST_CASE("an allocation of a duty is held against the mean watts", "[study]") {
  auto question = sample_case();
  question.targets = {target("", "shift", 100.0_W)};
  question.allocations = {
      {.component = "seal", .point = {}, .duty = "shift", .max = known(40.0_W), .maturity = "rig"}};
  // The budget alone runs the duty because the account names it.
  const auto variant = study::evaluate(question, budget).variants[0];
  const AccountRow& shift = row_of(variant, "", "shift");
  REQUIRE(shift.parts[0].component == "seal");
  CHECK(shift.parts[0].margin_W == Approx(40.0 - shift.parts[0].own_W.high));
  CHECK(shift.parts[0].maturity == "rig");
  // The shift runs as the point does, so its means are the watts there.
  CHECK(shift.total_W.mid == Approx(row_of(variant, "running").total_W.mid).epsilon(1e-9));
  const auto energy = study::evaluate(question, {.energy = true}).variants[0].energy;
  CHECK(shift.parts[0].own_W.high == Approx(energy[0].mean_W.high).epsilon(1e-12));
  CHECK(study::evaluate(sample_case(), budget).variants[0].account.size() == 1);
}

TEST_CASE("a split adds up and follows its rule", "[study]") {
  auto question = sample_case();
  question.splits = {
      {.point = "running", .duty = {}, .total = known(90.0_W), .by = study::SplitBy::present},
      {.point = "running", .duty = {}, .total = known(90.0_W), .by = study::SplitBy::equal_margin}};
  for (const auto& variant : study::evaluate(question, budget).variants)
    for (const auto& split : variant.split) {
      CAPTURE(variant.id, split.by);
      double sum_W = 0.0;
      for (const auto& part : split.parts) {
        sum_W += part.max_W;
        const auto key = [&](const auto& of) {
          return split.by == "present" ? of.own_W.mid : of.own_W.high;
        };
        CHECK(part.max_W / key(part) ==
              Approx(split.parts[0].max_W / key(split.parts[0])).epsilon(1e-12));
      }
      CHECK(sum_W == Approx(90.0).epsilon(1e-12));
    }
}

TEST_CASE("parts and idle flow add up to the heat into the sump", "[study]") {
  auto unit = sample_unit();
  unit.shafts[0].contacts[1].current_heat = 0.4_W;
  for (const double speed_rpm : {0.0, 1000.0, 9000.0, -6000.0})
    for (const double oil_K : {266.15, 333.15, 383.15}) {
      const std::vector<AngularVelocity> speeds{speed_rpm * 1.0_rpm};
      const std::vector<Torque> torques{Torque{}};
      const std::vector<Temperature> dry{40.0_degC};
      const energy::Running now{speeds, torques, dry, Temperature::from_value(oil_K)};
      energy::LossModel model(unit);
      std::vector<energy::PartLoss> losses(unit.parts.size());
      const Power into_sump = model.at(now, losses);
      const auto heat = study::heat_into_sump(unit, model, losses);
      CAPTURE(speed_rpm, oil_K);
      const Power sum = std::accumulate(heat.by_part.begin(), heat.by_part.end(), heat.idle);
      CHECK_THAT(sum, within(into_sump, 1e-9_W));
      for (std::size_t p = 0; p < losses.size(); ++p) {
        CHECK(heat.by_part[p].value() >= -1e-12);
        CHECK(heat.by_part[p].value() <= losses[p].power.value() + 1e-12);
      }
      CHECK(heat.by_part[2] == losses[2].power);  // the bearing stands in the oil
    }
}

// Derived: the case with one more watt, less the case without.
TEST_CASE("a watt at a machine is worth its hours", "[study]") {
  auto question = sample_case();
  question.samples = 1;
  question.prices = study::Prices{"credits", 0.2, {}, {}, 0.9};
  const auto stated = [&](Power power, double exponent) {
    study::StatedElement element;
    element.power = known(power);
    element.at = known(3000.0_rpm);
    element.torque_exponent = known(exponent);
    study::ExtraDrag extra;
    extra.id = "more";
    extra.element = {"more", "More", element};
    extra.shaft = "rotor";
    return extra;
  };
  question.variants.resize(1);
  for (const auto& [id, extra] :
       {std::pair{"watt", stated(1.0_W, -1.0)},
        std::pair{"torque", stated(Power(1.0_Nm * AngularVelocity(3000.0_rpm)), 0.0)}}) {
    question.variants.push_back(question.variants[0]);
    question.variants.back().id = id;
    question.variants.back().extras = {extra};
  }
  const auto findings = study::evaluate(question, {.energy = true});
  REQUIRE(findings.watt_worth.size() == 2);
  for (const std::size_t i : {0U, 1U}) {
    const auto& net = findings.variants[i + 1].energy.back();
    REQUIRE(net.component == "net");
    const auto& worth = findings.watt_worth[i];
    CAPTURE(worth.loss);
    CHECK(worth.shaft_kWh_per_year->mid == Approx(net.kWh_per_year->mid).epsilon(1e-9));
    CHECK(worth.plug_kWh_per_year->mid == Approx(net.kWh_per_year->mid / 0.9).epsilon(1e-9));
    CHECK(worth.plug_cost_per_year->mid == Approx(net.kWh_per_year->mid / 4.5).epsilon(1e-9));
    CHECK_FALSE(worth.battery_Wh_per_km);
  }
  CHECK(findings.watt_worth[0].shaft_kWh_per_year->mid == Approx(4.0));  // 1 W for 4000 h
}

TEST_CASE("a drag map meets the budget at the operating points", "[study]") {
  auto question = sample_case();
  question.samples = 1;
  const auto map = study::drag_map(question, "ohm", {});
  const auto rows = study::evaluate(question, budget).variants[2].budget;
  const auto node = std::ranges::find_if(map.rows, [](const study::DragMapRow& row) {
    return row.speed_rpm == Approx(6000.0) && row.oil_degC == Approx(70.0);
  });
  REQUIRE(node != map.rows.end());
  REQUIRE(map.inside.size() == rows.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CHECK(map.inside[i] == rows[i].component);
    CHECK(node->part_torque_Nm[i] == Approx(rows[i].torque_Nm.mid).epsilon(1e-9));
  }
  CHECK(node->drawn_power_W.mid == Approx(node->power_W).epsilon(1e-9));
  CHECK_THROWS_AS(study::drag_map(question, "nobody", {}), std::invalid_argument);
  CHECK_THROWS_AS(study::drag_map(question, "ohm", "wheel"), std::invalid_argument);
  question.points[0].shaft_speed = known(0.0_rpm);
  CHECK_THROWS_AS(study::drag_map(question, "ohm", {}), std::invalid_argument);
}

TEST_CASE("the bounds of a drag map hold the speed and the oil", "[study]") {
  const auto map = study::drag_map(sample_case(), "plain", {});
  for (const auto& row : map.rows) {
    CHECK(row.drawn_torque_Nm.low < row.torque_Nm);
    CHECK(row.drawn_torque_Nm.high > row.torque_Nm);
  }
  CHECK(map.rows.front().oil_degC > 23.0 - 1e-9);
  CHECK(map.rows.back().oil_degC == Approx(70.0));
}
