#pragma once

#include "ohmdrag/quantity/quantities.hpp"

/// Inductance of the connection from the contact to the housing. Inductance belongs to loops: these
/// are shares of a conductor with its return far away.
namespace ohmdrag::voltage {

/// Partial inductance of a flat strap.
///
///     L [uH] = 0.002 l [ln(2l/(w+t)) + 0.5 + 0.2235 (w+t)/l]     lengths in cm
///
/// Validity  straight, l > w + t, return far away.
/// Accuracy  about 10 % with the return far away; a return close by makes it smaller.
/// Source    F. E. Terman, Radio Engineers' Handbook, 1945, as quoted in worked questions on
///           electromagnetic compatibility.
/// \throws std::invalid_argument if a length is not positive or l <= w + t.
Inductance strap_inductance(Length length, Length width, Length thickness);

/// Share of a strap in a loop, the simple form for a thin strap.
///
///     L [uH] = 0.002 l ln(2l/w)     lengths in cm
///
/// Validity  as strap_inductance; gives the lower of the two.
/// Source    as strap_inductance, same worked questions.
/// \throws std::invalid_argument if a length is not positive or l <= w.
Inductance strap_loop_share(Length length, Length width);

/// Partial inductance of a straight round wire at high frequency.
///
///     L = 2e-7 l [ln(2l/r) - 1]     H, m
///
/// Validity  l >= 10 r, current in the skin.
/// Source    F. W. Grover, Inductance Calculations, 1947 (from memory).
/// \throws std::invalid_argument if a length is not positive or l < 10 r.
Inductance wire_inductance(Length length, Length diameter);

/// The same at a direct current, which fills the wire.
///
///     L = 2e-7 l [ln(2l/r) - 0.75]     H, m
///
/// Validity  l >= 10 r, a wire that is not magnetic.
/// Source    as wire_inductance.
/// \throws std::invalid_argument as wire_inductance.
Inductance wire_inductance_at_direct_current(Length length, Length diameter);

/// H/m.
using InductancePerLength = Quantity<decltype(si::inductance() / si::length())>;
using Resistivity = Quantity<si::resistivity>;

/// Inductance of the shaft between the contact and the far bearing: it adds to the path that this
/// bearing sees, so one contact protects the near bearing better than the far one above R/(2 pi L).
///
///     L = l' x
///
/// Accuracy  l' 0.35 nH/mm (0.2 to 0.5), assumed: it depends on what returns the current around the
///           shaft; the field inside the steel is in the skin and left out.
/// Source    assumed.
/// \param per_length_of_shaft  l'
/// \throws std::invalid_argument if one of the two is negative.
Inductance shaft_inductance(Length length, InductancePerLength per_length_of_shaft);

/// Depth in which a conductor carries a current: the density falls to 1/e.
///
///     delta = sqrt(rho/(pi f mu_0 mu_r))
///
/// Validity  a body many depths thick; constant permeability (steel at small fields: mu_r about
///           100, from memory).
/// Source    textbook, electromagnetic fields (from memory).
/// \throws std::invalid_argument if an argument is not positive.
Length skin_depth(Resistivity resistivity, double relative_permeability, Frequency frequency);

/// Inductance of a pair of parallel round wires, out and back.
///
///     L = 4e-7 l ln(s/r)     H, m;  s the distance of the axes
///
/// Validity  s >> r, current in the skin.
/// Source    table 311 of a handbook on electromagnetic compatibility (document not identified)
///           prints reactances that this reproduces.
/// \throws std::invalid_argument if a length is not positive or s <= 2 r.
Inductance wire_pair_inductance(Length length, Length spacing, Length wire_radius);

}  // namespace ohmdrag::voltage
