#pragma once

#include <optional>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// Heat from a contact band into a round shaft, solid or hollow, that is cooled along its length. A
/// lip or ring touches the whole circumference, so the shaft sees a stationary band of heat.
namespace ohmdrag::contact {

/// A round shaft cooled on its outer surface. A bore takes conducting section away and gives off no
/// heat: still air in a closed bore; coolant through a shaft is not covered.
struct ShaftFin {
  Length diameter;                   ///< d > 0
  ThermalConductivity conductivity;  ///< k > 0
  HeatTransferCoefficient film;      ///< h > 0
  Length bore{};                     ///< D, 0 <= D < d; 0: solid
};

/// Conductance from the root of an endless fin, to one side.
///
///     g = sqrt(h pi d k A),   A = pi (d^2 - D^2)/4        [W/K]
///
/// Validity  h d / (2 k) << 1, so that the section is isothermal but for the band
///           (band_resistance).
/// Limits    h -> 0: g -> 0. D -> d: g -> 0.
/// Source    one-dimensional fin; Incropera & DeWitt, Fundamentals of Heat and Mass Transfer,
///           chapter on extended surfaces, from memory.
/// \throws std::invalid_argument unless every member is positive and 0 <= D < d (so do the three
///         below).
ThermalConductance endless_fin(const ShaftFin& fin);

/// The length 1/m = sqrt(k A / (h pi d)), solid sqrt(k d / (4 h)), over which the temperature falls
/// by e.
Length decay_length(const ShaftFin& fin);

/// g tanh(m L): fin of length L >= 0 whose far end gives off no heat. Limits: 0 at L = 0,
/// endless_fin as L grows.
ThermalConductance free_end_fin(const ShaftFin& fin, Length length);

/// g coth(m L): fin of length L > 0 whose far end is held at the temperature around it. Limits:
/// k A / L for short, endless_fin for long.
ThermalConductance held_end_fin(const ShaftFin& fin, Length length);

/// Constriction of heat that enters a shaft through a band of width b: mean temperature of the band
/// minus the root temperature of the one-dimensional fins.
///
///     solid   R = [ln(a/b) + 0.032 - 0.30 b/a] / (2 pi^2 k a),   a = d/2                  [K/W]
///     hollow  R = [ln(t/b) + 0.355 - 0.146 (t/a)^2 - 0.177 (t/a)^4 - 0.30 b/a] / (2 pi^2 k a)
///
/// with the wall t = a - D/2.
///
/// Validity  b/t <= 0.2 (solid: t = a); see outside_band_fit().
/// Limits    b -> 0: grows as ln(1/b). t -> a: the hollow form is the solid one. t << a: a strip on
///           a plate, [ln(t/b) + 0.355] / (pi k pi d). A bore lowers the constriction a
///           little, and the fins by more where h d / (2 k) << 1: the shaft then runs hotter.
/// Accuracy  0.3 % for b/t <= 0.2, +2 % (thin wall) to +6 % (solid) at 0.5, against the integral
///           below.
/// Source    derived: Fourier integral of a cylinder with a ring of flux, minus the fin solution of
///           a point source, J = Int_0^inf [I0(x)/I1(x) - 2/x] sinc^2(x b/2a) dx/x - pi b/(3a),
///           R = J / (2 pi^2 k a); the bracket above is a fit of J. Hollow, with B = D/d and an
///           adiabatic bore: [I0(x) K1(Bx) + K0(x) I1(Bx)] / [I1(x) K1(Bx) - K1(x) I1(Bx)] in place
///           of I0/I1, 2/(1 - B^2) of 2 and b/(1 - B^2) of the last b.
/// \throws std::invalid_argument unless diameter, width and conductivity are positive, 0 <= bore <
///         diameter, and the band is narrow enough for the bracket to be positive (about 0.8 of the
///         radius, 1.3 of a wall).
ThermalResistance band_resistance(Length diameter, Length contact_width,
                                  ThermalConductivity conductivity, Length bore = {});

/// The flag of b/t above 0.2.
std::optional<numerics::RangeFlag> outside_band_fit(Length diameter, Length contact_width,
                                                    Length bore = {});

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
