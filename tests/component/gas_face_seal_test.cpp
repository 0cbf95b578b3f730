#include "ohmdrag/component/gas_face_seal.hpp"

#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::component;
using test::near;

namespace {

constexpr SealFaces faces{.inner_radius = 20.0_mm, .outer_radius = 24.0_mm};
// Stiff compressible film: 3 um at every speed.
constexpr GasFaceSeal seal{.faces = faces,
                           .boundary_friction = 0.15,
                           .contact_force = 15.0_N,
                           .lift_off = 1000.0_rpm,
                           .reference_film = 3.0_um,
                           .film_speed = 15000.0_rpm,
                           .least_film = 0.5_um,
                           .highest_film = 8.0_um};

FaceGas hot_air() { return air_between_faces(100.0_degC, 101325.0_Pa); }

// The same where the gas hardly compresses: high pressure, thick film.
GasFaceSeal liquid_like() {
  GasFaceSeal s = seal;
  s.reference_film = 6.0_um;
  return s;
}
FaceGas dense_air() { return air_between_faces(100.0_degC, 1.0_MPa); }

}  // namespace

TEST_CASE("a gas film at rest drags nothing and in reverse the other way", "[derived]") {
  CHECK(gas_film_torque(faces, hot_air(), 3.0_um, 0.0_rpm) == Torque{});
  CHECK(gas_film_torque(faces, hot_air(), 3.0_um, from_rpm(-6000.0)) ==
        -gas_film_torque(faces, hot_air(), 3.0_um, 6000.0_rpm));
}

TEST_CASE("a gas film's torque falls with its height, less so where the gas slips", "[derived]") {
  FaceGas no_slip = hot_air();
  no_slip.mean_free_path = Length{};
  const auto torque = [](const FaceGas& gas, Length h) {
    return gas_film_torque(faces, gas, h, 15000.0_rpm);
  };
  CHECK_THAT(torque(no_slip, 6.0_um), near(0.5 * torque(no_slip, 3.0_um), 1e-14));
  CHECK(torque(hot_air(), 3.0_um) < torque(no_slip, 3.0_um));
  CHECK(torque(hot_air(), 6.0_um) > 0.5 * torque(hot_air(), 3.0_um));
  // Two mean free paths at 3 um: 0.176 in 3.176.
  CHECK_THAT(torque(hot_air(), 3.0_um) / torque(no_slip, 3.0_um), near(3.0 / 3.176, 1e-4));
}

TEST_CASE("narrow faces rub at their radius, a full disc at two thirds", "[derived]") {
  const SealFaces narrow{.inner_radius = 20.0_mm, .outer_radius = 20.000001_mm};
  CHECK_THAT(mean_friction_radius(narrow), near(20.0_mm, 1e-7));
  CHECK_THAT(mean_friction_radius({.inner_radius = 0.0_mm, .outer_radius = 24.0_mm}),
             near(16.0_mm, 1e-14));
}

TEST_CASE("the mean free path is inversely proportional to pressure", "[derived]") {
  const auto path = [](Pressure p) { return air_between_faces(100.0_degC, p).mean_free_path; };
  CHECK_THAT(path(202650.0_Pa), near(0.5 * path(101325.0_Pa), 1e-14));
}

TEST_CASE("a face seal at rest takes no power and its break-away torque", "[derived]") {
  const auto rest = gas_face_seal_state(seal, hot_air(), 0.0_rpm);
  CHECK(rest.power == 0.0_W);
  CHECK(rest.contact_share == 1.0);
  CHECK(rest.flags.empty());
  CHECK_THAT(rest.torque, near(gas_face_seal_state(seal, hot_air(), 0.01_rpm).torque, 1e-6));
}

TEST_CASE("a face seal turns either way alike", "[derived]") {
  for (const double rpm : {1.0, 500.0, 1500.0, 15000.0}) {
    const auto forth = gas_face_seal_state(seal, hot_air(), from_rpm(rpm));
    const auto back = gas_face_seal_state(seal, hot_air(), from_rpm(-rpm));
    CHECK(back.torque == -forth.torque);
    CHECK(back.power == forth.power);
    CHECK(forth.power > 0.0_W);
  }
}

TEST_CASE("far above lift-off only the gas film drags", "[derived]") {
  const auto state = gas_face_seal_state(seal, hot_air(), 15000.0_rpm);
  CHECK_THAT(state.torque, near(gas_film_torque(faces, hot_air(), 3.0_um, 15000.0_rpm), 1e-14));
  CHECK(state.flags.empty());
}

TEST_CASE("power has a maximum below lift-off and a minimum above it", "[derived]") {
  const auto power = [](double rpm) {
    return gas_face_seal_state(seal, hot_air(), from_rpm(rpm)).power;
  };
  CHECK(power(700.0) > power(100.0));
  CHECK(power(700.0) > power(1500.0));
  CHECK(power(2500.0) < power(1500.0));
  CHECK(power(2500.0) < power(15000.0));
}

TEST_CASE("a film like a liquid's grows with the root of speed, a compressed one stands",
          "[derived]") {
  const auto film = [](const GasFaceSeal& s, const FaceGas& gas, AngularVelocity n) {
    return gas_face_seal_state(s, gas, n);
  };
  const auto slow = film(liquid_like(), dense_air(), 3750.0_rpm);
  CHECK_THAT(slow.film, near(3.0_um, 1e-12));
  // Along the root law the compressibility number does not change.
  CHECK(slow.compressibility ==
        Approx(film(liquid_like(), dense_air(), 15000.0_rpm).compressibility).epsilon(1e-12));
  CHECK(slow.compressibility < 10.0);

  CHECK(film(seal, hot_air(), 3750.0_rpm).film == film(seal, hot_air(), 15000.0_rpm).film);
  CHECK(film(seal, hot_air(), 15000.0_rpm).compressibility > 10.0);
}

TEST_CASE("torque of a liquid-like film grows with the root of speed", "[derived]") {
  FaceGas gas = dense_air();
  gas.mean_free_path = Length{};
  const auto torque = [&](double rpm) {
    return gas_face_seal_state(liquid_like(), gas, from_rpm(rpm)).torque;
  };
  CHECK_THAT(torque(16000.0), near(std::sqrt(2.0) * torque(8000.0), 1e-12));
}

TEST_CASE("a film held at a bound says so", "[derived]") {
  const auto crawling = gas_face_seal_state(liquid_like(), dense_air(), 10.0_rpm);
  REQUIRE(crawling.flags.size() == 1);
  CHECK(crawling.film == 0.5_um);
  CHECK(crawling.flags[0].value == Approx(6.0 * std::sqrt(10.0 / 15000.0)));

  const auto racing = gas_face_seal_state(liquid_like(), dense_air(), 40000.0_rpm);
  REQUIRE(racing.flags.size() == 1);
  CHECK(racing.film == 8.0_um);
  CHECK(racing.flags[0].high == Approx(8.0));
}

TEST_CASE("turbulence and rarefied gas are flagged", "[derived]") {
  CHECK(outside_gas_film(faces, hot_air(), 3.0_um, 15000.0_rpm).empty());
  const auto thick = outside_gas_film(faces, hot_air(), 0.4_mm, 15000.0_rpm);
  REQUIRE(thick.size() == 1);
  CHECK(thick[0].high == 500.0);
  const auto thin = outside_gas_film(faces, hot_air(), 0.8_um, 15000.0_rpm);
  REQUIRE(thin.size() == 1);
  CHECK(thin[0].high == 0.1);
}

TEST_CASE("undefined face seals are refused", "[derived]") {
  const auto state = [](auto change) {
    GasFaceSeal bad = seal;
    change(bad);
    return gas_face_seal_state(bad, hot_air(), 100.0_rpm);
  };
  using S = GasFaceSeal;
  CHECK_THROWS_AS(state([](S& s) { s.faces.outer_radius = 20.0_mm; }), std::invalid_argument);
  CHECK_THROWS_AS(state([](S& s) { s.boundary_friction = std::nan(""); }), std::invalid_argument);
  CHECK_THROWS_AS(state([](S& s) { s.contact_force = -1.0_N; }), std::invalid_argument);
  CHECK_THROWS_AS(state([](S& s) { s.lift_off = 0.0_rpm; }), std::invalid_argument);
  CHECK_THROWS_AS(state([](S& s) { s.reference_film = 0.0_um; }), std::invalid_argument);
  CHECK_THROWS_AS(state([](S& s) { s.highest_film = 0.4_um; }), std::invalid_argument);
  CHECK_THROWS_AS(gas_film_torque(faces, hot_air(), 0.0_um, 1.0_rpm), std::invalid_argument);
  CHECK_THROWS_AS(gas_film_torque(faces, {}, 3.0_um, 1.0_rpm), std::invalid_argument);
  CHECK_THROWS_AS(air_between_faces(100.0_degC, 0.0_Pa), std::invalid_argument);
}
