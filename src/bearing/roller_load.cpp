#include "ohmdrag/bearing/roller_load.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace ohmdrag::bearing {

std::vector<Force> roller_loads(const RollerBearing& bearing, Force radial, Force axial,
                                double phase) {
  require_valid(bearing);
  const double radial_N = std::abs(radial.value());
  const double axial_N = std::abs(axial.value());
  const double sin_angle = std::sin(bearing.contact_angle);
  const double cos_angle = std::cos(bearing.contact_angle);
  std::vector<double> shares;
  double along_load = 0.0, of_all = 0.0;
  for (int i = 0; i < bearing.rollers; ++i) {
    const double towards = std::cos(2.0 * std::numbers::pi * (i + phase) / bearing.rollers);
    const double share = towards > 0.0 ? std::pow(towards, 10.0 / 9.0) : 0.0;
    shares.push_back(share);
    along_load += share * towards;
    of_all += share;
  }
  const double worst_N = radial_N / (cos_angle * along_load);
  const double even_N = sin_angle > 0.0 ? std::max(0.0, axial_N - worst_N * of_all * sin_angle) /
                                              (bearing.rollers * sin_angle)
                                        : 0.0;
  if (!(std::isfinite(worst_N) && std::isfinite(even_N) && worst_N + even_N > 0.0))
    throw std::invalid_argument("roller bearing: its rollers must carry a finite load");
  std::vector<Force> loads;
  for (const double share : shares) loads.push_back(Force::from_value(worst_N * share + even_N));
  return loads;
}

std::vector<std::vector<Force>> roller_loads_over_phase(const RollerBearing& bearing, Force radial,
                                                        Force axial, int count) {
  if (!(count >= 1))
    throw std::invalid_argument("roller bearing: at least one cage position is needed");
  std::vector<std::vector<Force>> phases;
  for (int i = 0; i < count; ++i)
    phases.push_back(roller_loads(bearing, radial, axial, (i + 0.5) / (2.0 * count)));
  return phases;
}

}  // namespace ohmdrag::bearing
