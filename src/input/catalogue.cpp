#include "ohmdrag/input/catalogue.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <stdexcept>
#include <utility>

#include "input/element_reader.hpp"
#include "input/listed.hpp"
#include "input/material_reader.hpp"
#include "input/tables.hpp"

namespace ohmdrag::input {

namespace {

/// A word may stand for several sections.
struct Kind {
  std::string_view word;
  std::string_view section;
};
constexpr std::array kind_table{
    Kind{"lubricants", "lubricant"},
    Kind{"materials", "steel"},
    Kind{"materials", "seal_material"},
    Kind{"materials", "lip_speed_chart"},
    Kind{"materials", "graphite_transition"},
    Kind{"materials", "modulus_over_temperature"},
    Kind{"materials", "relaxation"},
    Kind{"materials", "lip_form"},
    Kind{"materials", "wear"},
    Kind{"fits", "fit"},
    Kind{"machines", "machine_size"},
    Kind{"cleanliness", "cleanliness"},
    Kind{"contacts", "contact"},
    Kind{"rules", "rule"},
    Kind{"bearings", "bearing_type"},
    Kind{"laws", "law"},
    Kind{"bands", "band"},
    Kind{"current-densities", "current_density"},
    Kind{"cycles", "cycle"},
};

std::vector<std::string_view> sections_of(std::string_view kind) {
  std::vector<std::string_view> out;
  for (const Kind& row : kind_table)
    if (row.word == kind) out.push_back(row.section);
  if (out.empty())
    throw std::invalid_argument(fmt::format("the catalogue has no kind \"{}\"", kind));
  return out;
}

/// An id within a kind: where several sections share the kind it says which.
std::string id_in_kind(std::string_view kind, std::string_view section, std::string id) {
  return kind == "materials" ? fmt::format("{}.{}", section, id) : std::move(id);
}

/// A context of its own for every look-up, and the complaints at the end of it.
class Look {
 public:
  explicit Look(const Catalogue::Tables& tables) : tables_(tables) {}

  const Node& entry(std::string_view section, std::string_view id) const {
    const Node* node = tables_.entry(section, id);
    if (!node)
      throw std::invalid_argument(fmt::format("the catalogue has no {} \"{}\"", section, id));
    return *node;
  }
  template <class T>
  T checked(T value) {
    problems_.throw_if_any();
    return value;
  }
  ReadContext& context() { return context_; }

 private:
  const Catalogue::Tables& tables_;
  Problems problems_;
  std::vector<std::string> warnings_;
  ReadContext context_{problems_,
                       warnings_,
                       {},
                       {[this](std::string_view section, std::string_view id) {
                          const Node* node = tables_.entry(section, id);
                          return node ? std::optional<Node>(*node) : std::nullopt;
                        },
                        [this](std::string_view section) { return tables_.ids(section); }}};
};

std::string text_of(const Node& entry, std::string_view key) {
  const Node* node = entry.find(key);
  return node && node->is_text() ? node->text : std::string{};
}

BandEntry read_band(ReadContext& context, const Node& entry) {
  TableReader table{context, &entry, "band"};
  BandEntry out;
  out.id = id_of(entry).empty() ? entry.key : std::string{id_of(entry)};
  out.title = text_of(entry, "title");
  out.from = table.number<Frequency>("from").nominal();
  out.to = table.number<Frequency>("to").nominal();
  out.basis = basis_from_word(entry.basis).value_or(Basis::assumed);
  out.source = entry.source;
  return out;
}

study::DensityBand read_density_band(ReadContext& context, const Node& entry) {
  TableReader table{context, &entry, "current_density"};
  study::DensityBand out;
  if (table.has("from")) out.from = table.number<CurrentDensity>("from").nominal();
  out.up_to = table.number<CurrentDensity>("up_to").nominal();
  if (!(out.up_to >= out.from)) table.complain("up_to", "the range must not end below its start");
  out.statement = table.text("statement");
  out.basis = basis_from_word(entry.basis).value_or(Basis::assumed);
  out.source = entry.source;
  return out;
}

}  // namespace

Catalogue::Catalogue()
    : tables_(std::make_unique<Tables>(std::optional<std::filesystem::path>{})) {}
Catalogue::Catalogue(const std::filesystem::path& data_folder)
    : tables_(std::make_unique<Tables>(data_folder)) {}
Catalogue::~Catalogue() = default;
Catalogue::Catalogue(Catalogue&&) noexcept = default;
Catalogue& Catalogue::operator=(Catalogue&&) noexcept = default;

Catalogue load_catalogue(const std::optional<std::filesystem::path>& data_folder) {
  return data_folder ? Catalogue{*data_folder} : Catalogue{};
}

const std::vector<std::string>& Catalogue::kinds() {
  static const std::vector<std::string> words = [] {
    std::vector<std::string> all;
    for (const Kind& kind : kind_table)
      if (all.empty() || all.back() != kind.word) all.emplace_back(kind.word);
    return all;
  }();
  return words;
}

std::vector<std::string> Catalogue::ids(std::string_view kind) const {
  std::vector<std::string> out;
  for (const std::string_view section : sections_of(kind)) {
    if (section == "steel") {
      out.emplace_back(section);
      continue;
    }
    for (std::string& id : tables_->ids(section))
      out.push_back(id_in_kind(kind, section, std::move(id)));
  }
  return out;
}

std::vector<ListedEntry> Catalogue::entries(std::string_view kind) const {
  std::vector<ListedEntry> out;
  for (const std::string_view section : sections_of(kind)) {
    Look look{*tables_};
    if (section == "steel") {
      out.push_back(look.checked(
          listed_entry(look.context(), section, tables_->section(section), std::string{section})));
      out.back().title = "shaft and bearing steel";
      continue;
    }
    for (std::string& id : tables_->ids(section)) {
      const Node& entry = *tables_->entry(section, id);
      out.push_back(look.checked(
          listed_entry(look.context(), section, entry, id_in_kind(kind, section, std::move(id)))));
    }
  }
  return out;
}

study::Lubricant Catalogue::lubricant(std::string_view id) const {
  Look look{*tables_};
  return look.checked(read_lubricant(look.context(), look.entry("lubricant", id), nullptr));
}

study::Element Catalogue::element(std::string_view id) const {
  Look look{*tables_};
  const Node& entry =
      tables_->entry("contact", id) ? look.entry("contact", id) : look.entry("rule", id);
  return look.checked(read_element(look.context(), entry, nullptr));
}

study::BearingType Catalogue::bearing(std::string_view size) const {
  Look look{*tables_};
  return look.checked(read_bearing_type(look.context(), look.entry("bearing_type", size), nullptr));
}

study::DamageLaw Catalogue::current_density_law() const {
  Look look{*tables_};
  TableReader table{look.context(), &look.entry("law", "current-density"), "law"};
  study::DamageLaw law;
  law.kind = study::LawKind::current_density;
  read_current_density(table, nullptr, law);
  return look.checked(law);
}

study::DischargeConstants Catalogue::discharge() const {
  Look look{*tables_};
  return look.checked(read_discharge(look.context(), nullptr, tables_->section("discharge")));
}

study::Fit Catalogue::fit(std::string_view id) const {
  Look look{*tables_};
  return look.checked(read_fit(look.context(), look.entry("fit", id)));
}

std::vector<BandEntry> Catalogue::bands() const {
  Look look{*tables_};
  std::vector<BandEntry> out;
  for (const Node& entry : tables_->section("band").children)
    if (entry.is_table()) out.push_back(read_band(look.context(), entry));
  return look.checked(std::move(out));
}

std::vector<study::DensityBand> Catalogue::density_bands() const {
  Look look{*tables_};
  std::vector<study::DensityBand> out;
  for (const Node& entry : tables_->section("current_density").children)
    if (entry.is_table()) out.push_back(read_density_band(look.context(), entry));
  return look.checked(std::move(out));
}

duty::Cycle Catalogue::cycle(std::string_view id) const {
  Look{*tables_}.entry("cycle", id);
  return tables_->cycle(id);
}

}  // namespace ohmdrag::input
