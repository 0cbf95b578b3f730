#include <fmt/format.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/side_by_side.hpp"
#include "study/choice.hpp"
#include "study/exchange.hpp"

namespace ohmdrag::study {
namespace {

/// Why the present design stays: the verdicts of the candidates, or that there are none.
std::string kept_present(const std::vector<ExchangeRow>& exchange, std::size_t baseline) {
  std::vector<const ExchangeRow*> others;
  for (std::size_t v = 0; v < exchange.size(); ++v)
    if (v != baseline) others.push_back(&exchange[v]);
  const auto alike = [&](const ExchangeRow* row) { return row->verdict == others[0]->verdict; };
  std::string text;
  if (others.empty()) {
    text = "Keep the present design: there is no other variant.";
  } else if (others[0]->verdict.starts_with(nothing_strikes) &&
             std::ranges::all_of(others, alike)) {
    text =
        "Do not ground here: nothing strikes in the model without a grounding element, so its "
        "watts buy nothing" +
        others[0]->verdict.substr(sizeof nothing_strikes - 1) + ".";
  } else if (std::ranges::all_of(others, alike)) {
    text = others[0]->verdict + ".";
    if (text.starts_with("do not"))
      text.front() = 'D';
    else
      text = "Keep the present design: " + text;
  } else {
    text = "Keep the present design.";
    for (const ExchangeRow* row : others) text += " " + row->variant + ": " + row->verdict + ".";
  }
  const ExchangeRow& present = exchange[baseline];
  if (present.requirements_met < present.requirements_asked)
    text += " It does not meet every requirement of the case itself.";
  return text;
}

/// Requirements whose verdict the size of the ensemble does not settle: the share of draws that
/// meets them lies within two standard errors of the share asked for.
std::string close_calls(const Case& question, const std::vector<VariantFindings>& variants,
                        std::size_t draws) {
  std::string text;
  for (const VariantFindings& variant : variants)
    for (std::size_t r = 0; r < variant.requirements.size(); ++r) {
      const RequirementRow& row = variant.requirements[r];
      const double asked = question.requirements[r].share_of_parts;
      const double error = std::sqrt(asked * (1.0 - asked) / double(draws));
      const bool unanimous = row.probability == 0.0 || row.probability == 1.0;
      if (!row.not_applicable && !row.parts && !unanimous &&
          std::abs(row.probability - asked) < 2.0 * error)
        text += fmt::format(
            " Close call: {} meets {} in {} % of {} draws, {} % are asked; more draws "
            "(study.samples) may turn it.",
            variant.id, row.id, print_number(100.0 * row.probability, 3), draws,
            print_number(100.0 * asked, 3));
    }
  return text;
}

/// What the trade weighs, draw by draw.
struct WeighedDraws {
  std::vector<CostAndGain> variants;
  std::vector<std::optional<std::size_t>> best;  ///< the variant that the draw alone would choose
};

WeighedDraws weighed_draws(const ChoiceRule& rule, const ServiceMeans& means) {
  const Ensemble& ensemble = means.ensemble();
  const std::size_t draws = ensemble.samples.front().size();
  WeighedDraws result;
  result.variants.assign(ensemble.samples.size(),
                         {std::vector(draws, 0.0), std::vector(draws, 0.0)});
  result.best.resize(draws);
  oneapi::tbb::parallel_for(std::size_t{0}, draws, [&](std::size_t i) {
    const DrawnVariants drawn = drawn_variants(ensemble, i);
    for (std::size_t v = 0; v < drawn.size(); ++v) {
      result.variants[v].cost[i] = rule.cost(*drawn[v], *drawn[ensemble.baseline]);
      result.variants[v].gain[i] = dose_factor(means.sum(ensemble.baseline)[i], means.sum(v)[i]);
    }
    result.best[i] = ChoiceRule::choice(rule.admissible(drawn));
  });
  return result;
}

}  // namespace

Trade trade(const ServiceMeans& means, const std::vector<VariantFindings>& variants) {
  const Ensemble& ensemble = means.ensemble();
  const Case& question = *ensemble.question;
  const std::size_t count = variants.size();
  const std::size_t draws = ensemble.samples.front().size();
  Trade result;

  const WeighedDraws by_draw = weighed_draws(choice_rule(ensemble, variants), means);
  const auto beats = [&](std::size_t a, std::size_t b) {
    const auto losses = [&](std::size_t v) {
      std::vector<double> dose = by_draw.variants[v].gain;
      for (double& factor : dose) factor = -factor;
      return std::array{by_draw.variants[v].cost, std::move(dose)};
    };
    return dominates(losses(a), losses(b));
  };

  const std::vector<UnitLives> lives = unit_lives(means);
  result.exchange.resize(count);
  side_by_side(count, [&](std::size_t v) {
    result.exchange[v] = exchange_row(means, lives, v, by_draw.variants[v], variants[v]);
  });

  // Dominance before any preference.
  for (std::size_t v = 0; v < count; ++v) {
    bool dominated = false;
    for (std::size_t other = 0; other < count; ++other)
      dominated = dominated || (other != v && beats(other, v));
    result.exchange[v].nondominated = !dominated;
    if (!dominated) result.nondominated.push_back(result.exchange[v].variant);
  }

  // Requirements first; then only what demonstrably helps may displace the present design; then
  // the least watts.
  const bool asked = !question.requirements.empty();
  const auto helps = [&](std::size_t v) {
    // No law here weighs less discharge against a shorter rating life.
    return v != ensemble.baseline && useful(result.exchange[v]) && !harms_bearings(variants[v]);
  };
  const auto meets = [&](std::size_t v) {
    return result.exchange[v].requirements_met == result.exchange[v].requirements_asked;
  };
  const auto median_cost = [&](std::size_t v) { return interval_of(by_draw.variants[v].cost).mid; };
  std::optional<std::size_t> chosen;
  for (std::size_t v = 0; v < count; ++v)
    if (meets(v) && helps(v) && (!chosen || median_cost(v) < median_cost(*chosen))) chosen = v;

  std::vector<std::size_t> best_in(count);
  for (const auto& best : by_draw.best)
    if (best) ++best_in[*best];
  for (std::size_t v = 0; v < count; ++v)
    result.exchange[v].probability_best = double(best_in[v]) / double(draws);

  const bool any_useful = [&] {
    for (std::size_t v = 0; v < count; ++v)
      if (helps(v)) return true;
    return false;
  }();
  if (chosen) {
    const ExchangeRow& row = result.exchange[*chosen];
    result.chosen = row.variant;
    result.reason = fmt::format("{}, {}, and it costs the least energy of those.",
                                asked ? "It meets every requirement with the asked probability"
                                      : "No requirement says how much is enough",
                                row.verdict);
    for (std::size_t v = 0; v < count; ++v)
      if (v != *chosen && v != ensemble.baseline && beats(*chosen, v))
        result.reason += fmt::format(" {} takes no more discharge dose away and costs no less.",
                                     question.variants[v].id);
  } else if (!any_useful) {
    result.chosen = question.variants[ensemble.baseline].id;
    result.reason = kept_present(result.exchange, ensemble.baseline);
  } else {
    result.reason =
        "No variant that demonstrably helps meets every requirement with the asked probability; "
        "the "
        "requirements table shows which edge each of them misses.";
  }
  for (std::size_t v = 0; v < count; ++v)
    if (question.variants[v].id == result.chosen) {
      result.probability_best = result.exchange[v].probability_best;
      result.claim = claim(question, question.variants[v], ensemble.sections);
      if (!ensemble.samples[v].front().duties.empty())
        for (std::size_t c = 0; c < credit_us.size(); ++c)
          result.credit_of_chosen.push_back(
              {credit_us[c], "", "", reduce(means.sum(v), [&](const BearingSample& s) {
                                       return s.striking_by_credit_s[c];
                                     }).mid});
    }
  if (result.chosen.empty()) {
    // Without a choice the claim speaks of the nearest candidate.
    std::size_t nearest = ensemble.baseline;
    for (std::size_t v = 0; v < count; ++v)
      if (helps(v) &&
          (nearest == ensemble.baseline ||
           result.exchange[v].requirements_met > result.exchange[nearest].requirements_met))
        nearest = v;
    result.claim = claim(question, question.variants[nearest], ensemble.sections);
  }
  result.reason += close_calls(question, variants, draws);
  return result;
}

}  // namespace ohmdrag::study
