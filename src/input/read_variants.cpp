#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "input/case_reader.hpp"
#include "input/element_reader.hpp"
#include "ohmdrag/study/element_parts.hpp"

namespace ohmdrag::input {

namespace {

/// An override changes what it names, whether it is written in one line or in tables: there is
/// always something below it.
Node as_written_out(const Node& table) {
  Node out = table;
  out.is_inline = false;
  for (Node& child : out.children)
    if (child.is_table() && !child.is_value_table()) child = as_written_out(child);
  return out;
}

bool has_lip_form(const study::Element& element) {
  const auto* lip = std::get_if<study::LipElement>(&element.form);
  return lip && std::holds_alternative<study::LipService>(lip->service);
}

bool measured(const UncertainNumber& number) { return number.basis == Basis::measured; }

}  // namespace

study::Element CaseReader::element_of(TableReader& user) {
  const std::string id =
      known_id(user, "element", entry_ids({"contact", "rule"}), "contact or rule");
  std::optional<Node> base = entry("contact", id);
  if (!base) base = entry("rule", id);
  const Node* over = user.find("override");
  study::Element none;
  none.id = id;
  if (!base) return none;
  if (!over) return read_element(context_, *base, &*base);
  if (!over->is_table()) {
    user.complain("override", fmt::format("read {}; expected a table", over->as_typed()));
    return none;
  }
  Node whole = *base;
  merge(whole, as_written_out(*over));
  return read_element(context_, whole, &*base);
}

std::optional<study::Seal> CaseReader::read_seal(TableReader& variant) {
  const Node* node = variant.find("seal");
  if (!node || (node->is_text() && node->text == "none")) return std::nullopt;
  TableReader table = variant.table("seal");
  study::Seal seal;
  seal.element = element_of(table);
  seal.shaft = shaft_of(table);
  seal.position = table.number<Length>("position");
  seal.line_force = table.maybe_number<LineForce>("line_force");
  if (seal.line_force && !std::holds_alternative<study::LipElement>(seal.element.form) &&
      !std::holds_alternative<study::NoElement>(seal.element.form))
    table.complain("line_force",
                   fmt::format("{} is no lip; a line force has no effect", seal.element.id));
  seal.over_pressure = table.maybe_number<Pressure>("over_pressure");
  seal.available_width = table.maybe_number<Length>("available_width");
  seal.replaced_every = table.maybe_number<Time>("replaced_every");
  if (seal.over_pressure && !has_lip_form(seal.element))
    table.complain("over_pressure",
                   fmt::format("{} has no lip form in its service, so it is not known what a "
                               "pressure does to its force",
                               seal.element.id));
  table.done();
  return seal;
}

std::optional<study::Grounding> CaseReader::read_grounding(TableReader& variant) {
  const Node* node = variant.find("grounding");
  if (!node || (node->is_text() && node->text == "none")) return std::nullopt;
  if (node->is_text()) {
    variant.complain("grounding",
                     fmt::format("read {}; expected a table or \"none\"", node->as_typed()));
    return std::nullopt;
  }
  TableReader table = variant.table("grounding");
  study::Grounding out;
  out.element = element_of(table);
  out.shaft = shaft_of(table);
  out.position = table.number<Length>("position");
  out.line_force = table.maybe_number<LineForce>("line_force");
  out.total_radial_force = table.maybe_number<Force>("total_radial_force");
  out.split_shaft_reading = table.maybe_number<Force>("split_shaft_reading");
  out.interference = table.maybe_number<Length>("interference");
  out.resistance = table.maybe_number<Resistance>("resistance");
  read_film(table, out);
  read_impedance(table, out);
  out.current = table.maybe_number<Current>("current");
  out.available_width = table.maybe_number<Length>("available_width");
  out.replaced_every = table.maybe_number<Time>("replaced_every");

  constexpr std::array<std::string_view, 4> forces{"line_force", "total_radial_force",
                                                   "split_shaft_reading", "interference"};
  if (out.interference && !study::fibres_of(out.element))
    table.complain("interference",
                   fmt::format("{} is not described by its fibres, so no force follows from an "
                               "interference",
                               out.element.id));
  if (std::holds_alternative<study::BrushElement>(out.element.form)) {
    for (const std::string_view key : {forces[0], forces[2]})
      if (table.has(key))
        table.complain(key, fmt::format("{} is a brush, pressed by a total force; expected "
                                        "total_radial_force or none of them",
                                        out.element.id));
  } else if (std::holds_alternative<study::StatedElement>(out.element.form)) {
    for (const std::string_view key : forces)
      if (table.has(key))
        table.complain(key, fmt::format("the drag of {} is stated in watts; a force has no effect",
                                        out.element.id));
  } else if (table.has("element")) {
    table.exactly_one(forces, /*required=*/!study::fibres_of(out.element));
  }
  if (const auto* brush = std::get_if<study::BrushElement>(&out.element.form);
      out.current && !(brush && brush->contact_drop))
    table.complain("current", fmt::format("{} has no contact_drop, so the heat of a current is not "
                                          "known",
                                          out.element.id));
  const bool readable = !std::holds_alternative<study::NoElement>(out.element.form);
  if (readable && !study::resistance_of(out.element) && !out.resistance && !table.has("impedance"))
    table.complain(
        "element",
        fmt::format("{} has no electrical resistance, so it grounds nothing", out.element.id),
        "choose a conductive element or write resistance = \"… ohm\"");
  out.debris_reaches_oil = table.flag("debris_reaches_oil", false);
  read_path(table, out);
  table.done();
  return out;
}

void CaseReader::read_path(TableReader& grounding, study::Grounding& out) {
  const Node* node = grounding.find("path");
  constexpr std::string_view expected =
      "{ strap = \"length x width x thickness\" }, { wire = \"length x diameter\" }, "
      "{ inductance = \"…\" } or \"none\"";
  if (!node) {
    // A measured impedance holds what was measured with the contact.
    if (!grounding.has("impedance")) grounding.missing("path", expected);
    return;
  }
  if (node->is_text() && node->text == "none") {
    out.path = study::NoPath{};
    warn(
        fmt::format("{}: no path to the housing is given, so none of its inductance counts. What "
                    "is left at MHz is then the smallest it can be.",
                    grounding.path()));
    return;
  }
  if (!node->is_table()) {
    grounding.complain("path", fmt::format("read {}; expected {}", node->as_typed(), expected));
    return;
  }
  TableReader path = grounding.table("path");
  constexpr std::array<std::string_view, 3> ways{"strap", "wire", "inductance"};
  const std::string_view way = path.exactly_one(ways);
  if (way == "inductance") {
    out.path = study::StatedPath{path.number<Inductance>("inductance")};
  } else if (!way.empty()) {
    const std::vector<Length> sizes = path.lengths(way, way == "strap" ? 3 : 2);
    if (way == "strap" && sizes.size() == 3)
      out.path = study::Strap{sizes[0], sizes[1], sizes[2]};
    else if (way == "wire" && sizes.size() == 2)
      out.path = study::Wire{sizes[0], sizes[1]};
  }
  path.done();
}

study::ExtraDrag CaseReader::read_extra(TableReader table) {
  study::ExtraDrag extra;
  extra.id = id_text(table);
  if (extra.id == "seal" || extra.id == "grounding")
    table.complain("id", fmt::format("read \"{}\", which is the seal's or the grounding element's "
                                     "own name",
                                     extra.id));
  if (std::ranges::find(gears_, extra.id, &study::ExtraDrag::id) != gears_.end())
    table.complain("id", fmt::format("read \"{}\", which a [[gear]] has already", extra.id));
  extra.shaft = shaft_of(table);
  constexpr std::array<std::string_view, 3> ways{"element", "power", "measured"};
  const std::string_view way = table.exactly_one(ways);
  if (way == "measured") {
    extra.element = read_measured(table, extra.id);
  } else if (way == "power") {
    extra.element.id = extra.id;
    extra.element.title = table.maybe_text("title").value_or(extra.id);
    extra.element.form = read_stated(table, nullptr);
  } else if (table.has("element")) {
    extra.element = element_of(table);
    if (auto title = table.maybe_text("title")) extra.element.title = *title;
    const bool contact = std::holds_alternative<study::LipElement>(extra.element.form) ||
                         std::holds_alternative<study::RingElement>(extra.element.form) ||
                         std::holds_alternative<study::BrushElement>(extra.element.form);
    if (contact) {
      extra.position = table.number<Length>("position");
      if (!std::holds_alternative<study::BrushElement>(extra.element.form))
        extra.line_force = table.maybe_number<LineForce>("line_force");
    }
  }
  table.done();
  return extra;
}

void CaseReader::read_variants() {
  for (TableReader& table : top_.tables("variant")) {
    study::Variant variant;
    variant.id = id_text(table);
    variant.title = table.maybe_text("title").value_or(variant.id);
    table.maybe_text("like");
    if (const Node* change = table.find("change"); change && !change->is_table())
      table.complain("change", fmt::format("read {}; expected {{ \"sump.lubricant\" = \"…\" }}",
                                           change->as_typed()));
    variant.seal = read_seal(table);
    variant.grounding = read_grounding(table);
    for (TableReader& extra : table.tables("extra")) variant.extras.push_back(read_extra(extra));
    variant.extras.insert(variant.extras.end(), gears_.begin(), gears_.end());
    table.done();
    out_.variants.push_back(std::move(variant));
  }
  if (!top_.has("variant"))
    top_.complain({}, "there is no [[variant]]; expected at least one",
                  "write [[variant]] with id and [variant.seal]");
  derive_evidence();
}

void CaseReader::derive_evidence() {
  bool any = false;
  bool all = true;
  for (const study::Variant& variant : out_.variants) {
    if (!variant.grounding) continue;
    any = true;
    const study::Grounding& grounding = *variant.grounding;
    const study::ElementResistance* law = study::resistance_of(grounding.element);
    if (grounding.impedance) continue;
    all = all && (grounding.resistance ? measured(*grounding.resistance)
                                       : law && measured(law->bulk) && measured(law->film));
  }
  out_.evidence.impedance_measured = any && all;
}

}  // namespace ohmdrag::input
