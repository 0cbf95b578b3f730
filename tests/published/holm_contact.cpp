// Contact spots. Formulas: R. Holm, Electric Contacts (1967), as on the page of formulas of a data
// book on electrical contacts (constriction, n spots, elastic spot, 3200 K a volt); P. G. Slade
// (ed.), Electrical Contacts, pp. 13-15, as quoted in a forum answer (plastic spot). Resistivity,
// hardness and films are inputs from memory, so that what they give is our arithmetic.
#include "ohmdrag/contact/holm.hpp"

#include <cmath>

#include "ohmdrag/contact/fibre_bundle.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;
using test::within;

namespace {

Resistivity ohm_m(double value) { return Resistivity::from_value(value); }

HolmContact clean(double resistivity_ohm_m, SpotLaw spot) {
  return {.first = ohm_m(resistivity_ohm_m),
          .second = ohm_m(resistivity_ohm_m),
          .film = {},
          .spot = spot,
          .spots = 1.0,
          .cluster_radius = {}};
}

const HolmContact copper = clean(1.75e-8, PlasticSpot{0.55_GPa, 1.0});
const HolmContact hard_steel = clean(2.2e-7, PlasticSpot{7.0_GPa, 1.0});
// 206 GPa and 0.3: E' = 226.4 GPa.
const HolmContact steel_sphere = clean(2.2e-7, ElasticSpot{10.0_mm, 226.374_GPa});

double exponent(const HolmContact& contact, Resistance SpotResistance::*part) {
  const auto light = holm_resistance(contact, 1.0_N);
  const auto heavy = holm_resistance(contact, 10.0_N);
  return -std::log10((heavy.*part / (light.*part)).value());
}

// 7 um by 5 mm, 15 uOhm m, 1 GPa.
ConductingFibre carbon_fibre(double film_ohm_m2) {
  return {.diameter = 7.0_um,
          .length = 5.0_mm,
          .fibre = ohm_m(1.5e-5),
          .shaft = {},
          .film = FilmResistivity::from_value(film_ohm_m2),
          .tip = PlasticSpot{1.0_GPa, 1.0}};
}

}  // namespace

TEST_CASE("Holm: clean spots of copper and steel", "[formula]") {
  struct Row {
    const HolmContact& contact;
    Force force;
    double milliohm, tolerance;
  };
  const auto row =
      GENERATE_COPY(Row{copper, 1.0_N, 0.3637, 1e-3}, Row{copper, 10.0_N, 0.1150, 1e-3},
                    Row{copper, 100.0_N, 0.036, 2e-2}, Row{hard_steel, 1.0_N, 16.3, 3e-3},
                    Row{hard_steel, 10.0_N, 5.2, 1e-2}, Row{steel_sphere, 1.0_N, 2.7, 2e-2},
                    Row{steel_sphere, 10.0_N, 1.26, 4e-3});
  CAPTURE(row.milliohm);
  CHECK_THAT(holm_resistance(row.contact, row.force).total(),
             near(row.milliohm * 1e-3 * 1.0_ohm, row.tolerance));
}

TEST_CASE("Holm: radius of a copper spot under one newton", "[formula]") {
  CHECK_THAT(spot_radius(copper.spot, 1.0_N), within(24.0_um, 0.5_um));
}

TEST_CASE("Holm: resistance over force by the kind of spot", "[formula]") {
  // Spot: 1/2 plastic, 1/3 elastic; film over the area of the spot: 1 plastic, 2/3 elastic.
  HolmContact plastic = copper, elastic = steel_sphere;
  plastic.film = elastic.film = FilmResistivity::from_value(1e-10);
  CHECK_THAT(exponent(plastic, &SpotResistance::constriction), near(1.0 / 2.0, 1e-12));
  CHECK_THAT(exponent(elastic, &SpotResistance::constriction), near(1.0 / 3.0, 1e-12));
  CHECK_THAT(exponent(plastic, &SpotResistance::film), near(1.0, 1e-12));
  CHECK_THAT(exponent(elastic, &SpotResistance::film), near(2.0 / 3.0, 1e-12));
}

TEST_CASE("Holm: a contact warms by 3200 K a volt", "[printed]") {
  // Printed as a rule of two digits and zeros; 0.1 %.
  const Temperature cold = 20.0_degC;
  const Temperature hot = hottest_of_contact(100.0_V, cold);
  CHECK_THAT(hot.value() / 100.0, near(3200.0, 1e-3));
}

TEST_CASE("Holm: voltages that soften and melt a contact", "[formula]") {
  // Softening about 190 degC copper, 500 degC iron; melting 1083 and 1535 degC: 0.12, 0.21, 0.43
  // and 0.60 V, all from memory. The law leaves out that conductivity falls off its own rule.
  struct Row {
    Temperature reached;
    Voltage remembered;
  };
  const auto row = GENERATE(Row{190.0_degC, 0.12_V}, Row{1083.0_degC, 0.43_V},
                            Row{500.0_degC, 0.21_V}, Row{1535.0_degC, 0.60_V});
  CAPTURE(row.reached);
  CHECK_THAT(drop_for_hottest(row.reached, 20.0_degC), near(row.remembered, 0.08));
  CHECK_THAT(hottest_of_contact(0.12_V, Temperature::from_value(293.0)).value(), near(483.0, 1e-3));
}

TEST_CASE("Slade: a contact that its current warms resists more", "[formula]") {
  // 1 + (2/3) alpha (T_1 - T_0): copper, 0.0039 1/K, at its softening.
  CHECK_THAT(hot_constriction_factor(PerTemperature::from_value(0.0039), 190.0_degC, 20.0_degC),
             near(1.442, 1e-4));
}

TEST_CASE("a carbon fibre resists more by its length than by its spot", "[formula]") {
  const auto clean_tip = bundle_resistance(carbon_fibre(1e-12), 1.0, 1e-4_N);
  CHECK_THAT(clean_tip.bulk, near(1948.8_ohm, 1e-3));
  CHECK_THAT(clean_tip.constriction, near(21.0_ohm, 5e-3));
  CHECK_THAT(clean_tip.film, near(10.0_ohm, 1e-6));
  CHECK_THAT(bundle_resistance(carbon_fibre(1e-8), 1.0, 1e-4_N).film, near(100.0_kohm, 1e-6));
}

TEST_CASE("count of fibres and films set a carbon bundle, force comes third", "[formula]") {
  // Below 1 ohm about 2000 fibres for their own resistance alone.
  CHECK(bundle_resistance(carbon_fibre(0.0), 1900.0, 0.19_N).bulk > 1.0_ohm);
  CHECK(bundle_resistance(carbon_fibre(0.0), 2000.0, 0.20_N).bulk < 1.0_ohm);
  // Ten thousand fibres under 1 N: 0.20 ohm clean, 10 ohm with a thin oxide.
  CHECK_THAT(bundle_resistance(carbon_fibre(1e-12), 1e4, 1.0_N).total(),
             within(0.20_ohm, 0.005_ohm));
  CHECK_THAT(bundle_resistance(carbon_fibre(1e-8), 1e4, 1.0_N).total(), within(10.0_ohm, 0.5_ohm));
  const auto twice_the_force = bundle_resistance(carbon_fibre(1e-12), 1e4, 2.0_N).total();
  const auto twice_the_count = bundle_resistance(carbon_fibre(1e-12), 2e4, 1.0_N).total();
  const auto now = bundle_resistance(carbon_fibre(1e-12), 1e4, 1.0_N).total();
  CHECK(now - twice_the_force < 0.02 * now);
  CHECK_THAT(twice_the_count, near(0.5 * now, 0.01));
}
