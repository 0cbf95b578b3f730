#include "study/sizing_limits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/contact/element_design.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/element_parts.hpp"
#include "study/sizing_knob.hpp"

namespace ohmdrag::study {
namespace {

std::string_view part_id(SizedPart part) { return part == SizedPart::seal ? "seal" : "grounding"; }

/// Collects the tests of one scan.
class Tests {
 public:
  Tests(const Ensemble& ensemble, const SizingQuestion& what, const Nominal& any)
      : ensemble_(ensemble), what_(what), any_(any) {}

  std::vector<LimitTest> all() {
    for (const Requirement& requirement : ensemble_.question->requirements)
      add_requirement(requirement);
    for (std::size_t p = 0; p < any_.variant.parts.size(); ++p) add_temperature(p);
    add_wear();
    if (what_.part == SizedPart::grounding) add_turn();
    if (what_.part == SizedPart::seal) add_tightness();
    for (const Allocation& allocation : ensemble_.question->allocations) add_allocation(allocation);
    return std::move(tests_);
  }

 private:
  void add_requirement(const Requirement& requirement) {
    if (requirement.measure == Measure::impedance_magnitude && !any_.variant.grounded) return;
    const auto r = static_cast<std::size_t>(&requirement - ensemble_.question->requirements.data());
    std::string what = in_words(requirement);
    std::function<std::optional<double>(std::size_t)> share;
    if (requirement.confidence > 0.0 && !ensemble_.parts.empty()) {
      what +=
          fmt::format(", with {} % confidence", print_number(100.0 * requirement.confidence, 3));
      share = [&ensemble = ensemble_, r](std::size_t v) -> std::optional<double> {
        const auto& parts = ensemble.parts[v][r];
        if (!parts) return std::nullopt;
        return parts->way == ShareOfParts::Way::none ? 0.0 : parts->share_at_confidence;
      };
    }
    tests_.push_back({requirement.id, std::move(what), requirement.share_of_parts,
                      [&ensemble = ensemble_, &requirement](
                          std::size_t v, std::size_t draw) -> std::optional<bool> {
                        const auto value = requirement_value(ensemble, requirement, v, draw);
                        if (!value) return std::nullopt;
                        return holds(requirement, *value);
                      },
                      std::move(share)});
  }

  void add_temperature(std::size_t part) {
    const PartInfo& info = any_.variant.parts[part];
    if (!info.element) return;
    const ElementLimits& limits = info.element->limits;
    const auto& of_material =
        limits.of_material ? limits.of_material->continuous_high : std::nullopt;
    const auto& bound = limits.temperature ? limits.temperature : of_material;
    if (!bound) return;
    const double degC = in_celsius(bound->nominal());
    tests_.push_back({info.id + "-temperature",
                      fmt::format("contact of the {} at most {} °C ({})", info.id,
                                  print_number(degC, 4), to_word(bound->basis)),
                      usual_share,
                      [&samples = ensemble_.samples, part, degC](
                          std::size_t v, std::size_t draw) -> std::optional<bool> {
                        double worst = not_a_figure;
                        for (const PointSample& point : samples[v][draw].points)
                          worst = std::fmax(worst, point.parts[part].contact_degC);
                        if (std::isnan(worst)) return std::nullopt;
                        return worst <= degC;
                      }});
  }

  void add_wear() {
    const auto contact = sized_contact(any_, what_.part);
    if (!contact) return;
    const LivingContact& living = any_.variant.lives[*contact];
    if (!living.life.history) return;
    const double service_s = living.life.history->age.value();
    tests_.push_back({"wear",
                      fmt::format("wear length not used up within {} h of service",
                                  print_number(service_s / 3600.0, 3)),
                      usual_share,
                      [&samples = ensemble_.samples, contact, service_s](
                          std::size_t v, std::size_t draw) -> std::optional<bool> {
                        const double worn_out_s = samples[v][draw].contacts[*contact].worn_out_s;
                        if (std::isnan(worn_out_s)) return std::nullopt;
                        return worn_out_s >= service_s;
                      }});
  }

  /// Fibres over a turn of a shaft that runs out, at the middle values of each variant.
  void add_turn() {
    const Shaft& shaft = any_.world->shafts[any_.model.shaft_index(any_.entry->grounding->shaft)];
    if (!fibres_of(any_.entry->grounding->element) || !shaft.run_out) return;
    const Length reading = shaft.run_out->nominal();
    tests_.push_back(
        {"kept-over-a-turn",
         fmt::format("fibres keep contact at a run-out of {}",
                     print_quantity(reading.value(), Dimension::length)),
         usual_share,
         [&variants = ensemble_.question->variants, reading](std::size_t v,
                                                             std::size_t) -> std::optional<bool> {
           const Grounding& grounding = *variants[v].grounding;
           const FibreEntry& fibres = *fibres_of(grounding.element);
           const Length interference =
               (grounding.interference ? *grounding.interference : fibres.interference).nominal();
           return !contact::least_line_force(
                       LineForce::from_value(1.0), interference,
                       {reading, Length{}, fibres.dynamic_stiffening.nominal()})
                       .opens_each_turn;
         }});
  }

  void add_tightness() {
    const auto contact = sized_contact(any_, SizedPart::seal);
    const auto* lip = std::get_if<LipElement>(&any_.entry->seal->element.form);
    if (!contact || !lip || !lip->least_line_force) return;
    const double least = lip->least_line_force->nominal().value();
    tests_.push_back(
        {"tightness",
         fmt::format("line force at the end of service at least {} N/mm, below which the lip may "
                     "not stay tight ({})",
                     print_number(least * 1e-3, 3), to_word(lip->least_line_force->basis)),
         usual_share,
         [&samples = ensemble_.samples, contact, least](std::size_t v, std::size_t draw) {
           return std::optional(samples[v][draw].contacts[*contact].line_force_N_m.back() >= least);
         }});
  }

  void add_allocation(const Allocation& allocation) {
    // Watts of another part are not this element's doing.
    if (allocation.component != part_id(what_.part)) return;
    const auto& parts = any_.variant.parts;
    const auto found = std::ranges::find(parts, allocation.component, &PartInfo::id);
    if (found == parts.end()) return;
    const auto part = static_cast<std::size_t>(found - parts.begin());
    const double most_W = allocation.max.mid();
    const std::string where = allocation.point.empty() ? allocation.duty : allocation.point;
    tests_.push_back(
        {"allocation-" + allocation.component + '-' + where,
         fmt::format("{} at most {} W, {}", allocation.component, print_number(most_W, 4), where),
         usual_share,
         [&samples = ensemble_.samples, &world = *any_.world, part, most_W, &allocation](
             std::size_t v, std::size_t draw) {
           const auto watts = part_W(world, samples[v][draw], allocation, part);
           return watts ? std::optional(*watts <= most_W) : std::nullopt;
         }});
  }

  static std::optional<double> part_W(const Case& world, const VariantSample& sample,
                                      const Allocation& allocation, std::size_t part) {
    for (std::size_t p = 0; p < world.points.size(); ++p)
      if (world.points[p].id == allocation.point) return sample.points[p].parts[part].own_W;
    for (std::size_t d = 0; d < sample.duties.size(); ++d) {
      if (world.duties[d].id != allocation.duty || sample.duties[d].phases.empty()) continue;
      return part_mean_W(sample.duties[d], part);
    }
    return std::nullopt;
  }

  const Ensemble& ensemble_;
  SizingQuestion what_;
  const Nominal& any_;
  std::vector<LimitTest> tests_ = {};
};

}  // namespace

std::vector<LimitTest> limit_tests(const Ensemble& ensemble, const SizingQuestion& what,
                                   const Nominal& any) {
  return Tests(ensemble, what, any).all();
}

std::optional<std::size_t> sized_contact(const Nominal& any, SizedPart part) {
  const auto& lives = any.variant.lives;
  const auto found = std::ranges::find(lives, part_id(part), &LivingContact::id);
  if (found == lives.end()) return std::nullopt;
  return static_cast<std::size_t>(found - lives.begin());
}

}  // namespace ohmdrag::study
