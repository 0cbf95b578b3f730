#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/rig/estimate.hpp"

/// What contact force does to impedance and torque.
namespace ohmdrag::rig {

/// A settled reading, in the order of the run.
struct ForcePoint {
  double force = 0.0;  ///< of each element, in the unit of the run: N, or N/m of a ring
  std::optional<Resistance> impedance = {};  ///< magnitude, of all elements in series
  std::optional<Torque> torque = {};         ///< of all elements
  std::string specimen = {};                 ///< empty: one specimen
};

struct ForceRun {
  std::vector<ForcePoint> points;
  bool per_length = false;  ///< forces in N/m, of a ring; else N
  int elements = 1;         ///< in series and on the shaft at once, 1 or 2
  Resistance lead;          ///< of leads and slip contact, in series; taken off
  Resistance lead_error;    ///< standard
  Torque tare;              ///< of what turns without the elements; taken off
  Torque tare_error;        ///< standard
  double reference =
      0.0;  ///< force at which the levels are told; 0: the geometric mean, to two digits
};

/// y = level (F/F_ref)^exponent
struct PowerOfForce {
  Estimate<double> exponent;
  double level = 0.0;                    ///< at the reference, mean of the specimens; SI
  std::pair<double, double> level_ends;  ///< 95 %
  std::optional<double> part_scatter =
      {};                  ///< of ln(level), standard deviation; none: one specimen
  double deviation = 0.0;  ///< of ln(y), of a reading
  /// Change of the exponent over the run, from its lowest to its highest force; none: too few
  /// forces.
  std::optional<Estimate<double>> bend = {};
  std::optional<Estimate<double>> hysteresis = {};       ///< of ln(y), loading less unloading
  std::vector<std::size_t> far_off;                      ///< readings of the run
  std::vector<std::pair<std::size_t, double>> modelled;  ///< reading of the run and y, SI
};

struct ForceFit {
  std::optional<PowerOfForce> impedance;  ///< exponent -m: negative where force helps
  std::optional<PowerOfForce> torque;
  double reference = 0.0, lowest = 0.0, highest = 0.0;  ///< forces
  std::size_t forces = 0;                               ///< distinct
  bool wrong_lever = false;  ///< more force is not the way to less impedance
  std::vector<std::string> notes, warnings;
};

/// Fewer readings are refused; common practice, no source.
inline constexpr std::size_t fewest_force_points = 5;
/// Forces closer together than this factor tell no exponent and are refused; common practice.
inline constexpr double least_force_range = 1.3;
/// Below this upper end of m, R ~ F^-m, twice the force takes at most a sixth of the impedance, and
/// force is called the wrong lever; common practice, no source.
inline constexpr double weak_exponent = 0.25;

/// Exponents of impedance and torque over contact force.
///
///     ln y = ln y_ref,i + k ln(F/F_ref) + h s       i: specimen; s = 1/2 loading, -1/2 unloading
///
/// Sign      k < 0: y falls as force rises. Of the impedance m = -k.
/// Method    linear regression of the logarithms by Huber's loss, one exponent for all specimens;
///           loading and unloading apart where the run holds both. Its bend by a square of the
///           logarithm, fitted beside. Intervals by Student's t; on top what lead and tare may be
///           off, carried by fitting again with them moved, and of the level the specimens.
/// Validity  settled readings, relative noise, forces of the run: none beyond it, and a contact
///           that is in one state over it.
/// Limits    no noise: the exponent itself. A law of two terms (bulk and spots) shows as a bend.
/// Accuracy  95 % intervals cover for independent noise (tested).
/// Source    exponents 1/2 of plastic and 1/3 of elastic spots, 1 of films: R. Holm, Electric
///           Contacts, 1967 (from memory), see contact/holm.hpp. Regression derived.
///
/// \throws std::invalid_argument, in words, for a run that no fit should be made of.
ForceFit fit_force(const ForceRun& run);

}  // namespace ohmdrag::rig
