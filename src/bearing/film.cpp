#include "ohmdrag/bearing/film.hpp"

#include <cmath>
#include <stdexcept>

namespace ohmdrag::bearing {

namespace {

template <class Contact>
void require_contact(const Contact& contact, DynamicViscosity eta, Speed u) {
  if (!(contact.rolling_radius > Length{} && contact.reduced_modulus > Pressure{} &&
        contact.alpha_p > PerPressure{} && contact.load > Force{}))
    throw std::invalid_argument(
        "oil film: radius, modulus, pressure-viscosity coefficient and load must be positive");
  if (!(eta > DynamicViscosity{}))
    throw std::invalid_argument("oil film: viscosity must be positive");
  if (!(u >= Speed{})) throw std::invalid_argument("oil film: speed must not be negative");
}

// The dimensionless groups of elastohydrodynamic lubrication.
struct Groups {
  double speed, material, load;
};

Groups groups(const PointContact& c, DynamicViscosity eta, Speed u) {
  require_contact(c, eta, u);
  return {.speed = eta * u / (c.reduced_modulus * c.rolling_radius),
          .material = c.alpha_p * c.reduced_modulus,
          .load = c.load / (c.reduced_modulus * c.rolling_radius * c.rolling_radius)};
}

Groups groups(const LineContact& c, DynamicViscosity eta, Speed u) {
  require_contact(c, eta, u);
  if (!(c.line > Length{})) throw std::invalid_argument("oil film: line must be positive");
  return {.speed = eta * u / (c.reduced_modulus * c.rolling_radius),
          .material = c.alpha_p * c.reduced_modulus,
          .load = c.load / (c.reduced_modulus * c.rolling_radius * c.line)};
}

}  // namespace

Length minimum_film(const PointContact& contact, DynamicViscosity eta, Speed u) {
  const auto [speed, material, load] = groups(contact, eta, u);
  return 3.63 * contact.rolling_radius * std::pow(speed, 0.68) * std::pow(material, 0.49) *
         std::pow(load, -0.073) * (-std::expm1(-0.68 * contact.ellipticity));
}

Length central_film(const PointContact& contact, DynamicViscosity eta, Speed u) {
  const auto [speed, material, load] = groups(contact, eta, u);
  return 2.69 * contact.rolling_radius * std::pow(speed, 0.67) * std::pow(material, 0.53) *
         std::pow(load, -0.067) * (1.0 - 0.61 * std::exp(-0.73 * contact.ellipticity));
}

Length minimum_film(const LineContact& contact, DynamicViscosity eta, Speed u) {
  const auto [speed, material, load] = groups(contact, eta, u);
  return 2.65 * contact.rolling_radius * std::pow(speed, 0.70) * std::pow(material, 0.54) *
         std::pow(load, -0.13);
}

Length central_film(const LineContact& contact, DynamicViscosity eta, Speed u) {
  const auto [speed, material, load] = groups(contact, eta, u);
  return 3.06 * contact.rolling_radius * std::pow(speed, 0.69) * std::pow(material, 0.56) *
         std::pow(load, -0.10);
}

double film_ratio(Length minimum, Length roughness) {
  if (!(roughness > Length{}))
    throw std::invalid_argument("film ratio: roughness must be positive");
  return minimum / roughness;
}

Length combined_roughness(Length one, Length other) {
  return Length::from_value(std::hypot(one.value(), other.value()));
}

double inlet_heating_factor(DynamicViscosity eta, Speed u, double viscosity_slope_per_K,
                            ThermalConductivity oil_conductivity) {
  if (!(oil_conductivity > ThermalConductivity{}))
    throw std::invalid_argument("inlet heating: conductivity of the oil must be positive");
  if (!(viscosity_slope_per_K >= 0.0))
    throw std::invalid_argument("inlet heating: viscosity must not rise with temperature");
  const double loading =
      eta.value() * u.value() * u.value() * viscosity_slope_per_K / oil_conductivity.value();
  return inlet_heating_factor(std::pow(loading, inlet_heating_exponent));
}

}  // namespace ohmdrag::bearing
