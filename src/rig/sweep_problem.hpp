#pragma once

#include <array>
#include <complex>
#include <vector>

#include "ohmdrag/numerics/least_squares.hpp"
#include "ohmdrag/rig/sweep_fit.hpp"

/// Residuals of the models of a sweep. SI throughout.
namespace ohmdrag::rig {

enum class CircuitPart { resistance, inductance, capacitance, film_resistance, film_capacitance };
inline constexpr std::size_t circuit_parts = 5;

/// Parts of a model, in the order of its parameters.
std::vector<CircuitPart> parts_of(SweepModel model);

/// Sizes of all parts, SI; zero for what a model has not.
using CircuitSizes = std::array<double, circuit_parts>;

voltage::GroundingPath path_of(const CircuitSizes& sizes);

/// Impedance of a circuit and its slopes over the logarithm of each part.
struct CircuitPoint {
  std::complex<double> ohm;
  std::array<std::complex<double>, circuit_parts> slope;
};
CircuitPoint circuit_at(const CircuitSizes& sizes, double w_rad_s);

/// One model over one sweep; parameters are logarithms of the parts, residuals two a point.
class SweepProblem {
 public:
  /// \param sweep  outlives the problem
  SweepProblem(const Sweep& sweep, SweepModel model);

  std::size_t parameters() const { return parts_.size(); }
  /// The least sum of squares from several starts.
  numerics::LeastSquaresFit from_scratch() const;
  /// \param points  empty: all
  numerics::LeastSquaresFit from(const std::vector<double>& start, numerics::Loss loss,
                                 const std::vector<std::size_t>& points = {}) const;
  CircuitSizes sizes(const std::vector<double>& parameters) const;
  const std::vector<CircuitPart>& parts() const { return parts_; }

 private:
  const Sweep& sweep_;
  SweepModel model_;
  std::vector<CircuitPart> parts_;
};

/// Where searches for a model begin.
std::vector<CircuitSizes> guesses(const Sweep& sweep, SweepModel model);

}  // namespace ohmdrag::rig
