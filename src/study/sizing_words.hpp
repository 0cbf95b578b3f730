#pragma once

#include "ohmdrag/study/sizing.hpp"

namespace ohmdrag::study {

/// Fills verdict, remarks and cautions of a scan that is otherwise complete.
void add_words(const Case& question, const Variant& sized, SizingFindings& found);

/// A value of the knob in the unit an engineer expects.
std::string in_words(SizedBy knob, double value);

}  // namespace ohmdrag::study
