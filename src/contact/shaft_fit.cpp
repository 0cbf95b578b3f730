#include "ohmdrag/contact/shaft_fit.hpp"

#include <stdexcept>

namespace ohmdrag::contact {

ShaftLimits shaft_limits(const FitClass& fit, Length nominal_diameter) {
  for (const FitBand& band : fit) {
    if (!(band.above.value() >= 0.0 && band.up_to > band.above))
      throw std::invalid_argument("shaft fit: a band must end above its start");
    if (!(band.upper_deviation >= band.lower_deviation))
      throw std::invalid_argument("shaft fit: the upper deviation must not be below the lower one");
  }
  for (const FitBand& band : fit)
    if (nominal_diameter > band.above && nominal_diameter <= band.up_to)
      return {.lower_deviation = band.lower_deviation,
              .upper_deviation = band.upper_deviation,
              .smallest = nominal_diameter + band.lower_deviation,
              .largest = nominal_diameter + band.upper_deviation};
  throw std::invalid_argument("shaft fit: no band covers this diameter");
}

FitEffect fit_effect(Length nominal_diameter, Length diametral_interference, Length deviation) {
  if (!(nominal_diameter.value() > 0.0))
    throw std::invalid_argument("shaft fit: the diameter must be positive");
  if (!(diametral_interference.value() > 0.0))
    throw std::invalid_argument("shaft fit: the interference must be positive");
  if (!(deviation > -nominal_diameter))
    throw std::invalid_argument("shaft fit: the deviation leaves no shaft");

  const double raw = 1.0 + (deviation / diametral_interference).value();
  const double diameter = 1.0 + (deviation / nominal_diameter).value();
  FitEffect effect{.elastic_force = raw, .power = diameter * diameter, .flags = {}};
  if (const auto flag =
          numerics::flag_outside("elastic force over the shaft's tolerance",
                                 "share of interference left", raw, 0.0, numerics::no_limit)) {
    effect.elastic_force = 0.0;
    effect.flags.push_back(*flag);
  }
  return effect;
}

}  // namespace ohmdrag::contact
