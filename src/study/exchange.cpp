#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "study/exchange.hpp"

namespace ohmdrag::study {
namespace {

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
  if (row.dose_factor->low <= 1.0) return not_demonstrable;
  if (row.no_discharge) return "no discharge left in the model";
  if (!useful(row)) return "hardly any benefit: the discharge dose stays within a factor of 2";
  return "the discharge dose falls by a factor of " + print_interval(*row.dose_factor);
}

}  // namespace

bool useful(const ExchangeRow& row) {
  return row.dose_factor && row.dose_factor->low > 1.0 &&
         row.dose_factor->mid >= least_visible_dose_factor;
}

ExchangeRow exchange_row(const Ensemble& ensemble, const ServiceMix& mix, std::size_t v,
                         const std::vector<double>& cost, const std::vector<double>& gain,
                         const VariantFindings& findings) {
  const Case& world = ensemble.world(v);
  const Case& question = *ensemble.question;
  const auto& samples = ensemble.samples[v];
  const auto& base = ensemble.samples[ensemble.baseline];
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
      row.battery_Wh_per_km = interval_of(cost);
    else if (!world.duties.empty() && world.duties.front().hours_per_year)
      row.kWh_per_year = reduce(samples, base, [&](const VariantSample& s, const VariantSample& b) {
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
    row.striking_time_share_removed =
        reduce(samples, base,
               [&](const VariantSample& s, const VariantSample& b) { return share(b) - share(s); });
    row.dose_factor = interval_of(gain);
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
  for (const RequirementRow& requirement : findings.requirements) {
    ++row.requirements_asked;
    row.requirements_met += requirement.met ? 1 : 0;
  }
  row.verdict = verdict_in_words(row, v == ensemble.baseline, electrics, baseline_strikes);
  return row;
}

}  // namespace ohmdrag::study
