#pragma once

#include <cstddef>
#include <span>
#include <string>

#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// The distribution of the voltage at which a film breaks down.
namespace ohmdrag::rig {

/// What one edge says of the voltage that the film would have held at it.
enum class Evidence {
  broke_at,     ///< it broke while the voltage rose, at this voltage
  broke_below,  ///< it broke later, having stood no more than this voltage
  held,         ///< it held this voltage
};
struct Trial {
  Evidence evidence;
  Voltage voltage;  ///< > 0
};

enum class BreakdownLaw {
  weibull,     ///< 1 - exp(-(V/scale)^m)
  log_normal,  ///< ln V normal
};

/// A distribution with location and spread of ln V: of Weibull ln(scale) and 1/m, of a log-normal
/// one the median's logarithm and the standard deviation.
struct BreakdownFit {
  BreakdownLaw law = BreakdownLaw::weibull;
  bool told = false;  ///< a maximum was found, with a covariance
  double location = 0.0, spread = 0.0;
  /// Of the location and of ln(spread).
  double variance_location = 0.0, variance_ln_spread = 0.0, covariance = 0.0;
  /// With 95 % intervals: median, the voltage at which 5 % break, the spread; an end that the data
  /// do not tell is 0 or infinite.
  Interval median_V, at_5_percent_V, spread_of_ln_V;
  double log_likelihood = 0.0;
  std::size_t broke = 0, trials = 0;

  /// The voltage that a share u of the trials breaks at or below, 0 < u < 1.
  Voltage quantile(double u) const;
  double standard_error_of_ln_quantile(double u) const;
  /// Akaike's criterion, and the one for few data.
  double aic() const;
  double aicc() const;
};

/// Fewer breakdowns tell no distribution; common practice, no source.
inline constexpr std::size_t fewest_breakdowns = 8;

/// Maximum likelihood, edges that held as right-censored and those that broke late as
/// left-censored data.
///
///     ln L = sum over broke_at  of ln f(V) + over held of ln(1 - F(V)) + over broke_below of
///            ln F(V)
///
/// Method    Newton's steps over location and ln(spread), halved until the likelihood rises;
///           covariance by the second derivatives there.
/// Validity  one film whose strength is drawn anew at each edge, from one distribution that stays;
///           a film that ages, warms or runs through different balls is not that.
/// Limits    no edge held: the maximum likelihood of the complete sample.
/// Intervals where the likelihood, at its best over the other parameter, has fallen by 1.96^2/2.
/// Accuracy  intervals cover 95 % within some per cent from ten breakdowns on (tested).
/// Source    W. Q. Meeker, L. A. Escobar, Statistical Methods for Reliability Data, 1998 (from
///           memory).
/// \return not told with fewer than fewest_breakdowns, or where the likelihood has no maximum: all
///         edges at one voltage, some of which broke, tell no spread.
/// \throws std::invalid_argument unless every voltage is positive and finite.
BreakdownFit fit_breakdown(std::span<const Trial> trials, BreakdownLaw law);

/// "Weibull", "log-normal".
std::string to_word(BreakdownLaw law);

}  // namespace ohmdrag::rig
