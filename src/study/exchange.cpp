#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/visit.hpp"
#include "study/exchange.hpp"
#include "study/headline_figures.hpp"

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

/// Elements bought over the service: one, or one for every change.
double sets_over_service(const Ensemble& ensemble, std::size_t v) {
  const auto& grounding = ensemble.question->variants[v].grounding;
  if (!grounding || !grounding->replaced_every) return 1.0;
  const auto hours = service_hours(*ensemble.question, service_mix(*ensemble.question),
                                   ensemble.samples[v].front());
  const double every_h = grounding->replaced_every->mid() / 3600.0;
  return hours ? std::max(1.0, std::ceil(*hours / every_h - 1e-9)) : 1.0;
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
  if (question.prices && question.prices->energy_per_kWh && question.prices->bearing_event &&
      *question.prices->bearing_event > 0.0) {
    const auto element = question.prices->element.find(id);
    const double part = element == question.prices->element.end()
                            ? 0.0
                            : element->second * sets_over_service(ensemble, v);
    result.failure_probability =
        reduce(samples, base, [&](const VariantSample& s, const VariantSample& b) {
          return (kWh(s, b) * *question.prices->energy_per_kWh + part) /
                 *question.prices->bearing_event;
        });
    const Interval& p = *result.failure_probability;
    if (p.high <= 0.0)
      result.sentence = "costs nothing at these prices";
    else if (p.low > 1.0)
      result.sentence =
          "does not pay at these prices, even if every drive saw a bearing event without it and "
          "none "
          "with it";
    else
      result.sentence = fmt::format(
          "pays if more than {} % of such drives would see a bearing event without it and none "
          "with "
          "it",
          print_interval({100 * p.low, 100 * p.mid, 100 * p.high}));
  } else if (result.kWh_per_avoided_event->high <= 0.0) {
    result.sentence = "costs no energy over the service";
  } else {
    result.sentence = fmt::format(
        "costs {} kWh over the service: the price of a bearing event if every drive "
        "would see one without it and none with it",
        print_interval(*result.kWh_per_avoided_event));
  }
  return result;
}

/// What the present design does to its bearings, as far as the model sees it.
enum class Present { no_voltage, not_counted, silent, conducts, strikes };

Present present_design(const ServiceMeans& means) {
  const Ensemble& ensemble = means.ensemble();
  const Case& world = ensemble.world(ensemble.baseline);
  if (!has_electrics(world)) return Present::no_voltage;
  if (!strikes_can_be_counted(world)) return Present::not_counted;
  Present worst = Present::silent;
  for (const BearingSample& sum : means.sum(ensemble.baseline)) {
    if (sum.dose_J_m2 > 0.0 || sum.striking_s > 0.0) return Present::strikes;
    if (sum.conducting_s > 0.0) worst = Present::conducts;
  }
  return worst;
}

/// Whether two worlds have the same oil, bearings and films. More load, thinner oil or a rougher
/// race lowers the dose and "protects" nobody: such variants are not compared by dose.
bool same_films(const Case& a, const Case& b) {
  const auto numbers = [](const Case& world) {
    std::vector<double> all;
    const auto take = [&](const UncertainNumber& n) {
      all.insert(all.end(), {n.spread.mid, n.spread.half_width, n.spread.lean, n.spread.cut_below,
                             n.spread.cut_above, n.scatter.half_width});
    };
    for_each_number(world.sump.lubricant, take);
    for_each_number(world.discharge, take);
    for (const PathToFrame& path : world.paths_to_frame) {
      if (path.threshold) take(*path.threshold);
      if (path.roughness) take(*path.roughness);
    }
    for (const Bearing& bearing : world.bearings) {
      for_each_number(bearing.type, take);
      for (const auto& load : bearing.radial) take(load);
      for (const auto& load : bearing.axial) take(load);
    }
    return all;
  };
  return numbers(a) == numbers(b);
}

/// What a variant does to the discharges.
std::string benefit_in_words(const ExchangeRow& row, bool grounded, Present present) {
  switch (present) {
    case Present::no_voltage:
      return "no shaft voltage in this case: watts only";
    case Present::not_counted:
      return "no bearing or no duty in this case: discharges are not counted";
    case Present::silent:
      return grounded ? nothing_strikes : "nothing to gain: nothing strikes in the present design";
    case Present::conducts:
      return "no advice: the bearings conduct, and damage by that current is not modelled";
    case Present::strikes:
      break;
  }
  if (!row.dose_factor)
    return "other oil, bearings or films than the present design, or struck where the contact area "
           "is not known: dose not compared";
  if (row.dose_factor->high < 1.0)
    return fmt::format("the discharge dose rises: a factor of {} is left of one",
                       print_interval(*row.dose_factor));
  if (row.dose_factor->low <= 1.0) return not_demonstrable;
  if (row.no_discharge) return "no discharge left in the model";
  if (std::isinf(row.dose_factor->low))
    return "no discharge left in the model in at least 95 % of the draws";
  if (!useful(row))
    return "hardly any benefit: in the middle of the draws the discharge dose stays within a "
           "factor "
           "of 2";
  return "the discharge dose falls by a factor of " + factor_in_words(*row.dose_factor);
}

/// What a variant does, its harm and the blind spot of a law included.
std::string verdict_in_words(const ExchangeRow& row, const Case& question, const Variant& variant,
                             const VariantFindings& findings, Present present) {
  const bool grounded = variant.grounding.has_value();
  std::string text = benefit_in_words(row, grounded, present);
  if (const std::string harm = harm_in_words(question, findings); !harm.empty()) {
    if (grounded && !useful(row) && present == Present::strikes && harms_bearings(findings))
      text = "do not ground here: " + text;
    text += (useful(row) ? "; but " : ", and ") + harm;
  }
  for (const LifeRow& bearing : findings.life) {
    const auto blind = std::ranges::find(bearing.flags, "law-blind", &Flag::code);
    if (blind == bearing.flags.end()) continue;
    text += ". " + blind->text.substr(0, blind->text.size() - 1);
    break;
  }
  return text;
}

}  // namespace

std::string factor_in_words(const Interval& factor) {
  if (std::isinf(factor.mid))
    return fmt::format("{} at least; in the middle of the draws no discharge is left",
                       print_number(factor.low, 3));
  return fmt::format("{} in the middle of the draws ({} … {})", print_number(factor.mid, 2),
                     print_number(factor.low, 3),
                     std::isinf(factor.high) ? "no discharge left" : print_number(factor.high, 2));
}

bool useful(const ExchangeRow& row) {
  return row.dose_factor && row.dose_factor->low > 1.0 &&
         row.dose_factor->mid >= least_visible_dose_factor;
}

ExchangeRow exchange_row(const ServiceMeans& means, const std::vector<UnitLives>& lives,
                         std::size_t v, const CostAndGain& drawn, const VariantFindings& findings) {
  const Ensemble& ensemble = means.ensemble();
  const ServiceMix& mix = means.mix();
  const Case& world = ensemble.world(v);
  const Case& question = *ensemble.question;
  const auto& samples = ensemble.samples[v];
  const auto& base = ensemble.samples[ensemble.baseline];
  ExchangeRow row;
  row.variant = question.variants[v].id;
  for (std::size_t p = 0; p < world.points.size(); ++p)
    row.net_W_by_point.push_back(
        reduce(samples, base, [&](const VariantSample& s, const VariantSample& b) {
          return total_W(s, p) - total_W(b, p);
        }));
  if (!world.points.empty()) {
    // The point that an allocation names is the one people talk about.
    const std::size_t headline = headline_point(question);
    row.net_point = world.points[headline].id;
    row.point_net_W = row.net_W_by_point[headline];
  }
  if (!samples.front().duties.empty()) {
    if (mix.driven)
      row.battery_Wh_per_km = interval_of(drawn.cost);
    else if (const auto hours = hours_a_year(question, mix))
      row.kWh_per_year = reduce(samples, base, [&](const VariantSample& s, const VariantSample& b) {
        return (over_mix(mix, s, mean_W) - over_mix(mix, b, mean_W)) * *hours / 1000.0;
      });
  }
  if (!samples.front().impedance_ohm.back().empty()) {
    const double asked_Hz = 1e6;
    const auto place = std::find(ensemble.frequencies.begin(), ensemble.frequencies.end(),
                                 Frequency::from_value(asked_Hz));
    const auto f = static_cast<std::size_t>(place - ensemble.frequencies.begin());
    row.impedance_frequency_Hz = asked_Hz;
    row.impedance_end_of_service_ohm = reduce(samples, [&](const VariantSample& s) {
      if (s.points.empty()) return s.impedance_ohm.back()[f];
      double worst = 0.0;
      for (const PointSample& point : s.points)
        worst = std::max(worst, point.impedance_ohm.back()[f]);
      return worst;
    });
  }
  if (has_electrics(world)) {
    const auto worst = [&](double ElectricSample::*member) {
      return reduce(samples,
                    [&](const VariantSample& s) { return highest_over_points(s, member); });
    };
    row.edge_peak_V = worst(&ElectricSample::verdict_edge_V);
    row.held_V = worst(&ElectricSample::held_V);
  }
  const Present present = present_design(means);
  if (strikes_can_be_counted(world) && present != Present::no_voltage &&
      present != Present::not_counted) {
    const auto &sums = means.sum(v), &base_sums = means.sum(ensemble.baseline);
    row.striking_time_share = reduce(sums, [](const BearingSample& s) { return s.striking_s; });
    row.striking_time_share_removed = reduce(
        sums, base_sums,
        [](const BearingSample& s, const BearingSample& b) { return b.striking_s - s.striking_s; });
    const auto dosed = [](const BearingSample& s) { return s.undosed == 0.0; };
    if (same_films(world, ensemble.world(ensemble.baseline)) && std::ranges::all_of(sums, dosed) &&
        std::ranges::all_of(base_sums, dosed))
      row.dose_factor = interval_of(drawn.gain);
    row.no_discharge =
        std::ranges::all_of(sums, [](const BearingSample& s) { return s.discharges == 0.0; });
  }
  fill_life_gain(means, lives, v, row);
  for (const RequirementRow& requirement : findings.requirements) {
    if (requirement.not_applicable) continue;
    ++row.requirements_asked;
    row.requirements_met += requirement.met ? 1 : 0;
  }
  // A price per avoided event makes sense only where something is demonstrably avoided.
  if (v != ensemble.baseline && useful(row)) row.break_even = break_even(ensemble, mix, v);
  row.verdict = v == ensemble.baseline
                    ? "the present design"
                    : verdict_in_words(row, question, question.variants[v], findings, present);
  return row;
}

}  // namespace ohmdrag::study
