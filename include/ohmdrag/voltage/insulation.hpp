#pragma once

#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::voltage {

/// Capacitance of an insulating coat between a ring and its seat.
///
///     C = eps_0 eps_r pi d w/t
///
/// Validity  a coat that is thin against the seat; the faces of the ring are left out (about a
///           third on top where they are coated and clamped, assumed).
/// Source    plate capacitor.
///
/// \param thickness      t > 0  [m]
/// \param permittivity   eps_r >= 1 of the coat
/// \param seat_diameter  d > 0  [m]
/// \param seat_width     w > 0  [m]
/// \throws std::invalid_argument outside these.
Capacitance coat_capacitance(Length thickness, double permittivity, Length seat_diameter,
                             Length seat_width);

}  // namespace ohmdrag::voltage
