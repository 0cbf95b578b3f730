#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "ohmdrag/contact/ptfe_friction.hpp"
#include "ohmdrag/material/lubricant.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// A measured run of friction torque over speed, as plain data.
namespace ohmdrag::rig {

enum class Sweep { unknown, up, down };

/// A settled reading, in the order of the run.
struct FrictionPoint {
  AngularVelocity speed;  ///< signed by the sense of turning
  Torque torque;          ///< of all that turns on the rig, signed as the speed
  std::optional<Torque> standard_error = {};
  std::optional<Temperature> temperature = {};
  std::optional<Time> time = {};  ///< since the specimen was new; rising
  std::string specimen = {};      ///< "A"; of two on the shaft "A+B"; empty: one specimen
  Sweep sweep = Sweep::unknown;
};

/// What turns without the specimen, at every speed.
struct StatedTare {
  Torque torque;
  Torque standard_error;
};
/// The run without a specimen.
struct TareReading {
  AngularVelocity speed;
  Torque torque;
  std::optional<Torque> standard_error = {};
};
using Tare = std::variant<std::monostate, StatedTare, std::vector<TareReading>>;

struct FrictionRun {
  std::vector<FrictionPoint> points;
  Tare tare;
  int elements = 1;                ///< on the shaft at once, 1 or 2
  std::string law;                 ///< word of `friction_law`: constant, ptfe or mixed-film
  Length diameter;                 ///< of the shaft at the contact
  LineForce line_force;            ///< of each element, at the temperature of the run
  double force_uncertainty = 0.0;  ///< standard, over the force
  std::optional<Length> contact_width = {};  ///< along the shaft
  /// Of the oil that the contact runs in; none: dry.
  std::optional<material::LubricantProperties> oil = {};
  bool contact_temperature = false;  ///< the temperatures are those of the contact itself
  /// Of the contact over the logged temperature, per watt of one element.
  std::optional<ThermalResistance> contact_rise = {};
  /// m of a mixed film, held; a film needs it, oil, width and temperatures.
  std::optional<double> load_share_exponent = {};
  /// Its coefficients shape the law of dry PTFE; a fit of that law needs them and the width.
  std::optional<contact::PtfeFriction> ptfe = {};
};

}  // namespace ohmdrag::rig
