#pragma once

#include <optional>
#include <string>
#include <variant>

#include "ohmdrag/component/measured_torque.hpp"
#include "ohmdrag/quantity/uncertain.hpp"
#include "ohmdrag/study/contact_parts.hpp"

/// What a case or a data file says about things that can be chosen: every number still carries its
/// spread, basis and source. Plain data; draws turn it into the structs of the physics rooms.
namespace ohmdrag::study {

struct Lubricant {
  std::string id;
  std::string title;
  Uncertain<KinematicViscosity> viscosity_40;
  Uncertain<KinematicViscosity> viscosity_100;
  Uncertain<double> viscosity_constant;
  Uncertain<Density> density_15;
  Uncertain<PerPressure> pressure_viscosity;
  Uncertain<ThermalConductivity> conductivity;
  Uncertain<SpecificHeat> specific_heat;
  Uncertain<double> permittivity;
};

/// Elastomer or PTFE lip in oil.
struct LipElement {
  Uncertain<LineForce> line_force;
  Uncertain<Length> contact_width;
  FrictionEntry law;
  Uncertain<ThermalConductivity> body_conductivity;
  Uncertain<Length> body_reach;
  std::optional<Uncertain<LineForce>> least_line_force = {};  ///< below, it may not stay tight
  ContactService service = {};
};

/// Contact resistance at a stated force and diameter, contact::DryResistance.
struct ElementResistance {
  Uncertain<Resistance> bulk;
  Uncertain<Resistance> film;
  Uncertain<LineForce> at_line_force;  ///< rings; brushes state at_force
  Uncertain<Force> at_force;
  Uncertain<Length> at_diameter;
  Uncertain<double> count_exponent;
  Uncertain<double> film_exponent;
  Uncertain<double> end_of_service_factor;
  /// contact::RunningResistance; none: running does nothing to it.
  struct Running {
    Uncertain<PerTemperature> temperature_coefficient;
    Uncertain<Speed> speed_scale;
    Uncertain<double> speed_exponent;
  };
  std::optional<Running> running = {};
};

/// Conductive ring, textile, fibre or lip: dry, or with `oil` in the oil.
struct RingElement {
  Uncertain<LineForce> line_force;  ///< with fibres: unset, it follows from them
  Uncertain<Length> contact_width;
  FrictionEntry law = ConstantFrictionEntry{};
  Uncertain<ThermalConductivity> body_conductivity;
  Uncertain<Length> body_reach;
  ElementResistance resistance;
  std::optional<FibreEntry> fibres = {};
  std::optional<OilEntry> oil = {};
  ContactService service = {};
};

/// Dry brush pressed by a total force.
struct BrushElement {
  Uncertain<Force> force;           ///< with fibres: unset, it follows from them
  Uncertain<Length> contact_width;  ///< along the shaft
  FrictionEntry law = ConstantFrictionEntry{};
  Uncertain<ThermalResistance> holder;                  ///< contact to housing
  std::optional<Uncertain<Area>> section = {};          ///< of the brush: wear and pressure
  std::optional<Uncertain<Voltage>> contact_drop = {};  ///< heats with the current of the case
  ElementResistance resistance = {};
  std::optional<FibreEntry> fibres = {};
  ContactService service = {};
};

/// One of the published seal-loss rules, component::PublishedRule.
struct RuleElement {
  enum class Form { diameter, diameter_squared, oil_temperature } form = Form::diameter;
  Uncertain<double> coefficient;  ///< in the rule's own units, see data/rules.toml
};

/// "So many watts at such a speed", scaled as torque ~ speed^exponent.
struct StatedElement {
  Uncertain<Power> power;
  Uncertain<AngularVelocity> at;
  Uncertain<double> torque_exponent;  ///< 0 constant torque, -1 constant power
  std::optional<ElementResistance> resistance;
};

/// Mechanical face seal on a gas film, component::GasFaceSeal. It stands beside the shaft: its heat
/// does not enter the contacts' network.
struct FaceSealElement {
  Uncertain<Length> inner_radius;
  Uncertain<Length> outer_radius;
  Uncertain<double> boundary_friction;
  Uncertain<Force> contact_force;
  Uncertain<AngularVelocity> lift_off;
  Uncertain<Length> reference_film;
  Uncertain<AngularVelocity> film_speed;  ///< at which reference_film is stated
  Uncertain<Length> least_film;
  Uncertain<Length> highest_film;
  Uncertain<Pressure> gas_pressure;  ///< absolute
};

/// A pair of cylindrical gears whose pinion turns with the shaft, component::GearPair.
struct GearElement {
  int pinion_teeth = 0;
  int wheel_teeth = 0;
  Uncertain<Length> normal_module;
  Uncertain<double> pressure_angle_deg;  ///< in the normal section
  Uncertain<double> helix_angle_deg;     ///< 0 for spur gears
  Uncertain<Length> face_width;
  /// These three together, or none of them: teeth without profile shift.
  std::optional<Uncertain<Length>> pinion_tip_diameter;
  std::optional<Uncertain<Length>> wheel_tip_diameter;
  std::optional<Uncertain<Length>> centre_distance;
  Uncertain<Length> roughness;  ///< Ra, mean of both flanks
  Uncertain<double> oil_factor;
};

/// Drag read from a measured table; its temperature, if it has one, is that of the oil.
struct MeasuredElement {
  component::MeasuredTorque table;
  Uncertain<double> factor;  ///< about 1, on every torque: what the measurement may be off
};

struct NoElement {};

/// An entry of data/contacts.toml or data/rules.toml, or of the user's own file.
struct Element {
  std::string id;
  std::string title;
  std::variant<NoElement, LipElement, RingElement, BrushElement, FaceSealElement, RuleElement,
               StatedElement, GearElement, MeasuredElement>
      form;
  ElementLimits limits = {};
  std::optional<FlashEntry> flash = {};
  std::string remark = {};
};

struct BearingType {
  std::string id;  ///< "6209"
  enum class Family { deep_groove_ball, cylindrical_roller, tapered_roller };
  Family family = Family::deep_groove_ball;
  Uncertain<double> rolling_elements;
  Uncertain<Length> element_diameter;
  Uncertain<Length> pitch_diameter;
  Uncertain<double> conformity;
  Uncertain<Length> clearance;  ///< diametral, in operation
  Uncertain<Force> dynamic_rating;
  Uncertain<Force> static_rating;
  Uncertain<double> static_factor;       ///< f0 of ISO 76
  Uncertain<double> torque_factor;       ///< f0 of Palmgren
  Uncertain<double> load_torque_factor;  ///< z of Palmgren
  Uncertain<double> load_torque_exponent;
  std::optional<Uncertain<double>> axial_factor;   ///< Y of ISO 281; tapered rollers
  std::optional<Uncertain<double>> flange_factor;  ///< f2 of rubbing flanges; cylindrical rollers
  std::optional<Uncertain<Length>> roller_length;  ///< effective; none: no films of these rollers
  std::optional<Uncertain<Force>> fatigue_load_limit;  ///< C_u; none: a share of static_rating
};

}  // namespace ohmdrag::study
