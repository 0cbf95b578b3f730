#include "ohmdrag/component/stated_loss.hpp"

#include <cmath>
#include <stdexcept>

namespace ohmdrag::component {

StatedDrag stated_drag(const StatedLoss& loss, AngularVelocity speed) {
  if (!(loss.power.value() >= 0.0 && loss.at.value() > 0.0))
    throw std::invalid_argument(
        "stated loss: power must not be negative and its speed must be positive");
  if (!(loss.torque_exponent >= -1.0 && loss.torque_exponent <= 2.0))
    throw std::invalid_argument("stated loss: the torque exponent must lie between -1 and 2");

  if (std::isnan(speed.value())) throw std::invalid_argument("stated loss: the speed is undefined");

  const Torque at_stated = loss.power / loss.at;
  if (speed.value() == 0.0) {
    const bool constant_torque = loss.torque_exponent == 0.0;
    return {.torque = constant_torque ? at_stated : Torque{}, .power = Power{}};
  }
  const double ratio = std::abs((speed / loss.at).value());
  const Torque torque =
      at_stated * std::copysign(std::pow(ratio, loss.torque_exponent), speed.value());
  return {.torque = torque, .power = torque * speed};
}

}  // namespace ohmdrag::component
