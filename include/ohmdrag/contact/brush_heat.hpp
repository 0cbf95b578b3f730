#pragma once

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

}  // namespace ohmdrag::contact
