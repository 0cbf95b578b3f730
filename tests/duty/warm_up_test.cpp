#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/duty/warm_up.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using test::near;
using test::within;

namespace {

const duty::SumpNode sump{
    .heat_capacity = 12000.0_J_K, .conductance = 12.0_W_K, .ambient = 23.0_degC};

}  // namespace

TEST_CASE("limits of a sump step", "[duty][derived]") {
  CHECK(duty::temperature_after(sump, 40.0_degC, 300.0_W, 0.0_s) == 40.0_degC);
  CHECK_THAT(duty::temperature_after(sump, 40.0_degC, 300.0_W, 1e6_s), within(48.0_degC, 1e-9_K));
  // No way out for the heat: 300 W into 12 kJ/K is 0.025 K/s.
  auto closed = sump;
  closed.conductance = 0.0_W_K;
  CHECK_THAT(duty::temperature_after(closed, 40.0_degC, 300.0_W, 100.0_s),
             within(42.5_degC, 1e-12_K));
  closed.conductance = 1e-12_W_K;  // the limit is reached without a jump
  CHECK_THAT(duty::temperature_after(closed, 40.0_degC, 300.0_W, 100.0_s),
             within(42.5_degC, 1e-9_K));
}

TEST_CASE("at the balance nothing moves", "[duty][derived]") {
  CHECK_THAT(duty::temperature_after(sump, 48.0_degC, 300.0_W, 7.0_s), within(48.0_degC, 1e-12_K));
}

TEST_CASE("a longer step is many short ones", "[duty][derived]") {
  auto many = 23.0_degC;
  for (int k = 0; k < 1800; ++k) many = duty::temperature_after(sump, many, 300.0_W, 1.0_s);
  CHECK_THAT(many, within(duty::temperature_after(sump, 23.0_degC, 300.0_W, 1800.0_s), 1e-9_K));
}

TEST_CASE("a hot sump without heat cools towards the surroundings", "[duty][derived]") {
  const auto later =
      duty::temperature_after(sump, 80.0_degC, 0.0_W, 1000.0_s);  // one time constant
  CHECK_THAT(later, within(from_celsius(23.0 + 57.0 / std::exp(1.0)), 1e-9_K));
}

TEST_CASE("a sump without capacity or a step backwards is refused", "[duty][derived]") {
  auto bad = sump;
  bad.heat_capacity = 0.0_J_K;
  CHECK_THROWS_AS(duty::temperature_after(bad, 23.0_degC, 1.0_W, 1.0_s), std::invalid_argument);
  bad = sump;
  bad.conductance = ThermalConductance::from_value(-1.0);
  CHECK_THROWS_AS(duty::temperature_after(bad, 23.0_degC, 1.0_W, 1.0_s), std::invalid_argument);
  CHECK_THROWS_AS(duty::temperature_after(sump, 23.0_degC, 1.0_W, Time::from_value(-1.0)),
                  std::invalid_argument);
}

TEST_CASE("the air stream adds to the conductance of the sump", "[duty][derived]") {
  const duty::AirStream air{.added = 8.0_W_K, .at = 100.0_kmh, .exponent = 0.7};
  CHECK(duty::conductance_at(12.0_W_K, air, 0.0_kmh) == 12.0_W_K);
  CHECK_THAT(duty::conductance_at(12.0_W_K, air, 100.0_kmh), near(20.0_W_K, 1e-14));
  CHECK_THAT(duty::conductance_at(12.0_W_K, air, 50.0_kmh),
             near(ThermalConductance::from_value(12.0 + 8.0 * std::pow(0.5, 0.7)), 1e-14));
  // It only grows.
  ThermalConductance last = 12.0_W_K;
  for (double kmh = 1.0; kmh < 200.0; kmh *= 1.3) {
    const auto here = duty::conductance_at(12.0_W_K, air, from_kmh(kmh));
    CHECK(here > last);
    last = here;
  }
}

TEST_CASE("an air stream outside its ranges is refused", "[duty][derived]") {
  const duty::AirStream good{.added = 8.0_W_K, .at = 100.0_kmh, .exponent = 0.7};
  const auto refused = [](duty::AirStream air, ThermalConductance standing, Speed v) {
    CHECK_THROWS_AS(duty::conductance_at(standing, air, v), std::invalid_argument);
  };
  refused(good, ThermalConductance::from_value(-1.0), 50.0_kmh);
  refused(good, 12.0_W_K, Speed::from_value(-1.0));
  auto bad = good;
  bad.at = Speed{};
  refused(bad, 12.0_W_K, 50.0_kmh);
  bad = good;
  bad.added = ThermalConductance::from_value(-1.0);
  refused(bad, 12.0_W_K, 50.0_kmh);
  bad = good;
  bad.exponent = std::nan("");
  refused(bad, 12.0_W_K, 50.0_kmh);
}
