#pragma once

#include <vector>

#include "rig/endurance_pool.hpp"

namespace ohmdrag::rig {

/// Values of all specimens' curves, or of their growth between two hours, as a sample.
struct CurveSample {
  std::vector<double> value;  ///< ln, by specimen
  double mean = 0.0;
  double deviation = 0.0;       ///< s from specimen to specimen; 0 of a single one
  double noise_variance = 0.0;  ///< of one curve at a known tau, mean over the specimens
  double time_variance = 0.0;   ///< of the mean, by the error of tau
  double noise_degrees = 1.0;   ///< of freedom of the two

  bool several() const { return value.size() > 1; }
  /// The mean, with the 95 % interval of the estimate.
  Interval middle() const;
  /// 95 % interval of a further specimen; infinite on both sides of a single one.
  Interval further() const;
  /// Deviation from specimen to specimen without the noise of the curves.
  Interval scatter() const;
  /// Specimens that the mean is worth, its error over s.
  double mean_of() const;
};

/// Curves of a pooled fit as samples.
class CurveSamples {
 public:
  /// \param widening  of the fit's covariance: n over the readings that count
  CurveSamples(const PooledFit& pooled, std::size_t specimens, double widening);

  CurveSample at(double t_s) const { return sample(t_s, nullptr); }
  CurveSample growth_between(double from_s, double to_s) const { return sample(to_s, &from_s); }

 private:
  CurveSample sample(double t_s, const double* from_s) const;

  const PooledFit& pooled_;
  std::size_t specimens_;
  double widening_;
  double degrees_;
};

/// The interval of a value whose variance is a sum of two, each of its degrees of freedom.
Interval welch_interval(double mid, double first, double first_degrees, double second,
                        double second_degrees);

}  // namespace ohmdrag::rig
