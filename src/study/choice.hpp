#pragma once

#include <optional>
#include <span>
#include <vector>

#include "study/sections.hpp"

/// Which variant a single draw would choose: requirements first, then what helps, then the least
/// watts.
namespace ohmdrag::study {

/// Better or equal in every criterion and better in one, draw by draw in 95 % of the draws.
/// \param a, b  [criterion][draw]; less is better
bool dominates(std::span<const std::vector<double>> a, std::span<const std::vector<double>> b);

/// All variants of a case in one draw.
using DrawnVariants = std::vector<const VariantSample*>;

/// The rule of the trade study, applied to a single draw of an ensemble.
class ChoiceRule {
 public:
  /// \param harms  per variant, whether it harms the bearings: then it is never chosen. From the
  ///               whole ensemble, for a single draw cannot show it.
  ChoiceRule(const Ensemble& ensemble, std::vector<bool> harms);

  /// What a variant costs against the baseline: energy over the mix where there is a duty (Wh/km,
  /// or mean W of a machine), else the mean watts over the operating points.
  double cost(const VariantSample& sample, const VariantSample& baseline) const;
  /// Dose of the baseline over that of the variant; 1 without a duty.
  double gain(const VariantSample& sample, const VariantSample& baseline) const;

  /// The cost of each variant that may be chosen; nothing for those that miss a requirement, do not
  /// help or harm. The present design may be chosen only where nothing is required, and stands
  /// behind all others then: its cost is infinite.
  std::vector<std::optional<double>> admissible(const DrawnVariants& drawn) const;

  /// The cheapest of those; nothing where there is none.
  static std::optional<std::size_t> choice(const std::vector<std::optional<double>>& admissible);

  bool anything_required() const { return !ensemble_->question->requirements.empty(); }
  bool harms(std::size_t variant) const { return harms_[variant]; }
  const Ensemble& ensemble() const { return *ensemble_; }

 private:
  bool meets_all(std::size_t v, const VariantSample& sample, const VariantSample& baseline) const;

  const Ensemble* ensemble_;
  ServiceMix mix_;
  std::vector<bool> harms_;
};

/// The rule with the harm that the findings of the variants tell.
ChoiceRule choice_rule(const Ensemble& ensemble, const std::vector<VariantFindings>& variants);

/// The variants of an ensemble in one of its draws.
DrawnVariants drawn_variants(const Ensemble& ensemble, std::size_t draw);

}  // namespace ohmdrag::study
