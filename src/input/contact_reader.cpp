#include "input/contact_reader.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "input/entry_members.hpp"
#include "input/material_reader.hpp"
#include "ohmdrag/study/contact_members.hpp"

namespace ohmdrag::input {

namespace {

/// An entry of another section that this one takes by name; nothing after a complaint.
template <class T>
std::optional<T> named(ReadContext& context, TableReader& table, std::string_view key,
                       std::string_view section,
                       T (*read)(ReadContext&, const Node&, const Node*)) {
  if (!table.has(key)) return std::nullopt;
  const std::vector<std::string> ids = context.entries.ids(section);
  const std::optional<Node> entry = context.entries.entry(section, table.word(key, ids));
  if (!entry) return std::nullopt;
  return read(context, *entry, nullptr);
}

template <class T>
T required(ReadContext& context, TableReader& table, std::string_view key, std::string_view section,
           T (*read)(ReadContext&, const Node&, const Node*)) {
  if (!table.has(key)) table.missing(key, fmt::format("the name of a [{}]", section));
  return named(context, table, key, section, read).value_or(T{});
}

study::WearEntry read_wear_entry(ReadContext& context, TableReader& table) {
  study::WearEntry out;
  out.contact = required(context, table, "wear", "wear", read_wear);
  out.shaft = named(context, table, "shaft_wear", "wear", read_wear);
  out.density = table.maybe_number<Density>("density");
  return out;
}

/// A table below the contact with plain numbers in it.
template <class T>
std::optional<T> part(TableReader& contact, const Node* base, std::string_view key) {
  if (!contact.has(key)) return std::nullopt;
  TableReader table = contact.table(key);
  T out = members_of<T>(table, below(base, key));
  table.done();
  return out;
}

}  // namespace

study::FrictionEntry read_friction(TableReader& table, const Node* base, std::string_view usual) {
  static const std::vector<std::string> words{"mixed-film", "constant", "ptfe"};
  const Node* stated = table.find("friction_law");
  const bool unknown =
      stated && !(stated->is_text() && std::ranges::find(words, stated->text) != words.end());
  const std::string word = stated ? table.word("friction_law", words) : std::string(usual);
  // Of a law that is misspelt, or of the one that an override leaves, no key is surplus.
  const auto pass_over = [&]<class Law>(Law law) {
    study::for_each_member(law, [&](const char* name, auto&) {
      if (unknown || below(base, name)) table.find(name);
    });
  };
  pass_over(study::MixedFilmEntry{});
  pass_over(study::ConstantFrictionEntry{});
  pass_over(study::PtfeFrictionEntry{});
  if (unknown) return study::ConstantFrictionEntry{};
  if (word == "mixed-film") return members_of<study::MixedFilmEntry>(table, base);
  if (word == "ptfe") return members_of<study::PtfeFrictionEntry>(table, base);
  return members_of<study::ConstantFrictionEntry>(table, base);
}

study::ContactService read_contact_service(ReadContext& context, TableReader& contact,
                                           const Node* base) {
  if (!contact.has("service")) return std::monostate{};
  TableReader table = contact.table("service");
  study::ContactService out;
  if (table.has("form")) {
    study::LipService lip;
    lip.form = required(context, table, "form", "lip_form", read_lip_form);
    lip.relaxation = required(context, table, "relaxation", "relaxation", read_relaxation);
    lip.modulus = required(context, table, "modulus", "modulus_over_temperature", read_modulus);
    lip.wear = read_wear_entry(context, table);
    out = std::move(lip);
  } else {
    auto pad = members_of<study::PadService>(table, below(base, "service"));
    pad.modulus = named(context, table, "modulus", "modulus_over_temperature", read_modulus);
    pad.wear = read_wear_entry(context, table);
    out = std::move(pad);
  }
  table.done();
  return out;
}

std::optional<study::FibreEntry> read_fibres(TableReader& contact, const Node* base) {
  auto fibres = part<study::FibreEntry>(contact, base, "fibres");
  if (!fibres) return fibres;
  TableReader table = contact.table("fibres");
  table.exactly_one(std::array<std::string_view, 2>{"lean_deg", "end_factor"});
  table.exactly_one(std::array<std::string_view, 2>{"count", "packing"});
  return fibres;
}

std::optional<study::OilEntry> read_oil(TableReader& contact, const Node* base) {
  return part<study::OilEntry>(contact, base, "oil");
}

std::optional<study::FlashEntry> read_flash(TableReader& contact, const Node* base) {
  return part<study::FlashEntry>(contact, base, "flash");
}

study::ElementLimits read_limits(ReadContext& context, TableReader& table) {
  auto out = members_of<study::ElementLimits>(table, nullptr);
  out.of_material = named(context, table, "material", "seal_material", read_seal_limits);
  if (out.of_material) out.material = table.text("material");
  out.speed_chart = named(context, table, "speed_chart", "lip_speed_chart", read_lip_speed_chart);
  out.graphite = named(context, table, "graphite", "graphite_transition", read_graphite_transition);
  return out;
}

}  // namespace ohmdrag::input
