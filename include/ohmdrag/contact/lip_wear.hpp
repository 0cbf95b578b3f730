#pragma once

#include "ohmdrag/quantity/quantities.hpp"

/// Wear of lips, rings and brushes by sliding.
namespace ohmdrag::contact {

/// Volume worn off.
///
///     V = k F s
///
/// Validity  one wear mechanism throughout: k holds for one pair, one lubrication and one range of
///           pressure and temperature. Running-in is not in it.
/// Limits    no load, no way or k = 0: no wear.
/// Accuracy  that of k: remembered wear rates hold within a factor 3 to 10.
/// Source    J. F. Archard, J. Appl. Phys. 24 (1953) 981, from memory; k takes the hardness in.
///
/// \param wear_rate  k [m2/N], >= 0 (1 mm3/(N m) = 1e-9 m2/N)
/// \param load       F [N], >= 0
/// \param way        s [m], >= 0, slid by the surface in question
/// \throws std::invalid_argument for an argument outside its range.
Volume worn_volume(WearRate wear_rate, Force load, Length way);

/// Mass of the debris, rho V. What conductive debris does to an oil is not modelled.
/// \throws std::invalid_argument as worn_volume, or unless the density is positive.
Mass debris_mass(Density density, WearRate wear_rate, Force load, Length way);

/// Depth of wear per time of a contact whose faces conform.
///
///     dw/dt = k p |u|
///
/// Limits    p = 0 or u = 0: none.
/// Source    derived: worn_volume() per area.
/// \throws std::invalid_argument unless wear rate and pressure are >= 0 and the speed is a number.
Speed wear_depth_rate(WearRate wear_rate, Pressure pressure, Speed surface_speed);

/// Time until a brush or pad under constant pressure has used its wear length.
///
///     t = L / (k p |u|)
///
/// Limits    at rest, without pressure or with k = 0: infinite. No length left: 0 while it wears.
/// Source    derived from wear_depth_rate().
/// \throws std::invalid_argument as wear_depth_rate, or unless the wear length is >= 0.
Time wear_out_time(Length wear_length, WearRate wear_rate, Pressure pressure, Speed surface_speed);

/// The edge of a lip before it has run: a wedge with a small flat.
struct LipEdge {
  double air_angle_rad;  ///< between shaft and lip on the air side, in (0, pi/2)
  double oil_angle_rad;  ///< the same on the oil side
  Length new_width;      ///< b_0 >= 0, flat of the new edge
};

/// Contact width gained per depth worn off the edge, K = cot(air angle) + cot(oil angle).
/// \throws std::invalid_argument for members outside the ranges they name (all below do).
double width_per_depth(const LipEdge& edge);

/// Contact width of a lip that has run.
///
///     b = sqrt(b_0^2 + 2 K k F' s)
///
/// Validity  constant line force and wear rate. Wear lowers the force of a real lip, so this is the
///           upper limit of b; for a falling force go in steps, each b as the next b_0.
/// Limits    s = 0: b_0. s -> infinity: b grows as sqrt(s).
/// Accuracy  half that of k in relative terms; deformation of the edge is not in it.
/// Source    derived: Archard per length of the edge, b dw = k F' ds, with b = b_0 + K w.
///
/// \param wear_rate   k of the lip [m2/N], >= 0
/// \param line_force  F' [N/m], >= 0
/// \param way         s [m], >= 0
/// \throws std::invalid_argument for an argument outside its range.
Length worn_width(const LipEdge& edge, WearRate wear_rate, LineForce line_force, Length way);

/// Radial depth worn off the edge, w = (b - b_0)/K: it counts from the new flat, not from a sharp
/// edge, so that a new lip has lost nothing.
/// \throws std::invalid_argument unless the width is at least that of the new flat.
Length radial_wear(const LipEdge& edge, Length width);

/// Depth of the groove that a lip or ring of constant width wears into the shaft.
///
///     g = k_s F' s / b
///
/// Validity  contact around the whole circumference: every point of the shaft rubs all the time.
/// Source    derived from wear_depth_rate(), p = F'/b.
///
/// \param shaft_wear_rate  k_s [m2/N], >= 0
/// \throws std::invalid_argument unless the width is positive and the others are >= 0.
Length groove_depth(WearRate shaft_wear_rate, LineForce line_force, Length width, Length way);

/// The same under a lip whose band widens as it wears: the deepest point, under the new flat.
///
///     g = k_s (b - b_0) / (K k) = w k_s / k
///
/// Limits    k -> 0: the lip keeps its flat, g = k_s F' s / b_0.
/// Source    derived: integral of k_s F'/b ds along worn_width(); shaft and lip share the pressure,
///           so their depths are as their wear rates.
/// \throws std::invalid_argument as worn_width and groove_depth; a lip that does not wear needs a
///         flat.
Length groove_depth(WearRate shaft_wear_rate, const LipEdge& edge, WearRate lip_wear_rate,
                    LineForce line_force, Length way);

}  // namespace ohmdrag::contact
