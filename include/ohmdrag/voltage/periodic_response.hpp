#pragma once

#include <complex>
#include <memory>
#include <vector>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/coupling.hpp"
#include "ohmdrag/voltage/path.hpp"
#include "ohmdrag/voltage/waveform.hpp"

/// The shaft voltage under a common mode that repeats.
namespace ohmdrag::voltage {

/// Node and path in the periodic steady state: every edge with what the earlier ones left, and
/// every oscillation with the tails of those before.
///
/// The state equations of edge_response.hpp mode by mode, z' = p z + weight * BVR dv_cm/dt: between
/// two corners in closed form, over the period a fixed point, z(0) = (what one period leaves) /
/// (1 - exp(p T)).
///
/// Validity  bearing films intact, no discharge; uniform common mode (MHz figures +-6 dB). The mean
///           of the common mode does not reach the shaft, with a path or without (a shaft without a
///           path floats to zero by its leakage).
/// Limits    BVR (v_cm - mean) without a path; 0 for R = L = 0. A single edge of a period that the
///           path forgets is edge_response.hpp's, with its fall from what stood before.
/// Accuracy  rounding; the largest value 1e-4 (sampled, then refined).
/// Source    derived: periodic steady state of a linear circuit.
class PeriodicResponse {
 public:
  /// \throws std::invalid_argument for an undefined node, path or waveform; for a path with
  ///         inductance and no resistance (no steady state).
  PeriodicResponse(const ShaftNode& node, const MaybePath& path, Waveform waveform);

  /// Shaft voltage at any time.
  Voltage at(Time time) const;

  struct Largest {
    Voltage magnitude;
    Time at;  ///< in [0, period)
  };
  /// Largest |v| of the period.
  Largest largest() const;

  /// Harmonic n of the shaft voltage as a one-sided complex amplitude, by attenuation() of the
  /// waveform's harmonic: another route to the same voltage. 0 for n = 0.
  /// \throws std::invalid_argument for n < 0.
  std::complex<double> harmonic_V(int n) const;
  /// Harmonics 0 to up_to.
  std::vector<std::complex<double>> harmonics_V(int up_to) const;

 private:
  struct Solved;
  std::shared_ptr<const Solved> solved_;
};

}  // namespace ohmdrag::voltage
