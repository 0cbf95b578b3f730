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

std::optional<numerics::RangeFlag> above_graphite_limit(Temperature bulk,
                                                        TemperatureDifference flash,
                                                        Temperature limit) {
  if (!(flash.value() >= 0.0))
    throw std::invalid_argument("brush: the flash temperature must not be negative");
  if (!(bulk.value() > 0.0 && limit.value() > 0.0))
    throw std::invalid_argument("brush: temperatures must be above absolute zero");
  return numerics::flag_outside("graphite in contact", "asperity temperature, degC",
                                in_celsius(bulk + flash), -numerics::no_limit, in_celsius(limit));
}

}  // namespace ohmdrag::contact
