#include "ohmdrag/contact/flash_temperature.hpp"

#include <cmath>
#include <limits>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;

namespace {

const FlashBody steel{.conductivity = 46.0_W_mK,
                      .density = 7850.0_kg_m3,
                      .specific_heat = SpecificHeat::from_value(470.0)};

constexpr HeatFlux per_m2(double W) { return HeatFlux::from_value(W); }
constexpr Speed m_s(double u) { return Speed::from_value(u); }
constexpr TemperatureDifference kelvin(double K) { return TemperatureDifference::from_value(K); }

}  // namespace

TEST_CASE("without sliding no heat, without heat no flash", "[derived]") {
  const HeatFlux q = friction_flux(0.2, 100.0_MPa, m_s(0.0));
  CHECK(q.value() == 0.0);
  for (const auto profile : {SpotProfile::uniform, SpotProfile::parabolic}) {
    const auto rise = spot_rise(profile, q, 0.01_mm, steel, m_s(0.0));
    CHECK(rise.highest.value() == 0.0);
    CHECK(rise.mean.value() == 0.0);
  }
  CHECK(shared_flash(kelvin(0.0), kelvin(0.0)).highest.value() == 0.0);
}

TEST_CASE("direction of sliding does not matter", "[derived]") {
  CHECK(friction_flux(0.2, 1.0_MPa, m_s(-3.0)) == friction_flux(0.2, 1.0_MPa, m_s(3.0)));
  for (const auto profile : {SpotProfile::uniform, SpotProfile::parabolic})
    CHECK(spot_rise(profile, per_m2(1e8), 0.01_mm, steel, m_s(-12.0)).highest ==
          spot_rise(profile, per_m2(1e8), 0.01_mm, steel, m_s(12.0)).highest);
  CHECK(band_rise(per_m2(1e5), 2.5_mm, steel, m_s(-12.0)).mean ==
        band_rise(per_m2(1e5), 2.5_mm, steel, m_s(12.0)).mean);
}

TEST_CASE("a spot is hottest somewhere, and cooler the faster fresh metal comes", "[derived]") {
  const auto profile = GENERATE(SpotProfile::uniform, SpotProfile::parabolic);
  TemperatureDifference last = kelvin(std::numeric_limits<double>::max());
  for (double u = 0.0; u < 200.0; u = 1.5 * u + 0.01) {
    const auto rise = spot_rise(profile, per_m2(1e8), 0.01_mm, steel, m_s(u));
    CHECK(rise.highest > rise.mean);
    CHECK(rise.highest < last);
    last = rise.highest;
  }
}

TEST_CASE("flash rises in proportion to heat and, at rest, to the size of the spot", "[derived]") {
  const auto one = spot_rise(SpotProfile::uniform, per_m2(1e8), 0.01_mm, steel, m_s(0.0));
  CHECK_THAT(spot_rise(SpotProfile::uniform, per_m2(3e8), 0.01_mm, steel, m_s(0.0)).mean,
             near(3.0 * one.mean, 1e-14));
  CHECK_THAT(spot_rise(SpotProfile::uniform, per_m2(1e8), 0.02_mm, steel, m_s(0.0)).mean,
             near(2.0 * one.mean, 1e-14));
}

TEST_CASE("at equal flux power from friction the flash grows with speed", "[derived]") {
  // q ~ u, rise ~ u / sqrt(B + Pe).
  double last_K = 0.0;
  for (const double u : {0.1, 1.0, 10.0, 80.0}) {
    const double now_K = spot_rise(SpotProfile::parabolic, friction_flux(0.2, 100.0_MPa, m_s(u)),
                                   0.01_mm, steel, m_s(u))
                             .highest.value();
    CHECK(now_K > last_K);
    last_K = now_K;
  }
}

TEST_CASE("two bodies share the heat at one highest temperature", "[derived]") {
  const auto same = shared_flash(kelvin(10.0), kelvin(10.0));
  CHECK_THAT(same.highest, near(kelvin(5.0), 1e-15));
  CHECK(same.into_first == 0.5);
  const auto uneven = shared_flash(kelvin(10.0), kelvin(90.0));
  CHECK(uneven.into_first == Approx(0.9));
  // Each body's share of the heat raises it to the same temperature.
  CHECK((1.0 - uneven.into_first) * 90.0 == Approx(uneven.highest.value()));
  CHECK(shared_flash(kelvin(10.0), kelvin(1e12)).into_first == Approx(1.0));
  CHECK(shared_flash(kelvin(90.0), kelvin(10.0)).highest == uneven.highest);
}

TEST_CASE("a slow band is flagged", "[derived]") {
  const double kappa = diffusivity_m2_s(steel);
  CHECK_FALSE(outside_flash_band(1.0_mm, steel, m_s(10.01 * kappa / 1e-3)));
  CHECK(outside_flash_band(1.0_mm, steel, m_s(9.99 * kappa / 1e-3)));
}

TEST_CASE("undefined flashes are refused", "[derived]") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const auto refuse = [](auto&& call) { CHECK_THROWS_AS(call(), std::invalid_argument); };
  for (const double bad : {-1.0, nan}) {
    refuse([&] { friction_flux(bad, 1.0_MPa, m_s(1.0)); });
    refuse([&] { spot_rise(SpotProfile::uniform, per_m2(bad), 0.01_mm, steel, m_s(1.0)); });
    refuse([&] { shared_flash(kelvin(bad), kelvin(1.0)); });
  }
  refuse([&] { spot_rise(SpotProfile::uniform, per_m2(1.0), 0.0_mm, steel, m_s(1.0)); });
  refuse([&] { spot_rise(SpotProfile::uniform, per_m2(1.0), 1.0_mm, FlashBody{}, m_s(1.0)); });
  refuse([&] { band_rise(per_m2(1.0), 1.0_mm, steel, m_s(0.0)); });
  refuse([&] { shared_flash(kelvin(0.0), kelvin(1.0)); });
}
