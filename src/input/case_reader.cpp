#include "input/case_reader.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <utility>

#include "input/element_reader.hpp"
#include "input/machine_reader.hpp"
#include "input/material_reader.hpp"

namespace ohmdrag::input {

CaseReader::CaseReader(const Node& root, const Catalogue::Tables& tables, Problems& problems,
                       const std::string& fallback_title)
    : root_(root),
      tables_(tables),
      context_{
          problems,
          warnings_,
          [&tables](std::string_view key) { return tables.trade_range(key); },
          {[this](std::string_view section, std::string_view id) { return entry(section, id); },
           [this](std::string_view section) { return entry_ids({section}); }}},
      top_(context_, &root, {}),
      fallback_title_(fallback_title) {}

study::Case CaseReader::read() {
  if (const auto version = top_.maybe_integer("version"); version && *version != 1)
    top_.complain("version", fmt::format("read {}; this program reads version 1", *version));
  read_own_entries();
  read_study();
  read_vehicle();
  read_shafts();
  read_inverter();
  read_coupling();
  out_.discharge = read_discharge(context_, top_.find("discharge"), tables_.section("discharge"));
  read_running_in();
  read_bearings();
  read_gears();
  read_paths_to_frame();
  read_bands();
  read_machine_power();
  read_sump();
  read_points();
  read_duties();
  read_service();
  read_variants();
  settle_debris();
  read_requirements();
  read_allocations();
  read_damage();
  read_prices();
  read_evidence();
  read_trade_ranges();
  top_.done();
  out_.warnings = warnings_;
  return std::move(out_);
}

void CaseReader::read_own_entries() {
  // Entries that nothing uses are checked as well: a user who writes one wants to know.
  const auto each = [&](std::string_view section, auto read_entry) {
    const Node* own = top_.find(section);
    if (!own) return;
    if (!own->is_table()) {
      top_.complain(section,
                    fmt::format("read {}; expected tables [{}.<id>]", own->as_typed(), section));
      return;
    }
    for (const Node& item : own->children) {
      if (item.key == "basis" || item.key == "source") continue;
      if (!item.is_table()) {
        context_.problems.add(item.place, item.origin,
                              fmt::format("read {}; expected a table", item.as_typed()));
        continue;
      }
      const std::optional<Node> whole = entry(section, item.key);
      read_entry(context_, *whole, tables_.entry(section, item.key));
    }
  };
  each("lubricant", read_lubricant);
  each("contact", read_element);
  each("rule", read_element);
  each("bearing_type", read_bearing_type);
  each("seal_material", read_seal_limits);
  each("lip_speed_chart", read_lip_speed_chart);
  each("graphite_transition", read_graphite_transition);
  each("modulus_over_temperature", read_modulus);
  each("relaxation", read_relaxation);
  each("lip_form", read_lip_form);
  each("wear", read_wear);
  each("fit", read_fit);
  each("machine_size", read_machine_size);
  each("cleanliness", read_cleanliness_class);
}

std::optional<Node> CaseReader::entry(std::string_view section, std::string_view id) const {
  const Node* built_in = tables_.entry(section, id);
  const Node* own_section = root_.find(section);
  const Node* own = own_section ? own_section->find(id) : nullptr;
  if (!built_in && !own) return std::nullopt;
  if (!built_in) return *own;
  Node whole = *built_in;
  if (own) {
    merge(whole, *own);
    whole.place = own->place;
    whole.key_place = own->key_place;
  }
  return whole;
}

std::vector<std::string> CaseReader::entry_ids(
    std::initializer_list<std::string_view> sections) const {
  std::vector<std::string> ids;
  for (const std::string_view section : sections) {
    for (std::string& id : tables_.ids(section)) ids.push_back(std::move(id));
    if (const Node* own = root_.find(section))
      for (const Node& item : own->children)
        if (item.is_table()) ids.push_back(item.key);
  }
  return ids;
}

std::vector<std::string> CaseReader::ids_of(std::string_view array) const {
  std::vector<std::string> ids;
  if (const Node* node = root_.find(array); node && node->is_array_of_tables())
    for (const Node& member : node->children)
      if (!id_of(member).empty()) ids.emplace_back(id_of(member));
  return ids;
}

std::string CaseReader::id_text(TableReader& table) {
  std::string id = table.text("id");
  if (table.has("id") && id.empty()) table.complain("id", "is empty");
  if (id.find_first_of(".\"\\ \t\n") != std::string::npos)
    table.complain("id", fmt::format("read \"{}\"; an id has no blanks, dots or quotes", id),
                   "for example dense-ring");
  return id;
}

std::string CaseReader::known_id(TableReader& table, std::string_view key,
                                 const std::vector<std::string>& known, std::string_view kind) {
  std::string id = table.text(key);
  if (table.has(key) && std::ranges::find(known, id) == known.end() && table.find(key)->is_text())
    table.complain(key, fmt::format("read \"{}\", but there is no such {}", id, kind),
                   suggestion(id, known));
  return id;
}

std::string CaseReader::shaft_of(TableReader& table) {
  const std::vector<std::string> shafts = ids_of("shaft");
  if (table.has("shaft")) return known_id(table, "shaft", shafts, "shaft");
  if (shafts.size() == 1) return shafts.front();
  if (std::ranges::find(shafts, "rotor") != shafts.end()) return "rotor";
  if (shafts.size() > 1) table.missing("shaft", fmt::format("one of {}", fmt::join(shafts, ", ")));
  return {};
}

const Node* CaseReader::fallback(std::string_view section, std::string_view key) const {
  return tables_.section(section).find(key);
}

void CaseReader::warn(std::string text) {
  if (std::ranges::find(warnings_, text) == warnings_.end()) warnings_.push_back(std::move(text));
}

}  // namespace ohmdrag::input
