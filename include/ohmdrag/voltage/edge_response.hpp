#pragma once

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/common_mode.hpp"
#include "ohmdrag/voltage/coupling.hpp"
#include "ohmdrag/voltage/path.hpp"

/// What one edge of the common mode leaves on the shaft, from rest.
///
/// State equations, with C = C_T + C_across and s = C_wr/C * step / rise during the ramp and 0
/// after it, one u for each film:
///
///     C dv/dt = C s - i,     L di/dt = v - R i - sum u,     C_f du/dt = i - u/R_f
///
/// solved as a sum of exponentials, one for each state, exact for every damping, for L = 0 and for
/// no path. Voltages held from earlier edges are not included: see held_voltage.hpp and
/// periodic_response.hpp.
///
/// Validity  linear ramp, bearing films intact, uniform common mode (MHz figures +-6 dB).
/// Limits    C_wr/C * step for no path and for R -> infinity; R C_wr step/rise for L = 0 and
///           R C << rise; 0 for R = L = 0.
/// Accuracy  rounding only, against the stated equations (1e-7 where modes meet); a peak with films
///           or ringing 1e-4 (sampled, then refined), its duration 0.1 %.
/// Source    derived: circuit theory.
///
/// All functions throw std::invalid_argument for an undefined node or path or a rise time that is
/// not positive. The step may have either sign.
namespace ohmdrag::voltage {

/// Shaft voltage at a time after the ramp began; 0 before it.
Voltage response_at(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise,
                    Time time);

/// Largest |v| of the response.
Voltage edge_peak(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise);

/// How long |v| stays above the level around its peak, without interruption, at most up to `until`
/// (the next edge). 0 if the peak does not reach the level.
/// \throws std::invalid_argument if until <= rise or the level is not positive.
Time dwell_above(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise,
                 Voltage level, Time until);

/// A voltage and how long it stands.
struct Stress {
  Voltage voltage;
  Time duration;
};

/// The peak of an edge with the time above half of it: what the credit for short pulses takes as
/// the duration (assumed; a convention, the same for every path).
Stress edge_stress(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise,
                   Time until);

/// Response to an edge whose source rings from the end of the ramp on:
/// v_cm += share * step * exp(-pi f_r t'/Q) sin(2 pi f_r t').
///
/// \throws std::invalid_argument for an undefined ringing.
Voltage ringing_response_at(const ShaftNode& node, const MaybePath& path, Voltage step, Time rise,
                            const Ringing& ringing, Time time);

/// Largest |v| of the ringing response.
Voltage edge_peak_with_ringing(const ShaftNode& node, const MaybePath& path, Voltage step,
                               Time rise, const Ringing& ringing);

/// The peak of the ringing response with the time above half of it, as edge_stress. Both go with
/// the step: two legs are twice the voltage for the same time.
/// \throws std::invalid_argument for an undefined ringing or until <= rise.
Stress edge_stress_with_ringing(const ShaftNode& node, const MaybePath& path, Voltage step,
                                Time rise, const Ringing& ringing, Time until);

/// Shaft amplitude of a steady oscillation on the winding: BVR * amplitude * |a(f)|.
Voltage oscillation_amplitude(const ShaftNode& node, const MaybePath& path, Voltage amplitude,
                              Frequency frequency);

}  // namespace ohmdrag::voltage
