#include <cmath>

#include "study/combined_lives.hpp"
#include "study/damage_law.hpp"
#include "study/other_path.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();
constexpr Interval no_hours{not_a_figure, not_a_figure, not_a_figure};

double basic_hours(const BearingSample& per_second) {
  return per_second.damage > 0.0 ? 1.0 / per_second.damage / 3600.0 : never;
}

/// A bearing or another way to the frame in one variant, over the service.
struct Place {
  const ServiceMeans& means;
  std::size_t variant;
  std::size_t index;  ///< in DutySample::bearings

  const Case& question() const { return *means.ensemble().question; }
  const Case& world() const { return means.ensemble().world(variant); }
  bool counts_hours() const { return !means.ensemble().sections.discharges_alone; }
  /// Draw by draw.
  const std::vector<ServiceMean>& here() const { return means.of(variant, index); }
  const std::vector<ServiceMean>& base() const {
    return means.of(means.ensemble().baseline, index);
  }
  template <class Figure>
  Interval over_draws(const Figure& figure) const {
    return reduce(here(), [&](const ServiceMean& mean) { return figure(mean.per_second); });
  }
  Interval figure(double BearingSample::*member, double factor = 1.0) const {
    return over_draws([&](const BearingSample& sum) { return factor * (sum.*member); });
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
  if (place.means.mix().driven)
    row.discharge_energy_J_per_1000km = reduce(place.here(), [](const ServiceMean& mean) {
      return mean.per_second.energy_J * mean.seconds_per_unit * 1e6;
    });
  row.discharge_energy_J_per_1000h = place.figure(&BearingSample::energy_J, 3.6e6);
  row.no_discharge = row.discharge_rate_per_s->high == 0.0;
  for (std::size_t c = 0; c < credit_us.size(); ++c)
    row.credits.push_back(
        {credit_us[c], "", "",
         place.over_draws([&](const BearingSample& sum) { return sum.striking_by_credit_s[c]; })
             .mid});
  if (place.figure(&BearingSample::undosed).high > 0.0) {
    row.flags.push_back({"no-area", "its contact area is not known, so there is no dose"});
    return;
  }
  row.dose_J_per_mm2_per_1000h = place.figure(&BearingSample::dose_J_m2, 3.6e6 * 1e-6);
  row.dose_factor =
      reduce(place.here(), place.base(), [](const ServiceMean& here, const ServiceMean& base) {
        return dose_factor(base.per_second, here.per_second);
      });
}

/// Hours under each law that the case names; combined with fatigue under the first.
void add_laws(const Place& place, LifeRow& row) {
  const Case& question = place.question();
  const Case& world = place.world();
  const LifeSlopes slopes = life_slopes(world);
  for (const DamageLaw& law : question.laws) {
    const auto& watched =
        place.means.of(variant_observed(place.means.ensemble(), law), place.index);
    std::vector<double> electrical, linear, competing, event;
    for (std::size_t i = 0; i < place.here().size(); ++i) {
      const BearingSample& here = place.here()[i].per_second;
      const BearingLives lives{
          fatigue_hours(world, here),
          law_hours(law, slopes.erosion, here, place.base()[i].per_second, watched[i].per_second)};
      electrical.push_back(lives.erosion_h);
      if (std::isnan(lives.erosion_h) || &law != &question.laws.front()) continue;
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
  const Case& world = place.world();
  LifeRow row;
  row.bearing = world.bearings[place.index].id;
  row.mechanical_basic_interval_h = place.counts_hours() ? place.over_draws(basic_hours) : no_hours;
  row.mechanical_basic_h = row.mechanical_basic_interval_h.mid;
  row.flags.push_back({"rating-life", "Rating life excludes electrical erosion (ISO 281)."});
  if (has_electrics(world) && world.bearings.size() + world.paths_to_frame.size() > 1)
    row.flags.push_back({"weakest-path",
                         "of all ways to the frame the one with the lowest threshold is struck; "
                         "another shows discharges only where it is the weakest"});
  return row;
}

LifeRow other_row(const Place& place) {
  const Case& world = place.world();
  const PathToFrame& entry = world.paths_to_frame[place.index - world.bearings.size()];
  LifeRow row;
  row.bearing = entry.id;
  row.kind = voltage::to_word(kind_of(entry.kind));
  row.mechanical_basic_h = not_a_figure;
  row.mechanical_basic_interval_h = no_hours;
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
  for (std::size_t b = 0; b < sample.duties.front().bearings.size(); ++b)
    add_way(service_mean(mix, sample, b).per_second, sum);
  return sum;
}

void fill_life(const ServiceMeans& means, std::size_t v, VariantFindings& findings) {
  const Ensemble& ensemble = means.ensemble();
  const Case& question = *ensemble.question;
  const Case& world = ensemble.world(v);
  const bool electric = has_electrics(world);
  const std::size_t others = electric ? world.paths_to_frame.size() : 0;
  for (std::size_t i = 0; i < world.bearings.size() + others; ++i) {
    const Place place{means, v, i};
    const bool rolls = i < world.bearings.size();
    LifeRow row = rolls ? bearing_row(place) : other_row(place);
    row.service_hours = service_hours(question, means.mix(), ensemble.samples[v].front());
    row.service_distance_km = service_distance_km(question, means.mix());
    if (electric) {
      add_discharges(place, row);
      if (rolls && place.counts_hours()) add_laws(place, row);
    }
    findings.life.push_back(std::move(row));
  }
}

}  // namespace ohmdrag::study
