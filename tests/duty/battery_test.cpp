#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "ohmdrag/duty/battery.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/battery.hpp"
#include "support/cycles.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using duty::Drive;
using duty::ShaftSide;
using test::near;
using test::simple_path;
using test::wh_per_km;
using test::within;

TEST_CASE("a small loss is priced at the margin", "[duty][derived]") {
  const duty::BatteryPath path{.mean_efficiency = 0.90,
                               .load_independent_share = 0.4,
                               .recuperation_efficiency = 0.78,
                               .recuperation_share = 0.8,
                               .gear_efficiency = 0.97};
  const double traction = 1.0 + 0.6 * (1.0 / 0.9 - 1.0);
  const double recuperation = 0.8 * (1.0 - 0.6 * 0.22);
  CHECK(duty::battery_factor(path, Drive::traction, ShaftSide::rotor) ==
        Approx(traction).epsilon(1e-15));
  CHECK(duty::battery_factor(path, Drive::recuperation, ShaftSide::rotor) ==
        Approx(recuperation).epsilon(1e-15));
  CHECK(duty::battery_factor(path, Drive::traction, ShaftSide::wheel_side) ==
        Approx(traction / 0.97).epsilon(1e-15));
  CHECK(duty::battery_factor(path, Drive::recuperation, ShaftSide::wheel_side) ==
        Approx(recuperation * 0.97).epsilon(1e-15));
  CHECK(duty::battery_factor(path, Drive::standstill, ShaftSide::rotor) == 0.0);
  CHECK(duty::battery_factor(path, Drive::standstill, ShaftSide::wheel_side) == 0.0);
}

// The factor is the slope of battery power over shaft power for losses a + b P, found here by a
// difference of two balances instead of the formula.
TEST_CASE("the marginal factor is the slope of a linear loss", "[duty][derived]") {
  const double eta = 0.88;
  const double share = 0.35;
  const double shaft_W = 10e3;
  const double loss_W = shaft_W * (1.0 / eta - 1.0);
  const double fixed_W = share * loss_W;
  const double slope = (loss_W - fixed_W) / shaft_W;
  const auto battery_W = [&](double p_W) { return p_W + fixed_W + slope * p_W; };
  auto path = simple_path(eta, 0.8, 1.0);
  path.load_independent_share = share;
  CHECK(battery_W(shaft_W) == Approx(shaft_W / eta).epsilon(1e-14));
  CHECK(duty::battery_factor(path, Drive::traction, ShaftSide::rotor) ==
        Approx(battery_W(shaft_W + 1.0) - battery_W(shaft_W)).epsilon(1e-9));
}

TEST_CASE("limits of the marginal factor", "[duty][derived]") {
  auto path = simple_path(0.85, 0.75, 0.9);
  CHECK(duty::battery_factor(path, Drive::traction, ShaftSide::rotor) ==
        Approx(1.0 / 0.85).epsilon(1e-15));
  CHECK(duty::battery_factor(path, Drive::recuperation, ShaftSide::rotor) ==
        Approx(0.9 * 0.75).epsilon(1e-15));
  path.load_independent_share = 1.0;
  CHECK(duty::battery_factor(path, Drive::traction, ShaftSide::rotor) == 1.0);
  CHECK(duty::battery_factor(path, Drive::recuperation, ShaftSide::rotor) == 0.9);
}

TEST_CASE("a path outside its ranges is refused", "[duty][derived]") {
  const auto broken = [](auto change) {
    auto path = simple_path(0.9, 0.8, 1.0);
    change(path);
    CHECK_THROWS_AS(duty::battery_factor(path, Drive::traction, ShaftSide::rotor),
                    std::invalid_argument);
    CHECK_THROWS_AS(duty::battery_balance({}, path, 0.0_W), std::invalid_argument);
  };
  broken([](auto& p) { p.mean_efficiency = 0.0; });
  broken([](auto& p) { p.mean_efficiency = 1.1; });
  broken([](auto& p) { p.mean_efficiency = std::nan(""); });
  broken([](auto& p) { p.gear_efficiency = 0.0; });
  broken([](auto& p) { p.load_independent_share = -0.1; });
  broken([](auto& p) { p.recuperation_efficiency = 1.1; });
  broken([](auto& p) { p.recuperation_share = 2.0; });
  CHECK_THROWS_AS(duty::battery_balance({}, simple_path(0.9, 0.8, 1.0), Power::from_value(-1.0)),
                  std::invalid_argument);
}

TEST_CASE("consumption of the mid-size car on the WLTC", "[duty][derived]") {
  struct Row {
    double traction, recuperation;
    Power auxiliary;
    double expected;
  };
  // Derived: energy balance with these efficiencies on the 1 Hz trace, computed independently.
  const auto row = GENERATE(Row{0.90, 0.765, 300.0_W, 131.39}, Row{0.88, 0.60, 300.0_W, 144.30},
                            Row{0.85, 0.48, 400.0_W, 159.10});
  const auto steps = duty::steps(test::wltc_3b(), test::midsize_car());
  const auto balance =
      duty::battery_balance(steps, simple_path(row.traction, row.recuperation, 1.0), row.auxiliary);
  CHECK_THAT(duty::consumption(balance), within(wh_per_km(row.expected), wh_per_km(0.006)));
}

TEST_CASE("gears and pads lie between wheel and battery", "[duty][derived]") {
  const auto steps = duty::steps(test::wltc_3b(), test::midsize_car());
  const auto plain = duty::battery_balance(steps, simple_path(0.9, 0.8, 1.0), 300.0_W);
  auto path = simple_path(0.9, 0.8, 0.5);
  path.gear_efficiency = 0.97;
  const auto geared = duty::battery_balance(steps, path, 300.0_W);
  CHECK_THAT(geared.traction, near(Energy(plain.traction / 0.97), 1e-14));
  CHECK_THAT(geared.recovered, near(Energy(plain.recovered * 0.5 * 0.97), 1e-14));
  CHECK_THAT(geared.auxiliary, near(300.0_W * 1800.0_s, 1e-14));
}

TEST_CASE("range and its change", "[duty][derived]") {
  const auto e = wh_per_km(150.0);
  const Energy usable = e * 500.0_km;
  CHECK_THAT(duty::range(usable, e), near(500.0_km, 1e-14));
  const auto extra = wh_per_km(0.156863);  // 8 W at 60 km/h behind an efficiency of 0.85
  const Length change = duty::range_change(usable, e, extra);
  CHECK_THAT(change, within(Length::from_value(-522.0), 0.5_m));
  CHECK_THAT(change, near(Length(duty::range(usable, e + extra) - duty::range(usable, e)), 1e-9));
  CHECK_THAT(duty::range_change(usable, e, wh_per_km(0.148148)),
             within(Length::from_value(-493.0), 0.5_m));
  CHECK(duty::range_change(usable, e, EnergyPerDistance{}) == Length{});

  CHECK_THROWS_AS(duty::range(usable, EnergyPerDistance{}), std::invalid_argument);
  CHECK_THROWS_AS(duty::range(-usable, e), std::invalid_argument);
  CHECK_THROWS_AS(duty::range_change(usable, e, wh_per_km(-151.0)), std::invalid_argument);
  CHECK_THROWS_AS(duty::consumption(duty::BatteryBalance{}), std::invalid_argument);
}
