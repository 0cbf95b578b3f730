#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "rig/friction_problem.hpp"

namespace ohmdrag::rig {

/// A form held against the run by plain squares, readings far off apart.
struct TriedForm {
  const FrictionForm* form = nullptr;
  numerics::LeastSquaresFit fit;
  double aicc = 0.0;
  double above_least = 0.0;
  double weight = 0.0;  ///< Akaike's
  /// Standard deviation of its AICc less that of the chosen form, by what the tare may be off:
  /// readings share it, and AICc takes them as independent.
  double doubt = 0.0;
};

struct FormChoice {
  std::vector<TriedForm> tried;      ///< in the order of the forms
  std::size_t chosen = 0;            ///< of those tried: a form of the named law
  std::vector<std::size_t> far_off;  ///< data that the best form lists; none is left out of the fit
};

/// Support by AICc: within `alike` of each other, two laws cannot be told apart; beyond
/// `no_support`, one has essentially none. Source: K. P. Burnham, D. R. Anderson, Model Selection
/// and Multimodel Inference, 2002, section 2.6 (from memory).
inline constexpr double alike = 2.0, no_support = 10.0;

/// Whether the fit tells a parameter of a form.
bool tells(const numerics::LeastSquaresFit& fit, std::size_t parameter);

/// Tries the forms, the first being of the named law, and chooses among those of that law.
/// \param notes  takes which forms the run does not tell
/// \throws std::invalid_argument if no form of the named law can be fitted
FormChoice choose_form(const FrictionProblem& problem, const std::vector<FrictionForm>& forms,
                       const Nuisance& nuisance, std::vector<std::string>& notes);

}  // namespace ohmdrag::rig
