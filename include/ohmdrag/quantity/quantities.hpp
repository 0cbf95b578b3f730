#pragma once

#include <boost/units/absolute.hpp>
#include <boost/units/quantity.hpp>
#include <boost/units/systems/si.hpp>
#include <numbers>

/// The vocabulary of every signature between rooms: one name a quantity, checked by the compiler.
/// Values are SI inside; text with units is read and printed by read.hpp and print.hpp.
namespace ohmdrag {

namespace si = boost::units::si;

template <class Unit>
using Quantity = boost::units::quantity<Unit>;

using Length = Quantity<si::length>;
using Area = Quantity<si::area>;
using Volume = Quantity<si::volume>;
using Time = Quantity<si::time>;
using Frequency = Quantity<si::frequency>;
using AngularVelocity = Quantity<si::angular_velocity>;  ///< rad/s, never rev/s
using Speed = Quantity<si::velocity>;
using Acceleration = Quantity<si::acceleration>;
using Mass = Quantity<si::mass>;
using Density = Quantity<si::mass_density>;
using Force = Quantity<si::force>;
using Torque = Quantity<si::torque>;  ///< N m / rad: not an energy, see torque_of()
using Energy = Quantity<si::energy>;
using Power = Quantity<si::power>;
using Pressure = Quantity<si::pressure>;
using LineForce = Quantity<si::surface_tension>;  ///< N/m along the contact line
using DynamicViscosity = Quantity<si::dynamic_viscosity>;
using KinematicViscosity = Quantity<si::kinematic_viscosity>;
/// J/m. Dimensionally a force (1 Wh/km = 3.6 N); kept apart by member names.
using EnergyPerDistance = Force;
using RoadLoadLinear = Quantity<decltype(si::force() / si::velocity())>;
using RoadLoadQuadratic = Quantity<decltype(si::force() / (si::velocity() * si::velocity()))>;

/// A temperature is a point on the scale; a difference is another type. Points cannot be added.
using Temperature = Quantity<boost::units::absolute<si::temperature>>;
using TemperatureDifference = Quantity<si::temperature>;
using ThermalConductivity = Quantity<decltype(si::power() / (si::length() * si::temperature()))>;
using ThermalConductance = Quantity<decltype(si::power() / si::temperature())>;
using ThermalResistance = Quantity<decltype(si::temperature() / si::power())>;
using HeatTransferCoefficient = Quantity<decltype(si::power() / (si::area() * si::temperature()))>;
using HeatCapacity = Quantity<decltype(si::energy() / si::temperature())>;
using SpecificHeat = Quantity<decltype(si::energy() / (si::mass() * si::temperature()))>;

using Voltage = Quantity<si::electric_potential>;
using Current = Quantity<si::current>;
using Resistance = Quantity<si::resistance>;
using Inductance = Quantity<si::inductance>;
using Capacitance = Quantity<si::capacitance>;
using ElectricField = Quantity<decltype(si::electric_potential() / si::length())>;
using VoltageSlope = Quantity<decltype(si::electric_potential() / si::time())>;
using CurrentDensity = Quantity<decltype(si::current() / si::area())>;
/// J/m2 of contact area; dimensionally an N/m, kept apart by member names.
using EnergyPerArea = Quantity<decltype(si::energy() / si::area())>;
/// Archard wear rate, m2/N (1 mm3/(N m) = 1e-9 m2/N).
using WearRate = Quantity<decltype(si::area() / si::force())>;
/// Pressure times sliding speed, the measure of what a dry pair takes.
using PressureSpeed = Quantity<decltype(si::pressure() * si::velocity())>;
using PerPressure = Quantity<decltype(si::dimensionless() / si::pressure())>;
using PerTemperature = Quantity<decltype(si::dimensionless() / si::temperature())>;

// The radian bridge. Boost.Units counts the radian as a base dimension, so force x radius is an
// energy, not a torque. Cross the bridge here and nowhere else.
constexpr Torque torque_of(Force f, Length r) { return f * r / si::radian; }
constexpr Speed rim_speed(AngularVelocity w, Length r) { return w * r / si::radian; }
constexpr AngularVelocity turning_speed(Speed v, Length r) { return v * si::radian / r; }

/// Celsius lives only here, in the unit table and in print.cpp.
constexpr double kelvin_at_zero_celsius = 273.15;
constexpr Temperature from_celsius(double degC) {
  return Temperature::from_value(degC + kelvin_at_zero_celsius);
}
constexpr double in_celsius(Temperature t) { return t.value() - kelvin_at_zero_celsius; }

constexpr AngularVelocity from_rpm(double rpm) {
  return AngularVelocity::from_value(rpm * std::numbers::pi / 30.0);
}
constexpr double in_rpm(AngularVelocity w) { return w.value() * 30.0 / std::numbers::pi; }
constexpr Speed from_kmh(double kmh) { return Speed::from_value(kmh / 3.6); }
constexpr double in_kmh(Speed v) { return v.value() * 3.6; }
constexpr double in_Wh_per_km(EnergyPerDistance e) { return e.value() / 3.6; }
constexpr double in_mm2_per_s(KinematicViscosity nu) { return nu.value() * 1e6; }

}  // namespace ohmdrag
