#pragma once

#include "ohmdrag/quantity/quantities.hpp"

/// `40.0_mm`, `80.0_degC`, `3000.0_rpm`: for tests and examples; models get their numbers as data.
namespace ohmdrag::literals {

#define OHMDRAG_LITERAL(suffix, Type, factor)                       \
  constexpr Type operator""_##suffix(long double value) {           \
    return Type::from_value(static_cast<double>(value) * (factor)); \
  }

OHMDRAG_LITERAL(m, Length, 1.0)
OHMDRAG_LITERAL(mm, Length, 1e-3)
OHMDRAG_LITERAL(um, Length, 1e-6)
OHMDRAG_LITERAL(km, Length, 1e3)
OHMDRAG_LITERAL(mm2, Area, 1e-6)
OHMDRAG_LITERAL(s, Time, 1.0)
OHMDRAG_LITERAL(h, Time, 3600.0)
OHMDRAG_LITERAL(us, Time, 1e-6)
OHMDRAG_LITERAL(ns, Time, 1e-9)
OHMDRAG_LITERAL(Hz, Frequency, 1.0)
OHMDRAG_LITERAL(kHz, Frequency, 1e3)
OHMDRAG_LITERAL(MHz, Frequency, 1e6)
OHMDRAG_LITERAL(rad_s, AngularVelocity, 1.0)
OHMDRAG_LITERAL(rpm, AngularVelocity, std::numbers::pi / 30.0)
OHMDRAG_LITERAL(m_s, Speed, 1.0)
OHMDRAG_LITERAL(kmh, Speed, 1.0 / 3.6)
OHMDRAG_LITERAL(kg, Mass, 1.0)
OHMDRAG_LITERAL(kg_m3, Density, 1.0)
OHMDRAG_LITERAL(N, Force, 1.0)
OHMDRAG_LITERAL(N_m, LineForce, 1.0)   // newton per metre
OHMDRAG_LITERAL(N_mm, LineForce, 1e3)  // newton per millimetre
OHMDRAG_LITERAL(Nm, Torque, 1.0)       // newton metre
OHMDRAG_LITERAL(J, Energy, 1.0)
OHMDRAG_LITERAL(W, Power, 1.0)
OHMDRAG_LITERAL(Pa, Pressure, 1.0)
OHMDRAG_LITERAL(MPa, Pressure, 1e6)
OHMDRAG_LITERAL(GPa, Pressure, 1e9)
OHMDRAG_LITERAL(Pa_s, DynamicViscosity, 1.0)
OHMDRAG_LITERAL(mPa_s, DynamicViscosity, 1e-3)
OHMDRAG_LITERAL(mm2_s, KinematicViscosity, 1e-6)
OHMDRAG_LITERAL(W_mK, ThermalConductivity, 1.0)
OHMDRAG_LITERAL(W_m2K, HeatTransferCoefficient, 1.0)
OHMDRAG_LITERAL(W_K, ThermalConductance, 1.0)
OHMDRAG_LITERAL(J_K, HeatCapacity, 1.0)
OHMDRAG_LITERAL(K, TemperatureDifference, 1.0)
OHMDRAG_LITERAL(V, Voltage, 1.0)
OHMDRAG_LITERAL(A, Current, 1.0)
OHMDRAG_LITERAL(ohm, Resistance, 1.0)
OHMDRAG_LITERAL(kohm, Resistance, 1e3)
OHMDRAG_LITERAL(nH, Inductance, 1e-9)
OHMDRAG_LITERAL(pF, Capacitance, 1e-12)
OHMDRAG_LITERAL(nF, Capacitance, 1e-9)
OHMDRAG_LITERAL(V_um, ElectricField, 1e6)
#undef OHMDRAG_LITERAL

constexpr Temperature operator""_degC(long double degC) {
  return from_celsius(static_cast<double>(degC));
}

}  // namespace ohmdrag::literals
