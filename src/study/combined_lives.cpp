#include "study/combined_lives.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/bearing/weibull.hpp"
#include "ohmdrag/life/combined_life.hpp"
#include "study/damage_law.hpp"

namespace ohmdrag::study {
namespace {

using bearing::Weibull;

Time hours(double h) { return Time::from_value(h * 3600.0); }
double in_hours(Time t) { return t.value() / 3600.0; }

/// Erosion that ends a bearing at once leaves no life to compute with.
bool at_once(const BearingLives& lives) { return lives.erosion_h == 0.0; }

bool erodes(const BearingLives& lives) { return std::isfinite(lives.erosion_h); }

Weibull fatigue_of(const BearingLives& lives, const LifeSlopes& slopes) {
  return {hours(lives.fatigue_h), slopes.fatigue};
}

/// None where nothing limits: fatigue is then left exactly as it is.
std::optional<Weibull> erosion_of(const BearingLives& lives, const LifeSlopes& slopes) {
  if (!erodes(lives)) return std::nullopt;
  return Weibull{hours(lives.erosion_h), slopes.erosion};
}

}  // namespace

LifeSlopes life_slopes(const Case& world) {
  return {world.discharge.fatigue_slope.mid(), world.discharge.erosion_slope.mid()};
}

bool starts_at_modified(const Case& world) { return world.sump.cleanliness.has_value(); }

double fatigue_share(const Case& world, const BearingSample& sum) {
  if (!starts_at_modified(world)) return sum.damage;
  return sum.modified_damage * bearing::reliability_factor(world.service.reliability);
}

double fatigue_hours(const Case& world, const BearingSample& per_second) {
  const double share = fatigue_share(world, per_second);
  return share > 0.0 ? 1.0 / share / 3600.0 : std::numeric_limits<double>::infinity();
}

double linear_life_h(const BearingLives& lives) {
  if (at_once(lives)) return 0.0;
  return in_hours(life::linear_damage_life(
      hours(lives.fatigue_h),
      erodes(lives) ? std::optional(hours(lives.erosion_h)) : std::nullopt));
}

double competing_life_h(const std::vector<BearingLives>& bearings, const LifeSlopes& slopes) {
  if (std::ranges::any_of(bearings, at_once)) return 0.0;
  if (bearings.size() == 1)
    return in_hours(life::competing_risks_life(fatigue_of(bearings.front(), slopes),
                                               erosion_of(bearings.front(), slopes)));
  std::vector<Weibull> causes;
  std::vector<Time> of_fatigue;
  for (const BearingLives& lives : bearings) {
    causes.push_back(fatigue_of(lives, slopes));
    of_fatigue.push_back(causes.back().l10);
  }
  for (const BearingLives& lives : bearings)
    if (const auto erosion = erosion_of(lives, slopes)) causes.push_back(*erosion);
  // One slope has a closed form, in which the unit without any erosion is shown elsewhere.
  if (causes.size() == of_fatigue.size())
    return in_hours(bearing::system_l10(of_fatigue, slopes.fatigue));
  return in_hours(bearing::system_l10(causes));
}

double linear_life_h(const std::vector<BearingLives>& bearings, const LifeSlopes& slopes) {
  if (std::ranges::any_of(bearings, at_once)) return 0.0;
  std::vector<Time> each;
  for (const BearingLives& lives : bearings) each.push_back(hours(linear_life_h(lives)));
  return in_hours(bearing::system_l10(each, slopes.fatigue));
}

double event_probability(const BearingLives& lives, const LifeSlopes& slopes, double age_h) {
  if (at_once(lives)) return age_h > 0.0 ? 1.0 : 0.0;
  return life::event_probability(hours(age_h), fatigue_of(lives, slopes),
                                 erosion_of(lives, slopes));
}

Interval interval_of_lives(std::vector<double> hours) {
  constexpr double least_spread = 1e-3;
  const Interval all = interval_of(std::move(hours));
  if (all.high - all.low < least_spread * all.mid) return {all.mid, all.mid, all.mid};
  return all;
}

std::optional<std::vector<BearingLives>> lives_of(const ServiceMeans& means, const DamageLaw& law,
                                                  std::size_t variant, std::size_t draw) {
  const Ensemble& ensemble = means.ensemble();
  const Case& world = ensemble.world(variant);
  const double erosion_slope = life_slopes(world).erosion;
  std::vector<BearingLives> all;
  for (std::size_t b = 0; b < world.bearings.size(); ++b) {
    const auto of = [&](std::size_t v) -> const BearingSample& {
      return means.of(v, b)[draw].per_second;
    };
    const BearingSample& here = of(variant);
    const double erosion_h = law_hours(law, erosion_slope, here, of(ensemble.baseline),
                                       of(variant_observed(ensemble, law)));
    if (std::isnan(erosion_h)) return std::nullopt;
    all.push_back({fatigue_hours(world, here), erosion_h});
  }
  return all;
}

}  // namespace ohmdrag::study
