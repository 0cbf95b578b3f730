#include "ohmdrag/contact/flash_temperature.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace ohmdrag::contact {

namespace {

void check(HeatFlux flux, Length size) {
  if (!(flux.value() >= 0.0 && size.value() > 0.0))
    throw std::invalid_argument(
        "flash temperature: the spot must have a size and its heat must not be negative");
}

double band_peclet(Length half_width, const FlashBody& body, Speed over_body) {
  return std::abs(over_body.value()) * half_width.value() / diffusivity_m2_s(body);
}

}  // namespace

double diffusivity_m2_s(const FlashBody& body) {
  const double k = body.conductivity.value();
  const double rho = body.density.value();
  const double c = body.specific_heat.value();
  if (!(k > 0.0 && rho > 0.0 && c > 0.0))
    throw std::invalid_argument(
        "flash temperature: conductivity, density and specific heat must be positive");
  return k / (rho * c);
}

HeatFlux friction_flux(double friction, Pressure pressure, Speed sliding) {
  if (!(friction >= 0.0 && pressure.value() >= 0.0))
    throw std::invalid_argument("flash temperature: friction and pressure must not be negative");
  return HeatFlux::from_value(friction * pressure.value() * std::abs(sliding.value()));
}

FlashRise spot_rise(SpotProfile profile, HeatFlux flux, Length radius, const FlashBody& body,
                    Speed over_body) {
  check(flux, radius);
  const double peclet =
      std::abs(over_body.value()) * radius.value() / (2.0 * diffusivity_m2_s(body));
  const TemperatureDifference scale = flux * radius / body.conductivity;
  const auto rise = [&](double factor, double steady) {
    return factor / std::sqrt(std::numbers::pi * (steady + peclet)) * scale;
  };
  if (profile == SpotProfile::uniform)
    return {.highest = rise(2.0, 1.273), .mean = rise(1.22, 0.6575)};
  return {.highest = rise(2.32, 1.234), .mean = rise(1.464, 0.874)};
}

FlashRise band_rise(HeatFlux flux, Length half_width, const FlashBody& body, Speed over_body) {
  check(flux, half_width);
  const double peclet = band_peclet(half_width, body, over_body);
  if (!(peclet > 0.0))
    throw std::invalid_argument("flash temperature: an endless band at rest has no steady rise");
  const TemperatureDifference highest =
      1.596 / std::sqrt(peclet) * (flux * half_width / body.conductivity);
  return {.highest = highest, .mean = 2.0 / 3.0 * highest};
}

std::optional<numerics::RangeFlag> outside_flash_band(Length half_width, const FlashBody& body,
                                                      Speed over_body) {
  return numerics::flag_outside("flash temperature of a sliding band", "Peclet number u l/kappa",
                                band_peclet(half_width, body, over_body), 10.0, numerics::no_limit);
}

SharedFlash shared_flash(TemperatureDifference first_alone, TemperatureDifference second_alone) {
  const double first_K = first_alone.value();
  const double second_K = second_alone.value();
  if (first_K == 0.0 && second_K == 0.0) return {.highest = {}, .into_first = 0.5};
  if (!(first_K > 0.0 && second_K > 0.0))
    throw std::invalid_argument("flash temperature: both rises must be positive, or none");
  const double highest_K = 1.0 / (1.0 / first_K + 1.0 / second_K);
  return {.highest = TemperatureDifference::from_value(highest_K),
          .into_first = highest_K / first_K};
}

}  // namespace ohmdrag::contact
