#include "input/element_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "input/contact_reader.hpp"
#include "input/entry_members.hpp"
#include "ohmdrag/study/members.hpp"

namespace ohmdrag::input {

namespace {

study::ElementResistance read_resistance(TableReader table, const Node* base,
                                         std::string_view force_key) {
  study::ElementResistance out;
  study::for_each_member(out, reading(table, base));
  if (force_key == "at_line_force") {
    table.into("at_line_force", out.at_line_force, below(base, "at_line_force"));
    table.into("at_diameter", out.at_diameter, below(base, "at_diameter"));
  } else {
    table.into("at_force", out.at_force, below(base, "at_force"));
    if (table.has("at_diameter"))
      table.into("at_diameter", out.at_diameter, below(base, "at_diameter"));
  }
  if (table.has("running")) {
    TableReader running = table.table("running");
    out.running = members_of<study::ElementResistance::Running>(running, below(base, "running"));
    running.done();
  }
  table.done();
  return out;
}

study::RuleElement read_rule(TableReader& table, const Node* base) {
  const std::vector<std::string> forms{"diameter", "diameter-squared", "oil-temperature"};
  study::RuleElement out;
  const std::string form = table.word("form", forms);
  using Form = study::RuleElement::Form;
  out.form = form == forms[0]   ? Form::diameter
             : form == forms[1] ? Form::diameter_squared
                                : Form::oil_temperature;
  study::for_each_member(out, reading(table, base));
  return out;
}

}  // namespace

study::Lubricant read_lubricant(ReadContext& context, const Node& entry, const Node* base) {
  TableReader table{context, &entry, "lubricant"};
  study::Lubricant out;
  out.id = entry.key;
  out.title = table.maybe_text("title").value_or(entry.key);
  table.find("remark");
  study::for_each_member(out, reading(table, base));
  table.done();
  return out;
}

study::StatedElement read_stated(TableReader& table, const Node* base) {
  study::StatedElement out;
  study::for_each_member(out, reading(table, base));
  return out;
}

study::Element read_element(ReadContext& context, const Node& entry, const Node* base) {
  const bool is_rule = entry.find("form") != nullptr;
  TableReader table{context, &entry, is_rule ? "rule" : "contact"};
  study::Element out;
  out.id = entry.key;
  out.title = table.maybe_text("title").value_or(entry.key);
  out.remark = table.maybe_text("remark").value_or(std::string{});
  out.limits = read_limits(context, table);
  if (is_rule) {
    table.find("kind");
    out.form = read_rule(table, base);
    table.done();
    return out;
  }
  const std::vector<std::string> kinds{"lip", "ring", "brush", "face-seal", "stated"};
  const std::string kind = table.word("kind", kinds);
  if (kind == "lip") {
    study::LipElement lip;
    study::for_each_member(lip, reading(table, base));
    lip.law = read_friction(table, base, "mixed-film");
    lip.service = read_contact_service(context, table, base);
    out.form = lip;
  } else if (kind == "ring") {
    study::RingElement ring;
    ring.fibres = read_fibres(table, base);
    ring.oil = read_oil(table, base);
    study::for_each_member(ring, reading(table, base));
    ring.law = read_friction(table, base, ring.oil ? "mixed-film" : "constant");
    ring.service = read_contact_service(context, table, base);
    ring.resistance = read_resistance(table.required_table("resistance"), below(base, "resistance"),
                                      "at_line_force");
    if (ring.oil && !std::holds_alternative<study::MixedFilmEntry>(ring.law))
      table.complain("friction_law", "a ring in oil runs on a mixed film; expected mixed-film");
    out.form = ring;
  } else if (kind == "brush") {
    study::BrushElement brush;
    brush.fibres = read_fibres(table, base);
    study::for_each_member(brush, reading(table, base));
    brush.law = read_friction(table, base, "constant");
    brush.service = read_contact_service(context, table, base);
    brush.resistance =
        read_resistance(table.required_table("resistance"), below(base, "resistance"), "at_force");
    if (brush.fibres && !brush.fibres->count)
      table.complain("fibres", "a brush is described by the count of its fibres");
    if (std::holds_alternative<study::LipService>(brush.service))
      table.complain("service", "a brush has no lip; expected a service without form");
    out.form = brush;
  } else if (kind == "face-seal") {
    study::FaceSealElement faces;
    study::for_each_member(faces, reading(table, base));
    out.form = faces;
  } else {
    study::StatedElement stated = read_stated(table, base);
    if (const Node* resistance = table.find("resistance"))
      stated.resistance =
          read_resistance(table.table("resistance"), below(base, "resistance"),
                          resistance->find("at_line_force") ? "at_line_force" : "at_force");
    out.form = stated;
  }
  out.flash = read_flash(table, base);
  table.done();
  return out;
}

study::BearingType read_bearing_members(TableReader& table, const Node* base) {
  study::BearingType out;
  study::for_each_member(out, reading(table, base));
  return out;
}

study::BearingType read_bearing_type(ReadContext& context, const Node& entry, const Node* base) {
  TableReader table{context, &entry, "bearing_type"};
  study::BearingType out = read_bearing_members(table, base);
  const std::vector<std::string> families{"deep-groove-ball", "cylindrical-roller",
                                          "tapered-roller"};
  const auto family = std::ranges::find(families, table.word("family", families));
  out.family = static_cast<study::BearingType::Family>(family - families.begin());
  out.id = entry.key;
  table.find("title");
  table.find("remark");
  table.done();
  return out;
}

study::DischargeConstants read_discharge(ReadContext& context, const Node* own,
                                         const Node& defaults) {
  // Without a table of its own the case takes every default.
  Node empty;
  empty.origin = "discharge";
  empty.place = own ? own->place : defaults.place;
  TableReader table{context, own ? own : &empty, "discharge"};
  study::DischargeConstants out;
  study::for_each_member(out, reading(table, &defaults));
  table.done();
  return out;
}

void read_current_density(TableReader& table, const Node* defaults, study::DamageLaw& law) {
  study::for_each_current_density_member(law, reading(table, defaults));
}

}  // namespace ohmdrag::input
