#pragma once

#include "ohmdrag/study/sizing.hpp"

/// The one number of a variant that is sized.
namespace ohmdrag::study {

/// The knob of a part: the one that is asked for, else the one the case states.
SizedBy knob_of(const Variant& variant, const SizingQuestion& what);

/// Middle of the knob as the case has it, SI.
double stated_knob(const Variant& variant, SizedPart part, SizedBy knob);

/// The variant with another middle of the knob; spread and scatter keep their share of it, and the
/// draw.
Variant with_knob(const Variant& variant, SizedPart part, SizedBy knob, double value);

/// The element that is sized.
const Element& sized_element(const Variant& variant, SizedPart part);

}  // namespace ohmdrag::study
