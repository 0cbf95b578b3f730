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
