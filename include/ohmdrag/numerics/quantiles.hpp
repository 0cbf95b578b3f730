#pragma once

/// Values of the distributions that JCGM 101:2008, section 6.4, gives to inputs, at a share u of
/// (0, 1): below the returned value lies the share u. They rise with u, so an even u, random or
/// quasi-random, gives draws.
///
/// Accuracy  to 1e-9 of the width or the deviation.
/// Source    JCGM 101:2008, Evaluation of measurement data, Supplement 1 to the Guide to the
///           Expression of Uncertainty in Measurement, section 6.4 (from memory) where no other is
///           named. All throw std::invalid_argument for u outside (0, 1), a width or deviation
///           that is not positive, or limits in the wrong order.
namespace ohmdrag::numerics {

double normal_quantile(double u, double mean, double deviation);

/// A normal distribution of which nothing lies outside low and high; `mean` and `deviation` are
/// those before the cut.
/// Limits  far limits: the normal distribution.
/// Source  not in JCGM 101.
double truncated_normal_quantile(double u, double mean, double deviation, double low, double high);

/// \param log_deviation  standard deviation of the natural logarithm
double log_normal_quantile(double u, double median, double log_deviation);

double uniform_quantile(double u, double low, double high);

/// \param mode  the most frequent value, low <= mode <= high
/// Source  not in JCGM 101 unless the mode is the middle.
double triangular_quantile(double u, double low, double mode, double high);

/// A symmetric trapezoid, the sum of two uniform inputs.
/// Limits  top 0: triangular; top 1: uniform.
/// \param top  width of the flat top over the whole width, 0 ... 1
double trapezoidal_quantile(double u, double low, double high, double top);

/// Uniform between limits that are themselves not exactly known: the lower one uniform within low
/// -+ slack, the upper one as far from the middle on the other side.
///
/// Method  the inverse of the distribution function
///         1 - (w2 - t - t ln(w2/t))/(4 slack) at t = |value - middle| > w1, straight for t < w1,
///         with w1 and w2 the half width minus and plus the slack; derived from the density there.
/// Limits  slack 0: uniform.
/// \param slack  0 ... half of high - low
double curvilinear_trapezoidal_quantile(double u, double low, double high, double slack);

/// Student's distribution, moved and scaled: what a mean of few normal readings leaves.
/// \param scale    standard uncertainty as read; the standard deviation is
///                 scale*sqrt(nu/(nu - 2))
/// \param degrees  of freedom, nu; need not be whole
double student_quantile(double u, double centre, double scale, double degrees);

/// Arc sine (U-shaped): a value that swings as a sine between low and high.
double arc_sine_quantile(double u, double low, double high);

}  // namespace ohmdrag::numerics
