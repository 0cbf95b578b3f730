#include "ohmdrag/bearing/damage_sum.hpp"

#include <cmath>
#include <stdexcept>

namespace ohmdrag::bearing {

namespace {

void require_share(double share) {
  if (!(share >= 0.0 && std::isfinite(share)))
    throw std::invalid_argument("damage sum: shares of time must be finite and not negative");
}

struct Turning {
  double share = 0.0, revolutions = 0.0;  // sum q, sum |omega| q
};

Turning turning(std::span<const LoadShare> duty) {
  Turning sum;
  for (const auto& part : duty) {
    require_share(part.share);
    sum.share += part.share;
    sum.revolutions += std::abs(part.omega.value()) * part.share;
  }
  if (!(sum.revolutions > 0.0))
    throw std::invalid_argument("damage sum: the shaft does not turn in any share of time");
  return sum;
}

}  // namespace

Time mixed_life(std::span<const LifeShare> duty) {
  double share = 0.0, rate_per_s = 0.0;
  for (const auto& part : duty) {
    require_share(part.share);
    share += part.share;
    rate_per_s += damage(Time::from_value(part.share), part.life);
  }
  if (!(share > 0.0)) throw std::invalid_argument("damage sum: the shares of time sum to zero");
  return Time::from_value(share / rate_per_s);  // infinite where nothing is consumed
}

double damage(Time running, Time life) {
  if (!(running >= Time{})) throw std::invalid_argument("damage: time must not be negative");
  if (!(life > Time{})) throw std::invalid_argument("damage: life must be positive");
  return running / life;
}

Force mean_equivalent_load(std::span<const LoadShare> duty, double exponent) {
  if (!(exponent > 0.0)) throw std::invalid_argument("mean load: exponent must be positive");
  const Turning total = turning(duty);
  double sum = 0.0;
  for (const auto& part : duty) {
    if (!(part.load >= Force{}))
      throw std::invalid_argument("mean load: load must not be negative");
    sum += std::pow(part.load.value(), exponent) * std::abs(part.omega.value()) * part.share;
  }
  return Force::from_value(std::pow(sum / total.revolutions, 1.0 / exponent));
}

AngularVelocity mean_speed(std::span<const LoadShare> duty) {
  const Turning total = turning(duty);
  return AngularVelocity::from_value(total.revolutions / total.share);
}

}  // namespace ohmdrag::bearing
