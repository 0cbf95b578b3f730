#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "input/case_reader.hpp"
#include "input/entry_members.hpp"
#include "ohmdrag/study/members.hpp"

namespace ohmdrag::input {

namespace {

using Kind = study::PathToFrame::Kind;

study::Coating read_coating(TableReader& table, const Node& defaults) {
  return members_of<study::Coating>(table, &defaults);
}

/// The keys of a path that only the other kinds have.
void refuse(TableReader& table, std::string_view key, std::string_view kind) {
  if (table.has(key)) table.complain(key, fmt::format("a path of kind {} has none", kind));
}

}  // namespace

void CaseReader::read_insulation(TableReader& table, study::Bearing& bearing) {
  constexpr std::array<std::string_view, 2> ways{"insulation", "hybrid"};
  // "none" takes a variant's insulation away again.
  const auto stated = [&](std::string_view key) {
    const Node* node = table.find(key);
    return node && !(node->is_text() && node->text == "none");
  };
  if (stated(ways[0]) && stated(ways[1])) {
    table.complain(ways[1], "read insulation and hybrid; expected one of them",
                   "a coated ring behind ceramic rolling elements adds nothing");
    return;
  }
  const Node& defaults = tables_.section("insulation");
  if (stated(ways[1])) {
    TableReader hybrid = table.table(ways[1]);
    bearing.insulation = members_of<study::CeramicElements>(hybrid, &defaults);
    hybrid.done();
  } else if (stated(ways[0])) {
    TableReader insulation = table.table(ways[0]);
    constexpr std::array<std::string_view, 2> forms{"coating", "capacitance"};
    if (insulation.exactly_one(forms) == forms[1])
      bearing.insulation = study::StatedInsulation{insulation.number<Capacitance>(forms[1])};
    else if (insulation.has(forms[0]))
      bearing.insulation = read_coating(insulation, defaults);
    insulation.done();
  }
}

/// Rollers without a length have no film here, which must not pass for a bearing that never
/// strikes.
void CaseReader::warn_of_missing_films(const study::Bearing& bearing) {
  using Family = study::BearingType::Family;
  if (!out_.inverter || !out_.coupling || out_.coupling->shaft != bearing.shaft ||
      bearing.type.family == Family::deep_groove_ball || bearing.type.roller_length)
    return;
  warn(
      fmt::format("bearing.{}: rollers without roller_length have no films here: the bearing adds "
                  "no capacitance and is never struck in the model.",
                  bearing.id));
}

const study::ExtraDrag* CaseReader::gear_of(TableReader& path) {
  std::vector<std::string> ids;
  for (const study::ExtraDrag& gear : gears_) ids.push_back(gear.id);
  const std::string id = known_id(path, "gear", ids, "gear");
  const auto found = std::ranges::find(gears_, id, &study::ExtraDrag::id);
  return found == gears_.end() ? nullptr : &*found;
}

void CaseReader::read_mesh(TableReader& table, study::PathToFrame& path) {
  refuse(table, "capacitance", "gear-mesh");
  refuse(table, "threshold", "gear-mesh");
  if (const study::ExtraDrag* gear = gear_of(table)) {
    path.gear = std::get<study::GearElement>(gear->element.form);
    if (table.has("shaft") && shaft_of(table) != gear->shaft)
      table.complain(
          "shaft", fmt::format("the pinion of {} turns with the shaft {}", gear->id, gear->shaft));
    path.shaft = gear->shaft;
  }
  path.roughness = table.maybe_number<Length>("roughness");
  // The Ra of a gear is mostly of waves longer than the contact is wide.
  if (!path.roughness) path.roughness = out_.discharge.roughness;
  path.young_modulus = table.number<Pressure>("young_modulus", fallback("steel", "young_modulus"));
  path.poisson = table.number<double>("poisson", fallback("steel", "poisson"));
  if (!path.behind)
    warn(
        fmt::format("path_to_frame.{}: without `behind` the shaft of the wheel counts as frame; "
                    "state the capacitance of its bearings.",
                    path.id));
}

void CaseReader::read_paths_to_frame() {
  const std::vector<std::string> bearings = ids_of("bearing");
  const std::vector<std::string> kinds{"driven-machine", "stated", "gear-mesh"};
  for (TableReader& table : top_.tables("path_to_frame")) {
    study::PathToFrame path;
    path.id = id_text(table);
    if (std::ranges::find(bearings, path.id) != bearings.end())
      table.complain("id", fmt::format("read \"{}\", which a [[bearing]] has already", path.id));
    const auto kind = std::ranges::find(kinds, table.word("kind", kinds));
    path.kind = static_cast<Kind>(kind - kinds.begin());
    path.behind = table.maybe_number<Capacitance>("behind");
    if (path.kind == Kind::gear_mesh) {
      read_mesh(table, path);
    } else {
      for (const std::string_view key : {"gear", "roughness", "young_modulus", "poisson"})
        refuse(table, key, *kind);
      path.shaft = shaft_of(table);
      path.capacitance = table.number<Capacitance>("capacitance");
      path.threshold = table.maybe_number<Voltage>("threshold");
      if (!path.threshold) path.threshold = out_.discharge.fixed_threshold;
    }
    table.done();
    out_.paths_to_frame.push_back(std::move(path));
  }
}

/// Bands of the user's own; those that ship stand beside them.
void CaseReader::read_bands() {
  for (TableReader& table : top_.tables("band")) {
    study::NamedBand band;
    const std::string id = id_text(table);
    band.name = table.maybe_text("title").value_or(id);
    band.from = table.number<Frequency>("from").nominal();
    band.to = table.number<Frequency>("to").nominal();
    if (!(band.from > Frequency{}) || !(band.to > band.from))
      table.complain("to", "a band begins above zero and ends above its start");
    table.done();
    out_.bands.push_back(std::move(band));
  }
}

void CaseReader::read_machine_power() {
  if (!top_.has("machine")) return;
  TableReader table = top_.table("machine");
  out_.rated_power = table.number<Power>("rated_power");
  table.done();
}

}  // namespace ohmdrag::input
