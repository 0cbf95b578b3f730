#pragma once

#include <string>

#include "study/explain_chain.hpp"
#include "study/sections.hpp"

/// The chains of figures, each in the file of what it is about. A `tail` tells the symbols of one
/// variant or place from those of another.
namespace ohmdrag::study {

class ElectricModel;

/// A unit that runs somewhere.
struct ExplainedRunning {
  const WorldModel& model;
  const VariantModel& variant;
  const energy::DriveUnit& unit;
  energy::Running now;
};

/// Force, film, friction, heat and temperature of every contact, and the watts of all parts.
/// \return the symbol of the watts of all parts
std::string explain_watts(const ExplainedRunning& running, const std::string& tail, Chain& chain);
/// The symbol that explain_watts() gives the watts of a part.
std::string watts_symbol(const std::string& part, const std::string& tail);

/// Own watts of all parts of a variant at a point.
/// \return their symbol
std::string explain_point(const Ensemble& ensemble, std::size_t variant, std::size_t point,
                          const std::string& tail, Chain& chain);

/// |Z| at 1 MHz of the running contact at the end of its service, at a point.
void explain_impedance(const Ensemble& ensemble, std::size_t variant, std::size_t point,
                       Chain& chain);

/// Figures of the shaft voltage at a point, up to the one that is named: edge_step_V, threshold_V,
/// edge_peak_V, held_V, discharge_rate_per_s, dose_rate_W_per_mm2.
void explain_voltage(const Ensemble& ensemble, std::size_t variant, std::size_t point,
                     const std::string& figure, Chain& chain);

/// Speed and torque of a shaft and the oil, at a point or on a duty.
struct ExplainedPlace {
  AngularVelocity speed;
  Temperature oil;
  Torque torque;
};
/// The same at any place of the inverter's shaft.
void explain_voltage_at(const Nominal& nominal, const ElectricModel& electric,
                        const ExplainedPlace& place, const std::string& figure, Chain& chain);

/// Figures over the service: battery_Wh_per_km, kWh_per_year, striking_time_share, dose_factor,
/// basic_life_h, modified_life_h, life_h, life_gain_h, break_even_kWh.
void explain_service(const Ensemble& ensemble, std::size_t variant, const std::string& figure,
                     Chain& chain);

}  // namespace ohmdrag::study
