#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/rig/estimate.hpp"

/// Measured runs to parameters of the models, with what the runs cannot tell.
namespace ohmdrag::rig {

/// Samples of a sump without a long gap between them.
struct SumpPiece {
  std::vector<Time> time;  ///< strictly rising
  std::vector<Temperature> sump;
  std::vector<Temperature> ambient;
  std::vector<Power> heat;   ///< into the sump, mean of each step: one fewer; empty if unknown
  std::vector<Speed> speed;  ///< of the vehicle, mean of each step; empty: it stands
};

/// A log of oil that warms up or cools.
struct SumpRun {
  std::vector<SumpPiece> pieces;  ///< each of two samples or more
  /// False: constant, but nobody knows how much.
  bool heat_known = true;
  double heat_uncertainty = 0.0;  ///< standard, over the heat, common to the whole log
  /// The air stream's share of the conductance, G1 (v/at)^exponent; none: not fitted.
  struct AirStream {
    Speed at;
    double exponent = 0.0;
  };
  std::optional<AirStream> air = {};
};

struct SumpFit {
  // None: this log does not tell it, and a note says why.
  std::optional<Estimate<HeatCapacity>> heat_capacity;
  std::optional<Estimate<ThermalConductance>> conductance;  ///< of the standing vehicle
  std::optional<Estimate<ThermalConductance>> air_stream;   ///< what it adds at its speed
  std::optional<Estimate<Time>> time_constant;              ///< C over the mean conductance
  /// Above the ambient, of constant heat that nobody knows.
  std::optional<Estimate<TemperatureDifference>> final_rise;
  std::optional<double> correlation;  ///< of heat capacity and conductance
  std::size_t samples = 0;
  Time duration;  ///< of the pieces together
  std::size_t outliers = 0;
  TemperatureDifference residual_rms;
  double lag_one = 0.0;            ///< autocorrelation of the residuals, one sample to the next
  double effective_samples = 0.0;  ///< independent ones that tell as much
  Temperature end_measured, end_modelled;
  TemperatureDifference end_error;  ///< standard, of the modelled one
  std::vector<std::string> notes;   ///< in words, with what they mean for the figures
};

/// Fewer samples are refused; common practice, no source.
inline constexpr std::size_t fewest_samples = 20;
/// Oil that stays within is refused; common practice, no source.
inline constexpr double least_range_K = 1.0;
/// A parameter whose 95 % half width is a larger share of it counts as not told.
inline constexpr double told_within = 0.5;

/// Heat capacity and conductance of a sump from its temperature over time.
///
///     C dT/dt = Q - (G + G1 (v/v_ref)^n) (T - T_amb), from a T_0 of each piece
///
/// Method    the exponential step of duty::temperature_after from sample to sample; Huber's loss on
///           measured - modelled temperature, so outliers count less and none is left out.
///           Residuals that follow each other widen the covariance: of n samples with the
///           autocorrelation r from one to the next, n (1 - r)/(1 + r) count. The heat's common
///           error comes on top, C and G being proportional to the heat.
/// Validity  oil and housing at one temperature; C and G constant; sensor without a lag that shows.
/// Limits    heat unknown, or none at all: C/G alone, and of unknown heat Q/G. Shorter than about
///           a time constant: C alone. Settled from the begin: G alone.
/// Accuracy  intervals cover 95 % for independent noise; a little less for noise that follows
///           itself over more than a few per cent of the log (tested), as r is then estimated from
///           few independent samples.
/// Source    model: derived, as duty::temperature_after; loss: P. J. Huber, Robust Statistics, 1981
///           (from memory); effective samples: G. V. Bayley, J. M. Hammersley, J. R. Statist. Soc.
///           Suppl. 8 (1946) 184-197 (from memory).
///
/// \throws std::invalid_argument, in words, for a run that no fit should be made of: too few
///         samples, nothing that changes, temperatures that are none, jumps, a sensor at its end,
///         oil that cools while it is heated, a search that finds no end.
SumpFit fit_sump(const SumpRun& run);

}  // namespace ohmdrag::rig
