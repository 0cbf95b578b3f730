#pragma once

#include <complex>
#include <optional>
#include <vector>

#include "ohmdrag/quantity/quantities.hpp"

/// Impedance over frequency as an instrument measured it, and what is told from it before a fit.
namespace ohmdrag::rig {

struct SweepPoint {
  Frequency frequency;       ///< > 0
  std::complex<double> ohm;  ///< +j: an inductance
};
/// In the order of measurement; a frequency may come again.
using Sweep = std::vector<SweepPoint>;

double angular_frequency(const SweepPoint& point);  ///< rad/s

/// By rising frequency; what was measured at one frequency stays in order.
Sweep sorted(Sweep sweep);

/// Impedance between the points of a sweep, linear over ln f in both parts.
/// \param points  sorted
/// \return none outside the points by more than a thousandth of the frequency
std::optional<std::complex<double>> impedance_at(const Sweep& points, Frequency frequency);

/// Frequencies that were measured twice or more: the last against the first time.
struct SweepRepeats {
  std::size_t frequencies = 0;
  double mean_change = 0.0;     ///< of ln|Z|
  double standard_error = 0.0;  ///< of the mean change
  double noise = 0.0;           ///< standard deviation of ln|Z| of one point
  bool drifts = false;          ///< more than noise and than `least_drift`
};
/// Smaller changes are not called a drift; common practice, no source.
inline constexpr double least_drift = 0.005;

/// None where fewer than three frequencies came twice.
std::optional<SweepRepeats> repeats_of(const Sweep& sweep);

/// Whether real and imaginary part of a sweep belong together.
struct KramersKronigCheck {
  std::size_t elements = 0;  ///< relaxations that were fitted
  double rms = 0.0;          ///< of what they miss, over |Z|
  double largest = 0.0;
  Frequency worst_at;
  double lag_one = 0.0;      ///< correlation of what they miss from one frequency to the next
  bool contradicts = false;  ///< they miss something that is no noise
};

/// Check of a sweep for drift, non-linearity and errors of phase.
///
/// Method    R, L and relaxations R_k/(1 + j w t_k) of either sign, three a decade with time
///           constants over the band, are fitted to (Z - Z_measured)/|Z_measured|: a linear
///           problem. Each obeys the relations of Kramers and Kronig, so what they miss does not.
///           Noise is missed from point to point at random; a contradiction follows itself.
/// Validity  a band of half a decade or more and eight points; no resonance but that of `across`,
///           which is taken off first.
/// Limits    an impedance of resistors, capacitors and an inductor is met to 0.2 % (tested);
///           a drift that looks like a relaxation over the whole sweep is not seen: measure up and
///           down.
/// Accuracy  a drift of some twenty times the noise over the sweep is seen (tested).
/// Source    B. A. Boukamp, J. Electrochem. Soc. 142 (1995) 1885-1894 (linear test); M.
/// Schoenleber,
///           D. Klotz, E. Ivers-Tiffee, Electrochim. Acta 131 (2014) 20-27 (both from memory); the
///           threshold on what follows itself: common practice, no source.
/// \param across  beside all of it, of the fit; zero: none
KramersKronigCheck kramers_kronig_check(const Sweep& sweep, Capacitance across);

/// What the impedance is known to, where an instrument measured a reflection: an error of the
/// reflection coefficient of one thousandth changes Z by so much, |dZ/Z| = 2e-3/|1 - G^2|.
/// Source    derived: Z = Z_0 (1 + G)/(1 - G).
/// \param reference  Z_0, > 0
double error_of_reflection(std::complex<double> ohm, Resistance reference);

}  // namespace ohmdrag::rig
