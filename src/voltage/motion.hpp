#pragma once

#include <cmath>
#include <complex>
#include <limits>
#include <optional>
#include <vector>

#include "voltage/step_modes.hpp"

/// A voltage as a sum of exponentials: its values, its largest one, how long it stays above a
/// level. Kernel of the edges and of the periodic response; SI throughout.
namespace ohmdrag::voltage {

/// Re[free exp(rate t) + driven (exp(rate t) - 1)/rate]: what was there, and what a constant slope
/// adds. Small rates keep their digits.
struct Term {
  std::complex<double> rate_per_s;
  std::complex<double> free_V;
  std::complex<double> driven_V_per_s;
};

using Motion = std::vector<Term>;

/// v and its first two derivatives.
struct Local {
  double v_V = 0.0;
  double slope = 0.0;
  double curvature = 0.0;
};

double value_V(const Motion& motion, double t_s);
Local local(const Motion& motion, double t_s);

/// The source A exp(sigma t) sin(w t) = A Im exp(s t), from t = 0 and rest, on the node: appends
/// its forced part and, into the terms of the modes that stand first, its free part.
/// \param motion  begins with one term for each mode, in their order
void add_oscillation(Motion& motion, const StepModes& modes, double amplitude_V,
                     std::complex<double> s_per_s);

struct Peak {
  double v_V = 0.0;
  double time_s = 0.0;

  double magnitude_V() const { return std::abs(v_V); }
};

/// The stationary point of largest |v| between 0 and the end, or the given one if that is larger:
/// what stands at the ends its caller knows.
///
/// Sampled sixteen times in the period or time constant of the fastest term that still counts
/// (samples by products, not by exponentials), every bracketed stationary point refined by Newton's
/// method if it can be the largest. Without an end it stops where the sum of the amplitudes is
/// below the largest value by then. Accuracy  1e-4, rounding for a single swing.
Peak largest(const Motion& motion, double end_s, Peak best);

constexpr double never_s = std::numeric_limits<double>::infinity();

/// First time after `from` at which sign * v is no longer above the level; the end if it always is.
/// Sampled only where bounds on the slope do not prove that it stays above.
double first_below_s(const Motion& motion, double sign, double level_V, double from_s,
                     double end_s);
/// Last time before `until` at which sign * v was not above the level, if there is one after 0.
/// Accuracy  a dip below the level between two samples, of less than 2 % of the swing, may be
/// passed
///           over.
std::optional<double> last_below_s(const Motion& motion, double sign, double level_V,
                                   double until_s);

}  // namespace ohmdrag::voltage
