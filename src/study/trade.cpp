#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "ohmdrag/quantity/print.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

constexpr char not_demonstrable[] = "benefit not demonstrable with these inputs";
constexpr double infinite = std::numeric_limits<double>::infinity();

/// What a variant costs against the baseline in one draw, for ranking: energy over the mix where
/// there is a duty, else the mean over the operating points.
double cost_in_draw(const Ensemble& ensemble, const ServiceMix& mix, std::size_t v,
                    std::size_t draw) {
  const VariantSample& sample = ensemble.samples[v][draw];
  const VariantSample& base = ensemble.samples[ensemble.baseline][draw];
  if (!sample.duties.empty()) {
    const auto per_unit = [&](const VariantSample& s) {
      return over_mix(mix, s, mix.driven ? battery_Wh_per_km : mean_W);
    };
    return per_unit(sample) - per_unit(base);
  }
  double sum = 0.0;
  for (std::size_t p = 0; p < sample.points.size(); ++p)
    sum += total_W(sample, p) - total_W(base, p);
  return sum / std::max<double>(1.0, double(sample.points.size()));
}

double dose_gain_in_draw(const Ensemble& ensemble, const ServiceMix& mix, std::size_t v,
                         std::size_t draw) {
  const std::size_t bearings = ensemble.world(v).bearings.size();
  return dose_factor(service_sum(mix, ensemble.samples[ensemble.baseline][draw], bearings),
                     service_sum(mix, ensemble.samples[v][draw], bearings));
}

bool meets_all(const Ensemble& ensemble, std::size_t v, std::size_t draw) {
  for (const Requirement& requirement : ensemble.question->requirements) {
    const auto value = requirement_value(ensemble, requirement, v, draw);
    if (value && !holds(requirement, *value)) return false;
  }
  return true;
}

/// Watts over the service as energy at the battery or the plug, kWh.
std::optional<double> service_kWh(const Case& question, const ServiceMix& mix,
                                  const VariantSample& sample, const VariantSample& base) {
  const double charging = question.prices ? question.prices->charging_efficiency : 1.0;
  if (mix.driven) {
    if (!question.service.distance) return std::nullopt;
    const double per_km =
        over_mix(mix, sample, battery_Wh_per_km) - over_mix(mix, base, battery_Wh_per_km);
    return per_km * question.service.distance->mid() / 1000.0 / 1000.0 / charging;
  }
  const auto hours = service_hours(question, mix, sample);
  if (!hours) return std::nullopt;
  return (over_mix(mix, sample, mean_W) - over_mix(mix, base, mean_W)) * *hours / 1000.0 / charging;
}

BreakEven break_even(const Ensemble& ensemble, const ServiceMix& mix, std::size_t v) {
  const Case& question = *ensemble.question;
  const auto& samples = ensemble.samples[v];
  const auto& base = ensemble.samples[ensemble.baseline];
  BreakEven result;
  if (samples.front().duties.empty() || !service_kWh(question, mix, samples.front(), base.front()))
    return result;
  const auto kWh = [&](const VariantSample& s, const VariantSample& b) {
    return *service_kWh(question, mix, s, b);
  };
  result.kWh_per_avoided_event = reduce(samples, base, kWh);
  const std::string& id = question.variants[v].id;
  if (question.prices && question.prices->energy_per_kWh && question.prices->bearing_event) {
    const auto element = question.prices->element.find(id);
    const double part = element == question.prices->element.end() ? 0.0 : element->second;
    result.failure_probability =
        reduce(samples, base, [&](const VariantSample& s, const VariantSample& b) {
          return (kWh(s, b) * *question.prices->energy_per_kWh + part) /
                 *question.prices->bearing_event;
        });
    const Interval& p = *result.failure_probability;
    result.sentence =
        p.mid <= 1.0
            ? fmt::format(
                  "pays if more than {} of such drives would see a bearing event without it",
                  print_interval({100 * p.low, 100 * p.mid, 100 * p.high}) + " %")
            : "does not pay at these prices, even if every drive saw a bearing event without it";
  } else {
    result.sentence = fmt::format(
        "costs {} kWh over the service: the price of a bearing event if "
        "every drive would see one without it",
        print_interval(*result.kWh_per_avoided_event));
  }
  return result;
}

std::string verdict_in_words(const ExchangeRow& row, bool is_baseline, bool electrics,
                             bool baseline_strikes) {
  if (is_baseline) return "the present design";
  if (!electrics) return "no shaft voltage in this case: watts only";
  if (!baseline_strikes) return "do not ground here: nothing strikes without it";
  if (row.dose_factor && row.dose_factor->low <= 1.0) return not_demonstrable;
  if (row.no_discharge) return "no discharge left in the model";
  return "discharge dose falls in every draw";
}

/// Better or equal in both watts and dose and better in one, draw by draw in 95 % of the draws.
bool dominates(const std::vector<double>& cost_a, const std::vector<double>& gain_a,
               const std::vector<double>& cost_b, const std::vector<double>& gain_b) {
  std::size_t wins = 0;
  for (std::size_t i = 0; i < cost_a.size(); ++i)
    if (cost_a[i] <= cost_b[i] && gain_a[i] >= gain_b[i] &&
        (cost_a[i] < cost_b[i] || gain_a[i] > gain_b[i]))
      ++wins;
  return double(wins) >= 0.95 * double(cost_a.size());
}

}  // namespace

Trade trade(const Ensemble& ensemble, const std::vector<VariantFindings>& variants) {
  const Case& question = *ensemble.question;
  const ServiceMix mix = service_mix(question);
  const std::size_t count = variants.size();
  const std::size_t draws = ensemble.samples.front().size();
  const auto& base = ensemble.samples[ensemble.baseline];
  Trade result;

  std::vector<std::vector<double>> cost(count), gain(count);
  for (std::size_t v = 0; v < count; ++v)
    for (std::size_t i = 0; i < draws; ++i) {
      cost[v].push_back(cost_in_draw(ensemble, mix, v, i));
      gain[v].push_back(
          ensemble.samples[v][i].duties.empty() ? 1.0 : dose_gain_in_draw(ensemble, mix, v, i));
    }

  for (std::size_t v = 0; v < count; ++v) {
    const Case& world = ensemble.world(v);
    const auto& samples = ensemble.samples[v];
    const std::size_t bearings = world.bearings.size();
    const bool electrics = has_electrics(world) && bearings > 0 && !world.duties.empty();
    ExchangeRow row;
    row.variant = question.variants[v].id;
    for (std::size_t p = 0; p < world.points.size(); ++p)
      row.net_W_by_point.push_back(
          reduce(samples, base, [&](const VariantSample& s, const VariantSample& b) {
            return total_W(s, p) - total_W(b, p);
          }));
    if (!world.points.empty()) {
      // The point that a power requirement or allocation names is the one people talk about.
      std::size_t headline = 0;
      for (std::size_t p = 0; p < world.points.size(); ++p)
        for (const Allocation& allocation : question.allocations)
          if (allocation.point == world.points[p].id) headline = p;
      row.net_point = world.points[headline].id;
      row.point_net_W = row.net_W_by_point[headline];
    }
    if (!samples.front().duties.empty()) {
      if (mix.driven)
        row.battery_Wh_per_km = interval_of(cost[v]);
      else if (!world.duties.empty() && world.duties.front().hours_per_year)
        row.kWh_per_year =
            reduce(samples, base, [&](const VariantSample& s, const VariantSample& b) {
              const double hours = service_hours(question, mix, s).value_or(0.0) /
                                   (question.service.years ? question.service.years->mid() : 1.0);
              return (over_mix(mix, s, mean_W) - over_mix(mix, b, mean_W)) * hours / 1000.0;
            });
    }
    if (!samples.front().impedance_end_ohm.empty()) {
      const double asked_Hz = 1e6;
      const auto place = std::find(ensemble.frequencies.begin(), ensemble.frequencies.end(),
                                   Frequency::from_value(asked_Hz));
      const auto f = static_cast<std::size_t>(place - ensemble.frequencies.begin());
      row.impedance_frequency_Hz = asked_Hz;
      row.impedance_end_of_service_ohm =
          reduce(samples, [&](const VariantSample& s) { return s.impedance_end_ohm[f]; });
    }
    bool baseline_strikes = false;
    if (electrics) {
      const auto worst = [&](double ElectricSample::*member) {
        return reduce(samples, [&](const VariantSample& s) {
          double highest = 0.0;
          for (const PointSample& point : s.points)
            highest = std::max(highest, point.electric.*member);
          return highest;
        });
      };
      row.edge_peak_V = worst(&ElectricSample::verdict_edge_V);
      row.held_V = worst(&ElectricSample::held_V);
      const auto share = [&](const VariantSample& s) {
        return service_sum(mix, s, bearings).striking_s;
      };
      row.striking_time_share = reduce(samples, share);
      row.striking_time_share_removed = reduce(
          samples, base,
          [&](const VariantSample& s, const VariantSample& b) { return share(b) - share(s); });
      row.dose_factor = interval_of(gain[v]);
      row.no_discharge = std::all_of(samples.begin(), samples.end(), [&](const auto& s) {
        return service_sum(mix, s, bearings).dose_J_m2 == 0.0;
      });
      // Neither a discharge in any draw nor a verdict against the weakest film.
      baseline_strikes = std::any_of(base.begin(), base.end(), [&](const auto& s) {
        const BearingSample sum = service_sum(mix, s, bearings);
        return sum.dose_J_m2 > 0.0 || sum.striking_s > 0.0;
      });
    }
    if (v != ensemble.baseline) row.break_even = break_even(ensemble, mix, v);
    for (const RequirementRow& requirement : variants[v].requirements) {
      ++row.requirements_asked;
      row.requirements_met += requirement.met ? 1 : 0;
    }
    row.verdict = verdict_in_words(row, v == ensemble.baseline, electrics, baseline_strikes);
    result.exchange.push_back(std::move(row));
  }

  // Dominance before any preference.
  for (std::size_t v = 0; v < count; ++v) {
    bool dominated = false;
    for (std::size_t other = 0; other < count; ++other)
      dominated =
          dominated || (other != v && dominates(cost[other], gain[other], cost[v], gain[v]));
    result.exchange[v].nondominated = !dominated;
    if (!dominated) result.nondominated.push_back(result.exchange[v].variant);
  }

  // Requirements first; then only what demonstrably helps may displace the present design; then
  // the least watts.
  const bool asked = !question.requirements.empty();
  const auto useful = [&](std::size_t v) {
    return v != ensemble.baseline && result.exchange[v].dose_factor &&
           result.exchange[v].dose_factor->low > 1.0;
  };
  const auto meets = [&](std::size_t v) {
    return result.exchange[v].requirements_met == result.exchange[v].requirements_asked;
  };
  const auto median_cost = [&](std::size_t v) { return interval_of(cost[v]).mid; };
  std::optional<std::size_t> chosen;
  for (std::size_t v = 0; v < count; ++v)
    if (meets(v) && useful(v) && (!chosen || median_cost(v) < median_cost(*chosen))) chosen = v;

  for (std::size_t i = 0; i < draws; ++i) {
    std::optional<std::size_t> best;
    for (std::size_t v = 0; v < count; ++v)
      if (meets_all(ensemble, v, i) && (v == ensemble.baseline ? !asked : gain[v][i] > 1.0) &&
          (!best || (*best == ensemble.baseline && !asked) || cost[v][i] < cost[*best][i]))
        best = v;
    if (best) result.exchange[*best].probability_best += 1.0 / double(draws);
  }

  const bool any_useful = [&] {
    for (std::size_t v = 0; v < count; ++v)
      if (useful(v)) return true;
    return false;
  }();
  if (chosen) {
    const ExchangeRow& row = result.exchange[*chosen];
    result.chosen = row.variant;
    result.reason = fmt::format(
        "{}, the discharge dose falls by a factor of {}, and it costs the least energy of those.",
        asked ? "It meets every requirement with the asked probability"
              : "No requirement says how much is enough",
        row.dose_factor->low == infinite
            ? "more than can be counted (no discharge left in the model)"
            : print_interval(*row.dose_factor));
  } else if (!any_useful) {
    result.chosen = question.variants[ensemble.baseline].id;
    bool strikes = false;
    for (const ExchangeRow& row : result.exchange)
      strikes = strikes || row.verdict == not_demonstrable;
    result.reason = strikes ? std::string("Keep the present design: ") + not_demonstrable + "."
                            : "Do not ground here: nothing strikes in the model without a "
                              "grounding element, so its watts buy nothing.";
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
              {credit_us[c], "", "", reduce(ensemble.samples[v], [&](const VariantSample& s) {
                                       return service_sum(mix, s, ensemble.world(v).bearings.size())
                                           .striking_by_credit_s[c];
                                     }).mid});
    }
  if (result.chosen.empty())
    result.claim = claim(question, question.variants[ensemble.baseline], ensemble.sections);
  return result;
}

}  // namespace ohmdrag::study
