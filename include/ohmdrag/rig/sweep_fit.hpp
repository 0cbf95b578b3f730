#pragma once

#include <array>
#include <complex>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/rig/impedance_sweep.hpp"
#include "ohmdrag/voltage/path.hpp"

/// An impedance over frequency to the elements of a grounding contact.
namespace ohmdrag::rig {

/// What a contact may be, from the simplest to the one with most unknowns.
enum class SweepModel {
  resistance,                     ///< R
  with_inductance,                ///< R + jwL
  beside_capacitance,             ///< R beside C
  inductance_beside_capacitance,  ///< (R + jwL) beside C
  with_film,                      ///< R + film, R_f beside C_f
  inductance_with_film,           ///< R + jwL + film
};
inline constexpr std::size_t sweep_models = 6;
/// "R + jwL + film (R_f beside C_f)"
std::string_view in_words(SweepModel model);

/// A positive parameter that is known to a factor: its logarithm was estimated.
template <class Q>
struct FactorEstimate {
  Q value;
  double relative_error;  ///< standard, of the logarithm
  double factor;          ///< the 95 % interval is value/factor to value*factor

  Q low() const { return value / factor; }
  Q high() const { return value * factor; }
};

/// How one model did.
struct ModelRank {
  SweepModel model = SweepModel::resistance;
  std::size_t parameters = 0;
  bool fitted = false;          ///< the search found an end
  double residual_rms = 0.0;    ///< over |Z|, without the points far off
  double aicc_over_best = 0.0;  ///< AICc less the least of all
  double weight = 0.0;          ///< Akaike's, of all weights one
};

struct SweepFit {
  SweepModel model = SweepModel::resistance;
  // None: not in the model, or the sweep does not tell it; a note says why.
  std::optional<FactorEstimate<Resistance>> resistance;    ///< of contact and leads, without film
  std::optional<FactorEstimate<Inductance>> inductance;    ///< in series
  std::optional<FactorEstimate<Capacitance>> capacitance;  ///< across all of it
  std::optional<FactorEstimate<Resistance>> film_resistance;
  std::optional<FactorEstimate<Capacitance>> film_capacitance;
  /// What a direct current meets, film and all.
  std::optional<FactorEstimate<Resistance>> direct_resistance;
  voltage::GroundingPath path;                 ///< the model with all its parameters, told or not
  std::vector<ModelRank> ranks;                ///< one a model, in their order
  std::vector<std::complex<double>> residual;  ///< (model - measured)/|measured|, a point
  std::vector<std::size_t> outliers;           ///< points, rising; they count less
  double residual_rms = 0.0;
  double lag_one = 0.0;   ///< correlation of residuals from one frequency to the next
  double widening = 1.0;  ///< of the intervals, for residuals that follow each other
  std::vector<std::string> notes;
  std::vector<std::string> warnings;
};

/// Fewer points are refused; common practice, no source.
inline constexpr std::size_t fewest_sweep_points = 8;
/// Of two bands the narrower tells less; a smaller ratio of last to first frequency is refused.
/// Common practice, no source.
inline constexpr double least_band = 3.0;
/// A parameter that is not known to this factor (95 %) counts as not told.
inline constexpr double told_within_factor = 1.5;
/// Models within so many units of AICc are not told apart, and the simpler one is taken. Source: K.
/// P. Burnham, D. R. Anderson, Model Selection and Multimodel Inference, 2002 (from memory).
inline constexpr double not_told_apart = 2.0;

/// Refuses a sweep that no fit should be made of.
/// \throws std::invalid_argument, in words: too few points, one frequency, swapped columns, a phase
///         in radians or of the wrong sign, current and voltage leads swapped, an instrument beyond
///         its range, an open circuit, an impedance that changed by half between two passes.
void require_plausible(const Sweep& sweep);

/// Elements of a contact from its impedance over frequency.
///
/// Method    complex least squares on (Z - Z_measured)/|Z_measured| over the logarithms of the
///           elements, six models. Points far off (Huber's loss on the model that scatters least)
///           are left out of the comparison of the models by AICc and listed. Of models that are
///           not told apart the simplest is taken; its elements come from all points with Huber's
///           loss. Residuals that follow each other along the frequency widen the intervals by
///           sqrt((1 + r)/(1 - r)).
/// Validity  a linear contact that does not drift; the error of a point in proportion to |Z|, alike
///           in both parts.
/// Limits    an inductance counts as told where it makes a tenth of |Z| somewhere in the band, a
///           capacitance across where its resonance lies in the band (without inductance: where it
///           takes a tenth of the current), a film's where it passes a tenth of its current.
/// Accuracy  95 % intervals cover for noise from point to point (tested, every model); an error of
///           phase that is common to all points goes undetected into L and C: 1 degree is 1.7 % of
///           |Z|.
/// Source    elements and rules: derived; loss: P. J. Huber, Robust Statistics, 1981; AICc: as
///           not_told_apart; widening: G. V. Bayley, J. M. Hammersley, J. R. Statist. Soc. Suppl. 8
///           (1946) 184-197 (all from memory).
///
/// \throws std::invalid_argument as require_plausible, or if no search finds an end
SweepFit fit_sweep(const Sweep& sweep);

/// The same with a model and those that have none but its parts.
SweepFit fit_sweep(const Sweep& sweep, SweepModel most);

}  // namespace ohmdrag::rig
