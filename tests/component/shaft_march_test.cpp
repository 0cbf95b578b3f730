#include "ohmdrag/component/shaft_march.hpp"

#include <array>
#include <cmath>

#include "component/reference_shaft.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;
using namespace ohmdrag::component;

namespace {

const ShaftStore steel{.density = 7850.0_kg_m3, .specific_heat = SpecificHeat::from_value(470.0)};
const Time very_long = Time::from_value(1e9);

constexpr TemperatureDifference kelvin(double K) { return TemperatureDifference::from_value(K); }
constexpr Time seconds(double s) { return Time::from_value(s); }

// A brush of 5 x 5 mm: its band is 5 mm wide, its holder sheds some heat to the dry side.
ShaftContact brush(Length position) {
  return {.id = "brush",
          .law = contact::ConstantFriction{0.2},
          .contact_width = 5.0_mm,
          .line_force = LineForce{},
          .load = 0.75_N,
          .to_body = ThermalResistance::from_value(60.0),
          .body_in_oil = false,
          .position = position};
}

ShaftSystem lip_ring_brush() {
  auto system =
      shaft({lip(0.12_N_mm, 0.0_mm), ring(10.0_N_m, 3.0_mm), brush(Length::from_value(18e-3))});
  system.oil_side_length = 25.0_mm;
  system.dry_side_length = 45.0_mm;
  system.oil_side = contact::TurningCylinder{0.3, 20.0_K};
  system.dry_side = contact::TurningCylinder{1.0, 20.0_K};
  return system;
}

std::vector<ShaftSystem> every_kind() {
  auto hollow = lip_ring_brush();
  hollow.bore = 24.0_mm;
  auto no_overhang = lip_ring_brush();
  no_overhang.dry_side_length = 18.0_mm;
  return {shaft({lip(0.12_N_mm, 0.0_mm)}),
          shaft({ring(10.0_N_m, -1.0 * 4.0_mm)}),
          shaft({brush(30.0_mm)}),
          lip_ring_brush(),
          hollow,
          no_overhang};
}

void check_balance(const MarchStep& step) {
  const double scale = std::abs(step.friction.value()) + std::abs(step.stored.value()) +
                       std::abs(step.into_oil.value()) + std::abs(step.into_dry.value());
  CHECK(step.stored.value() + step.into_oil.value() + step.into_dry.value() -
            step.friction.value() ==
        Approx(0.0).margin(1e-6 * scale));
}

}  // namespace

TEST_CASE("a long march ends in the steady shaft", "[derived]") {
  const double n = GENERATE(-6000.0, 0.0, 300.0, 6000.0, 15000.0, 40000.0);
  for (const auto& system : every_kind()) {
    const auto steady = solve(system, from_rpm(n), warm);
    ShaftMarch at_once(system, steel, 20.0_degC);
    ShaftMarch stepped(system, steel, 20.0_degC);
    const auto end = at_once.step(from_rpm(n), warm, very_long).end;
    MarchStep last;
    for (int i = 0; i < 300; ++i) last = stepped.step(from_rpm(n), warm, seconds(60.0));
    for (std::size_t c = 0; c < system.contacts.size(); ++c) {
      CHECK_THAT(end.contacts[c].contact, within(steady.contacts[c].contact, kelvin(1e-3)));
      CHECK_THAT(end.contacts[c].shaft_under, within(steady.contacts[c].shaft_under, kelvin(1e-3)));
      CHECK(end.contacts[c].torque.value() ==
            Approx(steady.contacts[c].torque.value()).epsilon(1e-6));
      CHECK_THAT(last.end.contacts[c].contact, within(steady.contacts[c].contact, kelvin(0.01)));
    }
    CHECK_THAT(end.into_oil_side, within(steady.into_oil_side, Power::from_value(1e-3)));
    CHECK_THAT(end.into_dry_side, within(steady.into_dry_side, Power::from_value(1e-3)));
  }
}

TEST_CASE("heat made is heat stored and given off, at every step", "[derived]") {
  const double dt_s = GENERATE(1e-3, 0.1, 1.0, 30.0, 1e4);
  for (const auto& system : every_kind()) {
    ShaftMarch march(system, steel, 25.0_degC);
    for (const double n : {500.0, 9000.0, 0.0, -3000.0, 40000.0}) {
      const auto step = march.step(from_rpm(n), warm, seconds(dt_s));
      check_balance(step);
      CHECK(step.friction.value() >= 0.0);
      CHECK((n == 0.0) == (step.friction.value() == 0.0));
    }
  }
}

TEST_CASE("without power all nodes relax to equal surroundings", "[derived]") {
  for (const auto& system : every_kind()) {
    ShaftMarch march(system, steel, 150.0_degC);
    double highest = 150.0;
    for (int i = 0; i < 20; ++i) {
      march.step(0.0_rpm, {60.0_degC, 60.0_degC}, seconds(30.0));
      double now = 0.0;
      for (std::size_t n = 0; n < march.nodes(); ++n) {
        CHECK(march.node_temperature(n) >= from_celsius(60.0 - 1e-9));
        now = std::max(now, in_celsius(march.node_temperature(n)));
      }
      CHECK(now < highest);
      highest = now;
    }
    march.step(0.0_rpm, {60.0_degC, 60.0_degC}, very_long);
    for (std::size_t n = 0; n < march.nodes(); ++n)
      CHECK_THAT(march.node_temperature(n), within(60.0_degC, kelvin(1e-6)));
  }
}

TEST_CASE("a shaft in balance stays there", "[derived]") {
  for (const auto& system : every_kind()) {
    ShaftMarch march(system, steel, 60.0_degC);
    for (const double dt_s : {1e-4, 1.0, 1e3}) {
      const auto step = march.step(0.0_rpm, {60.0_degC, 60.0_degC}, seconds(dt_s));
      for (const auto& c : step.end.contacts)
        CHECK_THAT(c.contact, within(60.0_degC, kelvin(1e-9)));
      CHECK(step.stored.value() == 0.0);
    }
  }
}

TEST_CASE("constant friction does not mind how time is cut", "[derived]") {
  const auto system = shaft({ring(10.0_N_m, 2.0_mm), brush(20.0_mm)});
  ShaftMarch once(system, steel, 30.0_degC);
  ShaftMarch often(system, steel, 30.0_degC);
  const auto whole = once.step(9000.0_rpm, warm, seconds(50.0));
  Energy oil;
  MarchStep last;
  for (int i = 0; i < 500; ++i) {
    last = often.step(9000.0_rpm, warm, seconds(0.1));
    oil += last.into_oil;
  }
  for (std::size_t c = 0; c < 2; ++c)
    CHECK_THAT(last.end.contacts[c].contact, within(whole.end.contacts[c].contact, kelvin(1e-8)));
  CHECK(oil.value() == Approx(whole.into_oil.value()).epsilon(1e-8));
}

TEST_CASE("a mixed film converges as its steps shorten, and no step is too long", "[derived]") {
  const auto system = lip_ring_brush();
  const auto after_a_minute = [&](int steps) {
    ShaftMarch march(system, steel, 20.0_degC);
    MarchStep last;
    for (int i = 0; i < steps; ++i)
      last = march.step(15000.0_rpm, {20.0_degC, 20.0_degC}, seconds(60.0 / steps));
    return in_celsius(last.end.contacts[0].contact);
  };
  const double fine = after_a_minute(2000);
  const double coarse = std::abs(after_a_minute(20) - fine);
  const double half = std::abs(after_a_minute(40) - fine);
  CHECK(half < 0.6 * coarse);
  CHECK(coarse < 0.5);
  CHECK(after_a_minute(1) == Approx(fine).margin(8.0));
}

TEST_CASE("a lip starts cold, drags more, and warms up", "[derived]") {
  ShaftMarch march(lip_ring_brush(), steel, from_celsius(-10.0));
  const Surroundings cold{from_celsius(-10.0), from_celsius(-10.0)};
  const auto first = march.step(3000.0_rpm, cold, seconds(0.01)).end.contacts[0];
  auto before = first;
  for (int i = 0; i < 100; ++i) {
    const auto now = march.step(3000.0_rpm, cold, seconds(2.0)).end.contacts[0];
    CHECK(now.contact > before.contact);
    CHECK(now.power < before.power);
    before = now;
  }
  CHECK(before.power < 0.9 * first.power);
}

TEST_CASE("reversed rotation reverses torque and nothing else in time", "[derived]") {
  ShaftMarch ahead(lip_ring_brush(), steel, 20.0_degC);
  ShaftMarch back(lip_ring_brush(), steel, 20.0_degC);
  for (int i = 0; i < 5; ++i) {
    const auto a = ahead.step(7000.0_rpm, warm, seconds(3.0));
    const auto b = back.step(from_rpm(-7000.0), warm, seconds(3.0));
    for (std::size_t c = 0; c < 3; ++c) {
      CHECK(b.end.contacts[c].torque == -a.end.contacts[c].torque);
      CHECK(b.end.contacts[c].contact == a.end.contacts[c].contact);
    }
    CHECK(a.friction == b.friction);
  }
}

TEST_CASE("a contact without force only feels the shaft", "[derived]") {
  auto system = shaft({ring(0.0_N_m, 0.0_mm)});
  system.contacts[0].to_body = std::nullopt;
  ShaftMarch march(system, steel, 80.0_degC);
  const auto step = march.step(9000.0_rpm, {80.0_degC, 80.0_degC}, seconds(5.0));
  CHECK(step.friction.value() == 0.0);
  CHECK_THAT(step.end.contacts[0].contact, within(80.0_degC, kelvin(1e-9)));
}

TEST_CASE("cells are fine at the contacts and at least four a fin", "[derived]") {
  const ShaftMarch march(lip_ring_brush(), steel, 20.0_degC);
  const auto at = [&](std::size_t n) { return march.node_position(n).value(); };
  std::size_t before_lip = march.node_under(0);
  CHECK(before_lip >= 3);  // the held end itself is no node
  CHECK(march.nodes() - 1 - march.node_under(2) >= 4);
  for (std::size_t c = 0; c < 3; ++c) {
    const std::size_t n = march.node_under(c);
    CHECK(at(n) == Approx(std::array{0.0, 3e-3, 18e-3}[c]).margin(1e-12));
    CHECK(at(n + 1) - at(n) <= 2e-3);
    CHECK(at(n) - at(n - 1) <= 2e-3);
  }
}

TEST_CASE("a hollow shaft heats faster", "[derived]") {
  auto solid = shaft({ring(20.0_N_m, 0.0_mm)});
  auto hollow = solid;
  hollow.bore = 30.0_mm;
  ShaftMarch heavy(solid, steel, 40.0_degC);
  ShaftMarch light(hollow, steel, 40.0_degC);
  for (const double dt_s : {1.0, 10.0, 60.0}) {
    const auto a = heavy.step(9000.0_rpm, {40.0_degC, 40.0_degC}, seconds(dt_s));
    const auto b = light.step(9000.0_rpm, {40.0_degC, 40.0_degC}, seconds(dt_s));
    CHECK(b.end.contacts[0].shaft_under > a.end.contacts[0].shaft_under);
  }
}

TEST_CASE("an impossible march is refused", "[derived]") {
  CHECK_THROWS_AS(ShaftMarch(lip_ring_brush(), ShaftStore{}, 20.0_degC), std::invalid_argument);
  auto system = lip_ring_brush();
  system.bore = 40.0_mm;
  CHECK_THROWS_AS(ShaftMarch(system, steel, 20.0_degC), std::invalid_argument);
  system = lip_ring_brush();
  system.dry_side_length = 10.0_mm;
  CHECK_THROWS_AS(ShaftMarch(system, steel, 20.0_degC), std::invalid_argument);
  ShaftMarch march(lip_ring_brush(), steel, 20.0_degC);
  CHECK_THROWS_AS(march.step(1.0_rpm, warm, seconds(0.0)), std::invalid_argument);
  CHECK_THROWS_AS(march.step(1.0_rpm, warm, seconds(std::nan(""))), std::invalid_argument);
  CHECK_THROWS_AS(march.step(1.0_rpm, {Temperature::from_value(-1.0), 20.0_degC}, seconds(1.0)),
                  std::invalid_argument);
}
