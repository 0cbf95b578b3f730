#pragma once

#include <span>
#include <string>
#include <vector>

#include "ohmdrag/numerics/least_squares.hpp"
#include "rig/sump_model.hpp"

namespace ohmdrag::rig {

/// What a heat leaves to be found.
enum class Heat {
  known,
  unknown,  ///< constant: capacity and conductance per watt
  none,     ///< the oil cools: conductance per heat capacity
};

/// The residuals of a run over its parameters: capacity, conductance, what the air stream adds, and
/// a start temperature a piece; the first three only where they are sought.
class SumpProblem {
 public:
  /// \param notes  takes what is not sought, and why
  SumpProblem(const SumpRun& run, std::vector<std::string>& notes);

  Heat heat() const { return heat_; }
  bool with_air() const { return with_air_; }
  const std::vector<SumpSteps>& pieces() const { return pieces_; }
  std::size_t samples() const;
  double duration_s() const;
  double mean_air() const;

  std::vector<numerics::FitParameter> start() const;
  /// As numerics::ResidualFunction; residuals are measured less modelled, in kelvin.
  void evaluate(std::span<const double> at, std::span<double> residuals,
                std::span<double> slopes) const;

 private:
  Heat kind_of_heat(const SumpRun& run, std::vector<std::string>& notes) const;
  bool air_can_be_told(const SumpRun& run, std::vector<std::string>& notes) const;
  std::size_t column_of(std::size_t seed, std::size_t piece) const;
  bool sought(std::size_t seed) const;

  std::vector<SumpSteps> pieces_;
  Heat heat_;
  bool with_air_;
};

}  // namespace ohmdrag::rig
