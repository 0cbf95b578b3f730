#pragma once

#include <optional>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::contact {

/// Heat of the current through a sliding contact whose voltage drop hardly depends on it.
///
///     P = U_c |I|
///
/// Sign: never negative.
///
/// Validity  carbon brushes at some amperes. At the small currents of most grounding contacts the
///           drop falls with the current, so that this is an upper bound.
/// Limits    I = 0: 0.
/// Accuracy  that of the drop, 1 V +- 0.2 V for an electrographite brush. A constant drop heats by
///           the mean magnitude of the current; its effective value is the upper bound of that.
/// Source    derived: power of a constant voltage. Drop: Sawa, Shobert, abstract of a book
///           chapter on carbon brushes.
///
/// \throws std::invalid_argument for a negative drop or undefined input.
Power contact_drop_heat(Voltage contact_drop, Current current);

/// The flag of a graphitic contact whose asperities pass a limit, beyond which friction and wear
/// jump because the adsorbed water leaves.
///
///     theta_asperity = theta_bulk + Delta_theta_flash
///
/// Validity  graphite in humid air; limit about 150 degC (150 to 185 degC). Dry gas and altitude
///           make graphite wear fast at any temperature: not judged here.
/// Accuracy  the flash of single asperities of one size: a factor 2.
/// Source    J. K. Lancaster, ASLE Trans. 18 (1975) 187-201 (abstract).
///
/// \param bulk   mean of the contact
/// \param flash  rise of the asperities above it, >= 0
/// \throws std::invalid_argument for a negative flash or undefined input.
std::optional<numerics::RangeFlag> above_graphite_limit(Temperature bulk,
                                                        TemperatureDifference flash,
                                                        Temperature limit);

}  // namespace ohmdrag::contact
