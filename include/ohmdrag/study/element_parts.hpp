#pragma once

#include "ohmdrag/study/elements.hpp"

/// Parts that several forms of an element have, wherever they lie; nullptr where it has none.
namespace ohmdrag::study {

inline const ElementResistance* resistance_of(const Element& element) {
  if (const auto* ring = std::get_if<RingElement>(&element.form)) return &ring->resistance;
  if (const auto* brush = std::get_if<BrushElement>(&element.form)) return &brush->resistance;
  if (const auto* stated = std::get_if<StatedElement>(&element.form))
    return stated->resistance ? &*stated->resistance : nullptr;
  return nullptr;
}

/// \tparam E  Element, const or not
template <class E>
auto fibres_of(E& element) -> decltype(&*std::get_if<RingElement>(&element.form)->fibres) {
  if (auto* ring = std::get_if<RingElement>(&element.form))
    return ring->fibres ? &*ring->fibres : nullptr;
  auto* brush = std::get_if<BrushElement>(&element.form);
  return brush && brush->fibres ? &*brush->fibres : nullptr;
}

}  // namespace ohmdrag::study
