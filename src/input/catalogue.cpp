#include "ohmdrag/input/catalogue.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <stdexcept>
#include <utility>

#include "input/element_reader.hpp"
#include "input/tables.hpp"
#include "ohmdrag/study/visit.hpp"

namespace ohmdrag::input {

namespace {

struct Kind {
  std::string_view word;
  std::string_view section;
};
constexpr std::array kind_table{
    Kind{"lubricants", "lubricant"}, Kind{"materials", "steel"},       Kind{"contacts", "contact"},
    Kind{"rules", "rule"},           Kind{"bearings", "bearing_type"}, Kind{"laws", "law"},
    Kind{"bands", "band"},           Kind{"cycles", "cycle"},
};

std::string_view section_of(std::string_view kind) {
  const auto found = std::ranges::find(kind_table, kind, &Kind::word);
  if (found == kind_table.end())
    throw std::invalid_argument(fmt::format("the catalogue has no kind \"{}\"", kind));
  return found->section;
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
  ReadContext context_{problems_, warnings_, {}};
};

std::string text_of(const Node& entry, std::string_view key) {
  const Node* node = entry.find(key);
  return node && node->is_text() ? node->text : std::string{};
}

ListedEntry listed(const Node& entry, std::string id) {
  ListedEntry out;
  out.id = std::move(id);
  out.title = text_of(entry, "title");
  out.remark = text_of(entry, "remark");
  out.source = entry.source;
  return out;
}

template <class T>
void add_values(ListedEntry& into, const T& thing) {
  study::for_each_number(
      thing, [&](const UncertainNumber& number) { into.values.push_back(checked_value(number)); });
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
    for (const Kind& kind : kind_table) all.emplace_back(kind.word);
    return all;
  }();
  return words;
}

std::vector<std::string> Catalogue::ids(std::string_view kind) const {
  if (kind == "materials") return {"steel"};
  return tables_->ids(section_of(kind));
}

std::vector<ListedEntry> Catalogue::entries(std::string_view kind) const {
  std::vector<ListedEntry> out;
  const std::string_view section = section_of(kind);
  for (const std::string& id : ids(kind)) {
    const Node& node =
        kind == "materials" ? tables_->section("steel") : *tables_->entry(section, id);
    ListedEntry entry = listed(node, id);
    Look look{*tables_};
    if (kind == "lubricants") {
      add_values(entry, lubricant(id));
    } else if (kind == "contacts" || kind == "rules") {
      add_values(entry, element(id));
    } else if (kind == "bearings") {
      add_values(entry, bearing(id));
    } else if (kind == "materials") {
      entry.title = "shaft and bearing steel";
      TableReader table{look.context(), &node, "steel"};
      entry.values = {checked_value(table.number<ThermalConductivity>("conductivity")),
                      checked_value(table.number<Pressure>("young_modulus")),
                      checked_value(table.number<double>("poisson"))};
    } else if (kind == "laws") {
      if (id == "current-density") add_values(entry, current_density_law());
    } else if (kind == "bands") {
      TableReader table{look.context(), &node, "band"};
      entry.values = {checked_value(table.number<Frequency>("from")),
                      checked_value(table.number<Frequency>("to"))};
    }
    out.push_back(look.checked(std::move(entry)));
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

std::vector<BandEntry> Catalogue::bands() const {
  Look look{*tables_};
  std::vector<BandEntry> out;
  for (const Node& entry : tables_->section("band").children)
    if (entry.is_table()) out.push_back(read_band(look.context(), entry));
  return look.checked(std::move(out));
}

duty::Cycle Catalogue::cycle(std::string_view id) const {
  Look{*tables_}.entry("cycle", id);
  return tables_->cycle(id);
}

}  // namespace ohmdrag::input
