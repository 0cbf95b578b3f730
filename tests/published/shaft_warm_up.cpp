#include <catch2/catch.hpp>
#include <cmath>

#include "component/reference_shaft.hpp"
#include "ohmdrag/component/shaft_march.hpp"
#include "support/near.hpp"

// How fast a shaft warms under a contact: 40 mm steel, 46 W/(m K), 7850 kg/m3, 470 J/(kg K) from
// memory.

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::component;
using test::near;
using test::within;

namespace {

const ShaftStore steel{.density = 7850.0_kg_m3, .specific_heat = SpecificHeat::from_value(470.0)};
constexpr double steel_J_m3K = 7850.0 * 470.0;

contact::ShaftFin fin(HeatTransferCoefficient film) { return {40.0_mm, 46.0_W_mK, film}; }

/// tau_h = rho c A / (h pi d) = rho c / (k m^2).
double side_time_s(HeatTransferCoefficient film) {
  const double decay_m = contact::decay_length(fin(film)).value();
  return steel_J_m3K * decay_m * decay_m / 46.0;
}

/// A contact without a body in the middle of a shaft with one film on both sides: half of its heat
/// goes into each of two equal endless fins.
ShaftSystem twin_fins(HeatTransferCoefficient film) {
  auto ring = test::ring(10.0_N_m, 0.0_mm);
  ring.to_body = std::nullopt;
  auto system = test::shaft({ring});
  system.oil_side = system.dry_side = contact::FixedFilm{film};
  return system;
}

}  // namespace

TEST_CASE("time constants of a shaft's surface", "[published][derived]") {
  // derived: tau_h = rho c d / (4 h).
  struct Row {
    HeatTransferCoefficient film;
    double s;
  };
  const auto row =
      GENERATE(Row{1000.0_W_m2K, 36.9}, Row{100.0_W_m2K, 369.0}, Row{40.0_W_m2K, 922.0});
  CHECK(side_time_s(row.film) == Approx(row.s).epsilon(1e-3));
}

TEST_CASE("a suddenly heated fin follows the error function", "[published][derived]") {
  // derived: Laplace transform of the one-dimensional fin, base rise Q/g erf(sqrt(t/tau_h)) for
  // constant heat from t = 0. Printed fractions for 1000 W/m2K to three digits.
  struct Row {
    double s, fraction;
  };
  const auto row = GENERATE(Row{1.0, 0.184}, Row{10.0, 0.538}, Row{60.0, 0.929});
  const HeatTransferCoefficient film = 1000.0_W_m2K;
  CHECK(std::erf(std::sqrt(row.s / side_time_s(film))) == Approx(row.fraction).epsilon(3e-3));
  const auto system = twin_fins(film);
  const int steps = GENERATE(1, 7);
  ShaftMarch march(system, steel, 80.0_degC);
  MarchStep last;
  for (int i = 0; i < steps; ++i)
    last = march.step(9000.0_rpm, {80.0_degC, 80.0_degC}, Time::from_value(row.s / steps));
  const auto& c = last.end.contacts[0];
  const double final_K = 0.5 * c.power.value() / contact::endless_fin(fin(film)).value();
  const double rise_K = in_celsius(c.shaft_under) - 80.0;
  CHECK(rise_K / final_K == Approx(std::erf(std::sqrt(row.s / side_time_s(film)))).epsilon(0.01));
}

TEST_CASE("the law of the fin holds at other films too", "[published][derived]") {
  // derived: as above.
  for (const auto& film : {40.0_W_m2K, 300.0_W_m2K, 3000.0_W_m2K})
    for (const double s : {1.0, 10.0, 60.0, 600.0}) {
      ShaftMarch march(twin_fins(film), steel, 80.0_degC);
      const auto step = march.step(9000.0_rpm, {80.0_degC, 80.0_degC}, Time::from_value(s));
      const auto& c = step.end.contacts[0];
      const double final_K = 0.5 * c.power.value() / contact::endless_fin(fin(film)).value();
      CHECK((in_celsius(c.shaft_under) - 80.0) / final_K ==
            Approx(std::erf(std::sqrt(s / side_time_s(film)))).epsilon(0.01));
    }
}

TEST_CASE("a hollow shaft follows the same law on its own time", "[published][derived]") {
  // derived: tau_h = rho c A / (h pi d), section 36 % of the solid for a bore of 0.8 d.
  auto system = twin_fins(1000.0_W_m2K);
  system.bore = 32.0_mm;
  ShaftMarch march(system, steel, 80.0_degC);
  const auto step = march.step(9000.0_rpm, {80.0_degC, 80.0_degC}, Time::from_value(5.0));
  const auto& c = step.end.contacts[0];
  const double final_K = 0.5 * c.power.value() / (0.6 * 2.6945);
  CHECK((in_celsius(c.shaft_under) - 80.0) / final_K ==
        Approx(std::erf(std::sqrt(5.0 / (0.36 * 36.895)))).epsilon(0.01));
}

TEST_CASE("why a lip is taken as steady and a shaft is not", "[published][derived]") {
  // derived: lip of 1 mm2 section, 2.2e6 J/(m3 K) from memory, behind the band of 0.2 mm: 0.276 J/K
  // and 0.0706 s. Shaft as one lump of both decay lengths: 597 J/K, 184 s, which after 1 s gives
  // 0.5 % of the final rise where the fin on the oil side gives 18 %.
  const double lip_J_K = 2.2e6 * std::numbers::pi * 0.04 * 1e-6;
  CHECK(lip_J_K == Approx(0.276).epsilon(3e-3));
  const double band_K_W = contact::band_resistance(40.0_mm, 0.2_mm, 46.0_W_mK).value();
  CHECK(lip_J_K * band_K_W == Approx(0.0706).epsilon(2e-3));
  const auto oil = fin(1000.0_W_m2K);
  const auto dry = fin(40.0_W_m2K);
  const double lump_J_K = steel_J_m3K * std::numbers::pi * 4e-4 *
                          (contact::decay_length(oil).value() + contact::decay_length(dry).value());
  CHECK(lump_J_K == Approx(597.0).epsilon(2e-3));
  const double lump_s =
      lump_J_K / (contact::endless_fin(oil).value() + contact::endless_fin(dry).value());
  CHECK(lump_s == Approx(184.0).epsilon(5e-3));
  CHECK(-std::expm1(-1.0 / lump_s) == Approx(0.005).epsilon(0.1));
  CHECK(std::erf(std::sqrt(1.0 / side_time_s(1000.0_W_m2K))) == Approx(0.184).epsilon(3e-3));
}

namespace {

ShaftContact brush(Length position) {
  auto pad = test::ring(0.0_N_m, position);
  pad.id = "brush";
  pad.load = 0.75_N;
  pad.contact_width = 5.0_mm;
  pad.to_body = ThermalResistance::from_value(60.0);
  return pad;
}

/// A lip, a dry ring, an oil-wetted ring, a brush, and all of them on one shaft.
std::vector<ShaftSystem> every_kind() {
  auto wetted = test::lip(10.0_N_m, 0.0_mm, 4.0_mm);
  wetted.id = "wetted ring";
  wetted.to_body = std::nullopt;
  std::get<contact::MixedFilm>(wetted.law).transition_duty = 2e-4;
  auto behind = wetted;
  behind.position = -1.0 * 6.0_mm;
  return {test::shaft({test::lip(0.12_N_mm, 0.0_mm)}), test::shaft({test::ring(10.0_N_m, 4.0_mm)}),
          test::shaft({wetted}), test::shaft({brush(20.0_mm)}),
          test::shaft({behind, test::lip(0.12_N_mm, 0.0_mm), test::ring(10.0_N_m, 4.0_mm),
                       brush(20.0_mm)})};
}

}  // namespace

TEST_CASE("the march of every kind of contact ends in its steady root", "[published][derived]") {
  // derived: the same network without storage.
  const double rpm = GENERATE(0.0, 1000.0, 6000.0, 15000.0, -6000.0);
  for (const auto& system : every_kind()) {
    const auto steady = solve(system, from_rpm(rpm), test::warm);
    ShaftMarch march(system, steel, 20.0_degC);
    MarchStep last;
    for (int i = 0; i < 40; ++i)
      last = march.step(from_rpm(rpm), test::warm, Time::from_value(900.0));
    for (std::size_t c = 0; c < system.contacts.size(); ++c) {
      CAPTURE(rpm, system.contacts[c].id);
      CHECK_THAT(last.end.contacts[c].contact, within(steady.contacts[c].contact, 0.01_K));
    }
  }
}

TEST_CASE("a marching shaft keeps its energy", "[published][derived]") {
  // derived: first law; 1e-6 of what flows.
  for (const auto& system : every_kind()) {
    ShaftMarch march(system, steel, 20.0_degC);
    double made = 0.0, kept = 0.0, given = 0.0, flows = 0.0;
    for (const double rpm : {300.0, 6000.0, 15000.0, 0.0, -3000.0, 40000.0})
      for (int i = 0; i < 5; ++i) {
        const auto step = march.step(from_rpm(rpm), test::warm, Time::from_value(7.0));
        made += step.friction.value();
        kept += step.stored.value();
        given += step.into_oil.value() + step.into_dry.value();
        flows += std::abs(step.into_oil.value()) + std::abs(step.into_dry.value());
        CHECK(step.friction.value() >= 0.0);
      }
    CHECK(made - kept - given == Approx(0.0).margin(1e-6 * flows));
  }
}

TEST_CASE("two contacts far apart march like two shafts, at one place like one contact",
          "[published][derived]") {
  // derived: the fin between them, exp(-x m), is 1e-20 at 5 m.
  auto near_one = test::ring(10.0_N_m, 0.0_mm);
  near_one.to_body = std::nullopt;
  auto far_one = near_one;
  far_one.position = Length::from_value(5.0);
  auto half = near_one;
  half.load = 0.5 * near_one.load;
  const auto rise_K = [](const ShaftSystem& system, std::size_t contact) {
    ShaftMarch march(system, steel, 40.0_degC);
    const auto step = march.step(9000.0_rpm, {40.0_degC, 40.0_degC}, Time::from_value(60.0));
    return in_celsius(step.end.contacts.at(contact).shaft_under) - 40.0;
  };
  auto dry_all_along = [](std::vector<ShaftContact> contacts) {
    auto system = test::shaft(std::move(contacts));
    system.oil_side = system.dry_side = contact::FixedFilm{100.0_W_m2K};
    return system;
  };
  const double alone = rise_K(dry_all_along({near_one}), 0);
  // The second contact brings cells of its own: 1e-4 for those.
  CHECK(rise_K(dry_all_along({near_one, far_one}), 0) == Approx(alone).epsilon(1e-4));
  CHECK(rise_K(dry_all_along({near_one, far_one}), 1) == Approx(alone).epsilon(0.01));
  CHECK(rise_K(dry_all_along({half, half}), 0) == Approx(alone).epsilon(1e-9));
  CHECK(rise_K(dry_all_along({half, half}), 1) == Approx(alone).epsilon(1e-9));
}
