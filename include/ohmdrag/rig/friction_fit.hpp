#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "ohmdrag/rig/estimate.hpp"
#include "ohmdrag/rig/friction_run.hpp"

namespace ohmdrag::rig {

/// A constant of a friction law.
struct LawParameter {
  std::string key;     ///< as an entry of a contact calls it
  std::string name;    ///< on the page
  bool level = false;  ///< friction is proportional to it, or to it and its likes together
  std::optional<Estimate<double>> value;  ///< none: the run does not tell it
};

/// A law held against the run.
struct ComparedLaw {
  std::string title;
  std::size_t sought = 0;      ///< constants of the law
  std::optional<double> aicc;  ///< none: too few points for so many constants
  double above_least = 0.0;    ///< of aicc, over that of the best law
  double weight = 0.0;         ///< Akaike's, of the laws compared
  Torque rms;                  ///< of the residuals
  bool chosen = false;
};

/// A specimen, or an unresolved pair, against the mean of all.
struct SpecimenLevel {
  std::string name;
  Estimate<double> level;  ///< over the mean
};

/// A reading after the tare, of one element in the mean.
struct FittedPoint {
  FrictionPoint read;
  Torque torque;
  Torque modelled;
  bool far_off = false;
};

/// Torque and power of the fitted law at a speed and the middle temperature of the run.
struct CurvePoint {
  AngularVelocity speed;
  Estimate<Torque> torque;
};

struct FrictionFit {
  std::string law;    ///< word of `friction_law`
  std::string title;  ///< of the form that was fitted
  std::vector<LawParameter> parameters;
  std::vector<double> correlation;  ///< of the parameters, row by row, all errors included
  std::vector<std::pair<std::string, double>> held;  ///< key and value that were not fitted
  std::vector<ComparedLaw> compared;                 ///< best first
  std::vector<CurvePoint> curve;                     ///< rising speed
  std::vector<FittedPoint> points;
  std::vector<SpecimenLevel> specimens;  ///< empty: one specimen
  /// Of the level from specimen to specimen, over the mean: standard deviation with its interval.
  std::optional<double> part_scatter;
  std::optional<std::pair<double, double>> part_scatter_interval;
  bool resolved_pairs = false;                 ///< pairs on one shaft, told apart by their pairings
  std::optional<Estimate<double>> hysteresis;  ///< up less down, over their mean
  struct RunIn {
    Estimate<double> rise;  ///< a of T [1 + a exp(-t/t_r)]
    Estimate<Time> time;    ///< t_r
    Time ended;             ///< points before were left out
    std::size_t left_out = 0;
  };
  std::optional<RunIn> run_in;
  std::size_t outside_tare = 0;  ///< readings left out: no tare at their speed
  AngularVelocity least_speed, highest_speed;
  std::optional<std::pair<Temperature, Temperature>> temperatures;
  std::vector<std::string> notes, warnings;
};

/// A parameter whose 95 % half width is a larger share of it counts as not told.
inline constexpr double friction_told_within = 0.5;
/// Fewer readings are refused; common practice, no source.
inline constexpr std::size_t fewest_friction_points = 6;

/// The friction law of a contact out of torque over speed.
///
///     T = f(u, F', eta) F' pi d^2/2 a_i [1 + h s] [1 + a e^(-t/t_r)]
///     f  the law of contact/friction.hpp; a_i of specimen i, 1 in the mean; s = 1/2 up, -1/2 down
///
/// Method    Tare off first, interpolated over speed. The law that the run names by Huber's loss,
///           so that readings far off count less and are listed; what of it the run does not tell
///           is left to its simpler form (of a mixed film the film alone, of PTFE the level alone).
///           It and the other laws that apply are compared by AICc over the readings that the best
///           law does not list as far off. A run-in is left out from where its term has fallen to
///           1 %, if AICc speaks for one by 10 or more; of the sweeps the mean is told. Two
///           elements on a shaft share the torque: the mean of one is told; three pairings of three
///           specimens tell each.
/// Intervals Student's t of the fit, and on top what all readings share: force, tare, half the gap
///           of the sweeps (uniform), specimens (method of moments, Student's t). Each is carried
///           by fitting again with it moved by its standard uncertainty.
/// Validity  settled readings; one force and one width; speeds and temperatures within the run.
/// Limits    no noise: the constants of the law. One speed: a constant coefficient alone.
/// Accuracy  95 % intervals cover for independent noise (tested). The friction coefficient is that
///           at the stated force: torque is what was measured.
/// Source    AICc and its weights: K. P. Burnham, D. R. Anderson, Model Selection and Multimodel
///           Inference, 2002, sections 2.4, 2.6 and 2.9; loss: P. J. Huber, Robust Statistics, 1981
///           (both from memory). Model derived; the form of the run-in is assumed.
///
/// \throws std::invalid_argument, in words, for a run that no fit should be made of.
FrictionFit fit_friction(const FrictionRun& run);

/// A remark where a logged power is not torque times speed; empty if it is.
/// \throws std::invalid_argument, in words, if they are a fifth or more apart.
std::string power_against_torque(const std::vector<AngularVelocity>& speed,
                                 const std::vector<Torque>& torque,
                                 const std::vector<Power>& power);

}  // namespace ohmdrag::rig
