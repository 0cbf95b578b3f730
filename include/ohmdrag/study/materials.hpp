#pragma once

#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/quantity/uncertain.hpp"

/// What data files and cases say about seal materials, ageing, wear and fits. Every number still
/// carries its spread, basis and source. Plain data; draws turn it into the structs of the physics
/// rooms.
namespace ohmdrag::study {

/// [seal_material.<id>], material::SealLimits. Limits that nobody stated stay empty.
struct SealLimits {
  std::optional<Uncertain<Temperature>> continuous_low;
  std::optional<Uncertain<Temperature>> continuous_high;
  std::optional<Uncertain<Temperature>> sump_high;   ///< of the oil around it
  std::optional<Uncertain<Temperature>> short_term;  ///< of the contact, minutes
  std::optional<Uncertain<Speed>> surface_speed;
};

/// [relaxation.<id>], contact::Relaxation.
struct Relaxation {
  Uncertain<double> per_decade;
  Uncertain<Time> log_time;
  Uncertain<Time> chemical_time;  ///< at the temperature `at`
  Uncertain<Temperature> at;
  Uncertain<TemperatureDifference> activation_temperature;  ///< over the gas constant
  Uncertain<double> stretch;
};

/// Modulus at a temperature over that at 20 degC, contact::ModulusPoint.
struct ModulusPoint {
  Uncertain<Temperature> temperature;
  Uncertain<double> ratio;
};

/// [modulus_over_temperature.<id>], in rising temperature, at least one point.
struct ModulusCurve {
  std::vector<ModulusPoint> points;
};

/// [lip_form.<id>]: what contact::LipForce and contact::LipEdge need beside force and rubber.
struct LipForm {
  Uncertain<double> spring_share;  ///< of the line force of the new part
  Uncertain<double> spring_set;    ///< share of the spring's force lost in the end
  Uncertain<Time> spring_set_time;
  Uncertain<Length> radial_interference;
  Uncertain<double> air_angle_deg;  ///< between shaft and lip
  Uncertain<double> oil_angle_deg;
  Uncertain<Length> new_width;
  Uncertain<Length> pressure_length;
};

/// [wear.<id>]. Its run-time dimension is wear_rate, which shares its base dimensions with
/// per_pressure: input::read_wear names it.
struct Wear {
  Uncertain<WearRate> wear_rate;
};

/// [cleanliness.<id>], bearing::Cleanliness.
struct CleanlinessClass {
  std::string id;
  std::string title;
  Uncertain<double> factor;    ///< k
  Uncertain<double> diameter;  ///< b
  std::string dirtier;         ///< the next class; empty: none
};

/// How clean the oil of the bearings is.
struct OilCleanliness {
  CleanlinessClass usual;
  /// Where debris of a grounding element reaches the oil; none: `usual` is the dirtiest class.
  std::optional<CleanlinessClass> with_debris;
  Uncertain<double> within_class;   ///< about 1, on the factor of either class
  bool assumed = false;             ///< the case does not state a class
  bool proven_ep_additive = false;  ///< the case says so
};

/// [fit.<id>], contact::FitClass. Limits of a tolerance are definitions: no spread.
struct Fit {
  struct Band {
    Length above;  ///< nominal diameters above this one ...
    Length up_to;  ///< ... and up to this one
    Length lower_deviation;
    Length upper_deviation;
    Basis basis = Basis::assumed;  ///< a band may be known less well than its class
    std::string source = {};
  };
  std::vector<Band> bands;  ///< in rising diameter, at least one
  std::string id;
  std::string title;
  Basis basis = Basis::assumed;
  std::string source;
};

/// [graphite_transition.<id>], material::GraphiteTransition.
struct GraphiteTransition {
  Uncertain<Temperature> begin;
  Uncertain<Temperature> end;
};

/// [lip_speed_chart.<id>], material::LipSpeedChart, and the pressure over the lip it goes with.
struct LipSpeedChart {
  Uncertain<Length> small_diameter;
  Uncertain<AngularVelocity> small_speed;
  Uncertain<Length> large_diameter;
  Uncertain<AngularVelocity> large_speed;
  Uncertain<Speed> beyond;
  Uncertain<Pressure> pressure_up_to_large_diameter;
  Uncertain<Pressure> pressure_beyond;
};

}  // namespace ohmdrag::study
