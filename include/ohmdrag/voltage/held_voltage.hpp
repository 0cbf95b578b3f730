#pragma once

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/common_mode.hpp"
#include "ohmdrag/voltage/coupling.hpp"
#include "ohmdrag/voltage/path.hpp"

/// What stands on the shaft between the edges of the carrier.
namespace ohmdrag::voltage {

/// An interval between two edges counts as a hold if it lasts at least so many rise times; edges
/// that follow closer are one event for the path and belong to the edge peak (a definition).
inline constexpr double rises_per_hold = 10.0;

/// Crest of the film voltage without a path and before any discharge: BVR * V_dc/2.
Voltage crest_voltage(const ShaftNode& node, Voltage dc_link);

/// The same after a discharge at one crest has set the shaft to zero there: BVR * V_dc.
Voltage rereferenced_voltage(const ShaftNode& node, Voltage dc_link);

struct Carrier {
  Voltage dc_link;      ///< V_dc > 0
  Frequency frequency;  ///< f_sw > 0
  double modulation;    ///< 0 <= M <= 2/sqrt(3)
  Time rise;            ///< 0-100 %; at most 1/(60 f_sw)
  ModulationKind kind = ModulationKind::sine_triangle;
};

/// Largest |v| immediately before the next edge, over a carrier period in its periodic steady
/// state, worst over the fundamental period: over fourteen positions and those where an interval
/// begins to count as a hold.
///
/// The staircase of common_mode.hpp drives the state equations of edge_response.hpp; edges are
/// steps at the middle of their ramps. Each mode is a closed-form exponential, the period a fixed
/// point of each.
///
/// Validity  films intact; carrier much faster than the fundamental; holds shorter than
///           rises_per_hold do not count.
/// Limits    crest_voltage without a path, and for R -> infinity at M <= 1; 0 for R, L -> 0.
///           Between some kilo-ohms and some hundred it can exceed the crest without a path and
///           fall again as R rises: a path that forgets within half a carrier period lets the
///           next three edges add up from zero. Rank by held_after_discharge. Above M = 1 the
///           common mode has a mean within the carrier period (up to 16 % of the crest), which
///           the path removes.
/// Accuracy  2 % where more than 5 % of a step is held (steps instead of ramps).
/// Source    derived: periodic steady state of a linear circuit.
///
/// \throws std::invalid_argument for an undefined node, path or carrier; for a path with L > 0 and
///         neither resistance nor films (no steady state).
Voltage held_voltage(const ShaftNode& node, const MaybePath& path, const Carrier& carrier);
Voltage held_voltage(const ShaftNode& node, const MaybePath& path, Voltage dc_link,
                     Frequency carrier, double modulation, Time rise);

/// The largest |v| before an edge within the carrier period after a discharge that set the shaft to
/// zero at the worst hold: the voltage that a verdict uses. Never below held_voltage.
///
/// Limits    rereferenced_voltage without a path, and for R -> infinity at M <= 1; held_voltage
///           for a path that forgets within the interval between two edges. Above M = 1 a path that
///           forgets only over a fundamental period is underrated: there one carrier period does
///           not reach both crests.
/// Source    derived: the node loses its voltage, the path keeps current and films; superposition.
Voltage held_after_discharge(const ShaftNode& node, const MaybePath& path, const Carrier& carrier);

/// Modulation index above which two legs that switch one after the other leave a hold between them
/// somewhere in the fundamental period; what is held jumps there and nowhere else.
///
///     M_h = 4 rises_per_hold t_r f_sw / 1.5
///
/// Source    derived: edges of two legs are T/4 times the difference of their references apart, of
///           neighbours at most 1.5 M.
double least_holding_modulation(const Carrier& carrier);

/// The longest time between two edges of the carrier, half a period: the duration of a hold.
Time hold_duration(Frequency carrier);

}  // namespace ohmdrag::voltage
