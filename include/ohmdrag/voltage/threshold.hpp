#pragma once

#include "ohmdrag/quantity/quantities.hpp"

/// The voltage at which discharges begin in a bearing.
namespace ohmdrag::voltage {

/// Share of the film's strength that mixed lubrication leaves.
///
///     s = 0 for L <= 1, 1 for L >= 3, x^2 (3 - 2x) with x = (L - 1)/2 between
///
/// Validity  film ratio L = h_min / combined roughness >= 0.
/// Source    assumed form; the limits 1 and 3 are the usual bounds of boundary and full film
///           (from memory).
/// \throws std::invalid_argument if L is negative.
double film_share(double film_ratio);

/// Static threshold of a bearing.
///
///     V_th = 2 E_bd h_min,i s(L)
///
/// Validity  two films in series (rolling element), the most loaded one decides; L > 1.
/// Limits    0 at L <= 1.
/// Accuracy  a factor 3 either way between bearings: the spread of E_bd.
/// Source    derived: equal films share the voltage, C_i/C_o = 1; E_bd see data/defaults.toml.
///
/// \param h_min        smallest film at the inner ring of the most loaded contact
/// \param film_ratio   L
/// \throws std::invalid_argument if E_bd is not positive, h_min or L negative.
Voltage static_threshold(ElectricField breakdown, Length h_min, double film_ratio);

/// The same of a single film, as between two gear teeth: half of it.
Voltage one_film_threshold(ElectricField breakdown, Length h_min, double film_ratio);

/// Log-normal breakdown field between bearings at its 5, 50 and 95 % points.
struct BreakdownBand {
  ElectricField at_05;
  ElectricField at_50;
  ElectricField at_95;
};

/// Thresholds at the 5, 50 and 95 % points of the spread between bearings.
struct ThresholdBand {
  Voltage at_05;
  Voltage at_50;
  Voltage at_95;
};
ThresholdBand threshold_band(const BreakdownBand& breakdown, Length h_min, double film_ratio);

/// No credit for a short pulse exceeds this factor.
inline constexpr double pulse_credit_cap = 3.0;

struct PulseCredit {
  double factor;  ///< used: min(raw, pulse_credit_cap)
  double raw;     ///< 1 + sqrt(t0/t)
  bool capped;    ///< raw > pulse_credit_cap: say so
};

/// How much more a film holds for a short time.
///
///     V_th(t) = V_inf [1 + (t0/t)^0.5], at most 3 V_inf
///
/// Limits    1 for t0 = 0 (the conservative answer) and for t -> infinity.
/// Accuracy  unknown.
/// Source    assumed form, the trend from memory; no published source for t0.
/// \throws std::invalid_argument if t0 is negative or the duration is not positive.
PulseCredit pulse_credit(Time t0, Time duration);

/// Probability that an edge discharges.
///
///     p = 0 for V <= V_th, else 1 - exp(-((V/V_th - 1)/width)^2)
///
/// Validity  V_th is where discharges begin; the spread between bearings is in V_th itself.
/// Limits    1 for V_th = 0 and V > 0.
/// Source    assumed form.
/// \param width  0.7 by default of the data
/// \throws std::invalid_argument if V_th is negative or width not positive.
double edge_probability(Voltage voltage, Voltage threshold, double width);

}  // namespace ohmdrag::voltage
