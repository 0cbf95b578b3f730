#pragma once

#include <functional>
#include <limits>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "ohmdrag/rig/friction_run.hpp"

namespace ohmdrag::rig {

/// Where a law is asked, in plain SI.
struct FrictionState {
  double speed_m_s = 0.0;
  double line_force_N_m = 0.0;
  double viscosity_Pa_s = 0.0;  ///< 0: unknown
};

struct FormParameter {
  std::string key, name;
  bool level = false;
  std::vector<double> starts;  ///< tried in turn; > 0, as the bounds are
  double high = std::numeric_limits<double>::infinity();
};

/// A law of contact/friction.hpp, or a simpler form of one, over the constants that a run may tell.
struct FrictionForm {
  std::string law;  ///< word of `friction_law`
  std::string title;
  std::vector<FormParameter> parameters;
  std::vector<std::pair<std::string, double>> held;
  bool film = false;  ///< needs the viscosity
  /// Friction coefficient, and its slopes over the parameters.
  std::function<double(std::span<const double>, const FrictionState&, std::span<double>)> friction;
};

/// The forms that apply to a run: first the law it names, from the fullest form to the simplest,
/// then its rivals. `mean_friction` of the run, to start from.
/// \param notes  takes which laws do not apply, and why
/// \throws std::invalid_argument if the named law lacks what it needs, or is no law
std::vector<FrictionForm> friction_forms(const FrictionRun& run, double mean_friction,
                                         std::vector<std::string>& notes);

}  // namespace ohmdrag::rig
