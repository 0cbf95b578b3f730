#include "ohmdrag/contact/holm.hpp"

#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;

namespace {

Resistivity ohm_m(double value) { return Resistivity::from_value(value); }
FilmResistivity ohm_m2(double value) { return FilmResistivity::from_value(value); }

const PlasticSpot soft{.hardness = 0.55_GPa, .load_share = 1.0};
const ElasticSpot sphere{.sphere_radius = 10.0_mm, .reduced_modulus = 226.4_GPa};

HolmContact contact_of(SpotLaw spot, double spots) {
  return {.first = ohm_m(1.75e-8),
          .second = ohm_m(1.75e-8),
          .film = ohm_m2(1e-11),
          .spot = spot,
          .spots = spots,
          .cluster_radius = {}};
}

double log_slope(Resistance at_double, Resistance at_single) {
  return std::log2((at_double / at_single).value());
}

}  // namespace

TEST_CASE("a spot grows as its law says", "[derived]") {
  // pi a^2 eta H = F
  const Length a = spot_radius(soft, 1.0_N);
  CHECK_THAT(std::numbers::pi * a * a * (0.55_GPa), near(1.0_N, 1e-14));
  CHECK_THAT(spot_radius(PlasticSpot{0.55_GPa, 0.25}, 1.0_N), near(2.0 * a, 1e-14));
  CHECK_THAT(spot_radius(sphere, 8.0_N), near(2.0 * spot_radius(sphere, 1.0_N), 1e-14));
}

TEST_CASE("parts of a contact over force", "[derived]") {
  const auto slopes = [](SpotLaw spot) {
    const auto once = holm_resistance(contact_of(spot, 1.0), 1.0_N);
    const auto twice = holm_resistance(contact_of(spot, 1.0), 2.0_N);
    return std::pair{log_slope(twice.constriction, once.constriction),
                     log_slope(twice.film, once.film)};
  };
  CHECK(slopes(soft).first == Approx(-1.0 / 2.0));
  CHECK(slopes(soft).second == Approx(-1.0));
  CHECK(slopes(sphere).first == Approx(-1.0 / 3.0));
  CHECK(slopes(sphere).second == Approx(-2.0 / 3.0));
}

TEST_CASE("spots that share a force", "[derived]") {
  const auto one = holm_resistance(contact_of(soft, 1.0), 1.0_N);
  const auto four = holm_resistance(contact_of(soft, 4.0), 1.0_N);
  CHECK_THAT(four.constriction, near(0.5 * one.constriction, 1e-14));
  CHECK_THAT(four.film, near(one.film, 1e-14));
  CHECK_THAT(four.total(), near(four.constriction + four.film, 1e-14));
  CHECK(four.cluster.value() == 0.0);
}

TEST_CASE("a cluster adds the resistance of the circle that holds it", "[derived]") {
  HolmContact contact = contact_of(soft, 10.0);
  contact.cluster_radius = 1.0_mm;
  const auto result = holm_resistance(contact, 1.0_N);
  CHECK_THAT(result.cluster, near(1.75e-8 / 2e-3 * 1.0_ohm, 1e-14));
  CHECK(result.flags.empty());
  // 10 spots of 7.6 um do not fit into a circle of 20 um.
  contact.cluster_radius = 20.0_um;
  REQUIRE(holm_resistance(contact, 1.0_N).flags.size() == 1);
  contact.cluster_radius = Length::from_value(1e9);
  CHECK(holm_resistance(contact, 1.0_N).cluster < 1e-9 * result.total());
}

TEST_CASE("two metals constrict by the mean of their resistivities", "[derived]") {
  HolmContact mixed = contact_of(soft, 1.0);
  mixed.second = ohm_m(2.2e-7);
  const double mean = 0.5 * (1.75e-8 + 2.2e-7);
  const auto like = holm_resistance(contact_of(soft, 1.0), 1.0_N);
  CHECK_THAT(holm_resistance(mixed, 1.0_N).constriction,
             near(mean / 1.75e-8 * like.constriction, 1e-14));
}

TEST_CASE("the current of a contact warms it", "[derived]") {
  const auto alpha = PerTemperature::from_value(0.0039);
  CHECK(hot_constriction_factor(alpha, 20.0_degC, 20.0_degC) == 1.0);
  CHECK(hot_constriction_factor(alpha, 170.0_degC, 20.0_degC) == Approx(1.39));
  CHECK(hottest_of_contact(0.0_V, 20.0_degC) == 20.0_degC);
  CHECK(hottest_of_contact(-0.1_V, 20.0_degC) == hottest_of_contact(0.1_V, 20.0_degC));
  for (const Voltage& drop : {0.001_V, 0.1_V, 0.4_V})
    CHECK_THAT(drop_for_hottest(hottest_of_contact(drop, 20.0_degC), 20.0_degC), near(drop, 1e-9));
  CHECK_THROWS_AS(drop_for_hottest(10.0_degC, 20.0_degC), std::invalid_argument);
  CHECK_THROWS_AS(hot_constriction_factor(alpha, 10.0_degC, 20.0_degC), std::invalid_argument);
  CHECK_THROWS_AS(hottest_of_contact(Voltage::from_value(NAN), 20.0_degC), std::invalid_argument);
}

TEST_CASE("a film holds its field times its thickness", "[derived]") {
  CHECK_THAT(puncture_voltage(ElectricField::from_value(1e8), 0.01_um), near(1.0_V, 1e-14));
}

TEST_CASE("undefined spots are refused", "[derived]") {
  CHECK_THROWS_AS(spot_radius(soft, 0.0_N), std::invalid_argument);
  CHECK_THROWS_AS(spot_radius(PlasticSpot{0.55_GPa, 1.1}, 1.0_N), std::invalid_argument);
  CHECK_THROWS_AS(spot_radius(PlasticSpot{0.0_GPa, 1.0}, 1.0_N), std::invalid_argument);
  CHECK_THROWS_AS(spot_radius(ElasticSpot{0.0_mm, 226.4_GPa}, 1.0_N), std::invalid_argument);
  CHECK_THROWS_AS(holm_resistance(contact_of(soft, 0.5), 1.0_N), std::invalid_argument);
  HolmContact bad = contact_of(soft, 1.0);
  bad.film = ohm_m2(-1e-12);
  CHECK_THROWS_AS(holm_resistance(bad, 1.0_N), std::invalid_argument);
  bad = contact_of(soft, 1.0);
  bad.cluster_radius = Length{};
  CHECK_THROWS_AS(holm_resistance(bad, 1.0_N), std::invalid_argument);
  CHECK_THROWS_AS(puncture_voltage(ElectricField::from_value(1e8), 0.0_um), std::invalid_argument);
}
