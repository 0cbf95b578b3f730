#pragma once

#include "study/sample_case.hpp"
#include "support/cycles.hpp"

/// The sample case reduced to one lip, and the same in an invented car.
namespace ohmdrag::test {

/// One lip, everything certain.
inline study::Case one_lip() {
  study::Case c = sample_case();
  c.samples = 1;
  c.inverter.reset();
  c.coupling.reset();
  c.variants.resize(1);
  c.duties.clear();
  c.service = {};
  return c;
}

inline study::Case car() {
  using namespace literals;
  study::Case c = one_lip();
  const auto load = midsize_car();
  study::Vehicle vehicle;
  vehicle.test_mass = known(load.test_mass);
  vehicle.rotating_mass_factor = known(1.03);
  vehicle.f0 = known(load.road_load.f0);
  vehicle.f1 = known(load.road_load.f1);
  vehicle.f2 = known(load.road_load.f2);
  vehicle.rolling_circumference = 2040.0_mm;
  vehicle.mean_efficiency = known(0.9);
  vehicle.load_independent_share = known(0.4);
  vehicle.recuperation_efficiency = known(0.8);
  vehicle.recuperation_share = known(1.0);
  vehicle.gear_efficiency = known(0.97);
  c.vehicle = vehicle;
  c.shafts[0].ratio = known(9.0);
  c.points[0].shaft_speed.reset();
  c.points[0].road_speed = known(60.0_kmh);
  return c;
}

}  // namespace ohmdrag::test
