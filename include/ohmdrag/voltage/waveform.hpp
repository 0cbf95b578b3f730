#pragma once

#include <complex>
#include <vector>

#include "ohmdrag/quantity/quantities.hpp"

/// A common-mode voltage that repeats: its course in time, its harmonics, its mean square.
namespace ohmdrag::voltage {

/// V^2.
using SquareVoltage = Quantity<decltype(si::electric_potential() * si::electric_potential())>;

/// A point of the line that carries the waveform.
struct Corner {
  Time at;
  Voltage value;
};

/// A damped oscillation A exp(-pi f t/Q) sin(2 pi f t), t from `from`; it runs on beyond the
/// period, into the next ones.
struct Oscillation {
  Time from;
  Voltage amplitude;  ///< A, of either sign
  Frequency frequency;
  double quality;  ///< Q > 0.5
};

/// One period of a voltage that repeats: straight lines from corner to corner, from the last one
/// back to the first of the next period, plus oscillations.
struct Waveform {
  Time period;                            ///< > 0
  std::vector<Corner> corners;            ///< strictly rising times in [0, period); none: zero
  std::vector<Oscillation> oscillations;  ///< beginning in [0, period)
};

/// The voltage at a time, in the periodic steady state: what the earlier periods left of their
/// oscillations is in it.
///
/// Source    derived: geometric series of the oscillations of all earlier periods.
/// \throws std::invalid_argument for an undefined waveform.
Voltage value_at(const Waveform& waveform, Time time);

/// Harmonic n as a one-sided complex amplitude (peak), v(t) = c_0 + Re sum c_n exp(2 pi j n t/T):
///
///     straight piece   c_n = 2 dv sinc(pi n h/T) exp(-2 pi j n t_m/T) / (2 pi j n)
///     oscillation      c_n = (2/T) A w_r exp(-2 pi j n t_0/T) / ((pi f/Q + 2 pi j n/T)^2 + w_r^2)
///
/// with the piece's rise dv, duration h and middle t_m, and w_r = 2 pi f. n = 0 is the mean.
///
/// Accuracy  1e-10 of the sum of the magnitudes of the terms.
/// Source    derived: Fourier series by parts (the slope of a straight piece is constant); Laplace
///           transform of the damped sine.
/// \throws std::invalid_argument for an undefined waveform or n < 0.
std::complex<double> harmonic_V(const Waveform& waveform, int n);

/// Harmonics 0 to up_to; the same numbers as harmonic_V, many times faster.
///
/// \throws std::invalid_argument for an undefined waveform or up_to < 0.
std::vector<std::complex<double>> harmonics_V(const Waveform& waveform, int up_to);

/// Mean of v^2 over a period, in closed form.
///
/// Parseval: equals c_0^2 + sum |c_n|^2 / 2.
/// Source    derived.
/// \throws std::invalid_argument for an undefined waveform.
SquareVoltage mean_square(const Waveform& waveform);

/// What the harmonics above n_max can add to c_0^2 + sum |c_n|^2/2, at most.
///
///     sum over n > N of |c_n|^2/2 <= 2 (D + K)^2 / (3 N^3),
///     D = sum of the slope changes |dm| T/(2 pi)^2,  K = sum of A f T/(2 pi (1 - (f T/N)^2))
///
/// Validity  N above every f T.
/// Source    derived: |c_n| <= 2 (D + K) / n^2 for the lines' corners and the oscillations.
/// \throws std::invalid_argument for an undefined waveform or n_max not above every f T.
SquareVoltage mean_square_above(const Waveform& waveform, int n_max);

/// \throws std::invalid_argument unless the period is positive, the times lie in it and rise, and
///         every oscillation has a positive frequency and a quality above 0.5.
void require_defined(const Waveform& waveform);

}  // namespace ohmdrag::voltage
