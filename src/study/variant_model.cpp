#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"
#include "study/element_model.hpp"

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

/// Puts the parts of a variant on their shafts, one kind after another.
class Fitter {
 public:
  Fitter(const WorldModel& model, const Draw& draw, VariantModel& into)
      : model_(model), draw_(draw), into_(into) {}

  void fit(const Seal& seal, const std::string& variant) {
    const std::size_t s = model_.shaft_index(seal.shaft);
    into_.unit.shafts[s].wet_until = draw_(seal.position);
    if (const auto* lip = std::get_if<LipElement>(&seal.element.form))
      add_contact(lip_contact(*lip, draw_(seal.line_force ? *seal.line_force : lip->line_force),
                              model_.diameter[s], draw_),
                  draw_(seal.position), s, "seal");
    else if (!add_fixed_form(seal.element, s, "seal"))
      refuse(seal.element, variant, "no seal");
    describe(seal.element, s, "seal");
  }

  void fit(const Grounding& grounding, const std::string& variant) {
    const std::size_t s = model_.shaft_index(grounding.shaft);
    const Length d = model_.diameter[s];
    const Force load = pressing_force(grounding, d, draw_);
    const Length at = draw_(grounding.position);
    if (const auto* ring = std::get_if<RingElement>(&grounding.element.form))
      add_contact(ring_contact(*ring, load, d, draw_), at, s, "grounding");
    else if (const auto* brush = std::get_if<BrushElement>(&grounding.element.form))
      add_contact(brush_contact(*brush, load, d, draw_), at, s, "grounding");
    else if (!add_fixed_form(grounding.element, s, "grounding"))
      refuse(grounding.element, variant, "no grounding element");
    describe(grounding.element, s, "grounding");

    PathOverService path = path_of(grounding, load, d, draw_);
    const auto& coupling = model_.world->coupling;
    if (coupling && model_.shaft_index(coupling->shaft) != s) {
      // Between the shafts lie gear mesh and bearings: no path that this model knows.
      path.begin = path.end = std::nullopt;
      path.flags.push_back({"grounds-another-shaft",
                            "stands on another shaft than the one the winding couples to: it "
                            "grounds nothing in this model"});
    }
    into_.path_begin = path.begin;
    into_.path_end = path.end;
    into_.grounding_flags = std::move(path.flags);
  }

  void fit(const ExtraDrag& extra, const std::string& variant) {
    const std::size_t s = model_.shaft_index(extra.shaft);
    if (!add_fixed_form(extra.element, s, extra.id))
      refuse(extra.element, variant, "neither a rule nor a stated loss");
    describe(extra.element, s, extra.id);
  }

  void fit_bearings() {
    for (std::size_t b = 0; b < model_.bearings.size(); ++b) {
      const BearingModel& rolling = model_.bearings[b];
      const Bearing& entry = model_.world->bearings[b];
      into_.unit.parts.push_back({entry.id, energy::BearingPart{rolling.shaft, rolling.roller,
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
    else
      return false;
    return true;
  }

  /// Contacts stand in the order of their positions; parts that point behind the new one follow.
  void add_contact(component::ShaftContact contact, Length position, std::size_t s,
                   const std::string& id) {
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
  }

  void describe(const Element& element, std::size_t s, const std::string& id) {
    into_.parts.push_back({id, kind_of(element), element.title, s, basis_of(element), &element});
  }

  const WorldModel& model_;
  const Draw& draw_;
  VariantModel& into_;
};

template <class Choice>
bool fitted(const std::optional<Choice>& choice) {
  return choice && !std::holds_alternative<NoElement>(choice->element.form);
}

}  // namespace

VariantModel::VariantModel(const WorldModel& model, const Variant& variant, const Draw& draw) {
  for (std::size_t s = 0; s < model.world->shafts.size(); ++s)
    unit.shafts.push_back(bare_shaft(model, s, draw));
  Fitter fitter(model, draw, *this);
  if (fitted(variant.seal)) fitter.fit(*variant.seal, variant.id);
  if (fitted(variant.grounding)) fitter.fit(*variant.grounding, variant.id);
  for (const ExtraDrag& extra : variant.extras) fitter.fit(extra, variant.id);
  fitter.fit_bearings();
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
