#include "study/sizing_knob.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <stdexcept>
#include <utility>

#include "ohmdrag/study/element_parts.hpp"

namespace ohmdrag::study {
namespace {

constexpr std::array words{
    std::pair{SizedBy::line_force, std::string_view("line_force")},
    std::pair{SizedBy::total_radial_force, std::string_view("total_radial_force")},
    std::pair{SizedBy::interference, std::string_view("interference")},
    std::pair{SizedBy::free_length, std::string_view("free_length")},
    std::pair{SizedBy::fibre_count, std::string_view("fibre_count")}};

[[noreturn]] void refuse(const std::string& why) { throw std::invalid_argument(why); }

FibreEntry& need_fibres(const Variant& variant, Element& element, SizedBy knob) {
  if (FibreEntry* fibres = fibres_of(element)) return *fibres;
  refuse(fmt::format("variant {}: {} has no fibres, so there is no {} to size", variant.id,
                     element.id, word_of(knob)));
}

Grounding& need_grounding(Variant& variant) {
  if (!variant.grounding || std::holds_alternative<NoElement>(variant.grounding->element.form))
    refuse(fmt::format("variant {}: it has no grounding element to size", variant.id));
  return *variant.grounding;
}

UncertainNumber& seal_knob(Variant& variant, SizedBy knob) {
  if (!variant.seal) refuse(fmt::format("variant {}: it has no seal to size", variant.id));
  auto* lip = std::get_if<LipElement>(&variant.seal->element.form);
  if (!lip)
    refuse(fmt::format("variant {}: its seal {} is no lip with a force", variant.id,
                       variant.seal->element.id));
  if (knob != SizedBy::line_force)
    refuse(fmt::format("variant {}: a lip is sized by line_force, not by {}", variant.id,
                       word_of(knob)));
  if (!variant.seal->line_force) variant.seal->line_force = lip->line_force;
  return *variant.seal->line_force;
}

UncertainNumber& line_force_of(const Variant& variant, Grounding& grounding) {
  if (grounding.line_force) return *grounding.line_force;
  if (grounding.total_radial_force || grounding.split_shaft_reading || grounding.interference)
    refuse(
        fmt::format("variant {}: its grounding states another force than a line force; size by "
                    "that one",
                    variant.id));
  auto* ring = std::get_if<RingElement>(&grounding.element.form);
  if (!ring || ring->fibres)
    refuse(fmt::format("variant {}: {} has no line force of its own; size by {}", variant.id,
                       grounding.element.id,
                       ring ? "interference, free_length or fibre_count" : "total_radial_force"));
  grounding.line_force = ring->line_force;
  return *grounding.line_force;
}

UncertainNumber& total_force_of(const Variant& variant, Grounding& grounding) {
  if (grounding.total_radial_force) return *grounding.total_radial_force;
  auto* brush = std::get_if<BrushElement>(&grounding.element.form);
  if (!brush || brush->fibres)
    refuse(fmt::format("variant {}: it states no total radial force", variant.id));
  grounding.total_radial_force = brush->force;
  return *grounding.total_radial_force;
}

/// The number itself, made the variant's own where the element's stood in for it.
UncertainNumber& knob_in(Variant& variant, SizedPart part, SizedBy knob) {
  if (part == SizedPart::seal) return seal_knob(variant, knob);
  Grounding& grounding = need_grounding(variant);
  switch (knob) {
    case SizedBy::line_force:
      return line_force_of(variant, grounding);
    case SizedBy::total_radial_force:
      return total_force_of(variant, grounding);
    case SizedBy::interference:
      if (!grounding.interference)
        grounding.interference = need_fibres(variant, grounding.element, knob).interference;
      return *grounding.interference;
    case SizedBy::free_length:
      return need_fibres(variant, grounding.element, knob).free_length;
    case SizedBy::fibre_count:
      break;
  }
  FibreEntry& fibres = need_fibres(variant, grounding.element, knob);
  // Of a ring the packing stands for the count: as many fibres on the same face.
  return fibres.count ? *fibres.count : *fibres.packing;
}

Distribution scaled(Distribution distribution, double factor) {
  distribution.mid *= factor;
  if (distribution.shape != Shape::log_normal) distribution.half_width *= factor;
  return distribution;
}

}  // namespace

std::string_view word_of(SizedBy knob) {
  for (const auto& [known, word] : words)
    if (known == knob) return word;
  return {};
}

Dimension dimension_of(SizedBy knob) {
  switch (knob) {
    case SizedBy::line_force:
      return Dimension::line_force;
    case SizedBy::total_radial_force:
      return Dimension::force;
    case SizedBy::interference:
    case SizedBy::free_length:
      return Dimension::length;
    case SizedBy::fibre_count:
      break;
  }
  return Dimension::ratio;
}

std::vector<std::string> sized_by_words() {
  std::vector<std::string> all;
  for (const auto& [known, word] : words) all.emplace_back(word);
  return all;
}

SizedBy sized_by_from(std::string_view word) {
  for (const auto& [knob, known] : words)
    if (known == word) return knob;
  throw std::invalid_argument(fmt::format("there is no \"{}\" to size by", word));
}

SizedBy knob_of(const Variant& variant, const SizingQuestion& what) {
  if (what.knob || what.part == SizedPart::seal) return what.knob.value_or(SizedBy::line_force);
  if (!variant.grounding) return SizedBy::line_force;
  const Grounding& grounding = *variant.grounding;
  if (grounding.total_radial_force) return SizedBy::total_radial_force;
  if (grounding.interference) return SizedBy::interference;
  if (grounding.line_force) return SizedBy::line_force;
  if (fibres_of(grounding.element)) return SizedBy::interference;
  return std::holds_alternative<BrushElement>(grounding.element.form) ? SizedBy::total_radial_force
                                                                      : SizedBy::line_force;
}

double stated_knob(const Variant& variant, SizedPart part, SizedBy knob) {
  Variant copy = variant;
  const double stated = knob_in(copy, part, knob).mid();
  if (!(stated > 0.0))
    refuse(fmt::format("variant {}: its {} is zero; state the value to size around", variant.id,
                       word_of(knob)));
  return stated;
}

Variant with_knob(const Variant& variant, SizedPart part, SizedBy knob, double value) {
  Variant copy = variant;
  UncertainNumber& number = knob_in(copy, part, knob);
  const double factor = value / number.mid();
  number.spread = scaled(number.spread, factor);
  if (number.scatter.shape != Shape::log_normal) number.scatter.half_width *= factor;
  return copy;
}

const Element& sized_element(const Variant& variant, SizedPart part) {
  return part == SizedPart::seal ? variant.seal->element : variant.grounding->element;
}

std::optional<SizingQuestion> sizing_of(const Case& question, const Trade& trade) {
  std::vector<std::string> in_order{trade.chosen};
  in_order.insert(in_order.end(), trade.nondominated.begin(), trade.nondominated.end());
  for (const Variant& variant : question.variants) in_order.push_back(variant.id);
  for (const std::string& id : in_order) {
    const auto variant = std::ranges::find(question.variants, id, &Variant::id);
    if (variant == question.variants.end() || !variant->grounding) continue;
    try {
      const SizingQuestion asked{.variant = id};
      stated_knob(*variant, asked.part, knob_sized(question, asked));
      return asked;
    } catch (const std::invalid_argument&) {
      continue;  // it has no force
    }
  }
  return std::nullopt;
}

}  // namespace ohmdrag::study
