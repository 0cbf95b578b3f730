#include <fmt/format.h>

#include <cmath>

#include "ohmdrag/bearing/weibull.hpp"
#include "ohmdrag/life/combined_life.hpp"
#include "ohmdrag/life/electrical_life.hpp"
#include "study/other_path.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();

double mechanical_hours(const BearingSample& per_second) {
  return per_second.damage > 0.0 ? 1.0 / per_second.damage / 3600.0 : never;
}

double hours_or_never(const life::LawLife& law) {
  return law.life ? law.life->value() / 3600.0 : never;
}

voltage::DoseRate dose_rate(const BearingSample& per_second) {
  return voltage::DoseRate::from_value(per_second.dose_J_m2);
}

/// Hours of one bearing under one law in one draw; infinite where the law sees no limit.
double law_hours(const DamageLaw& law, double erosion_slope, const BearingSample& variant,
                 const BearingSample& baseline, const BearingSample& observed) {
  switch (law.kind) {
    case LawKind::dose:
      if (!law.after || !(observed.dose_J_m2 > 0.0)) return not_a_figure;
      return hours_or_never(life::life_by_dose(Time::from_value(law.after->mid()),
                                               dose_rate(observed), dose_rate(variant)));
    case LawKind::current_density: {
      if (!(variant.electrical_damage > 0.0)) return never;
      const double median_h = 1.0 / variant.electrical_damage / 3600.0;
      return bearing::l10_from_median(Time::from_value(median_h * 3600.0), erosion_slope).value() /
             3600.0;
    }
    case LawKind::relative:
      break;
  }
  if (!law.baseline_life) return not_a_figure;
  if (!(variant.dose_J_m2 > 0.0)) return never;
  if (!(baseline.dose_J_m2 > 0.0)) return 0.0;  // only the variant strikes: the factor is zero
  return hours_or_never(life::life_by_dose_factor(Time::from_value(law.baseline_life->mid()),
                                                  dose_factor(baseline, variant), law.power.mid()));
}

std::string law_word(LawKind kind) {
  switch (kind) {
    case LawKind::dose:
      return "dose";
    case LawKind::current_density:
      return "current-density";
    case LawKind::relative:
      break;
  }
  return "relative";
}

/// What each law cannot see; printed beside its hours, always.
std::string blind_spot(const DamageLaw& law) {
  switch (law.kind) {
    case LawKind::dose:
      return fmt::format(
          "dose law, calibrated by \"{}\" after {:.0f} h in {}: blind to the peak "
          "current; one observation gives no scatter",
          law.observed, law.after ? law.after->mid() / 3600.0 : 0.0, law.in_variant);
    case LawKind::current_density:
      return "current-density law: blind to the rate of discharges, rewards load and a larger "
             "contact area. Constants from memory, one 1990s data set. A long computed life does "
             "not show that grounding is unnecessary. Current densities far below these limits "
             "have shortened life by white etching cracks.";
    case LawKind::relative:
      break;
  }
  return "relative law: baseline life and exponent are the user's; blind to everything but the "
         "dose";
}

Time hours(double h) { return Time::from_value(h * 3600.0); }

/// A bearing or another way to the frame in one variant, over the service.
struct Place {
  const Ensemble& ensemble;
  const ServiceMix& mix;
  std::size_t variant;
  std::size_t index;  ///< in DutySample::bearings

  const std::vector<VariantSample>& samples() const { return ensemble.samples[variant]; }
  const std::vector<VariantSample>& base() const { return ensemble.samples[ensemble.baseline]; }
  BearingSample mean(const VariantSample& s) const {
    return service_mean(mix, s, index).per_second;
  }
  Interval figure(double BearingSample::*member, double factor = 1.0) const {
    return reduce(samples(), [&](const VariantSample& s) { return factor * (mean(s).*member); });
  }
};

void add_discharges(const Place& place, LifeRow& row) {
  row.striking_time_share = place.figure(&BearingSample::striking_s);
  row.expected_time_share = place.figure(&BearingSample::expected_s);
  row.conducting_time_share = place.figure(&BearingSample::conducting_s);
  if (row.conducting_time_share.high > 0.0)
    row.flags.push_back({"bearing-conducts",
                         "conducts part of the time; damage by current through metallic contact is "
                         "not modelled"});
  row.discharge_rate_per_s = place.figure(&BearingSample::discharges);
  if (place.mix.driven)
    row.discharge_energy_J_per_1000km = reduce(place.samples(), [&](const VariantSample& s) {
      const ServiceMean m = service_mean(place.mix, s, place.index);
      return m.per_second.energy_J * m.seconds_per_unit * 1e6;
    });
  row.discharge_energy_J_per_1000h = place.figure(&BearingSample::energy_J, 3.6e6);
  row.no_discharge = row.discharge_rate_per_s->high == 0.0;
  for (std::size_t c = 0; c < credit_us.size(); ++c)
    row.credits.push_back({credit_us[c], "", "", reduce(place.samples(), [&](const auto& s) {
                                                   return place.mean(s).striking_by_credit_s[c];
                                                 }).mid});
  if (place.figure(&BearingSample::undosed).high > 0.0) {
    row.flags.push_back({"no-area", "its contact area is not known, so there is no dose"});
    return;
  }
  row.dose_J_per_mm2_per_1000h = place.figure(&BearingSample::dose_J_m2, 3.6e6 * 1e-6);
  row.dose_factor =
      reduce(place.samples(), place.base(), [&](const VariantSample& s, const VariantSample& o) {
        return dose_factor(place.mean(o), place.mean(s));
      });
}

/// Hours under each law that the case names; combined with fatigue under the first.
void add_laws(const Place& place, LifeRow& row) {
  const Case& question = *place.ensemble.question;
  const Case& world = place.ensemble.world(place.variant);
  const auto index_of = [&](const std::string& id) {
    for (std::size_t i = 0; i < question.variants.size(); ++i)
      if (question.variants[i].id == id) return i;
    return place.ensemble.baseline;
  };
  const double fatigue_slope = world.discharge.fatigue_slope.mid();
  const double erosion_slope = world.discharge.erosion_slope.mid();
  for (const DamageLaw& law : question.laws) {
    const auto& watched = place.ensemble.samples[index_of(law.in_variant)];
    std::vector<double> electrical, linear, competing, event;
    for (std::size_t i = 0; i < place.samples().size(); ++i) {
      const BearingSample here = place.mean(place.samples()[i]);
      const double e =
          law_hours(law, erosion_slope, here, place.mean(place.base()[i]), place.mean(watched[i]));
      const double m = mechanical_hours(here);
      electrical.push_back(e);
      if (std::isnan(e) || !std::isfinite(m)) continue;
      const bearing::Weibull fatigue{hours(m), fatigue_slope};
      const auto limit = std::isfinite(e) ? std::optional<Time>(hours(e)) : std::nullopt;
      std::optional<bearing::Weibull> erosion;
      if (limit) erosion = bearing::Weibull{*limit, erosion_slope};
      linear.push_back(life::linear_damage_life(hours(m), limit).value() / 3600.0);
      competing.push_back(life::competing_risks_life(fatigue, erosion).value() / 3600.0);
      if (row.service_hours)
        event.push_back(life::event_probability(hours(*row.service_hours), fatigue, erosion));
    }
    ElectricalLife result{law_word(law.kind), interval_of(electrical), false, blind_spot(law)};
    result.no_limit = std::isinf(result.hours.low);
    row.electrical.push_back(std::move(result));
    if (&law != &question.laws.front()) continue;
    row.combined_linear_h = interval_of(linear);
    row.combined_competing_h = interval_of(competing);
    if (row.service_hours) row.event_probability_in_service = interval_of(event);
  }
}

LifeRow bearing_row(const Place& place) {
  const Case& world = place.ensemble.world(place.variant);
  LifeRow row;
  row.bearing = world.bearings[place.index].id;
  row.mechanical_basic_interval_h = reduce(
      place.samples(), [&](const VariantSample& s) { return mechanical_hours(place.mean(s)); });
  row.mechanical_basic_h = row.mechanical_basic_interval_h.mid;
  row.flags.push_back({"rating-life", "Rating life excludes electrical erosion (ISO 281)."});
  if (has_electrics(world) && world.bearings.size() + world.paths_to_frame.size() > 1)
    row.flags.push_back({"weakest-path",
                         "of all ways to the frame the one with the lowest threshold is struck; "
                         "another shows discharges only where it is the weakest"});
  return row;
}

LifeRow other_row(const Place& place) {
  const Case& world = place.ensemble.world(place.variant);
  const PathToFrame& entry = world.paths_to_frame[place.index - world.bearings.size()];
  LifeRow row;
  row.bearing = entry.id;
  row.kind = voltage::to_word(kind_of(entry.kind));
  row.mechanical_basic_h = not_a_figure;
  row.mechanical_basic_interval_h = {not_a_figure, not_a_figure, not_a_figure};
  row.flags.push_back({"no-rating-life", "another way to the frame: no rating life is computed"});
  return row;
}

}  // namespace

double dose_factor(const BearingSample& baseline, const BearingSample& variant) {
  if (variant.dose_J_m2 > 0.0) return baseline.dose_J_m2 / variant.dose_J_m2;
  return baseline.dose_J_m2 > 0.0 ? never : 1.0;
}

BearingSample service_sum(const ServiceMix& mix, const VariantSample& sample) {
  BearingSample sum;
  if (sample.duties.empty()) return sum;
  for (std::size_t b = 0; b < sample.duties.front().bearings.size(); ++b) {
    const BearingSample one = service_mean(mix, sample, b).per_second;
    const double conducting_s = std::max(sum.conducting_s, one.conducting_s);
    // One way is struck at a time: shares add.
    for (const auto member : bearing_sums) sum.*member += one.*member;
    sum.conducting_s = conducting_s;
    for (std::size_t c = 0; c < credit_us.size(); ++c)
      sum.striking_by_credit_s[c] += one.striking_by_credit_s[c];
  }
  return sum;
}

void fill_life(const Ensemble& ensemble, std::size_t v, VariantFindings& findings) {
  const Case& question = *ensemble.question;
  const Case& world = ensemble.world(v);
  const ServiceMix mix = service_mix(question);
  const bool electric = has_electrics(world);
  const std::size_t others = electric ? world.paths_to_frame.size() : 0;
  for (std::size_t i = 0; i < world.bearings.size() + others; ++i) {
    const Place place{ensemble, mix, v, i};
    const bool rolls = i < world.bearings.size();
    LifeRow row = rolls ? bearing_row(place) : other_row(place);
    row.service_hours = service_hours(question, mix, place.samples().front());
    if (electric) {
      add_discharges(place, row);
      if (rolls) add_laws(place, row);
    }
    findings.life.push_back(std::move(row));
  }
}

}  // namespace ohmdrag::study
