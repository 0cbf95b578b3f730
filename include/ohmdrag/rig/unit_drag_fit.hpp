#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/rig/estimate.hpp"

/// The measured drag of a unit and of partial builds of it, shared out to parts whose models are
/// known beforehand within their bands.
namespace ohmdrag::rig {

/// One reading of drag.
struct UnitDragPoint {
  std::size_t build = 0;
  AngularVelocity speed;  ///< > 0, of the shaft whose drag is measured
  Temperature oil;
  Torque measured;
  /// What the models say of every part at their middle values; zero for a part that is not in.
  std::vector<Torque> model;
};

/// A part's model errs by a factor that goes with a power of the speed and exponentially with the
/// oil temperature:
///
///     T_p = exp[level + tilt ln(n/n_ref) + warmth (T - T_ref)] T_p,model
///
/// with the geometric mean speed and the mean oil temperature of the readings. Levels, tilts and
/// warmths of all parts are jointly normal before the run; three a part, in this order.
struct UnitDragPrior {
  std::vector<double> mean;
  std::vector<double> covariance;  ///< row by row; zero for what is not in doubt
};

inline constexpr std::size_t beliefs_a_part = 3;

struct UnitDragRun {
  std::vector<std::string> parts;
  std::vector<std::string> builds;
  /// Which parts are in, a row a build.
  std::vector<std::vector<bool>> fitted;
  std::vector<UnitDragPoint> points;
  UnitDragPrior prior;
  double calibration = 0.0;     ///< standard, relative, common to all readings
  std::optional<Torque> noise;  ///< standard, of one reading; none: from what is left over
};

/// A part as the run corrects it.
struct CorrectedPart {
  std::string name;
  /// Torque over that of the model at n_ref, median and 95 % interval. None: the run tells hardly
  /// more than the model did.
  struct Factor {
    double value = 1.0, low = 1.0, high = 1.0;
    double relative_error = 0.0;  ///< standard, of the logarithm
  };
  Factor before;
  std::optional<Factor> factor;
  Estimate<double> tilt_before{};
  Estimate<double> tilt{};           ///< exponent of speed on top of the model's
  bool leaves_band = false;          ///< the factor, outside the 95 % band it had before
  Estimate<double> warmth_before{};  ///< 1/K
  Estimate<double> warmth{};         ///< 1/K, of the oil on top of the model's
  bool bends_otherwise = false;      ///< tilt or warmth, outside that band
  double torque_before_Nm = 0.0;     ///< mean over the readings of the fullest build
  Estimate<Torque> torque{};         ///< the same, corrected
};

/// One reading shared out. The corrected parts and the rest are the measured torque.
struct SharedOut {
  Torque measured;
  std::vector<Torque> parts;
  Torque rest;
  bool outlier = false;
};

struct UnitDragFit {
  std::vector<CorrectedPart> parts;
  std::vector<double> correlation;  ///< of the levels, row by row; 0 of what is not in doubt
  std::vector<double> covariance;   ///< of the mean torques of the fullest build, N2 m2
  std::vector<SharedOut> points;    ///< in the order of the run
  Estimate<Torque> rest{};          ///< what no part explains, in every build alike
  double calibration = 0.0;         ///< relative error of the readings that fits best
  Torque noise;                     ///< standard, of one reading
  bool noise_stated = false;
  double lag_one = 0.0;  ///< autocorrelation of what is left over, one reading to the next
  std::vector<std::size_t> outliers;  ///< readings, rising
  std::size_t fullest_build = 0;
  AngularVelocity reference;  ///< n_ref
  Temperature reference_oil;  ///< T_ref
  std::vector<std::string> notes, warnings;
};

/// Fewer readings are refused; common practice, no source.
inline constexpr std::size_t fewest_drag_readings = 8;

/// \throws std::invalid_argument, in words, for a reading that no model should be asked about: a
///         shaft at rest, an oil temperature that is none.
void require_reading(AngularVelocity speed, Temperature oil);

/// The parts' torques and what none of them explains.
///
///     measured = (1 + k) (sum over the parts that are in of T_p + T_rest) + noise
///     k ~ N(0, calibration),  levels, tilts and warmths ~ prior,  T_rest unknown beforehand
///
/// Method    the most likely parameters: Levenberg and Marquardt over the prior's own coordinates,
///           the prior as residuals beside the readings. The calibration error is a parameter, not
///           a covariance of the readings: that would pull the fit below the data. Huber's weights
///           on the readings, so outliers count less and none is left out. Where the noise is not
///           stated it follows from what is left over, Student's t with it. What is left over and
///           follows itself from reading to reading widens the noise.
/// Validity  noise independent of the parts; the rest the same in every build and at every speed.
/// Limits    exact readings of enough builds: the true torques. One build alone: levels with the
///           same course over speed trade against each other, which the correlation shows. No
///           readings worth having: the prior.
/// Accuracy  95 % intervals cover 95 % of truths that the prior drew (tested with a strip-down).
/// Source    T. Bayes by way of linear models: D. V. Lindley, A. F. M. Smith, J. R. Statist. Soc. B
///           34 (1972) 1-41 (from memory); common scale error: G. D'Agostini, Nucl. Instr. Meth. A
///           346 (1994) 306-311; strip-down as a weighing: H. Hotelling, Ann. Math. Stat. 15 (1944)
///           297-306 (from memory).
///
/// \throws std::invalid_argument, in words, for a run that no fit should be made of: too few
///         readings, shafts at rest, drag with the wrong sign or of another size than any model, an
///         instrument at its end, a build that drags more than one with more parts.
UnitDragFit fit_unit_drag(const UnitDragRun& run);

}  // namespace ohmdrag::rig
