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
  bool over_duties = false;  ///< marches them, so it costs more
  std::function<double(const Draw&)> at;
};

/// The variant that the study chooses; where it keeps the present design or chooses none, the first
/// one with a grounding element.
std::size_t headline_variant(const Ensemble& ensemble, const Trade& trade);

/// Net watts of the headline variant at the headline point, its energy at the battery, the
/// discharge dose of the baseline, and how far the edge on its shaft lies above the threshold; as
/// far as the case has them.
std::vector<HeadlineModel> headline_models(const Ensemble& ensemble, const Trade& trade);

}  // namespace ohmdrag::study
