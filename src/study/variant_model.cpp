#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <stdexcept>

#include "ohmdrag/contact/brush_heat.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/gear_pair.hpp"
#include "study/element_model.hpp"
#include "study/grounding_path.hpp"

namespace ohmdrag::study {
namespace {

component::ShaftSystem bare_shaft(const WorldModel& model, std::size_t s, const Draw& draw) {
  const Shaft& shaft = model.world->shafts[s];
  component::ShaftSystem system{
      .diameter = model.diameter[s],
      .conductivity = draw(shaft.conductivity),
      .contacts = {},
      .wet_until = {},
      .oil_side_length = {},
      .dry_side_length = {},
      .oil_side = contact::TurningCylinder{draw(shaft.wetted_factor), draw(shaft.free_rise)},
      .dry_side = contact::TurningCylinder{1.0, draw(shaft.free_rise)},
      .lubricant = model.oil};
  if (shaft.bore) system.bore = draw(*shaft.bore);
  if (shaft.oil_side_length) system.oil_side_length = draw(*shaft.oil_side_length);
  if (shaft.dry_side_length) system.dry_side_length = draw(*shaft.dry_side_length);
  return system;
}

energy::Rolling rolling_of(const BearingType& type, const Draw& draw) {
  switch (type.family) {
    case BearingType::Family::deep_groove_ball:
      return energy::BallRolling{};
    case BearingType::Family::tapered_roller:
      return energy::TaperedRolling{draw(type.axial_factor.value())};
    case BearingType::Family::cylindrical_roller:
      break;
  }
  energy::CylindricalRolling rollers;
  if (type.flange_factor) rollers.flange_factor = draw(*type.flange_factor);
  return rollers;
}

/// Puts the parts of a variant on their shafts, one kind after another.
class Fitter {
 public:
  Fitter(const WorldModel& model, const Draw& draw, const ServiceHistory& history,
         VariantModel& into)
      : model_(model), draw_(draw), history_(history), into_(into) {}

  void fit(const Seal& seal, const std::string& variant) {
    const std::size_t s = model_.shaft_index(seal.shaft);
    into_.unit.shafts[s].wet_until = draw_(seal.position);
    if (const auto* lip = std::get_if<LipElement>(&seal.element.form))
      add_lip(*lip, draw_(seal.line_force ? *seal.line_force : lip->line_force),
              seal.over_pressure ? draw_(*seal.over_pressure) : Pressure{}, draw_(seal.position), s,
              "seal");
    else if (!add_fixed_form(seal.element, s, "seal"))
      refuse(seal.element, variant, "no seal");
    describe(seal.element, s, "seal");
  }

  void fit(const Grounding& grounding, const std::string& variant) {
    const std::size_t s = model_.shaft_index(grounding.shaft);
    const Pressing pressing = pressing_of(grounding, model_.diameter[s], draw_);
    const Length at = draw_(grounding.position);
    if (const auto* ring = std::get_if<RingElement>(&grounding.element.form)) {
      add_ring(*ring, pressing, at, s, "grounding");
    } else if (const auto* brush = std::get_if<BrushElement>(&grounding.element.form)) {
      component::ShaftContact contact = brush_contact(*brush, draw_);
      if (grounding.current && brush->contact_drop)
        contact.current_heat =
            contact::contact_drop_heat(draw_(*brush->contact_drop), draw_(*grounding.current));
      add_contact(std::move(contact),
                  brush_life(*brush, pressing, seat(s), history_.of("grounding"), draw_), at, s,
                  "grounding");
    } else if (!add_fixed_form(grounding.element, s, "grounding")) {
      refuse(grounding.element, variant, "no grounding element");
    }
    describe(grounding.element, s, "grounding");
  }

  void fit(const ExtraDrag& extra, const std::string& variant) {
    const std::size_t s = model_.shaft_index(extra.shaft);
    if (const auto* lip = std::get_if<LipElement>(&extra.element.form)) {
      add_lip(*lip, draw_(extra.line_force ? *extra.line_force : lip->line_force), {},
              draw_(extra.position.value()), s, extra.id);
    } else if (const auto* ring = std::get_if<RingElement>(&extra.element.form)) {
      const Length d = model_.diameter[s];
      const Pressing pressing =
          extra.line_force ? Pressing{contact::radial_load(draw_(*extra.line_force), d), {}}
                           : pressing_of(extra.element, d, draw_);
      add_ring(*ring, pressing, draw_(extra.position.value()), s, extra.id);
    } else if (const auto* brush = std::get_if<BrushElement>(&extra.element.form)) {
      add_contact(brush_contact(*brush, draw_),
                  brush_life(*brush, pressing_of(extra.element, model_.diameter[s], draw_), seat(s),
                             history_.of(extra.id), draw_),
                  draw_(extra.position.value()), s, extra.id);
    } else if (!add_fixed_form(extra.element, s, extra.id)) {
      refuse(extra.element, variant, "no drag");
    }
    describe(extra.element, s, extra.id);
  }

  void fit_bearings() {
    for (std::size_t b = 0; b < model_.bearings.size(); ++b) {
      const BearingModel& rolling = model_.bearings[b];
      const Bearing& entry = model_.world->bearings[b];
      into_.unit.parts.push_back(
          {entry.id, energy::BearingPart{rolling.shaft, rolling_of(entry.type, draw_),
                                         rolling.friction, rolling.loads}});
      into_.parts.push_back(
          {entry.id, "bearing", entry.type.id, rolling.shaft,
           weakest(entry.type.torque_factor.basis, entry.type.load_torque_factor.basis), nullptr});
    }
  }

 private:
  [[noreturn]] static void refuse(const Element& element, const std::string& variant,
                                  const std::string& why) {
    throw std::invalid_argument("variant " + variant + ": " + element.id + " is " + why);
  }

  ShaftSeat seat(std::size_t s) const { return {model_.diameter[s], model_.deviation[s]}; }

  void add_lip(const LipElement& lip, LineForce line_force, Pressure over_pressure, Length at,
               std::size_t s, const std::string& id) {
    add_contact(lip_contact(lip, model_.diameter[s], draw_),
                lip_life(lip, line_force, seat(s), over_pressure, history_.of(id), draw_), at, s,
                id);
  }

  void add_ring(const RingElement& ring, const Pressing& pressing, Length at, std::size_t s,
                const std::string& id) {
    add_contact(ring_contact(ring, model_.diameter[s], draw_),
                ring_life(ring, pressing, seat(s), model_.dry[s], history_.of(id), draw_), at, s,
                id);
  }

  bool add_fixed_form(const Element& element, std::size_t s, const std::string& id) {
    if (const auto* rule = std::get_if<RuleElement>(&element.form))
      into_.unit.parts.push_back(
          {id, energy::RulePart{s, rule_of(*rule, draw_),
                                draw_(model_.world->sump.lubricant.viscosity_40)}});
    else if (const auto* stated = std::get_if<StatedElement>(&element.form))
      into_.unit.parts.push_back({id, energy::StatedPart{s, stated_of(*stated, draw_)}});
    else if (const auto* faces = std::get_if<FaceSealElement>(&element.form))
      into_.unit.parts.push_back(
          {id, energy::FaceSealPart{s, face_seal_of(*faces, draw_), draw_(faces->gas_pressure)}});
    else if (const auto* gear = std::get_if<GearElement>(&element.form))
      into_.unit.parts.push_back({id, gear_part(*gear, s)});
    else if (const auto* measured = std::get_if<MeasuredElement>(&element.form))
      into_.unit.parts.push_back(
          {id, energy::MeasuredPart{s, measured->table, draw_(measured->factor)}});
    else
      return false;
    return true;
  }

  energy::GearPart gear_part(const GearElement& gear, std::size_t s) const {
    const component::GearPair pair = gear_pair_of(gear, draw_);
    return {s, pair, component::mesh_geometry(pair), draw_(gear.roughness), draw_(gear.oil_factor)};
  }

  /// Contacts stand in the order of their positions; parts that point behind the new one follow.
  void add_contact(component::ShaftContact contact, ContactLife life, Length position,
                   std::size_t s, const std::string& id) {
    settle(contact, life, Age::begin, model_.diameter[s]);
    contact.id = id;
    contact.position = position;
    auto& contacts = into_.unit.shafts[s].contacts;
    const auto place =
        std::upper_bound(contacts.begin(), contacts.end(), position,
                         [](Length p, const auto& other) { return p < other.position; });
    const auto index = static_cast<std::size_t>(place - contacts.begin());
    for (energy::Part& part : into_.unit.parts)
      if (auto* other = std::get_if<energy::ContactPart>(&part.form);
          other && other->shaft == s && other->contact >= index)
        ++other->contact;
    contacts.insert(place, std::move(contact));
    into_.unit.parts.push_back({id, energy::ContactPart{s, index}});
    into_.lives.push_back({id, s, std::move(life)});
  }

  void describe(const Element& element, std::size_t s, const std::string& id) {
    into_.parts.push_back({id, kind_of(element), element.title, s, basis_of(element), &element});
  }

  const WorldModel& model_;
  const Draw& draw_;
  const ServiceHistory& history_;
  VariantModel& into_;
};

template <class Choice>
bool fitted(const std::optional<Choice>& choice) {
  return choice && !std::holds_alternative<NoElement>(choice->element.form);
}

}  // namespace

VariantModel::VariantModel(const WorldModel& model, const Variant& variant, const Draw& draw,
                           const ServiceHistory& history)
    : fatigue(model, variant, draw) {
  for (std::size_t s = 0; s < model.world->shafts.size(); ++s)
    unit.shafts.push_back(bare_shaft(model, s, draw));
  Fitter fitter(model, draw, history, *this);
  if (fitted(variant.seal)) fitter.fit(*variant.seal, variant.id);
  if (fitted(variant.grounding)) fitter.fit(*variant.grounding, variant.id);
  for (const ExtraDrag& extra : variant.extras) fitter.fit(extra, variant.id);
  if (fitted(variant.grounding))
    fit_grounding_path(model, *variant.grounding, draw, history, *this);
  fitter.fit_bearings();
}

energy::DriveUnit VariantModel::unit_at(Age age) const {
  energy::DriveUnit aged = unit;
  if (age == Age::begin) return aged;
  for (const LivingContact& living : lives) {
    component::ShaftSystem& shaft = aged.shafts[living.shaft];
    const auto contact = std::ranges::find(shaft.contacts, living.id, &component::ShaftContact::id);
    constexpr double widest_of_radius = 0.7;  // beyond, no formula of the band holds
    if (living.life.of(age).width > widest_of_radius * 0.5 * shaft.diameter)
      throw std::invalid_argument(
          fmt::format("the {} is worn to a band of {} mm over its service, too wide for the shaft; "
                      "shorten the service or write replaced_every",
                      living.id, print_number(living.life.of(age).width.value() * 1e3, 2)));
    settle(*contact, living.life, age, shaft.diameter);
  }
  return aged;
}

Flag in_words(const numerics::RangeFlag& flag, const std::string& where) {
  std::string code;
  for (const char c : flag.quantity)
    code += std::isalnum(static_cast<unsigned char>(c)) != 0
                ? static_cast<char>(std::tolower(static_cast<unsigned char>(c)))
                : '-';
  return {"range-" + code,
          fmt::format("{}: {} at {} is {}, the stated range is {} to {}", flag.formula,
                      flag.quantity, where, print_number(flag.value, 3), print_number(flag.low, 3),
                      print_number(flag.high, 3))};
}

}  // namespace ohmdrag::study
