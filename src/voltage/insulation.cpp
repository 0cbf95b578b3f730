#include "ohmdrag/voltage/insulation.hpp"

#include <numbers>
#include <stdexcept>

#include "ohmdrag/material/permittivity.hpp"

namespace ohmdrag::voltage {

Capacitance coat_capacitance(Length thickness, double permittivity, Length seat_diameter,
                             Length seat_width) {
  if (!(thickness > Length{} && permittivity >= 1.0 && seat_diameter > Length{} &&
        seat_width > Length{}))
    throw std::invalid_argument(
        "insulating coat: thickness and seat must be positive, the permittivity at least 1");
  const Area seat = std::numbers::pi * seat_diameter * seat_width;
  return Capacitance::from_value(material::vacuum_permittivity_F_per_m * permittivity *
                                 seat.value() / thickness.value());
}

}  // namespace ohmdrag::voltage
