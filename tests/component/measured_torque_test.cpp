#include "ohmdrag/component/measured_torque.hpp"

#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using component::BeyondTable;
using component::MeasuredTorque;
using component::MeasuredTorqueRow;
using test::near;

namespace {

// Invented run: a Stribeck-like fall, a plateau and a rise, where a plain cubic would overshoot.
const std::vector<MeasuredTorqueRow> run{{100.0_rpm, 0.30_Nm, {}},   {500.0_rpm, 0.12_Nm, {}},
                                         {1000.0_rpm, 0.10_Nm, {}},  {3000.0_rpm, 0.10_Nm, {}},
                                         {3500.0_rpm, 0.101_Nm, {}}, {12000.0_rpm, 0.20_Nm, {}}};

const std::vector<MeasuredTorqueRow> warm_run{
    {1000.0_rpm, 0.20_Nm, 40.0_degC}, {2000.0_rpm, 0.24_Nm, 40.0_degC},
    {4000.0_rpm, 0.30_Nm, 40.0_degC}, {8000.0_rpm, 0.36_Nm, 40.0_degC},
    {500.0_rpm, 0.10_Nm, 80.0_degC},  {2000.0_rpm, 0.12_Nm, 80.0_degC},
    {4000.0_rpm, 0.14_Nm, 80.0_degC}, {6000.0_rpm, 0.16_Nm, 80.0_degC}};

MeasuredTorque table(BeyondTable beyond = BeyondTable::hold) { return {run, beyond}; }
MeasuredTorque warm_table(BeyondTable beyond = BeyondTable::hold) { return {warm_run, beyond}; }

const Temperature any{};

}  // namespace

TEST_CASE("a measured torque returns its rows", "[derived]") {
  for (const auto& row : run) {
    const auto drag = table(BeyondTable::refuse).drag(row.speed, any);
    CHECK_THAT(drag.torque, near(row.torque, 1e-14));
    CHECK(drag.flags.empty());
  }
  for (const auto& row : warm_run)
    CHECK_THAT(warm_table(BeyondTable::refuse).drag(row.speed, *row.temperature).torque,
               near(row.torque, 1e-14));
}

TEST_CASE("between rows the torque stays between its neighbours and does not turn back",
          "[derived]") {
  const auto curve = table();
  for (std::size_t i = 1; i < run.size(); ++i) {
    const auto [low, high] = std::minmax(run[i - 1].torque.value(), run[i].torque.value());
    const double direction = run[i].torque.value() - run[i - 1].torque.value();
    double before = run[i - 1].torque.value();
    for (int k = 1; k <= 100; ++k) {
      const AngularVelocity speed = run[i - 1].speed + 0.01 * k * (run[i].speed - run[i - 1].speed);
      const double torque = curve.drag(speed, any).torque.value();
      CHECK(torque >= low - 1e-15);
      CHECK(torque <= high + 1e-15);
      CHECK((torque - before) * direction >= -1e-15);
      before = torque;
    }
  }
}

TEST_CASE("rows on a straight line give that line, in any order", "[derived]") {
  std::vector<MeasuredTorqueRow> rows;
  for (const double rpm : {9000.0, 1000.0, 4000.0, 2000.0, 7000.0})
    rows.push_back({from_rpm(rpm), Torque::from_value(0.05 + 1e-5 * rpm), {}});
  const auto speed = GENERATE(1500.0, 3000.0, 8999.0);
  const MeasuredTorque line(rows, BeyondTable::refuse);
  CHECK_THAT(line.drag(from_rpm(speed), any).torque,
             near(Torque::from_value(0.05 + 1e-5 * speed), 1e-12));
  // Two and three rows: straight pieces.
  const std::span<const MeasuredTorqueRow> all(rows);
  const MeasuredTorque two(all.first(2), BeyondTable::refuse);
  const MeasuredTorque three(all.first(3), BeyondTable::refuse);
  for (const auto& few : {two, three})
    CHECK_THAT(few.drag(from_rpm(speed), any).torque,
               near(Torque::from_value(0.05 + 1e-5 * speed), 1e-12));
}

TEST_CASE("between two temperatures the torque is linear", "[derived]") {
  const auto drag = [](Temperature t) { return warm_table().drag(3000.0_rpm, t).torque; };
  const Torque middle = 0.5 * (drag(40.0_degC) + drag(80.0_degC));
  CHECK_THAT(drag(60.0_degC), near(middle, 1e-14));
  CHECK_THAT(drag(50.0_degC), near(0.5 * (drag(40.0_degC) + middle), 1e-14));
  CHECK(warm_table().over_temperature());
  CHECK_FALSE(table().over_temperature());
}

TEST_CASE("reversed rotation reverses the torque, not the power", "[derived]") {
  const auto forth = table().drag(2000.0_rpm, any);
  const auto back = table().drag(from_rpm(-2000.0), any);
  CHECK(back.torque == -forth.torque);
  CHECK(back.power == forth.power);
  CHECK_THAT(forth.power, near(Power(forth.torque * AngularVelocity(2000.0_rpm)), 1e-15));
}

TEST_CASE("a shaft at rest takes no power and is never refused", "[derived]") {
  for (const BeyondTable beyond : {BeyondTable::hold, BeyondTable::refuse}) {
    const auto rest = table(beyond).drag(0.0_rpm, any);
    CHECK(rest.power == 0.0_W);
    CHECK(rest.torque == 0.30_Nm);
    CHECK(rest.flags.empty());
  }
}

TEST_CASE("outside the table the end stands, flagged", "[derived]") {
  const auto fast = table().drag(15000.0_rpm, any);
  CHECK(fast.torque == 0.20_Nm);
  REQUIRE(fast.flags.size() == 1);
  CHECK(fast.flags[0].value == Approx(15000.0));
  CHECK(fast.flags[0].low == Approx(100.0));
  CHECK(fast.flags[0].high == Approx(12000.0));
  CHECK(table().drag(50.0_rpm, any).torque == 0.30_Nm);
  CHECK(table().drag(50.0_rpm, any).flags.size() == 1);

  const auto hot = warm_table().drag(2000.0_rpm, 95.0_degC);
  CHECK_THAT(hot.torque, near(0.12_Nm, 1e-14));
  REQUIRE(hot.flags.size() == 1);
  CHECK(hot.flags[0].high == Approx(80.0));
  CHECK(warm_table().drag(9000.0_rpm, 20.0_degC).flags.size() == 2);
}

TEST_CASE("a speed counts as measured only on both curves beside the temperature", "[derived]") {
  CHECK(warm_table().drag(7000.0_rpm, 40.0_degC).flags.empty());
  CHECK(warm_table().drag(600.0_rpm, 80.0_degC).flags.empty());
  const auto between = warm_table().drag(7000.0_rpm, 60.0_degC);
  REQUIRE(between.flags.size() == 1);
  CHECK(between.flags[0].low == Approx(1000.0));
  CHECK(between.flags[0].high == Approx(6000.0));
  CHECK_THAT(between.torque,
             near(0.5 * (warm_table().drag(7000.0_rpm, 40.0_degC).torque + 0.16_Nm), 1e-14));
}

TEST_CASE("a table that refuses throws outside", "[derived]") {
  const auto strict = warm_table(BeyondTable::refuse);
  CHECK_THROWS_AS(strict.drag(9000.0_rpm, 40.0_degC), std::domain_error);
  CHECK_THROWS_AS(strict.drag(7000.0_rpm, 60.0_degC), std::domain_error);
  CHECK_THROWS_AS(strict.drag(2000.0_rpm, 81.0_degC), std::domain_error);
  CHECK_NOTHROW(strict.drag(6000.0_rpm, 60.0_degC));
}

TEST_CASE("unusable rows are refused", "[derived]") {
  const auto build = [](std::vector<MeasuredTorqueRow> rows) {
    return MeasuredTorque(rows, BeyondTable::hold);
  };
  using Rows = std::vector<MeasuredTorqueRow>;
  const MeasuredTorqueRow good{1000.0_rpm, 0.1_Nm, {}};
  CHECK_THROWS_AS(build({}), std::invalid_argument);
  CHECK_THROWS_AS(build({good}), std::invalid_argument);
  CHECK_THROWS_AS(build(Rows{good, good}), std::invalid_argument);
  CHECK_THROWS_AS(build(Rows{good, {2000.0_rpm, 0.1_Nm, 40.0_degC}}), std::invalid_argument);
  CHECK_THROWS_AS(build(Rows{good, {2000.0_rpm, -0.1_Nm, {}}}), std::invalid_argument);
  CHECK_THROWS_AS(build(Rows{good, {-2000.0_rpm, 0.1_Nm, {}}}), std::invalid_argument);
  CHECK_THROWS_AS(build(Rows{good, {2000.0_rpm, Torque::from_value(std::nan("")), {}}}),
                  std::invalid_argument);
  CHECK_THROWS_AS(table().drag(AngularVelocity::from_value(std::nan("")), any),
                  std::invalid_argument);
  CHECK_THROWS_AS(warm_table().drag(2000.0_rpm, Temperature::from_value(std::nan(""))),
                  std::invalid_argument);
}
