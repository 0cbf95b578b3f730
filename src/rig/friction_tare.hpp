#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "ohmdrag/rig/friction_run.hpp"

namespace ohmdrag::rig {

/// What turns without the specimen, between the speeds at which it was read.
class TareCurve {
 public:
  /// \param notes  takes what is not known of it
  /// \throws std::invalid_argument for readings that make no tare
  TareCurve(const Tare& tare, std::vector<std::string>& notes);

  struct At {
    double torque_Nm = 0.0;
    std::vector<std::pair<std::size_t, double>> knots;  ///< which it rests on, and how much
  };
  /// None where there is no reading at or around the speed.
  std::optional<At> at(double speed_rad_s) const;
  /// Standard errors of the knots, independent of each other.
  const std::vector<double>& errors_Nm() const { return errors_Nm_; }

 private:
  void take_readings(const std::vector<TareReading>& readings, std::vector<std::string>& notes);

  bool everywhere_ = false;
  std::vector<double> speed_rad_s_;  ///< rising
  std::vector<double> torque_Nm_, errors_Nm_;
};

}  // namespace ohmdrag::rig
