#pragma once

#include <span>
#include <string>
#include <vector>

#include "ohmdrag/numerics/least_squares.hpp"
#include "rig/friction_forms.hpp"
#include "rig/friction_tare.hpp"

namespace ohmdrag::rig {

/// Refuses what cannot be a run of friction.
/// \throws std::invalid_argument
void require_plausible(const FrictionRun& run);
/// The same after the tare; `friction` is the coefficient at every reading.
void require_plausible_friction(const FrictionRun& run, const std::vector<double>& friction);

/// A reading as the fit sees it, of one element in the mean.
struct FrictionDatum {
  std::size_t point = 0;  ///< of the run
  double torque_Nm = 0.0, error_Nm = 1.0;
  FrictionState state;
  double unit_torque_Nm = 0.0;  ///< F' pi d^2/2: torque at a coefficient of one
  std::vector<std::pair<std::size_t, double>> levels;  ///< of which specimens, adding up to one
  double sweep = 0.0;                                  ///< 1/2 up, -1/2 down
  double time_s = 0.0;
  std::vector<std::pair<std::size_t, double>> tare_knots;
};

/// What beside the law is sought.
struct Nuisance {
  bool sweeps = false;
  bool run_in = false;
};

/// The readings of a run, ready to be fitted with any form.
class FrictionProblem {
 public:
  /// \param notes  takes what was left out, and why
  /// \throws std::invalid_argument
  FrictionProblem(const FrictionRun& run, std::vector<std::string>& notes);

  const std::vector<FrictionDatum>& data() const { return data_; }
  const std::vector<std::string>& specimens() const { return specimens_; }
  bool resolved_pairs() const { return resolved_pairs_; }
  std::size_t outside_tare() const { return outside_tare_; }
  const std::vector<double>& tare_errors_Nm() const { return tare_errors_Nm_; }
  bool two_sweeps() const;
  std::size_t distinct_speeds() const;
  double mean_friction() const;

  // Moved by what the readings share.
  FrictionProblem with_force(double factor) const;
  FrictionProblem with_torque(double factor) const;
  FrictionProblem with_tare(std::size_t knot, double by_Nm) const;
  FrictionProblem without(const std::vector<std::size_t>& data) const;
  FrictionProblem from(double time_s) const;

  /// Constants of the form, levels of all specimens but the last, sweeps, run-in.
  struct Columns {
    std::size_t levels, sweeps, run_in, count;
  };
  Columns columns(const FrictionForm& form, const Nuisance& nuisance) const;
  /// The best of the searches from all starts.
  /// \throws std::invalid_argument if there are too few readings
  numerics::LeastSquaresFit fit(const FrictionForm& form, const Nuisance& nuisance,
                                numerics::Loss loss) const;
  /// Level of a specimen, and its slopes over the parameters.
  static double level(std::size_t specimen, std::size_t specimens, std::size_t first_column,
                      std::span<const double> at, std::span<double> slopes);

 private:
  void take_points(const FrictionRun& run, std::vector<std::string>& notes);
  void take_specimens(const FrictionRun& run, std::vector<std::string>& notes);
  void find_sweeps(const FrictionRun& run);
  void weigh(const FrictionRun& run);
  void evaluate(const FrictionForm& form, const Columns& at, std::span<const double> parameters,
                std::span<double> residuals, std::span<double> slopes) const;

  std::vector<FrictionDatum> data_;
  std::vector<std::string> specimens_;
  std::vector<double> tare_errors_Nm_;
  std::size_t outside_tare_ = 0;
  bool resolved_pairs_ = false;
};

}  // namespace ohmdrag::rig
