#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// How far a seal or contact material is from what it stands: temperature, speed, pressure.
///
/// Limits are data with their own basis; none is a promise of tightness or life. Hot and turning
/// parts burn and catch: measure on a guarded rig only.
namespace ohmdrag::material {

/// A limit, what is there, and how far apart they are. `left` is positive inside the limit.
template <class Q>
struct Margin {
  Q limit;
  Q value;
  decltype(std::declval<Q>() - std::declval<Q>()) left;
  bool kept() const { return left >= decltype(left){}; }
};

/// Margin below an upper limit. \throws std::invalid_argument if either is not a number.
Margin<Temperature> below(Temperature limit, Temperature value);
Margin<Speed> below(Speed limit, Speed value);
Margin<Pressure> below(Pressure limit, Pressure value);
/// Margin above a lower limit. Throws likewise.
Margin<Temperature> above(Temperature limit, Temperature value);

/// What one material stands. Limits that are not known stay empty.
struct SealLimits {
  std::optional<Temperature> continuous_low;
  std::optional<Temperature> continuous_high;
  std::optional<Temperature> sump_high;   ///< of the oil around it
  std::optional<Temperature> short_term;  ///< of the contact, minutes
  std::optional<Speed> surface_speed;     ///< > 0
};

/// The margins of a running lip, temperature first: the speed a lip stands is the temperature it
/// makes, so a computed contact temperature outranks a speed.
struct SealMargins {
  std::optional<Margin<Temperature>> cold;  ///< contact above the lowest continuous temperature
  std::optional<Margin<Temperature>> hot;   ///< contact below the highest continuous temperature
  std::optional<Margin<Temperature>> short_term;
  std::optional<Margin<Temperature>> sump;
  std::optional<Margin<Speed>> speed;
  std::vector<numerics::RangeFlag> flags;  ///< one for every limit that is not kept
};

/// \throws std::invalid_argument for a value that is not a number or a limit that is not positive.
SealMargins seal_margins(const SealLimits& limits, Temperature contact, Temperature sump,
                         Speed surface_speed);

/// Speed at which the surface of a shaft moves at v_max.
///
///     n_max = 60 v_max / (pi d)      [1/min], v_max [m/s], d [m]
///
/// Limits    d -> 0: without bound; charts of the trade flatten there, see LipSpeedChart.
/// Source    derived: kinematics.
/// \throws std::invalid_argument unless both are positive.
AngularVelocity speed_limit(Speed surface_speed_limit, Length diameter);

/// Speed limit of conventional rubber lips over the diameter: a speed cap on small shafts, a
/// surface speed on large ones.
///
///     d <= d_1        n_1
///     d_1 < d <= d_2  surface speed linear between pi d_1 n_1 and pi d_2 n_2
///     d > d_2         v
///
/// Validity  conventional rubber lips in oil, shaft diameter from the trade's small sizes up.
/// Limits    steps at d_2 from pi d_2 n_2 to v: the source rounds (15.7 and 15 m/s).
/// Accuracy  the handbook says "about".
/// Source    M. J. Neale, The Tribology Handbook, 2nd ed., p. B23.2 for both ends and v; linear
///           passage derived.
struct LipSpeedChart {
  Length small_diameter;        ///< d_1 > 0
  AngularVelocity small_speed;  ///< n_1 > 0
  Length large_diameter;        ///< d_2 > d_1
  AngularVelocity large_speed;  ///< n_2 > 0
  Speed beyond;                 ///< v > 0
};

/// The surface speed the chart allows at a diameter.
/// \throws std::invalid_argument for members outside the ranges they name or a diameter that is not
///         positive.
Speed chart_surface_speed(const LipSpeedChart& chart, Length diameter);

/// \throws std::invalid_argument unless p >= 0 and u is a number; the sign of u does not matter.
PressureSpeed pressure_speed(Pressure pressure, Speed surface_speed);
/// \throws std::invalid_argument if either is not a number.
Margin<PressureSpeed> below(PressureSpeed limit, PressureSpeed value);

/// Hottest spots of a graphitic carbon above which it loses the water vapour that lubricates it;
/// friction and wear jump somewhere in the band.
///
/// Validity  graphitic carbons in air of ordinary humidity. Dry gas and altitude bring the jump at
///           lower temperature: "dusting".
/// Source    J. K. Lancaster, ASLE Trans. 18 (1975) 187, abstract: about 150 to 185 degC.
struct GraphiteTransition {
  Temperature begin;
  Temperature end;  ///< above begin
};

enum class GraphiteState { water_lubricated, in_transition, beyond_transition };

struct GraphiteVerdict {
  GraphiteState state;
  Margin<Temperature> margin;  ///< of the hottest spot below the begin of the transition
  std::optional<numerics::RangeFlag> flag;
};

/// The hottest spot is the bulk plus the flash of the asperities; at `begin` itself the transition
/// has begun.
/// \throws std::invalid_argument unless the transition ends above its begin and flash >= 0.
GraphiteVerdict graphite_verdict(const GraphiteTransition& transition, Temperature bulk,
                                 TemperatureDifference flash);

}  // namespace ohmdrag::material
