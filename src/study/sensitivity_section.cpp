#include "study/sensitivity_section.hpp"

#include <oneapi/tbb/parallel_invoke.h>

#include "study/evidence_dial.hpp"
#include "study/first_order.hpp"
#include "study/headline_models.hpp"
#include "study/rank_stability.hpp"
#include "study/stress_test.hpp"

namespace ohmdrag::study {
namespace {

RankStability ranks_in_draws(const ChoiceRule& rule) {
  const Ensemble& ensemble = rule.ensemble();
  std::vector<std::string> ids;
  for (const Variant& one : ensemble.question->variants) ids.push_back(one.id);
  std::vector<std::vector<std::optional<double>>> costs;
  for (std::size_t i = 0; i < ensemble.samples.front().size(); ++i)
    costs.push_back(rule.admissible(drawn_variants(ensemble, i)));
  return rank_stability(ids, costs);
}

}  // namespace

void fill_sensitivity(const Ensemble& ensemble, Findings& findings) {
  const Case& question = *ensemble.question;
  const Trade& trade = *findings.trade;
  SensitivityFindings& result = findings.sensitivity.emplace();
  const std::size_t variant = headline_variant(ensemble, trade);
  const ChoiceRule rule = choice_rule(ensemble, findings.variants);

  // Independent of each other, and each waits for its slowest run now and then.
  RankStability ranks;
  oneapi::tbb::parallel_invoke(
      [&] { result.stress = stress_test(rule, trade); }, [&] { rank_register(ensemble, findings); },
      [&] { result.dial = evidence_dial(question, trade, variant, result.opened); },
      [&] {
        if (findings.no_first_order.empty()) findings.first_order = first_order(ensemble);
      },
      [&] { ranks = ranks_in_draws(rule); });
  result.dial_sentence = stands_down(result.dial);
  result.ranks = std::move(ranks.rows);
  result.rank_pairs = std::move(ranks.pairs);
  result.argument_against = argument_against(findings);
}

}  // namespace ohmdrag::study
