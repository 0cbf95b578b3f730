#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "ohmdrag/bearing/weibull.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

Time life_of(double damage_per_second) {
  if (!(damage_per_second > 0.0)) return Time::from_value(std::numeric_limits<double>::infinity());
  return Time::from_value(1.0 / damage_per_second);
}

double hours(Time life) { return life.value() / 3600.0; }

/// "3.2 %" of a share, in the middle of the draws.
std::string per_cent(const Interval& share) { return print_number(100.0 * share.mid, 2) + " %"; }

std::string class_in_words(const CleanlinessClass& entry) {
  return fmt::format("{} ({})", entry.id, entry.title);
}

/// What the modified life of one bearing rests on.
class Remarks {
 public:
  Remarks(const Case& world, const Variant& variant, const Bearing& bearing)
      : world_(world), variant_(variant), bearing_(bearing) {}

  std::vector<Flag> of(const Interval& thin_share, const Interval& thin_damage_share,
                       const Interval& overloaded_share) const {
    std::vector<Flag> flags{cleanliness(), debris(), additive(), fatigue_limit(), reliability()};
    flags.push_back(thin_film(thin_share, thin_damage_share));
    flags.push_back(overload(overloaded_share));
    std::erase_if(flags, [](const Flag& flag) { return flag.code.empty(); });
    return flags;
  }

 private:
  const OilCleanliness& oil() const { return *world_.sump.cleanliness; }

  Flag cleanliness() const {
    const std::string which = class_in_words(oil().usual);
    constexpr auto unverified = "contamination constants not verified against the standard";
    if (!oil().assumed)
      return {"contamination", fmt::format("cleanliness {}; {}", which, unverified)};
    return {"cleanliness-assumed", fmt::format("cleanliness assumed: {}; {}", which, unverified)};
  }

  Flag debris() const {
    if (!variant_.grounding || !variant_.grounding->debris_reaches_oil) return {};
    if (!oil().with_debris)
      return {"debris",
              "debris of the grounding element reaches the oil, but no class is dirtier: "
              "it shows in no life"};
    return {"debris",
            fmt::format("debris of the grounding element reaches the oil: taken as one class "
                        "dirtier, {} (assumed rule)",
                        class_in_words(*oil().with_debris))};
  }

  Flag additive() const {
    if (!oil().proven_ep_additive) return {};
    return {"ep-additive",
            "proven EP additive stated: where the viscosity ratio is below 1 and the contamination "
            "factor at least 0.2, the life factor is that of a ratio of 1, but at most 3 (rule of "
            "ISO 281 from memory, not verified against the standard)"};
  }

  Flag fatigue_limit() const {
    if (bearing_.type.fatigue_load_limit) return {};
    const bool ball = bearing_.type.family == BearingType::Family::deep_groove_ball;
    return {"fatigue-load-limit", fmt::format("no fatigue load limit stated: static rating over {} "
                                              "(simplified rule of ISO 281, as quoted)",
                                              ball ? "22" : "8.2")};
  }

  Flag reliability() const {
    const double survival = world_.service.reliability;
    if (survival == Service{}.reliability) return {};
    return {"reliability", fmt::format("modified rating life for a survival of {} %, the basic one "
                                       "for 90 %",
                                       print_number(100.0 * survival, 4))};
  }

  static Flag thin_film(const Interval& share, const Interval& of_damage) {
    if (!(share.high > 0.0)) return {};
    return {"viscosity-ratio",
            fmt::format("viscosity ratio below 0.1, the end of the method, for {} of the running "
                        "time; there the life factor of 0.1 stands, with {} of the damage",
                        per_cent(share), per_cent(of_damage))};
  }

  static Flag overload(const Interval& share) {
    if (!(share.high > 0.0)) return {};
    return {"rating-life-load",
            fmt::format("equivalent load above half the dynamic rating, the end of the method, for "
                        "{} of the running time",
                        per_cent(share))};
  }

  const Case& world_;
  const Variant& variant_;
  const Bearing& bearing_;
};

}  // namespace

void fill_rating_life(const ServiceMeans& means, std::size_t v, VariantFindings& findings) {
  const Ensemble& ensemble = means.ensemble();
  const Case& question = *ensemble.question;
  const Case& world = ensemble.world(v);
  if (world.bearings.empty() || world.duties.empty()) return;
  const auto share = [](double part, double whole) { return whole > 0.0 ? part / whole : 0.0; };

  for (std::size_t b = 0; world.sump.cleanliness && b < world.bearings.size(); ++b) {
    const auto row = std::ranges::find(findings.life, world.bearings[b].id, &LifeRow::bearing);
    if (row == findings.life.end()) continue;
    const auto figure = [&](const auto& of) {
      return reduce(means.of(v, b), [&](const ServiceMean& mean) { return of(mean.per_second); });
    };
    row->mechanical_modified_interval_h =
        figure([](const BearingSample& s) { return hours(life_of(s.modified_damage)); });
    row->mechanical_modified_h = row->mechanical_modified_interval_h->mid;
    row->viscosity_ratio =
        figure([&](const BearingSample& s) { return share(s.kappa_s, s.turning_s); });
    const auto remarks = Remarks(world, question.variants[v], world.bearings[b])
                             .of(figure([](const BearingSample& s) { return s.thin_s; }),
                                 figure([&](const BearingSample& s) {
                                   return share(s.thin_modified_damage, s.modified_damage);
                                 }),
                                 figure([](const BearingSample& s) { return s.overloaded_s; }));
    row->flags.insert(row->flags.end(), remarks.begin(), remarks.end());
  }

  LifeSystem system;
  system.bearings = static_cast<int>(world.bearings.size());
  system.slope = world.discharge.fatigue_slope.mid();
  const auto together = [&](double BearingSample::*damage) {
    std::vector<double> all_h(ensemble.samples[v].size());
    std::vector<Time> lives(world.bearings.size());
    for (std::size_t i = 0; i < all_h.size(); ++i) {
      for (std::size_t b = 0; b < lives.size(); ++b)
        lives[b] = life_of(means.of(v, b)[i].per_second.*damage);
      all_h[i] = hours(bearing::system_l10(lives, system.slope));
    }
    return interval_of(std::move(all_h));
  };
  system.basic_h = together(&BearingSample::damage);
  system.reliability = world.service.reliability;
  if (world.sump.cleanliness) {
    system.modified_h = together(&BearingSample::modified_damage);
    const bool debris = question.variants[v].grounding &&
                        question.variants[v].grounding->debris_reaches_oil &&
                        world.sump.cleanliness->with_debris;
    system.cleanliness =
        debris ? world.sump.cleanliness->with_debris->id : world.sump.cleanliness->usual.id;
  }
  system.service_hours = service_hours(question, means.mix(), ensemble.samples[v].front());
  system.service_distance_km = service_distance_km(question, means.mix());
  findings.life_system = std::move(system);
}

}  // namespace ohmdrag::study
