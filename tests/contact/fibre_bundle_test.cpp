#include "ohmdrag/contact/fibre_bundle.hpp"

#include <cmath>

#include "ohmdrag/contact/force_exponent.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using Catch::Matchers::Contains;
using test::near;

namespace {

ConductingFibre carbon(double film_ohm_m2) {
  return {.diameter = 7.0_um,
          .length = 5.0_mm,
          .fibre = Resistivity::from_value(1.5e-5),
          .shaft = Resistivity::from_value(2.2e-7),
          .film = FilmResistivity::from_value(film_ohm_m2),
          .tip = PlasticSpot{.hardness = 1.0_GPa, .load_share = 1.0}};
}

constexpr double count = 1000.0;
const Force force = 0.1_N;

DryResistance law(Resistance bulk, Resistance film, double q, double m) {
  return {.bulk = bulk,
          .film = film,
          .at_line_force = 10.0_N_m,
          .at_force = force,
          .at_diameter = 40.0_mm,
          .count_exponent = q,
          .film_exponent = m};
}

}  // namespace

TEST_CASE("a bundle is its fibres side by side", "[derived]") {
  const auto one = bundle_resistance(carbon(1e-10), 1.0, force / count);
  const auto all = bundle_resistance(carbon(1e-10), count, force);
  CHECK_THAT(count * all.bulk, near(one.bulk, 1e-12));
  CHECK_THAT(count * all.constriction, near(one.constriction, 1e-12));
  CHECK_THAT(count * all.film, near(one.film, 1e-12));
  CHECK_THAT(all.total(), near(all.bulk + all.constriction + all.film, 1e-14));
  CHECK(all.flags.empty());
}

TEST_CASE("force and count of a bundle at equal rest", "[derived]") {
  const auto slope = [](Resistance BundleResistance::*part, double forces, double counts) {
    const auto from = bundle_resistance(carbon(1e-10), count, force);
    const auto to = bundle_resistance(carbon(1e-10), counts * count, forces * force);
    return std::log2((to.*part / (from.*part)).value());
  };
  // F^-m N^(m-1): spots m = 1/2, film m = 1, the fibres themselves m = 0.
  CHECK(slope(&BundleResistance::constriction, 2.0, 1.0) == Approx(-0.5));
  CHECK(slope(&BundleResistance::constriction, 1.0, 2.0) == Approx(-0.5));
  CHECK(slope(&BundleResistance::film, 2.0, 1.0) == Approx(-1.0));
  CHECK(slope(&BundleResistance::film, 1.0, 2.0) == Approx(0.0).margin(1e-12));
  CHECK(slope(&BundleResistance::bulk, 2.0, 1.0) == Approx(0.0).margin(1e-12));
  CHECK(slope(&BundleResistance::bulk, 1.0, 2.0) == Approx(-1.0));
}

TEST_CASE("a bundle whose count grows with force is the law of a dry contact", "[derived]") {
  const double q = GENERATE(0.0, 0.5, 1.0);
  const auto reference = bundle_resistance(carbon(1e-10), count, force);
  // Each of its parts alone: spots m = 1/2, film m = 1.
  const DryResistance spots = law(reference.bulk, reference.constriction, q, 0.5);
  const DryResistance film = law(reference.bulk, reference.film, q, 1.0);
  for (const double x : {0.4, 0.9, 1.0, 1.7, 2.9}) {
    CAPTURE(q, x);
    const auto now = bundle_resistance(carbon(1e-10), count * std::pow(x, q), x * force);
    CHECK_THAT(brush_resistance(spots, x * force).value, near(now.bulk + now.constriction, 1e-12));
    CHECK_THAT(brush_resistance(film, x * force).value, near(now.bulk + now.film, 1e-12));
  }
}

TEST_CASE("a spot wider than its fibre is flagged", "[derived]") {
  CHECK(bundle_resistance(carbon(1e-10), 1.0, 0.03_N).flags.empty());
  CHECK(bundle_resistance(carbon(1e-10), 1.0, 0.05_N).flags.size() == 1);
}

TEST_CASE("the local exponent is the slope of the law", "[derived]") {
  const double q = GENERATE(0.0, 0.3, 1.0);
  const double m = GENERATE(0.0, 0.75, 1.0);
  const DryResistance some = law(8.0_ohm, 22.0_ohm, q, m);
  constexpr double step = 1e-5;
  for (const double x : {0.4, 1.0, 2.5}) {
    CAPTURE(q, m, x);
    const auto at = [&](double y) {
      return std::log(brush_resistance(some, y * force).value.value());
    };
    const double slope = -(at(x * (1.0 + step)) - at(x * (1.0 - step))) / (2.0 * step);
    CHECK(force_exponent(some, x * force) == Approx(slope).margin(1e-8));
    CHECK(force_exponent(some, x * 10.0_N_m) == Approx(force_exponent(some, x * force)));
  }
}

TEST_CASE("the local exponent in its limits", "[derived]") {
  CHECK(force_exponent(law(8.0_ohm, 22.0_ohm, 0.0, 0.0), 0.2_N) == 0.0);
  CHECK(force_exponent(law(8.0_ohm, 0.0_ohm, 0.5, 0.75), 0.2_N) == Approx(0.5));
  CHECK(force_exponent(law(0.0_ohm, 22.0_ohm, 0.5, 0.75), 0.2_N) == Approx(0.875));
  CHECK_THROWS_AS(force_exponent(law(8.0_ohm, 22.0_ohm, 1.5, 0.0), 0.2_N), std::invalid_argument);
  CHECK_THROWS_AS(force_exponent(law(8.0_ohm, 22.0_ohm, 0.5, 0.5), 0.0_N), std::invalid_argument);
  CHECK_THROWS_AS(force_exponent(law(8.0_ohm, 22.0_ohm, 0.5, 0.5), 0.0_N_m), std::invalid_argument);
}

TEST_CASE("it is said when force does not set the impedance", "[derived]") {
  CHECK_THAT(force_effect_in_words(0.0), Contains("does not set the impedance"));
  CHECK_THAT(force_effect_in_words(0.099), Contains("fibre count and films do"));
  CHECK_THAT(force_effect_in_words(0.1), Contains("leaves 93 %"));
  CHECK_THAT(force_effect_in_words(1.0), Contains("leaves 50 %"));
  CHECK_THROWS_AS(force_effect_in_words(-0.1), std::invalid_argument);
  CHECK_THROWS_AS(force_effect_in_words(NAN), std::invalid_argument);
}

TEST_CASE("undefined bundles are refused", "[derived]") {
  CHECK_THROWS_AS(bundle_resistance(carbon(1e-10), 0.5, force), std::invalid_argument);
  CHECK_THROWS_AS(bundle_resistance(carbon(1e-10), count, 0.0_N), std::invalid_argument);
  CHECK_THROWS_AS(bundle_resistance(carbon(-1e-10), count, force), std::invalid_argument);
  ConductingFibre none = carbon(1e-10);
  none.length = Length{};
  CHECK_THROWS_AS(bundle_resistance(none, count, force), std::invalid_argument);
}
