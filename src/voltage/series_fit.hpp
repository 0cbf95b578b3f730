#pragma once

#include <complex>
#include <vector>

/// Resistance, inductance and films in series, fitted to an impedance over frequency. Kernel of
/// measured_path.cpp; SI throughout.
namespace ohmdrag::voltage {

/// An impedance to be met and how much an ohm beside it counts.
struct SeriesTarget {
  double w_rad_s;
  std::complex<double> z_ohm;
  double weight_per_ohm;
};
using SeriesTargets = std::vector<SeriesTarget>;

struct Series {
  double r_ohm = 0.0;
  double l_H = 0.0;
  struct Film {
    double r_ohm;
    double time_s;
    std::complex<double> impedance_ohm(double w_rad_s) const {
      return r_ohm / std::complex<double>{1.0, w_rad_s * time_s};
    }
  };
  std::vector<Film> films;  ///< rising time constants

  std::complex<double> impedance_ohm(double w_rad_s) const;
};

/// The series that comes nearest, with as few films as do it: time constants on a grid that closes
/// in on those in use, then neighbours brought together as long as the misfit hardly grows. Films
/// below 0.1 % of the weighted impedance everywhere are left out, and an inductance below that.
/// \param targets  rising in frequency, three or more
Series fitted_series(const SeriesTargets& targets, std::size_t most_films);

}  // namespace ohmdrag::voltage
