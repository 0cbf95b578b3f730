#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// Impedance of several specimens over hundreds of hours: how it grows, how parts differ, when a
/// limit is crossed.
namespace ohmdrag::rig {

/// How the impedance Z of a specimen grows out of Z_0; q is ln(1 + t/tau).
enum class GrowthLaw {
  none,         ///< Z_0
  power,        ///< Z_0 exp(p q) = Z_0 (1 + t/tau)^p; a film that grows through itself late: 1/2
  logarithmic,  ///< Z_0 (1 + c q)
  saturating,   ///< Z_0/(1 - phi [1 - exp(-t/tau)]), spots lost as in contact::lost_share()
};

struct EnduranceSpecimen {
  std::string name;
  std::vector<Time> time;  ///< rising
  std::vector<Resistance> impedance;
  std::vector<Torque> torque = {};  ///< of each reading; empty: not measured
};

/// Of the share of parts, where nobody states one; common practice, no source.
inline constexpr double usual_confidence = 0.9;

struct EnduranceRun {
  std::vector<EnduranceSpecimen> specimens;
  std::optional<GrowthLaw> law = {};  ///< none: the one that the run speaks for
  std::optional<Resistance> limit = {};
  std::optional<Time> service = {};      ///< hours that the part has to last
  double confidence = usual_confidence;  ///< of the share of parts below the limit
};

/// A law as it meets the run.
struct EnduranceLaw {
  GrowthLaw law = GrowthLaw::none;
  double noise = 0.0;                ///< deviation of ln Z within a specimen
  std::optional<double> criterion;   ///< Akaike's, over that of the best; none: too few readings
  double weight = 0.0;               ///< Akaike's
  std::optional<double> at_service;  ///< ohm, the middle part
  std::optional<double> crossing_s;  ///< of the limit, the middle part
  std::string left_out;              ///< why it is not compared; empty: it is
};

/// When the limit is crossed. Hours are infinite where the run, carried on as far as is allowed,
/// does not cross it.
struct EnduranceCrossing {
  Interval middle_s;    ///< of the middle part, with the 95 % interval of the estimate
  Interval new_part_s;  ///< between these hours a further part crosses it, 95 of 100 times
  Time looked_until;
};

/// Parts that are below the limit at the service hours.
struct EnduranceShare {
  double estimated = 0.0;         ///< of the normal law of ln Z
  double at_least = 0.0;          ///< the same, one-sided, at the confidence
  std::optional<int> held;        ///< specimens below it, counted; none: not all ran that long
  double counted_at_least = 0.0;  ///< of these, without any law
};

struct EnduranceSpecimenFit {
  std::string name;
  std::size_t readings = 0, outliers = 0;
  Time last;
  Resistance at_begin, at_last;      ///< of its curve
  std::optional<double> crossing_s;  ///< infinite: not crossed
  std::vector<Time> time;            ///< of the readings as they were fitted
  std::vector<Resistance> impedance;
  std::vector<double> residual;  ///< measured over its curve, ln
};

/// Curve of the middle part and what a further part may read.
struct EndurancePoint {
  Time time;
  Interval middle;    ///< ohm
  Interval new_part;  ///< ohm; infinite: one specimen tells nothing of others
};

struct EnduranceFit {
  GrowthLaw law = GrowthLaw::none;
  std::vector<EnduranceLaw> laws;  ///< the best first
  std::size_t readings = 0;
  Time begin;     ///< the first hour that all specimens have; "new"
  Time end;       ///< the last reading
  Time farthest;  ///< the curve is not carried on beyond
  // Middle part: the median of all parts, exp of the mean of ln Z. Intervals are those of 95 %.
  Interval at_begin, at_end;  ///< ohm
  Interval growth;            ///< at_end over at_begin
  // At the service hours; none: not asked for, or too far.
  std::optional<Interval> at_service, new_part_at_service, growth_to_service;
  /// Deviation of ln Z from part to part, without the noise of readings; none: one specimen.
  std::optional<Interval> scatter_at_begin;
  std::optional<Interval> scatter_of_growth;  ///< of ln(growth), to the service hours or the end
  double noise = 0.0;                         ///< deviation of ln Z within a specimen
  double lag_one = 0.0;                       ///< autocorrelation of the residuals
  double effective_readings = 0.0;            ///< independent ones that tell as much
  std::optional<Interval> time_constant_s;    ///< tau
  std::optional<Interval> exponent;           ///< p of the power law, the middle part
  std::optional<EnduranceCrossing> crossing;
  std::optional<EnduranceShare> share;
  /// Torque's fall a decade of hours, over that of the begin; none: not measured or not told.
  std::optional<Interval> torque_fall_per_decade;
  std::vector<EnduranceSpecimenFit> specimens;
  std::vector<EndurancePoint> curve;
  std::vector<std::string> notes;     ///< what is not told, in words
  std::vector<std::string> warnings;  ///< what makes the figures doubtful
};

/// A specimen has to have so many readings: two for its curve and some to see their noise.
/// Common practice, no source.
inline constexpr std::size_t fewest_readings = 4;
/// A curve is carried on up to so many times the hours of the run; common practice, no source.
inline constexpr double farthest_in_runs = 3.0;
/// Laws whose criterion differs by less are not told apart.
/// Source  K. P. Burnham, D. R. Anderson, Model Selection and Multimodel Inference, 2002 (from
///         memory): models within about 2 of the best have substantial support.
inline constexpr double told_apart = 2.0;

/// Growth, scatter from part to part and noise, crossing of a limit and share of parts below it.
///
///     ln Z_ij = ln Z(a_i, g_i, tau; t_ij) + e_ij
///     every specimen i with a level a_i and a growth g_i of its own, all with one time tau
///
/// Method    two stages. First a, g and tau by least squares on ln Z with Huber's loss: outliers
///           count less, none is left out. Then the values of the m curves at an hour are a sample
///           of m normal values: mean, deviation s and Student's t of m - 1 degrees tell the middle
///           part, s sqrt(1 + 1/m) a further one, the noncentral t the share below the limit. The
///           error of the common tau is added (Welch's degrees). Scatter is s^2 less the mean
///           variance that noise gives a curve (moments), its ends by chi-square.
///           Laws are compared by Akaike's criterion for few data with Huber's loss in place of
///           squares; residuals that follow each other count as fewer, n (1 - r)/(1 + r).
/// Validity  ln Z normal from part to part; specimens drawn from the parts meant, alike in oil,
///           speed and temperature; one cause of growth.
/// Limits    one specimen: intervals are those of its noise, nothing is said of other parts. Two:
///           12.7 deviations. Growth straight over the whole run, or over before its first reading:
///           tau is held at the end of its range (10^-4 to 30 runs) and not told.
/// Accuracy  intervals cover 95 % for the law that is true and independent normal noise (tested);
///           the share is a little low (safe) where the noise is not small beside the scatter.
///           Slow drift of an instrument looks like growth; a reference resistor in the same run
///           tells.
/// Source    two stages: J. N. S. Matthews et al., BMJ 300 (1990) 230-235; degrees: B. L. Welch,
///           Biometrika 34 (1947) 28-35; criterion with a robust loss: E. Ronchetti, Statistics &
///           Probability Letters 3 (1985) 21-23 (all from memory); laws: assumed forms, see
///           contact/resistance_growth.hpp.
/// \throws std::invalid_argument, in words, for a run that no fit should be made of: no specimen,
///         too few readings, hours that run back or stand still, impedances that are none, columns
///         swapped, an instrument at the end of its range, a search that finds no end.
EnduranceFit fit_endurance(const EnduranceRun& run);

/// The word of a law in files.
std::string_view word_of(GrowthLaw law);

}  // namespace ohmdrag::rig
