// Gas face seal, air at 100 degC and 101 325 Pa, faces 20/24 mm. The film law is exact (derived);
// every expected value is our own arithmetic. Sutherland viscosity and its constants from memory.
#include "ohmdrag/component/gas_face_seal.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::component;
using namespace ohmdrag::literals;
using test::near;
using test::within;

namespace {

constexpr SealFaces faces{.inner_radius = 20.0_mm, .outer_radius = 24.0_mm};

FaceGas hot_air(Pressure pressure = 101325.0_Pa) { return air_between_faces(100.0_degC, pressure); }

FaceGas without_slip(FaceGas gas) {
  gas.mean_free_path = Length{};
  return gas;
}

}  // namespace

TEST_CASE("full gas film over speed and height, without and with slip", "[published][derived]") {
  struct Row {
    AngularVelocity speed;
    Length film;
    Torque torque;
    Power power, with_slip;
  };
  const auto row = GENERATE(Row{15000.0_rpm, 3.0_um, 3.0705e-3_Nm, 4.823_W, 4.556_W},
                            Row{15000.0_rpm, 5.0_um, 1.8423e-3_Nm, 2.894_W, 2.796_W},
                            Row{15000.0_rpm, 1.0_um, 9.211e-3_Nm, 14.47_W, 12.30_W},
                            Row{6000.0_rpm, 3.0_um, 1.2282e-3_Nm, 0.772_W, 0.729_W},
                            Row{20000.0_rpm, 3.0_um, 4.0939e-3_Nm, 8.574_W, 8.099_W});
  CAPTURE(in_rpm(row.speed), row.film);
  const Torque torque = gas_film_torque(faces, without_slip(hot_air()), row.film, row.speed);
  CHECK_THAT(torque, near(row.torque, 2e-4));
  CHECK_THAT(torque * row.speed, near(row.power, 7e-4));
  CHECK_THAT(gas_film_torque(faces, hot_air(), row.film, row.speed) * row.speed,
             near(row.with_slip, 7e-4));
}

TEST_CASE("mean free path and slip belong to a pressure", "[published][derived]") {
  CHECK_THAT(hot_air().viscosity, near(2.173e-5_Pa_s, 3e-4));
  CHECK_THAT(hot_air().mean_free_path, within(0.0880_um, 0.00005_um));
  CHECK_THAT(hot_air(100000.0_Pa).mean_free_path, within(0.0891_um, 0.0001_um));
  CHECK_THAT(gas_film_torque(faces, hot_air(100000.0_Pa), 3.0_um, 15000.0_rpm) *
                 AngularVelocity(15000.0_rpm),
             near(4.553_W, 2e-4));
}

TEST_CASE("no power at rest, half the power at twice the height", "[published][derived]") {
  CHECK(gas_film_torque(faces, hot_air(), 3.0_um, 0.0_rpm) * AngularVelocity(0.0_rpm) == 0.0_W);
  const FaceGas gas = without_slip(hot_air());
  CHECK_THAT(gas_film_torque(faces, gas, 6.0_um, 15000.0_rpm),
             near(0.5 * gas_film_torque(faces, gas, 3.0_um, 15000.0_rpm), 1e-14));
}

TEST_CASE("other faces at 3 um", "[published][derived]") {
  const SealFaces mean_40_mm{.inner_radius = 18.0_mm, .outer_radius = 22.0_mm};
  CHECK_THAT(gas_film_torque(mean_40_mm, without_slip(hot_air()), 3.0_um, 15000.0_rpm) *
                 AngularVelocity(15000.0_rpm),
             near(3.630_W, 3e-4));
  // Radii 51.6/61.6 mm and viscosity 1.8e-5 Pa s: Chin. J. Mech. Eng. 2022, s10033-022-00694-4,
  // table 1. The power of smooth faces is our arithmetic.
  const SealFaces large{.inner_radius = 51.6_mm, .outer_radius = 61.6_mm};
  FaceGas gas = without_slip(hot_air());
  gas.viscosity = 1.8e-5_Pa_s;
  CHECK_THAT(gas_film_torque(large, gas, 3.0_um, 10000.0_rpm) * AngularVelocity(10000.0_rpm),
             near(75.5_W, 1e-3));
}

TEST_CASE("compressibility number of the 3 um film", "[published][derived]") {
  CHECK(compressibility_number(faces, hot_air(), 3.0_um, 15000.0_rpm) == Approx(39.5).margin(0.05));
  CHECK(compressibility_number(faces, hot_air(100000.0_Pa), 3.0_um, 15000.0_rpm) ==
        Approx(40.1).margin(0.05));
}

TEST_CASE("start, lift-off and run of a face seal", "[published][derived]") {
  const GasFaceSeal seal{.faces = faces,
                         .boundary_friction = 0.15,
                         .contact_force = 15.0_N,
                         .lift_off = 1000.0_rpm,
                         .reference_film = 3.0_um,
                         .film_speed = 15000.0_rpm,
                         .least_film = 0.5_um,
                         .highest_film = 8.0_um};
  CHECK_THAT(mean_friction_radius(faces), near(22.061_mm, 3e-5));
  const FaceGas gas = without_slip(hot_air());
  CHECK_THAT(gas_face_seal_state(seal, gas, 0.0_rpm).torque, near(49.64e-3_Nm, 2e-4));

  struct Row {
    AngularVelocity speed;
    Power power, half_digit;
  };
  const auto row = GENERATE(Row{500.0_rpm, 2.03_W, 0.005_W}, Row{1000.0_rpm, 1.93_W, 0.005_W},
                            Row{1500.0_rpm, 0.86_W, 0.005_W}, Row{2000.0_rpm, 0.27_W, 0.005_W},
                            Row{3000.0_rpm, 0.195_W, 0.0005_W}, Row{15000.0_rpm, 4.82_W, 0.005_W});
  CAPTURE(in_rpm(row.speed));
  CHECK_THAT(gas_face_seal_state(seal, gas, row.speed).power, within(row.power, row.half_digit));
}

TEST_CASE("the gas between the faces shears without turbulence", "[published][derived]") {
  // Re = rho u h/mu at the mean radius, 15 000 1/min: 1.5 at 1 um to 7.5 at 5 um, far below 500.
  const FaceGas gas = hot_air();
  const Speed u = rim_speed(15000.0_rpm, 22.0_mm);
  const auto reynolds = [&](Length h) {
    return gas.density.value() * u.value() * h.value() / gas.viscosity.value();
  };
  CHECK(reynolds(1.0_um) == Approx(1.5).margin(0.05));
  CHECK(reynolds(5.0_um) == Approx(7.5).margin(0.05));
  CHECK(outside_gas_film(faces, gas, 3.0_um, 15000.0_rpm).empty());
}

TEST_CASE("faces that have not lifted rub", "[published][derived]") {
  // 15 N and 0.15 at 500 1/min, pure contact.
  const GasFaceSeal heavy{.faces = faces,
                          .boundary_friction = 0.15,
                          .contact_force = 15.0_N,
                          .lift_off = from_rpm(1e6),
                          .reference_film = 3.0_um,
                          .film_speed = 15000.0_rpm,
                          .least_film = 0.5_um,
                          .highest_film = 8.0_um};
  CHECK_THAT(gas_face_seal_state(heavy, without_slip(hot_air()), 500.0_rpm).power,
             within(2.60_W, 0.005_W));
}
