#pragma once

#include <complex>
#include <vector>

#include "ohmdrag/voltage/path.hpp"

/// The series branch of a path in numbers, and what its impedance does off the axis of
/// frequencies. SI throughout.
namespace ohmdrag::voltage {

/// \throws std::invalid_argument if a member is negative.
void require_defined(const GroundingPath& path);

struct Branch {
  struct Leak {
    double r_ohm;  ///< > 0
    double c_F;    ///< > 0
    double rate_per_s() const { return 1.0 / (r_ohm * c_F); }
  };

  /// Films without a capacitance have become resistance, those of one time constant one film.
  /// \throws std::invalid_argument as require_defined.
  explicit Branch(const GroundingPath& path);

  std::complex<double> impedance_ohm(std::complex<double> s_per_s) const;
  /// dZ/ds, in ohm s.
  std::complex<double> impedance_slope(std::complex<double> s_per_s) const;
  bool conducts_perfectly() const { return r_ohm == 0.0 && l_H == 0.0 && films.empty(); }
  bool dissipates() const { return r_ohm > 0.0 || !films.empty(); }

  double r_ohm = 0.0;
  double l_H = 0.0;
  std::vector<Leak> films;
};

}  // namespace ohmdrag::voltage
