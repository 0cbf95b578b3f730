#pragma once

#include <vector>

#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::energy {

struct BearingLoads {
  Force radial;
  Force axial;
  bool held = false;  ///< the torque lies beyond the curve: its end value was kept
};

/// Loads of one bearing over the torque of its shaft, drive positive, linear between the rows.
/// One row means constant loads at every torque.
class LoadCurve {
 public:
  /// \throws std::invalid_argument if the lists differ in length, are empty, or torque does not
  ///         rise from row to row.
  LoadCurve(std::vector<Torque> torque, std::vector<Force> radial, std::vector<Force> axial);

  /// Beyond the rows the end value is kept and the result says so.
  BearingLoads at(Torque torque) const;

  bool operator==(const LoadCurve&) const = default;

 private:
  std::vector<Torque> torque_;
  std::vector<Force> radial_;
  std::vector<Force> axial_;
};

}  // namespace ohmdrag::energy
