#include "study/element_model.hpp"

#include "ohmdrag/study/visit.hpp"
#include "study/angle.hpp"

namespace ohmdrag::study {
namespace {

contact::Fibre fibre_of(const FibreEntry& entry, const Draw& draw) {
  return {.diameter = draw(entry.diameter),
          .free_length = draw(entry.free_length),
          .young_modulus = draw(entry.young_modulus),
          .density = draw(entry.density)};
}

contact::FibreAttitude attitude_of(const FibreEntry& entry, const Draw& draw) {
  if (entry.lean_deg) return contact::LeaningFibre{in_radians(draw(*entry.lean_deg))};
  return contact::BuckledFibre{draw(*entry.end_factor)};
}

Pressing pressed(const RingElement& ring, Length interference, Length diameter, const Draw& draw) {
  const auto design =
      contact::ring_design(fibre_ring_of(*ring.fibres, draw(ring.contact_width), diameter, draw),
                           diameter, interference);
  return {contact::radial_load(design.line_force, diameter), interference};
}

Pressing pressed(const BrushElement& brush, Length interference, Length, const Draw& draw) {
  return {contact::brush_design(fibre_brush_of(*brush.fibres, draw), interference).radial,
          interference};
}

}  // namespace

Basis basis_of(const Element& element) {
  Basis weakest_yet = Basis::measured;
  for_each_number(element, [&](const UncertainNumber& number) {
    if (!number.key.empty()) weakest_yet = weakest(weakest_yet, number.basis);
  });
  return weakest_yet;
}

contact::FrictionLaw law_of(const FrictionEntry& law, Length contact_width, const Draw& draw) {
  if (const auto* film = std::get_if<MixedFilmEntry>(&law))
    return contact::MixedFilm{.boundary_friction = draw(film->boundary_friction),
                              .film_coefficient = draw(film->film_coefficient),
                              .transition_duty = draw(film->transition_duty),
                              .load_share_exponent = draw(film->load_share_exponent),
                              .contact_width = contact_width};
  if (const auto* ptfe = std::get_if<PtfeFrictionEntry>(&law))
    return contact::PtfeContact{{.slow_coefficient = draw(ptfe->slow_coefficient),
                                 .middle_coefficient = draw(ptfe->middle_coefficient),
                                 .fast_coefficient = draw(ptfe->fast_coefficient),
                                 .filled_factor = draw(ptfe->filled_factor),
                                 .least_pressure = draw(ptfe->least_pressure)},
                                contact_width};
  return contact::ConstantFriction{draw(std::get<ConstantFrictionEntry>(law).friction)};
}

component::ShaftContact lip_contact(const LipElement& lip, Length diameter, const Draw& draw) {
  const Length width = draw(lip.contact_width);
  component::ShaftContact contact;
  contact.law = law_of(lip.law, width, draw);
  contact.to_body =
      contact::body_resistance(diameter, width, draw(lip.body_reach), draw(lip.body_conductivity));
  contact.body_in_oil = true;
  return contact;
}

component::ShaftContact ring_contact(const RingElement& ring, Length diameter, const Draw& draw) {
  const Length width = draw(ring.contact_width);
  component::ShaftContact contact;
  contact.law = law_of(ring.law, width, draw);
  contact.to_body = contact::body_resistance(diameter, width, draw(ring.body_reach),
                                             draw(ring.body_conductivity));
  contact.body_in_oil = ring.oil.has_value();
  return contact;
}

component::ShaftContact brush_contact(const BrushElement& brush, const Draw& draw) {
  component::ShaftContact contact;
  contact.law = law_of(brush.law, draw(brush.contact_width), draw);
  contact.to_body = draw(brush.holder);
  contact.body_in_oil = false;
  return contact;
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

contact::FibreRing fibre_ring_of(const FibreEntry& entry, Length width, Length diameter,
                                 const Draw& draw) {
  contact::FibreRing ring{.fibre = fibre_of(entry, draw),
                          .attitude = attitude_of(entry, draw),
                          .density = {},
                          .width = width,
                          .share_in_contact = draw(entry.share_in_contact)};
  const Area face = std::numbers::pi * diameter * width;
  const Area section = 0.25 * std::numbers::pi * ring.fibre.diameter * ring.fibre.diameter;
  ring.density = entry.count ? draw(*entry.count) / face : draw(*entry.packing) / section;
  return ring;
}

contact::FibreBrush fibre_brush_of(const FibreEntry& entry, const Draw& draw) {
  return {.fibre = fibre_of(entry, draw),
          .attitude = attitude_of(entry, draw),
          .count = draw(*entry.count),
          .share_in_contact = draw(entry.share_in_contact)};
}

Pressing pressing_of(const Element& element, Length diameter, const Draw& draw) {
  if (const auto* ring = std::get_if<RingElement>(&element.form))
    return ring->fibres ? pressed(*ring, draw(ring->fibres->interference), diameter, draw)
                        : Pressing{contact::radial_load(draw(ring->line_force), diameter), {}};
  if (const auto* brush = std::get_if<BrushElement>(&element.form))
    return brush->fibres ? pressed(*brush, draw(brush->fibres->interference), diameter, draw)
                         : Pressing{draw(brush->force), {}};
  return {};
}

Pressing pressing_of(const Grounding& grounding, Length diameter, const Draw& draw) {
  if (grounding.line_force)
    return {contact::radial_load(draw(*grounding.line_force), diameter), {}};
  if (grounding.total_radial_force) return {draw(*grounding.total_radial_force), {}};
  if (grounding.split_shaft_reading)
    return {contact::radial_load(contact::line_force_from_split_reading(
                                     draw(*grounding.split_shaft_reading), diameter),
                                 diameter),
            {}};
  if (grounding.interference) {
    const Length interference = draw(*grounding.interference);
    if (const auto* ring = std::get_if<RingElement>(&grounding.element.form))
      return pressed(*ring, interference, diameter, draw);
    if (const auto* brush = std::get_if<BrushElement>(&grounding.element.form))
      return pressed(*brush, interference, diameter, draw);
  }
  return pressing_of(grounding.element, diameter, draw);
}

std::string kind_of(const Element& element) {
  struct Kind {
    std::string operator()(const NoElement&) const { return "none"; }
    std::string operator()(const LipElement&) const { return "lip-seal"; }
    std::string operator()(const RingElement& ring) const {
      return ring.oil ? "ring-in-oil" : "dry-ring";
    }
    std::string operator()(const BrushElement&) const { return "brush"; }
    std::string operator()(const FaceSealElement&) const { return "face-seal"; }
    std::string operator()(const RuleElement&) const { return "published-rule"; }
    std::string operator()(const StatedElement&) const { return "stated"; }
    std::string operator()(const GearElement&) const { return "gear-mesh"; }
    std::string operator()(const MeasuredElement&) const { return "measured"; }
  };
  return std::visit(Kind{}, element.form);
}

}  // namespace ohmdrag::study
