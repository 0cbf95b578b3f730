#pragma once

#include <optional>
#include <variant>

#include "ohmdrag/quantity/uncertain.hpp"
#include "ohmdrag/study/materials.hpp"

/// What contacts are made of, each part with one physics struct behind it: friction law, loss of
/// force and wear, fibres, oil, flash of the asperities.
namespace ohmdrag::study {

/// contact::MixedFilm; the width is that of the element.
struct MixedFilmEntry {
  Uncertain<double> boundary_friction;
  Uncertain<double> film_coefficient;
  Uncertain<double> transition_duty;
  Uncertain<double> load_share_exponent;
};
/// contact::ConstantFriction.
struct ConstantFrictionEntry {
  Uncertain<double> friction;
};
/// contact::PtfeFriction.
struct PtfeFrictionEntry {
  Uncertain<double> slow_coefficient;
  Uncertain<double> middle_coefficient;
  Uncertain<double> fast_coefficient;
  Uncertain<double> filled_factor;
  Uncertain<Pressure> least_pressure;
};
using FrictionEntry = std::variant<MixedFilmEntry, ConstantFrictionEntry, PtfeFrictionEntry>;

/// contact::WearPair and the density of the debris.
struct WearEntry {
  Wear contact;
  std::optional<Wear> shaft;
  std::optional<Uncertain<Density>> density;
};

/// A wedge-shaped lip, contact::aged_lip. Its new width is that of the element.
struct LipService {
  LipForm form;
  Relaxation relaxation;
  ModulusCurve modulus;
  WearEntry wear;
};

/// A ring, a laid lip or a brush, contact::aged_pad.
struct PadService {
  WearEntry wear;
  std::optional<Uncertain<Length>> deflection;
  std::optional<Uncertain<Length>> wear_length;
  std::optional<ModulusCurve> modulus;
};

/// Without one the contact keeps its force, and the report says so.
using ContactService = std::variant<std::monostate, LipService, PadService>;

/// Fibres from which the force follows, contact::FibreRing and contact::FibreBrush.
struct FibreEntry {
  Uncertain<Length> diameter;
  Uncertain<Length> free_length;
  Uncertain<Pressure> young_modulus;
  Uncertain<Density> density;
  std::optional<Uncertain<double>> lean_deg;    ///< exactly one of lean and end factor
  std::optional<Uncertain<double>> end_factor;  ///< of a fibre that buckles
  std::optional<Uncertain<double>> count;    ///< exactly one of count and packing; brushes: count
  std::optional<Uncertain<double>> packing;  ///< share of the face that is fibre
  Uncertain<double> share_in_contact;
  Uncertain<double> dynamic_stiffening;  ///< >= 1, at run-out; contact::RunOut
  Uncertain<Length> interference;        ///< unless the case states it
};

/// What oil does to a ring, contact::WettedRing; its film is the ring's friction law.
struct OilEntry {
  Uncertain<double> residual_oil;
  Uncertain<Length> oil_thickness;
};

/// Asperities of a contact and the body behind them, contact::spot_rise.
struct FlashEntry {
  Uncertain<Length> spot_radius;
  Uncertain<Pressure> spot_pressure;
  Uncertain<ThermalConductivity> conductivity;
  Uncertain<Density> density;
  Uncertain<SpecificHeat> specific_heat;
};

/// What bounds the use of an element. Limits are read at their nominal values; what nobody stated
/// stays empty.
struct ElementLimits {
  std::optional<Uncertain<Temperature>> temperature;
  std::optional<Uncertain<Speed>> surface_speed;
  std::optional<Uncertain<AngularVelocity>> rotational_speed;
  std::optional<Uncertain<PressureSpeed>> pressure_speed;
  std::optional<Uncertain<Length>> installation_width;
  std::string material;  ///< id of the seal material
  std::optional<SealLimits> of_material;
  std::optional<LipSpeedChart> speed_chart;
  std::optional<GraphiteTransition> graphite;
};

}  // namespace ohmdrag::study
