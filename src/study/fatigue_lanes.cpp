#include "study/fatigue_lanes.hpp"

#include <cmath>
#include <limits>

#include "ohmdrag/bearing/life_kernel.hpp"
#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::study {

using numerics::LaneMath;
using numerics::lanes;

LifeLaw life_law(const bearing::Cleanliness& oil, Length pitch_diameter, Force fatigue_limit,
                 bool roller, bool proven_additive) {
  const bearing::LifeFactorLaw& law = roller ? bearing::roller_life_law : bearing::ball_life_law;
  const double diameter_mm = pitch_diameter.value() * 1e3;
  // Viscosity ratios without bound leave what the diameter does.
  const double left =
      bearing::contamination_factor(oil, std::numeric_limits<double>::max(), pitch_diameter);
  return {.law = law,
          .log_clean = std::log(oil.factor * std::pow(diameter_mm, 0.55)),
          .limit = std::pow(left * fatigue_limit.value(), law.margin_power),
          .proven_additive = proven_additive,
          .helped_above = std::log(bearing::least_helped_contamination / left),
          .effect_at_one = law.effect(1.0)};
}

namespace {

[[gnu::always_inline]] inline void add_block(const FatigueColumn& column, const LifeLaw& of,
                                             const LaneRow& viscosity_m2_s,
                                             const LaneRow& log_viscosity, std::size_t at,
                                             FatigueSums& sums) {
  const double* const basic = column.damage[at];
  const double* const log_per_reference = column.log_per_reference[at];
  const double* const weighted = column.weighted[at];
  const double* const load_root = column.load_root[at];
  const double* const loaded_s = column.loaded_s[at];
  const LifeLaw life = of;
  // A step at a time: chains so short overlap from lane to lane.
  LaneRow log_kappa, effect, log_effect, harm;
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) {
    log_kappa.of[i] = log_viscosity.of[i] + log_per_reference[i];
    effect.of[i] = bearing::coefficient<LaneMath>(life.law, log_kappa.of[i]);
  }
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i)
    log_effect.of[i] = bearing::log_effect<LaneMath>(life.law, effect.of[i]);
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) {
    const double log_clean = bearing::log_cleanness(life.log_clean, log_kappa.of[i]);
    const double sign = effect.of[i] < 0.0 ? -1.0 : 1.0;
    const double lacking = sign * life.limit * load_root[i] *
                           LaneMath::exp(log_effect.of[i] + life.law.margin_power * log_clean);
    harm.of[i] = 1.0 - lacking;
  }
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i)
    harm.of[i] = bearing::log_harm<LaneMath>(life.law, harm.of[i]);
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) harm.of[i] = bearing::harm_of_log<LaneMath>(harm.of[i]);
  if (life.proven_additive) {
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const double log_clean = bearing::log_cleanness(life.log_clean, log_kappa.of[i]);
      const double at_one = life.effect_at_one * life.limit * load_root[i] *
                            LaneMath::exp(life.law.margin_power * log_clean);
      const bool thinner = log_kappa.of[i] < 0.0, clean = log_clean >= life.helped_above;
      harm.of[i] =
          bearing::helped_harm(harm.of[i], bearing::harm_of<LaneMath>(life.law, 1.0 - at_one),
                               (int(thinner) & int(clean)) != 0);
    }
  }
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) {
    const double damage = basic[i] * harm.of[i];
    const bool thin = log_kappa.of[i] < bearing::log_thinnest;
    sums.kappa_s.of[i] += viscosity_m2_s.of[i] * weighted[i];
    sums.damage.of[i] += damage;
    sums.thin_s.of[i] += thin ? loaded_s[i] : 0.0;
    sums.thin_damage.of[i] += thin ? damage : 0.0;
  }
}

}  // namespace

bool find_fatigue(std::span<const std::shared_ptr<const FatigueColumn>> columns,
                  std::span<const LifeLaw> laws, const OilColumns& oil, const double* oil_K,
                  std::size_t at, numerics::LaneWidth width, std::vector<FatigueSums>& sums) {
  const OilColumns::Pieces pieces = oil.pieces();
  bool held = false;
  numerics::run_at_width(width, [&] {
    OilBlock place;
    LaneRow viscosity_m2_s, log_viscosity;
    held = place_oil(pieces, oil_K, place);
    if (!held) return;
    look_up(pieces, OilColumns::viscosity_m2_s, place, viscosity_m2_s);
    look_up(pieces, OilColumns::log_viscosity, place, log_viscosity);
    for (std::size_t b = 0; b < laws.size(); ++b)
      add_block(*columns[b], laws[b], viscosity_m2_s, log_viscosity, at, sums[b]);
  });
  return held;
}

}  // namespace ohmdrag::study
