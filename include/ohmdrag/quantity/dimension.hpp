#pragma once

#include <limits>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag {

/// The dimensions that text may carry. One row each in the table of unit_table.cpp.
enum class Dimension {
  ratio,
  length,
  area,
  time,
  frequency,
  rotational_speed,
  speed,
  mass,
  density,
  force,
  torque,
  energy,
  power,
  pressure,
  line_force,
  dynamic_viscosity,
  kinematic_viscosity,
  energy_per_distance,
  road_load_linear,
  road_load_quadratic,
  temperature,
  temperature_difference,
  thermal_conductivity,
  thermal_conductance,
  thermal_resistance,
  heat_transfer_coefficient,
  heat_capacity,
  specific_heat,
  voltage,
  current,
  resistance,
  inductance,
  capacitance,
  electric_field,
  resistivity,
  current_density,
  energy_per_area,
  wear_rate,
  per_pressure,
  per_temperature,
  moment_of_inertia,
  pressure_speed,
};

/// One accepted spelling: value_SI = number * factor + offset (the offset only for temperature).
struct UnitSpelling {
  std::string_view text;  ///< canonical ASCII spelling, for example "N/mm", "ohm", "degC"
  double factor;
  double offset = 0.0;
  /// Sizes |value_SI| from here up are printed in this unit, unless another unit of the row starts
  /// higher and is reached too; never by default.
  double print_from = std::numeric_limits<double>::infinity();
};

struct DimensionRow {
  Dimension dimension;
  std::string_view name;                ///< "force per length"
  std::string_view with_article;        ///< "a force per length"
  std::span<const UnitSpelling> units;  ///< the first is the SI unit
};

/// Every dimension with its accepted units: the one table that reading, printing and
/// `ohmdrag list units` share.
std::span<const DimensionRow> dimension_table();
const DimensionRow& row_of(Dimension dimension);

/// The canonical spelling of a unit as typed: µ and u, Ω and ohm, °C and degC, · and *, ² and ^2,
/// 1/min and rpm, superfluous blanks.
std::string canonical_unit(std::string_view typed);
/// The spelling in this dimension, or nullptr.
const UnitSpelling* find_unit(Dimension dimension, std::string_view typed);
/// All dimensions that accept the spelling.
std::vector<Dimension> dimensions_of_unit(std::string_view typed);

/// Which run-time dimension a compile-time quantity has by default. Where two share one set of base
/// dimensions (force and energy per distance, line force and stiffness) the reader names the other.
template <class Q>
struct DimensionOf;
template <>
struct DimensionOf<double> {
  static constexpr Dimension value = Dimension::ratio;
};

#define OHMDRAG_DIMENSION_OF(Type, name)                \
  template <>                                           \
  struct DimensionOf<Type> {                            \
    static constexpr Dimension value = Dimension::name; \
  };
OHMDRAG_DIMENSION_OF(Length, length)
OHMDRAG_DIMENSION_OF(Area, area)
OHMDRAG_DIMENSION_OF(Time, time)
OHMDRAG_DIMENSION_OF(Frequency, frequency)
OHMDRAG_DIMENSION_OF(AngularVelocity, rotational_speed)
OHMDRAG_DIMENSION_OF(Speed, speed)
OHMDRAG_DIMENSION_OF(Mass, mass)
OHMDRAG_DIMENSION_OF(Density, density)
OHMDRAG_DIMENSION_OF(Force, force)
OHMDRAG_DIMENSION_OF(Torque, torque)
OHMDRAG_DIMENSION_OF(Energy, energy)
OHMDRAG_DIMENSION_OF(Power, power)
OHMDRAG_DIMENSION_OF(Pressure, pressure)
OHMDRAG_DIMENSION_OF(LineForce, line_force)
OHMDRAG_DIMENSION_OF(DynamicViscosity, dynamic_viscosity)
OHMDRAG_DIMENSION_OF(KinematicViscosity, kinematic_viscosity)
OHMDRAG_DIMENSION_OF(RoadLoadLinear, road_load_linear)
OHMDRAG_DIMENSION_OF(RoadLoadQuadratic, road_load_quadratic)
OHMDRAG_DIMENSION_OF(Temperature, temperature)
OHMDRAG_DIMENSION_OF(TemperatureDifference, temperature_difference)
OHMDRAG_DIMENSION_OF(ThermalConductivity, thermal_conductivity)
OHMDRAG_DIMENSION_OF(ThermalConductance, thermal_conductance)
OHMDRAG_DIMENSION_OF(ThermalResistance, thermal_resistance)
OHMDRAG_DIMENSION_OF(HeatTransferCoefficient, heat_transfer_coefficient)
OHMDRAG_DIMENSION_OF(HeatCapacity, heat_capacity)
OHMDRAG_DIMENSION_OF(SpecificHeat, specific_heat)
OHMDRAG_DIMENSION_OF(Voltage, voltage)
OHMDRAG_DIMENSION_OF(Current, current)
OHMDRAG_DIMENSION_OF(Resistance, resistance)
OHMDRAG_DIMENSION_OF(Inductance, inductance)
OHMDRAG_DIMENSION_OF(Capacitance, capacitance)
OHMDRAG_DIMENSION_OF(ElectricField, electric_field)
OHMDRAG_DIMENSION_OF(CurrentDensity, current_density)
OHMDRAG_DIMENSION_OF(PerPressure, per_pressure)
OHMDRAG_DIMENSION_OF(PerTemperature, per_temperature)
OHMDRAG_DIMENSION_OF(PressureSpeed, pressure_speed)
#undef OHMDRAG_DIMENSION_OF

}  // namespace ohmdrag
