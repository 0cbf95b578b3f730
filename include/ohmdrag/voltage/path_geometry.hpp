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
