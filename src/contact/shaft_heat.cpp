#include "ohmdrag/contact/shaft_heat.hpp"

#include <cmath>
#include <stdexcept>

namespace ohmdrag::contact {

namespace {

constexpr double pi = std::numbers::pi;

void check(const ShaftFin& fin) {
  if (!(fin.diameter.value() > 0.0 && fin.conductivity.value() > 0.0 && fin.film.value() > 0.0))
    throw std::invalid_argument(
        "shaft: diameter, conductivity and film coefficient must be positive");
  if (!(fin.bore.value() >= 0.0 && fin.bore < fin.diameter))
    throw std::invalid_argument("shaft: the bore must be smaller than the diameter");
}

// Conducting section over that of a solid shaft; exactly 1 without a bore.
double solid_share(const ShaftFin& fin) {
  const double ratio = fin.bore.value() / fin.diameter.value();
  return 1.0 - ratio * ratio;
}

}  // namespace

ThermalConductance endless_fin(const ShaftFin& fin) {
  check(fin);
  const double d = fin.diameter.value();
  return ThermalConductance::from_value(
      0.5 * pi * d * std::sqrt(fin.film.value() * fin.conductivity.value() * d * solid_share(fin)));
}

Length decay_length(const ShaftFin& fin) {
  check(fin);
  return Length::from_value(std::sqrt(fin.conductivity.value() * fin.diameter.value() *
                                      solid_share(fin) / (4.0 * fin.film.value())));
}

ThermalConductance free_end_fin(const ShaftFin& fin, Length length) {
  if (!(length.value() >= 0.0))
    throw std::invalid_argument("shaft: the length to the free end must not be negative");
  return endless_fin(fin) * std::tanh((length / decay_length(fin)).value());
}

ThermalConductance held_end_fin(const ShaftFin& fin, Length length) {
  if (!(length.value() > 0.0))
    throw std::invalid_argument("shaft: the length to the held end must be positive");
  return endless_fin(fin) / std::tanh((length / decay_length(fin)).value());
}

ThermalResistance band_resistance(Length diameter, Length contact_width,
                                  ThermalConductivity conductivity, Length bore) {
  const double a = 0.5 * diameter.value();
  const double b = contact_width.value();
  const double k = conductivity.value();
  if (!(a > 0.0 && b > 0.0 && k > 0.0))
    throw std::invalid_argument("contact band: diameter, width, conductivity must be positive");
  if (!(bore.value() >= 0.0 && bore < diameter))
    throw std::invalid_argument("contact band: the bore must be smaller than the diameter");
  const double wall = a - 0.5 * bore.value();
  const double share = wall / a * (wall / a);
  const double bracket =
      wall == a ? std::log(a / b) + 0.032 - 0.30 * b / a
                : std::log(wall / b) + 0.355 - (0.146 + 0.177 * share) * share - 0.30 * b / a;
  if (!(bracket > 0.0))
    throw std::invalid_argument(
        "contact band: too wide for the shaft or its wall, no constriction");
  return ThermalResistance::from_value(bracket / (2.0 * pi * pi * k * a));
}

std::optional<numerics::RangeFlag> outside_band_fit(Length diameter, Length contact_width,
                                                    Length bore) {
  const bool solid = bore.value() == 0.0;
  return numerics::flag_outside("constriction of the contact band",
                                solid ? "band width / shaft radius" : "band width / shaft wall",
                                2.0 * contact_width.value() / (diameter - bore).value(), 0.0, 0.2);
}

ThermalResistance body_resistance(Length diameter, Length contact_width, Length reach,
                                  ThermalConductivity body_conductivity) {
  const double d = diameter.value();
  const double b = contact_width.value();
  const double k = body_conductivity.value();
  if (!(d > 0.0 && b > 0.0 && k > 0.0))
    throw std::invalid_argument("contact body: diameter, width, conductivity must be positive");
  const double spread = std::log(reach.value() / b) + 1.5;
  if (!(spread > 0.0))
    throw std::invalid_argument("contact body: its reach is too small against the contact width");
  return ThermalResistance::from_value(spread / (pi * k * pi * d));
}

std::optional<numerics::RangeFlag> outside_body_strip(Length contact_width, Length reach) {
  return numerics::flag_outside("heat into the body of a contact", "reach / contact width",
                                (reach / contact_width).value(), 1.0, numerics::no_limit);
}

}  // namespace ohmdrag::contact
