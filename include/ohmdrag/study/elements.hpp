#pragma once

#include <optional>
#include <string>
#include <variant>

#include "ohmdrag/quantity/uncertain.hpp"

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

/// Elastomer or PTFE lip in oil: mixed to hydrodynamic friction, contact::MixedFilm.
struct LipElement {
  Uncertain<LineForce> line_force;
  Uncertain<Length> contact_width;
  Uncertain<double> boundary_friction;
  Uncertain<double> film_coefficient;
  Uncertain<double> transition_duty;
  Uncertain<double> load_share_exponent;
  Uncertain<ThermalConductivity> body_conductivity;
  Uncertain<Length> body_reach;
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
};

/// Dry conductive ring, textile or fibre: constant friction along a line force.
struct RingElement {
  Uncertain<LineForce> line_force;
  Uncertain<Length> contact_width;
  Uncertain<double> friction;
  Uncertain<ThermalConductivity> body_conductivity;
  Uncertain<Length> body_reach;
  ElementResistance resistance;
};

/// Dry brush pressed by a total force.
struct BrushElement {
  Uncertain<Force> force;
  Uncertain<Length> contact_width;  ///< along the shaft
  Uncertain<double> friction;
  Uncertain<ThermalResistance> holder;  ///< contact to housing
  ElementResistance resistance;
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

struct NoElement {};

/// An entry of data/contacts.toml or data/rules.toml, or of the user's own file.
struct Element {
  std::string id;
  std::string title;
  std::variant<NoElement, LipElement, RingElement, BrushElement, FaceSealElement, RuleElement,
               StatedElement>
      form;
  std::optional<Uncertain<Temperature>> temperature_limit;
  std::optional<Uncertain<Speed>> speed_limit;
  std::string remark;
};

struct BearingType {
  std::string id;  ///< "6209"
  enum class Family { deep_groove_ball, cylindrical_roller } family = Family::deep_groove_ball;
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
};

}  // namespace ohmdrag::study
