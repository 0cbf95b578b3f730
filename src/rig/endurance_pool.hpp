#pragma once

#include <optional>
#include <vector>

#include "ohmdrag/numerics/least_squares.hpp"
#include "rig/endurance_growth.hpp"

namespace ohmdrag::rig {

/// Readings of one specimen, as the fit takes them.
struct EnduranceSeries {
  std::vector<double> time_s;
  std::vector<double> ln_ohm;
};

struct EnduranceData {
  std::vector<EnduranceSeries> specimens;
  double reference_s = 0.0;  ///< growth counts up to it
  std::size_t readings = 0;
};

/// All specimens with one law: a level and a growth each, one time.
struct PooledFit {
  GrowthLaw law = GrowthLaw::none;
  double reference_s = 0.0;
  bool with_time = false;  ///< ln(tau) is a parameter; else it is held, or there is none
  double log_time = 0.0;
  /// Parameters: level of each specimen, then with its growth after it, ln(tau) last.
  numerics::LeastSquaresFit fit;

  std::size_t stride() const { return law == GrowthLaw::none ? 1 : 2; }
  double level(std::size_t specimen) const { return fit.parameter[stride() * specimen]; }
  double growth_of(std::size_t specimen) const {
    return law == GrowthLaw::none ? 0.0 : fit.parameter[stride() * specimen + 1];
  }
  /// Deviation of ln Z within a specimen: robust where there are outliers.
  double noise() const;
};

/// tau over the reference time lies between.
inline constexpr double least_time = 1e-4, largest_time = 30.0;

/// Its fit has not converged where the search finds no end.
PooledFit fit_pooled(const EnduranceData& data, GrowthLaw law);

/// How badly a law meets the readings, in noise of a deviation: twice Huber's loss, summed.
double misfit(const PooledFit& pooled, double noise);

}  // namespace ohmdrag::rig
