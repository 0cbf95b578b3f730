#include "ohmdrag/contact/brush_heat.hpp"

#include <cmath>
#include <stdexcept>

namespace ohmdrag::contact {

Power contact_drop_heat(Voltage contact_drop, Current current) {
  if (!(contact_drop.value() >= 0.0))
    throw std::invalid_argument("brush: the contact drop must not be negative");
  if (!std::isfinite(current.value()))
    throw std::invalid_argument("brush: the current is undefined");
  return contact_drop * Current::from_value(std::abs(current.value()));
}

}  // namespace ohmdrag::contact
