#include "ohmdrag/rig/rig_programme.hpp"

#include <cmath>
#include <stdexcept>

namespace ohmdrag::rig {

namespace {

void check(const ServiceDose& service) {
  if (!(service.hours.value() > 0.0 && service.way.value() > 0.0 && service.ageing.value() > 0.0 &&
        service.pressure.value() > 0.0))
    throw std::invalid_argument(
        "programme: hours, way, temperature and pressure of the service must be positive");
}

}  // namespace

Acceleration acceleration(const ServiceDose& service, const RigHour& rig,
                          TemperatureDifference activation) {
  check(service);
  if (!(rig.sliding.value() > 0.0 && rig.contact.value() > 0.0 && rig.pressure.value() > 0.0))
    throw std::invalid_argument(
        "programme: sliding speed, temperature and pressure on the rig must be positive");
  const double distance = rig.sliding / service.mean_speed();
  return {.distance = distance,
          .pressure_velocity = distance * (rig.pressure / service.pressure).value(),
          .ageing = std::exp(activation.value() *
                             (1.0 / service.ageing.value() - 1.0 / rig.contact.value()))};
}

RigHours rig_hours(const ServiceDose& service, const Acceleration& of) {
  return {.for_distance = service.hours / of.distance,
          .for_ageing = service.hours / of.ageing,
          .ageing_at_distance = of.ageing / of.distance};
}

Speed speed_of_equal_pressure_velocity(const ServiceDose& service, Pressure on_rig) {
  check(service);
  if (!(on_rig.value() > 0.0))
    throw std::invalid_argument("programme: the pressure on the rig must be positive");
  return (service.pressure / on_rig).value() * service.mean_speed();
}

Temperature temperature_of_equal_ageing(const ServiceDose& service, Time hours,
                                        TemperatureDifference activation) {
  check(service);
  if (!(hours.value() > 0.0))
    throw std::invalid_argument("programme: the hours on the rig must be positive");
  const double inverse_K =
      1.0 / service.ageing.value() - std::log((service.hours / hours).value()) / activation.value();
  if (!(inverse_K > 0.0))
    throw std::invalid_argument("programme: no temperature ages so much in so few hours");
  return Temperature::from_value(1.0 / inverse_K);
}

}  // namespace ohmdrag::rig
