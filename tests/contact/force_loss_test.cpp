#include "ohmdrag/contact/force_loss.hpp"

#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;

namespace {

const Relaxation nitrile{.per_decade = 0.05,
                         .log_time = 60.0_s,
                         .chemical_time = 3000.0_h,
                         .at = 125.0_degC,
                         .activation_temperature = 10824.6_K,
                         .stretch = 0.6};
const ModulusTable rubber{{from_celsius(-20.0), 2.5}, {from_celsius(-7.0), 1.5}, {20.0_degC, 1.0},
                          {60.0_degC, 0.75},          {100.0_degC, 0.6},         {150.0_degC, 0.5}};

LipForce lip() {
  return {.spring = 60.0_N_m,
          .rubber = 60.0_N_m,
          .set = {.final_set = 0.05, .set_time = 100.0_h},
          .relaxation = nitrile,
          .modulus = rubber,
          .radial_interference = 0.6_mm,
          .pressure_length = 1.5_mm};
}
LipState fresh() {
  return {.age = 0.0_s, .temperature = 20.0_degC, .wear = 0.0_mm, .over_pressure = 0.0_Pa};
}

}  // namespace

TEST_CASE("a new part has lost nothing", "[derived]") {
  CHECK(relaxation(nitrile, 0.0_s, 125.0_degC).value == 1.0);
  CHECK((spring_factor({.final_set = 0.05, .set_time = 100.0_h}, 0.0_s) == 1.0));
  const auto force = lip_force(lip(), fresh());
  CHECK_THAT(force.total, near(120.0_N_m, 1e-14));
  CHECK(force.flags.empty());
}

TEST_CASE("relaxation only goes down, with time and with heat", "[derived]") {
  double last = 1.0;
  for (double hours = 0.01; hours < 1e5; hours *= 3.0) {
    const double now = relaxation(nitrile, hours * 1.0_h, 110.0_degC).value;
    CHECK(now < last);
    CHECK(relaxation(nitrile, hours * 1.0_h, 120.0_degC).value < now);
    last = now;
  }
}

TEST_CASE("the chemical part alone falls to 1/e in its time", "[derived]") {
  Relaxation law = nitrile;
  law.per_decade = 0.0;
  CHECK(relaxation(law, 3000.0_h, 125.0_degC).value == Approx(std::exp(-1.0)).epsilon(1e-12));
}

TEST_CASE("the physical part alone loses its share in every decade", "[derived]") {
  Relaxation law = nitrile;
  law.chemical_time = 1e30 * 1.0_s;
  // 10 000 - 1 minutes: four decades.
  CHECK(relaxation(law, 9999.0 * 60.0_s, 125.0_degC).value == Approx(0.8).epsilon(1e-9));
}

TEST_CASE("the logarithm ends at zero with a flag", "[derived]") {
  Relaxation law = nitrile;
  law.per_decade = 0.5;
  const auto gone = relaxation(law, 1000.0 * 60.0_s, 125.0_degC);
  CHECK(gone.value == 0.0);
  REQUIRE(gone.flags.size() == 1);
  CHECK(gone.flags[0].value < 0.0);
}

TEST_CASE("equal temperatures age at the same rate", "[derived]") {
  CHECK(ageing_acceleration(10824.6_K, 100.0_degC, 100.0_degC) == 1.0);
  CHECK(ageing_acceleration(10824.6_K, 100.0_degC, 80.0_degC) *
            ageing_acceleration(10824.6_K, 80.0_degC, 100.0_degC) ==
        Approx(1.0).epsilon(1e-13));
}

TEST_CASE("a spring sets to its final set", "[derived]") {
  const SpringSet set{.final_set = 0.05, .set_time = 100.0_h};
  CHECK(spring_factor(set, 100.0_h) == Approx(1.0 - 0.05 * (1.0 - std::exp(-1.0))));
  CHECK(spring_factor(set, 1e6_h) == Approx(0.95).epsilon(1e-12));
}

TEST_CASE("modulus over temperature is linear between its points", "[derived]") {
  CHECK(modulus_ratio(rubber, 20.0_degC).value == 1.0);
  CHECK(modulus_ratio(rubber, 80.0_degC).value == Approx(0.675).epsilon(1e-12));
  CHECK(modulus_ratio(rubber, 150.0_degC).value == 0.5);
  CHECK(modulus_ratio(rubber, 150.0_degC).flags.empty());
  CHECK(modulus_ratio(rubber, from_celsius(-20.0)).flags.empty());
}

TEST_CASE("a modulus outside its table is that of the end, flagged", "[derived]") {
  const auto cold = modulus_ratio(rubber, from_celsius(-30.0));
  CHECK(cold.value == 2.5);
  REQUIRE(cold.flags.size() == 1);
  CHECK(cold.flags[0].low == Approx(-20.0));
  CHECK(modulus_ratio(rubber, 160.0_degC).value == 0.5);
  CHECK(modulus_ratio(rubber, 160.0_degC).flags.size() == 1);
}

TEST_CASE("heat softens the rubber and leaves the spring", "[derived]") {
  LipState hot = fresh();
  hot.temperature = 100.0_degC;
  const auto force = lip_force(lip(), hot);
  CHECK(force.spring == 60.0_N_m);
  CHECK_THAT(force.rubber, near(36.0_N_m, 1e-12));
}

TEST_CASE("a lip worn by its interference rests on its spring", "[derived]") {
  LipState worn = fresh();
  worn.wear = 0.6_mm;
  CHECK_THAT(lip_force(lip(), worn).total, near(60.0_N_m, 1e-12));
  worn.wear = 0.7_mm;
  const auto beyond = lip_force(lip(), worn);
  CHECK(beyond.rubber == LineForce{});
  CHECK(beyond.flags.size() == 1);
}

TEST_CASE("fluid pressure presses the lip on or lifts it off", "[derived]") {
  LipState state = fresh();
  state.over_pressure = 30000.0_Pa;  // 30 kPa on 1.5 mm: 45 N/m
  CHECK_THAT(lip_force(lip(), state).total, near(165.0_N_m, 1e-14));
  state.over_pressure = -90000.0_Pa;
  const auto lifted = lip_force(lip(), state);
  CHECK(lifted.total == LineForce{});
  REQUIRE(lifted.flags.size() == 1);
  CHECK(lifted.flags[0].value == Approx(-15.0));
}

TEST_CASE("an elastic ring wears itself out of force", "[derived]") {
  const ElasticRing ring{.line_force = 10.0_N_m, .deflection = 1.0_mm, .width = 4.0_mm};
  const WearRate k = WearRate::from_value(5e-15);
  CHECK_THAT(ring_force(ring, k, 0.0_m).line_force, near(10.0_N_m, 1e-15));
  CHECK(ring_force(ring, k, 0.0_m).wear == Length{});
  CHECK_THAT(ring_force(ring, k, 1e12_m).wear, near(1.0_mm, 1e-4));
  // Force and wear of any moment are on the ring's own spring line.
  const RingForce later = ring_force(ring, k, 5e7_m);
  CHECK_THAT(later.line_force, near(10.0_N_m * (1.0 - (later.wear / 1.0_mm).value()), 1e-12));
  // Half the width at equal line force: twice the pressure, twice the exponent.
  ElasticRing narrow = ring;
  narrow.width = 2.0_mm;
  CHECK(std::log((ring_force(narrow, k, 5e7_m).line_force / 10.0_N_m).value()) ==
        Approx(2.0 * std::log((later.line_force / 10.0_N_m).value())).epsilon(1e-12));
}

TEST_CASE("undefined loss of force is refused", "[derived]") {
  CHECK_THROWS_AS(relaxation(nitrile, -1.0_s, 20.0_degC), std::invalid_argument);
  CHECK_THROWS_AS(relaxation(nitrile, 1.0_s, Temperature::from_value(0.0)), std::invalid_argument);
  Relaxation law = nitrile;
  law.stretch = 1.1;
  CHECK_THROWS_AS(relaxation(law, 1.0_s, 20.0_degC), std::invalid_argument);
  law = nitrile;
  law.log_time = 0.0_s;
  CHECK_THROWS_AS(relaxation(law, 1.0_s, 20.0_degC), std::invalid_argument);
  CHECK_THROWS_AS((spring_factor({.final_set = 1.1, .set_time = 1.0_h}, 1.0_s)),
                  std::invalid_argument);
  CHECK_THROWS_AS((spring_factor({.final_set = 0.1, .set_time = 0.0_h}, 1.0_s)),
                  std::invalid_argument);
  CHECK_THROWS_AS((modulus_ratio({}, 20.0_degC)), std::invalid_argument);
  CHECK_THROWS_AS((modulus_ratio({{20.0_degC, 1.0}, {20.0_degC, 0.9}}, 20.0_degC)),
                  std::invalid_argument);
  CHECK_THROWS_AS((modulus_ratio({{20.0_degC, 0.0}}, 20.0_degC)), std::invalid_argument);
  LipForce bad = lip();
  bad.radial_interference = 0.0_mm;
  CHECK_THROWS_AS(lip_force(bad, fresh()), std::invalid_argument);
  LipState state = fresh();
  state.wear = -0.1_mm;
  CHECK_THROWS_AS(lip_force(lip(), state), std::invalid_argument);
  CHECK_THROWS_AS((ring_force({10.0_N_m, 0.0_mm, 4.0_mm}, WearRate{}, 1.0_m)),
                  std::invalid_argument);
  CHECK_THROWS_AS((ring_force({10.0_N_m, 1.0_mm, 4.0_mm}, WearRate{}, -1.0_m)),
                  std::invalid_argument);
}
