#include "study/sensitivity_section.hpp"

#include "study/evidence_dial.hpp"
#include "study/headline_models.hpp"
#include "study/rank_stability.hpp"
#include "study/stress_test.hpp"

namespace ohmdrag::study {

void fill_sensitivity(const Ensemble& ensemble, Findings& findings) {
  const Case& question = *ensemble.question;
  const Trade& trade = *findings.trade;
  SensitivityFindings& result = findings.sensitivity.emplace();
  rank_register(ensemble, findings);

  const std::size_t variant = headline_variant(ensemble, trade);
  result.dial = evidence_dial(question, trade, variant, result.opened);
  result.dial_sentence = stands_down(result.dial);

  const ChoiceRule rule = choice_rule(ensemble, findings.variants);
  std::vector<std::string> ids;
  for (const Variant& one : question.variants) ids.push_back(one.id);
  std::vector<std::vector<std::optional<double>>> costs;
  for (std::size_t i = 0; i < ensemble.samples.front().size(); ++i)
    costs.push_back(rule.admissible(drawn_variants(ensemble, i)));
  RankStability ranks = rank_stability(ids, costs);
  result.ranks = std::move(ranks.rows);
  result.rank_pairs = std::move(ranks.pairs);

  result.stress = stress_test(rule, trade);
  result.argument_against = argument_against(findings);
}

}  // namespace ohmdrag::study
