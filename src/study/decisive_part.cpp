#include "study/decisive_part.hpp"

#include <algorithm>
#include <map>
#include <memory>

#include "study/headline_figures.hpp"
#include "study/service.hpp"

namespace ohmdrag::study {
namespace {

bool is_read_at_points(Measure measure) {
  switch (measure) {
    case Measure::impedance_magnitude:
    case Measure::net_power:
    case Measure::contact_temperature:
    case Measure::edge_peak:
    case Measure::held_voltage:
      return true;
    case Measure::striking_time_share:
    case Measure::dose_factor:
    case Measure::battery_energy_per_distance:
    case Measure::mechanical_life:
    case Measure::modified_life:
      break;
  }
  return false;
}

std::vector<bool> points_kept(const Case& question, HeadlinePoint headline) {
  std::vector<bool> kept(question.points.size(), question.duties.empty());
  for (const Requirement& requirement : question.requirements)
    for (std::size_t p = 0; p < kept.size(); ++p)
      if (is_read_at_points(requirement.measure) &&
          (requirement.point.empty() || requirement.point == question.points[p].id))
        kept[p] = true;
  if (headline == HeadlinePoint::kept && !kept.empty()) kept[headline_point(question)] = true;
  return kept;
}

std::vector<bool> duties_kept(const Case& question) {
  const ServiceMix mix = service_mix(question);
  std::vector<bool> kept;
  for (std::size_t d = 0; d < question.duties.size(); ++d) {
    const Duty& duty = question.duties[d];
    const auto named = [&](const Requirement& requirement) {
      return requirement.measure == Measure::battery_energy_per_distance &&
             (requirement.point.empty() || requirement.point == duty.id ||
              requirement.point == duty.family);
    };
    kept.push_back(mix.share[d] > 0.0 || std::ranges::any_of(question.requirements, named));
  }
  return kept;
}

/// By a requirement, or for the harm that debris in the oil does to the bearings.
bool asks_for_rating_life(const Case& part) {
  return std::ranges::any_of(part.requirements,
                             [](const Requirement& requirement) {
                               return requirement.measure == Measure::mechanical_life ||
                                      requirement.measure == Measure::modified_life;
                             }) ||
         std::ranges::any_of(part.variants, [](const Variant& variant) {
           return variant.grounding && variant.grounding->debris_reaches_oil;
         });
}

template <class T>
void keep(std::vector<T>& all, const std::vector<bool>& kept) {
  std::vector<T> result;
  for (std::size_t i = 0; i < all.size(); ++i)
    if (kept[i]) result.push_back(std::move(all[i]));
  all = std::move(result);
}

Case cut(const Case& question, const std::vector<bool>& points) {
  const std::vector<bool> duties = duties_kept(question);
  Case part = question;
  // Variants that share a world still do.
  std::map<const Case*, std::shared_ptr<const Case>> worlds;
  const auto cut_one = [&](Case& one) {
    keep(one.points, points);
    keep(one.duties, duties);
  };
  cut_one(part);
  for (Variant& variant : part.variants) {
    if (!variant.world) continue;
    auto& world = worlds[variant.world.get()];
    if (!world) {
      auto copy = std::make_shared<Case>(*variant.world);
      cut_one(*copy);
      world = std::move(copy);
    }
    variant.world = world;
  }
  return part;
}

}  // namespace

Case decisive_part(const Case& question, HeadlinePoint headline) {
  return cut(question, points_kept(question, headline));
}

Case headline_part(const Case& question) {
  return cut(question, std::vector<bool>(question.points.size(), true));
}

Sections decisive_sections(const Case& part) {
  const bool volts = std::ranges::any_of(part.requirements, [](const Requirement& requirement) {
    return requirement.measure == Measure::edge_peak ||
           requirement.measure == Measure::held_voltage;
  });
  return {.energy = true,
          .voltage = volts,
          .life = true,
          .discharges_alone = !asks_for_rating_life(part)};
}

bool has_to_be_evaluated_whole(const Case& question) {
  return std::ranges::any_of(question.duties,
                             [](const Duty& duty) { return !duty.trips.empty(); }) ||
         std::ranges::any_of(question.requirements, [](const Requirement& requirement) {
           return requirement.confidence > 0.0;
         });
}

Case with_variants(const Case& question, const std::vector<bool>& kept) {
  Case part = question;
  keep(part.variants, kept);
  return part;
}

}  // namespace ohmdrag::study
