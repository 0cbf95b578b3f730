#pragma once

#include <functional>
#include <string>
#include <vector>

#include "study/input_space.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {

/// A figure that a reader of the trade study weighs, anywhere among the inputs.
struct HeadlineModel {
  std::string figure;  ///< "net W of dense-ring at cruise"
  std::string unit;
  enum class Costs { watts, voltage, duties };
  Costs costs = Costs::watts;  ///< what has to be computed for it
  std::function<double(const Draw&)> at;
  std::vector<double> drawn = {};  ///< by draw of the ensemble; empty: not among what it took
};

/// The variant that the study chooses; where it keeps the present design or chooses none, the first
/// one with a grounding element.
std::size_t headline_variant(const Ensemble& ensemble, const Trade& trade);

/// Net watts of the headline variant at the headline point, the discharge dose of the baseline
/// there and its ratio to that of the variant, the variant's energy at the battery; as far as the
/// case has them. Doses are decimal logarithms.
std::vector<HeadlineModel> headline_models(const Ensemble& ensemble, const Trade& trade);

}  // namespace ohmdrag::study
