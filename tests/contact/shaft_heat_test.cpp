#include "ohmdrag/contact/shaft_heat.hpp"

#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;

namespace {

constexpr ShaftFin fin{.diameter = 40.0_mm, .conductivity = 46.0_W_mK, .film = 100.0_W_m2K};
constexpr ThermalResistance ohms(double K_W) { return ThermalResistance::from_value(K_W); }

}  // namespace

TEST_CASE("finite fins meet the endless fin and the plain rod", "[derived]") {
  CHECK_THAT(free_end_fin(fin, 10.0_m), near(endless_fin(fin), 1e-12));
  CHECK_THAT(held_end_fin(fin, 10.0_m), near(endless_fin(fin), 1e-12));
  CHECK_THAT(free_end_fin(fin, 0.0_m), near(0.0_W_K, 0.0));
  // k A / L = 46 pi 0.04^2/4 / 0.0001 W/K
  CHECK_THAT(held_end_fin(fin, 0.1_mm), near(578.05_W_K, 1e-4));
  // A short free end cools by its surface alone: h pi d L.
  CHECK_THAT(free_end_fin(fin, 0.1_mm), near(100.0 * std::numbers::pi * 4e-6 * 1.0_W_K, 1e-5));
}

TEST_CASE("a 20 mm free end sheds far less than an endless dry side", "[derived]") {
  const ShaftFin dry{.diameter = 40.0_mm, .conductivity = 46.0_W_mK, .film = 40.0_W_m2K};
  CHECK_THAT(decay_length(dry), near(107.2_mm, 1e-3));
  CHECK_THAT(endless_fin(dry), near(0.539_W_K, 1e-3));
  CHECK_THAT(free_end_fin(dry, 20.0_mm), near(0.0994_W_K, 2e-3));
}

TEST_CASE("a narrower band resists more, logarithmically", "[derived]") {
  const auto at = [](Length b) { return band_resistance(40.0_mm, b, 46.0_W_mK).value(); };
  CHECK(at(0.1_mm) > at(0.2_mm));
  const double per_decade =
      std::log(10.0) / (2.0 * std::numbers::pi * std::numbers::pi * 46.0 * 0.02);
  CHECK(at(1e-6_mm) - at(1e-5_mm) == Approx(per_decade).epsilon(1e-5));
}

TEST_CASE("the static side of a lip carries a small share of the heat", "[derived]") {
  CHECK_THAT(body_resistance(40.0_mm, 0.2_mm, 1.0_mm, 0.25_W_mK), near(ohms(31.5), 1e-3));
}

TEST_CASE("bands and strips beyond their fit are flagged", "[derived]") {
  CHECK_FALSE(outside_band_fit(40.0_mm, 4.0_mm));
  CHECK(outside_band_fit(40.0_mm, 4.1_mm));
  CHECK_FALSE(outside_body_strip(0.2_mm, 0.2_mm));
  CHECK(outside_body_strip(0.2_mm, 0.19_mm));
}

TEST_CASE("undefined shafts and bands are refused", "[derived]") {
  CHECK_THROWS_AS(endless_fin({40.0_mm, 46.0_W_mK, 0.0_W_m2K}), std::invalid_argument);
  CHECK_THROWS_AS(decay_length({0.0_mm, 46.0_W_mK, 1.0_W_m2K}), std::invalid_argument);
  CHECK_THROWS_AS(held_end_fin(fin, 0.0_m), std::invalid_argument);
  CHECK_THROWS_AS(free_end_fin(fin, Length::from_value(-1e-3)), std::invalid_argument);
  CHECK_THROWS_AS(band_resistance(40.0_mm, 0.0_mm, 46.0_W_mK), std::invalid_argument);
  CHECK_THROWS_AS(band_resistance(40.0_mm, 21.0_mm, 46.0_W_mK), std::invalid_argument);
  CHECK_THROWS_AS(body_resistance(40.0_mm, 5.0_mm, 1.0_mm, 0.25_W_mK), std::invalid_argument);
}

TEST_CASE("a bore of nothing changes no digit of a solid shaft", "[derived]") {
  const ShaftFin bored{40.0_mm, 46.0_W_mK, 100.0_W_m2K, 0.0_mm};
  CHECK(endless_fin(bored) == endless_fin(fin));
  CHECK(decay_length(bored) == decay_length(fin));
  CHECK(held_end_fin(bored, 30.0_mm) == held_end_fin(fin, 30.0_mm));
  CHECK(band_resistance(40.0_mm, 0.2_mm, 46.0_W_mK, 0.0_mm) ==
        band_resistance(40.0_mm, 0.2_mm, 46.0_W_mK));
}

TEST_CASE("a bore takes section from the fin, not surface", "[derived]") {
  // A bore of 0.8 d leaves 36 % of the section: sqrt(0.36) = 0.6.
  const ShaftFin hollow{40.0_mm, 46.0_W_mK, 100.0_W_m2K, 32.0_mm};
  CHECK_THAT(endless_fin(hollow), near(0.6 * endless_fin(fin), 1e-14));
  CHECK_THAT(decay_length(hollow), near(0.6 * decay_length(fin), 1e-14));
  // Short ends: k A / L through the section, h pi d L through the outer surface.
  CHECK_THAT(held_end_fin(hollow, 0.1_mm), near(0.36 * 578.05_W_K, 1e-4));
  CHECK_THAT(free_end_fin(hollow, 0.1_mm), near(free_end_fin(fin, 0.1_mm), 1e-4));
}

TEST_CASE("the constriction of a hollow shaft passes into that of a solid one", "[derived]") {
  const auto at = [](Length bore, Length b = 0.2_mm) {
    return band_resistance(40.0_mm, b, 46.0_W_mK, bore);
  };
  CHECK_THAT(at(1e-3_mm), near(at(0.0_mm), 1e-3));
  CHECK_THAT(at(1e-9_mm), near(at(0.0_mm), 1e-9));
  // Thin wall: [ln(t/b) + 0.355] / (k pi pi d), here t = 1 mm.
  const double plate =
      (std::log(5.0) + 0.355) / (46.0 * std::numbers::pi * std::numbers::pi * 0.04);
  CHECK_THAT(at(38.0_mm), near(ohms(plate), 2e-3));
  CHECK(outside_band_fit(40.0_mm, 0.21_mm, 38.0_mm));
  CHECK_FALSE(outside_band_fit(40.0_mm, 0.19_mm, 38.0_mm));
}

TEST_CASE("undefined bores are refused", "[derived]") {
  for (const double bore_mm : {-1.0, 40.0, 41.0}) {
    const Length bore = Length::from_value(1e-3 * bore_mm);
    CHECK_THROWS_AS(endless_fin({40.0_mm, 46.0_W_mK, 1.0_W_m2K, bore}), std::invalid_argument);
    CHECK_THROWS_AS(band_resistance(40.0_mm, 0.2_mm, 46.0_W_mK, bore), std::invalid_argument);
  }
  CHECK_THROWS_AS(band_resistance(40.0_mm, 2.0_mm, 46.0_W_mK, 38.0_mm), std::invalid_argument);
}
