#include "ohmdrag/life/combined_life.hpp"

#include <array>

namespace ohmdrag::life {

using bearing::Weibull;

Time linear_damage_life(Time mechanical, std::optional<Time> electrical) {
  if (!electrical) return mechanical;
  return bearing::system_l10(std::array{mechanical, *electrical}, 1.0);
}

Time competing_risks_life(const Weibull& mechanical, const std::optional<Weibull>& electrical) {
  if (!electrical) return mechanical.l10;
  if (mechanical.slope == electrical->slope)
    return bearing::system_l10(std::array{mechanical.l10, electrical->l10}, mechanical.slope);
  return bearing::system_l10(std::array{mechanical, *electrical});
}

double event_probability(Time service, const Weibull& mechanical,
                         const std::optional<Weibull>& electrical) {
  const double by_fatigue = bearing::failure_probability(mechanical, service);
  if (!electrical) return by_fatigue;
  // 1 - (1 - a)(1 - b), without the cancellation where both are small.
  const double by_current = bearing::failure_probability(*electrical, service);
  return by_fatigue + by_current * (1.0 - by_fatigue);
}

}  // namespace ohmdrag::life
