#include "study/element_model.hpp"

#include "ohmdrag/contact/electrical.hpp"
#include "ohmdrag/study/visit.hpp"
#include "ohmdrag/voltage/path_geometry.hpp"

namespace ohmdrag::study {
namespace {

contact::DryResistance resistance_law(const ElementResistance& entry, const Draw& draw) {
  return {.bulk = draw(entry.bulk),
          .film = draw(entry.film),
          .at_line_force = draw(entry.at_line_force),
          .at_force = draw(entry.at_force),
          .at_diameter = draw(entry.at_diameter),
          .count_exponent = draw(entry.count_exponent),
          .film_exponent = draw(entry.film_exponent)};
}

const ElementResistance* resistance_entry(const Element& element) {
  if (const auto* ring = std::get_if<RingElement>(&element.form)) return &ring->resistance;
  if (const auto* brush = std::get_if<BrushElement>(&element.form)) return &brush->resistance;
  if (const auto* stated = std::get_if<StatedElement>(&element.form))
    return stated->resistance ? &*stated->resistance : nullptr;
  return nullptr;
}

Inductance path_inductance(const Grounding& grounding, const Draw& draw) {
  if (const auto* strap = std::get_if<Strap>(&grounding.path))
    return voltage::strap_inductance(strap->length, strap->width, strap->thickness);
  if (const auto* wire = std::get_if<Wire>(&grounding.path))
    return voltage::wire_inductance(wire->length, wire->diameter);
  if (const auto* stated = std::get_if<StatedPath>(&grounding.path))
    return draw(stated->inductance);
  return {};
}

}  // namespace

Basis basis_of(const Element& element) {
  Basis weakest_yet = Basis::measured;
  for_each_number(element, [&](const UncertainNumber& number) {
    if (!number.key.empty()) weakest_yet = weakest(weakest_yet, number.basis);
  });
  return weakest_yet;
}

component::ShaftContact lip_contact(const LipElement& lip, LineForce line_force, Length diameter,
                                    const Draw& draw) {
  const Length width = draw(lip.contact_width);
  return {.id = {},
          .law = contact::MixedFilm{.boundary_friction = draw(lip.boundary_friction),
                                    .film_coefficient = draw(lip.film_coefficient),
                                    .transition_duty = draw(lip.transition_duty),
                                    .load_share_exponent = draw(lip.load_share_exponent),
                                    .contact_width = width},
          .contact_width = width,
          .line_force = line_force,
          .load = contact::radial_load(line_force, diameter),
          .to_body = contact::body_resistance(diameter, width, draw(lip.body_reach),
                                              draw(lip.body_conductivity)),
          .body_in_oil = true,
          .position = {}};
}

component::ShaftContact ring_contact(const RingElement& ring, Force load, Length diameter,
                                     const Draw& draw) {
  const Length width = draw(ring.contact_width);
  return {.id = {},
          .law = contact::ConstantFriction{draw(ring.friction)},
          .contact_width = width,
          .line_force = contact::line_force_from_total(load, diameter),
          .load = load,
          .to_body = contact::body_resistance(diameter, width, draw(ring.body_reach),
                                              draw(ring.body_conductivity)),
          .body_in_oil = false,
          .position = {}};
}

component::ShaftContact brush_contact(const BrushElement& brush, Force load, Length diameter,
                                      const Draw& draw) {
  return {.id = {},
          .law = contact::ConstantFriction{draw(brush.friction)},
          .contact_width = draw(brush.contact_width),
          .line_force = contact::line_force_from_total(load, diameter),
          .load = load,
          .to_body = draw(brush.holder),
          .body_in_oil = false,
          .position = {}};
}

component::PublishedRule rule_of(const RuleElement& rule, const Draw& draw) {
  const double coefficient = draw(rule.coefficient);
  switch (rule.form) {
    case RuleElement::Form::diameter:
      return component::TorqueByDiameter{coefficient};
    case RuleElement::Form::diameter_squared:
      return component::PowerByDiameterSquared{coefficient};
    case RuleElement::Form::oil_temperature:
      break;
  }
  return component::PowerByOilTemperature{.coefficient_W_min_per_mm2 = coefficient};
}

component::GasFaceSeal face_seal_of(const FaceSealElement& faces, const Draw& draw) {
  return {.faces = {draw(faces.inner_radius), draw(faces.outer_radius)},
          .boundary_friction = draw(faces.boundary_friction),
          .contact_force = draw(faces.contact_force),
          .lift_off = draw(faces.lift_off),
          .reference_film = draw(faces.reference_film),
          .film_speed = draw(faces.film_speed),
          .least_film = draw(faces.least_film),
          .highest_film = draw(faces.highest_film)};
}

component::StatedLoss stated_of(const StatedElement& stated, const Draw& draw) {
  return {draw(stated.power), draw(stated.at), draw(stated.torque_exponent)};
}

Force pressing_force(const Grounding& grounding, Length diameter, const Draw& draw) {
  if (grounding.line_force) return contact::radial_load(draw(*grounding.line_force), diameter);
  if (grounding.total_radial_force) return draw(*grounding.total_radial_force);
  if (grounding.split_shaft_reading)
    return contact::radial_load(
        contact::line_force_from_split_reading(draw(*grounding.split_shaft_reading), diameter),
        diameter);
  if (const auto* ring = std::get_if<RingElement>(&grounding.element.form))
    return contact::radial_load(draw(ring->line_force), diameter);
  if (const auto* brush = std::get_if<BrushElement>(&grounding.element.form))
    return draw(brush->force);
  return {};
}

std::string kind_of(const Element& element) {
  struct Kind {
    std::string operator()(const NoElement&) const { return "none"; }
    std::string operator()(const LipElement&) const { return "lip-seal"; }
    std::string operator()(const RingElement&) const { return "dry-ring"; }
    std::string operator()(const BrushElement&) const { return "brush"; }
    std::string operator()(const FaceSealElement&) const { return "face-seal"; }
    std::string operator()(const RuleElement&) const { return "published-rule"; }
    std::string operator()(const StatedElement&) const { return "stated"; }
  };
  return std::visit(Kind{}, element.form);
}

PathOverService path_of(const Grounding& grounding, Force load, Length diameter, const Draw& draw) {
  PathOverService path;
  const ElementResistance* entry = resistance_entry(grounding.element);
  Resistance begin{};
  if (grounding.resistance) {
    begin = draw(*grounding.resistance);
  } else if (entry) {
    const contact::DryResistance law = resistance_law(*entry, draw);
    const auto result = std::holds_alternative<BrushElement>(grounding.element.form)
                            ? contact::brush_resistance(law, load)
                            : contact::ring_resistance(
                                  law, contact::line_force_from_total(load, diameter), diameter);
    begin = result.value;
    for (const auto& flag : result.flags) path.flags.push_back(in_words(flag, "grounding"));
  } else {
    return path;
  }
  const Inductance inductance = path_inductance(grounding, draw);
  const double growth = entry ? draw(entry->end_of_service_factor) : 1.0;
  path.begin = voltage::GroundingPath{begin, inductance};
  path.end = voltage::GroundingPath{growth * begin, inductance};
  return path;
}

}  // namespace ohmdrag::study
