#include "ohmdrag/energy/load_curve.hpp"

#include <algorithm>
#include <stdexcept>

namespace ohmdrag::energy {

LoadCurve::LoadCurve(std::vector<Torque> torque, std::vector<Force> radial,
                     std::vector<Force> axial)
    : torque_(std::move(torque)), radial_(std::move(radial)), axial_(std::move(axial)) {
  if (torque_.empty() || torque_.size() != radial_.size() || torque_.size() != axial_.size())
    throw std::invalid_argument("bearing loads: torque, radial and axial need equally many rows");
  for (std::size_t i = 1; i < torque_.size(); ++i)
    if (!(torque_[i] > torque_[i - 1]))
      throw std::invalid_argument("bearing loads: torque must rise from row to row");
}

BearingLoads LoadCurve::at(Torque torque) const {
  if (torque_.size() == 1) return {radial_[0], axial_[0], false};
  if (torque <= torque_.front()) return {radial_.front(), axial_.front(), torque < torque_.front()};
  if (torque >= torque_.back()) return {radial_.back(), axial_.back(), torque > torque_.back()};
  const auto above = std::upper_bound(torque_.begin(), torque_.end(), torque);
  const auto i = static_cast<std::size_t>(above - torque_.begin());
  const double share = (torque - torque_[i - 1]) / (torque_[i] - torque_[i - 1]);
  return {radial_[i - 1] + share * (radial_[i] - radial_[i - 1]),
          axial_[i - 1] + share * (axial_[i] - axial_[i - 1]), false};
}

}  // namespace ohmdrag::energy
