#include "ohmdrag/quantity/quantities.hpp"

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using ohmdrag::test::near;
using ohmdrag::test::within;

TEST_CASE("the radian bridge turns force and radius into torque, torque and speed into watts",
          "[quantity][derived]") {
  const Torque torque = torque_of(2.0_N, 20.0_mm);
  CHECK_THAT(torque, near(0.04_Nm, 1e-15));
  const Power power = torque * 3000.0_rpm;
  // 0.04 N m * 2 pi * 50 1/s
  CHECK_THAT(power, near(Power::from_value(12.566370614359172), 1e-14));
  CHECK_THAT(rim_speed(3000.0_rpm, 20.0_mm) * 2.0_N, near(power, 1e-14));
  CHECK_THAT(turning_speed(rim_speed(3000.0_rpm, 20.0_mm), 20.0_mm), near(3000.0_rpm, 1e-14));
}

TEST_CASE("temperatures are points, their differences another type", "[quantity][derived]") {
  const TemperatureDifference rise = 80.0_degC - 23.0_degC;
  CHECK_THAT(rise, near(57.0_K, 1e-12));
  CHECK_THAT(23.0_degC + rise, within(80.0_degC, 1e-12_K));
  CHECK_THAT(0.0_degC, within(Temperature::from_value(273.15), 0.0_K));
  CHECK(in_celsius(from_celsius(-40.0)) == Approx(-40.0));
}

TEST_CASE("literals and conversions agree with the arithmetic", "[quantity][derived]") {
  CHECK((60.0_mm).value() == 0.06);
  CHECK_THAT(15.0_N_m, near(0.015_N_mm, 1e-15));
  CHECK(in_rpm(from_rpm(9000.0)) == Approx(9000.0).epsilon(1e-14));
  CHECK(in_kmh(from_kmh(70.0)) == Approx(70.0).epsilon(1e-14));
  CHECK_THAT(1.0_V_um, near(ElectricField::from_value(1e6), 0.0));
  // 3.6 J/m is a Wh/km: 3600 J over 1000 m.
  CHECK(in_Wh_per_km(EnergyPerDistance::from_value(3.6)) == Approx(1.0).epsilon(1e-14));
  CHECK(in_mm2_per_s(25.0_mm2_s) == Approx(25.0).epsilon(1e-14));
}
