#pragma once

#include <optional>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// Heat from a contact band into a solid round shaft that is cooled along its length. A lip or ring
/// touches the whole circumference, so the shaft sees a stationary band of heat.
namespace ohmdrag::contact {

/// A round shaft cooled on its surface.
struct ShaftFin {
  Length diameter;                   ///< d > 0
  ThermalConductivity conductivity;  ///< k > 0
  HeatTransferCoefficient film;      ///< h > 0
};

/// Conductance from the root of an endless fin, to one side.
///
///     g = sqrt(h pi d k pi d^2/4)        [W/K]
///
/// Validity  h d / (2 k) << 1, so that the section is isothermal but for the band
/// (band_resistance). Limits    h -> 0: g -> 0. Source    one-dimensional fin; Incropera & DeWitt,
/// Fundamentals of Heat and Mass Transfer,
///           chapter on extended surfaces, from memory.
/// \throws std::invalid_argument unless every member is positive (so do the three below).
ThermalConductance endless_fin(const ShaftFin& fin);

/// The length 1/m = sqrt(k d / (4 h)) over which the temperature falls by e.
Length decay_length(const ShaftFin& fin);

/// g tanh(m L): fin of length L >= 0 whose far end gives off no heat. Limits: 0 at L = 0,
/// endless_fin as L grows.
ThermalConductance free_end_fin(const ShaftFin& fin, Length length);

/// g coth(m L): fin of length L > 0 whose far end is held at the temperature around it. Limits:
/// k A / L for short, endless_fin for long.
ThermalConductance held_end_fin(const ShaftFin& fin, Length length);

/// Constriction of heat that enters a solid shaft through a band of width b: mean temperature of
/// the band minus the root temperature of the one-dimensional fins.
///
///     R = [ln(a/b) + 0.032 - 0.30 b/a] / (2 pi^2 k a),   a = d/2       [K/W]
///
/// Validity  b/a <= 0.2; see outside_band_fit().
/// Limits    b -> 0: grows as ln(1/b).
/// Accuracy  0.2 % for b/a <= 0.2, +6 % at 0.5, against the integral below.
/// Source    derived: Fourier integral of a cylinder with a ring of flux, minus the fin solution of
///           a point source, J = Int_0^inf [I0(x)/I1(x) - 2/x] sinc^2(x b/2a) dx/x - pi b/(3a),
///           R = J / (2 pi^2 k a); the bracket above is a fit of J.
/// \throws std::invalid_argument unless all are positive and b <= a.
ThermalResistance band_resistance(Length diameter, Length contact_width,
                                  ThermalConductivity conductivity);

/// The flag of b/a above 0.2.
std::optional<numerics::RangeFlag> outside_band_fit(Length diameter, Length contact_width);

/// From the contact into the static body behind it: a strip of width b on a half-space whose heat
/// is taken off at the distance `reach` (about 1 mm for a lip).
///
///     R = [ln(reach/b) + 1.5] / (pi k pi d)      [K/W]
///
/// Validity  reach >= b; see outside_body_strip().
/// Accuracy  rough (reach is an estimate), but only 1 to 2 % of the heat goes this way in a lip.
/// Source    derived: uniform strip on a half-space, mean temperature of the strip.
/// \throws std::invalid_argument unless all are positive and reach > b exp(-1.5), below which the
///         resistance would be negative.
ThermalResistance body_resistance(Length diameter, Length contact_width, Length reach,
                                  ThermalConductivity body_conductivity);

/// The flag of a reach below the contact width.
std::optional<numerics::RangeFlag> outside_body_strip(Length contact_width, Length reach);

}  // namespace ohmdrag::contact
