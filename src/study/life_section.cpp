#include <cmath>

#include "study/combined_lives.hpp"
#include "study/damage_law.hpp"
#include "study/other_path.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();

double basic_hours(const BearingSample& per_second) {
  return per_second.damage > 0.0 ? 1.0 / per_second.damage / 3600.0 : never;
}

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
  const LifeSlopes slopes = life_slopes(world);
  for (const DamageLaw& law : question.laws) {
    const auto& watched = place.ensemble.samples[variant_observed(place.ensemble, law)];
    std::vector<double> electrical, linear, competing, event;
    for (std::size_t i = 0; i < place.samples().size(); ++i) {
      const BearingSample here = place.mean(place.samples()[i]);
      const BearingLives lives{fatigue_hours(world, here),
                               law_hours(law, slopes.erosion, here, place.mean(place.base()[i]),
                                         place.mean(watched[i]))};
      electrical.push_back(lives.erosion_h);
      if (std::isnan(lives.erosion_h)) continue;
      linear.push_back(linear_life_h(lives));
      competing.push_back(competing_life_h({lives}, slopes));
      if (row.service_hours) event.push_back(event_probability(lives, slopes, *row.service_hours));
    }
    ElectricalLife result{law_word(law.kind), interval_of(electrical), false, blind_spot(law)};
    result.no_limit = std::isinf(result.hours.low);
    row.electrical.push_back(std::move(result));
    if (&law != &question.laws.front()) continue;
    row.combined_from = starts_at_modified(world) ? "modified" : "basic";
    row.combined_linear_h = interval_of_lives(std::move(linear));
    row.combined_competing_h = interval_of_lives(std::move(competing));
    if (row.service_hours) row.event_probability_in_service = interval_of(event);
  }
}

LifeRow bearing_row(const Place& place) {
  const Case& world = place.ensemble.world(place.variant);
  LifeRow row;
  row.bearing = world.bearings[place.index].id;
  row.mechanical_basic_interval_h =
      reduce(place.samples(), [&](const VariantSample& s) { return basic_hours(place.mean(s)); });
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
    row.service_distance_km = service_distance_km(question, mix);
    if (electric) {
      add_discharges(place, row);
      if (rolls) add_laws(place, row);
    }
    findings.life.push_back(std::move(row));
  }
}

}  // namespace ohmdrag::study
