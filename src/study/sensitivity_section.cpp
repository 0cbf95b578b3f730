#include "study/sensitivity_section.hpp"

#include <oneapi/tbb/parallel_invoke.h>

#include "study/evidence_dial.hpp"
#include "study/headline_models.hpp"
#include "study/rank_stability.hpp"
#include "study/stress_test.hpp"

namespace ohmdrag::study {

void fill_sensitivity(const Ensemble& ensemble, Findings& findings) {
  const Case& question = *ensemble.question;
  const Trade& trade = *findings.trade;
  SensitivityFindings& result = findings.sensitivity.emplace();
  const std::size_t variant = headline_variant(ensemble, trade);
  const ChoiceRule rule = choice_rule(ensemble, findings.variants);

  // Independent of each other, and each waits for its slowest run now and then.
  oneapi::tbb::parallel_invoke(
      [&] { rank_register(ensemble, findings); },
      [&] { result.dial = evidence_dial(question, trade, variant, result.opened); },
      [&] { result.stress = stress_test(rule, trade); });
  result.dial_sentence = stands_down(result.dial);

  std::vector<std::string> ids;
  for (const Variant& one : question.variants) ids.push_back(one.id);
  std::vector<std::vector<std::optional<double>>> costs;
  for (std::size_t i = 0; i < ensemble.samples.front().size(); ++i)
    costs.push_back(rule.admissible(drawn_variants(ensemble, i)));
  RankStability ranks = rank_stability(ids, costs);
  result.ranks = std::move(ranks.rows);
  result.rank_pairs = std::move(ranks.pairs);
  result.argument_against = argument_against(findings);
}

}  // namespace ohmdrag::study
