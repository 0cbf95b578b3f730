#include "input/tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "input/document.hpp"
#include "input/files.hpp"
#include "ohmdrag/duty/cycle.hpp"
#include "ohmdrag/input/embedded_data.hpp"
#include "ohmdrag/quantity/share.hpp"

namespace ohmdrag::input {

namespace {

struct Home {
  std::string_view section;
  std::string_view file;
};
/// Where the built-in sections live below data/.
constexpr std::array homes{
    Home{"lubricant", "lubricants.toml"},
    Home{"contact", "contacts.toml"},
    Home{"rule", "rules.toml"},
    Home{"bearing_type", "bearings.toml"},
    Home{"law", "laws.toml"},
    Home{"band", "bands.toml"},
    Home{"current_density", "current_density.toml"},
    Home{"cycle", "cycles/cycles.toml"},
    Home{"discharge", "defaults.toml"},
    Home{"steel", "defaults.toml"},
    Home{"insulation", "defaults.toml"},
    Home{"vehicle_defaults", "defaults.toml"},
    Home{"shaft_defaults", "defaults.toml"},
    Home{"modulation", "defaults.toml"},
    Home{"running_in", "defaults.toml"},
    Home{"inverter", "defaults.toml"},
    Home{"machine_size", "machines.toml"},
    Home{"air_gap", "machines.toml"},
    Home{"sump_defaults", "trade_ranges.toml"},
    Home{"trade_range", "trade_ranges.toml"},
    Home{"seal_material", "seal_materials.toml"},
    Home{"lip_speed_chart", "seal_materials.toml"},
    Home{"graphite_transition", "seal_materials.toml"},
    Home{"modulus_over_temperature", "seal_materials.toml"},
    Home{"relaxation", "seal_materials.toml"},
    Home{"lip_form", "seal_materials.toml"},
    Home{"wear", "seal_materials.toml"},
    Home{"fit", "fits.toml"},
    Home{"cleanliness", "cleanliness.toml"},
    Home{"oil_cleanliness", "defaults.toml"},
};

/// Data files say [bearing.6208]; a case has [[bearing]] for the bearings of its shafts, so its
/// own types are [bearing_type.<id>], and so are the keys of the numbers.
void rename_bearings(Node& root, Problems& problems) {
  Node* bearings = root.find("bearing");
  if (!bearings || !bearings->is_table()) return;
  bearings->key = "bearing_type";
  annotate(root, {}, told_of(root), problems);
}

Node parsed(std::string_view text, const std::string& name, Share share) {
  Problems problems;
  Node root = parse_document(text, name, problems, {.share = std::string{to_word(share)}});
  problems.throw_if_any();
  rename_bearings(root, problems);
  return root;
}

/// Entry by entry: the upper one replaces the whole entry of its name.
void override_entries(Node& section, const Node& over) {
  if (section.is_array() && over.is_array()) {
    for (const Node& entry : over.children) {
      if (Node* old = find_id(section, id_of(entry)))
        *old = entry;
      else
        section.children.push_back(entry);
    }
    return;
  }
  for (const Node& entry : over.children) put(section, entry);
}

duty::TotalValue read_total(TableReader& table, std::string_view key, duty::Total total) {
  switch (total) {
    case duty::Total::duration:
      return table.number<Time>(key).nominal();
    case duty::Total::distance:
      return table.number<Length>(key).nominal();
    default:
      return table.number<Speed>(key).nominal();
  }
}

std::vector<duty::PublishedTotal> published_totals(TableReader& entry) {
  const std::vector<std::string> words(duty::total_words.begin(), duty::total_words.end());
  std::vector<duty::PublishedTotal> out;
  for (TableReader& block : entry.tables("published"))
    for (TableReader& row : block.tables("totals")) {
      duty::PublishedTotal total;
      total.phase = row.text("phase");
      const std::string word = row.word("total", words);
      total.total = static_cast<duty::Total>(std::ranges::find(words, word) - words.begin());
      total.value = read_total(row, "value", total.total);
      total.tolerance = read_total(row, "tolerance", total.total);
      total.basis = basis_from_word(row.node()->basis).value_or(Basis::unverified);
      total.source = row.node()->source;
      out.push_back(std::move(total));
    }
  return out;
}

}  // namespace

Catalogue::Tables::Tables(const std::optional<std::filesystem::path>& data_folder) {
  if (!data_folder) return;
  folder_ = *data_folder;
  std::error_code failed;
  std::vector<std::filesystem::path> files;
  for (const auto& item : std::filesystem::directory_iterator(folder_, failed))
    if (item.path().extension() == ".toml") files.push_back(item.path());
  if (failed) {
    Problems problems;
    problems.add_for_file(folder_.string(),
                          fmt::format("cannot be read as a folder: {}", failed.message()));
    problems.throw_if_any();
  }
  std::ranges::sort(files);
  for (const auto& file : files) {
    Problems problems;
    const std::optional<FileText> text = read_file(file, problems);
    problems.throw_if_any();
    const Node root = parsed(text->content, file.string(), Share::customer);
    for (const Node& section : root.children) {
      if (Node* old = user_.find(section.key))
        override_entries(*old, section);
      else
        user_.children.push_back(section);
    }
  }
}

const Node& Catalogue::Tables::section(std::string_view name) const {
  if (const auto found = sections_.find(name); found != sections_.end()) return found->second;
  Node section;
  const auto home = std::ranges::find(homes, name, &Home::section);
  if (home != homes.end()) {
    auto file = files_.find(home->file);
    if (file == files_.end()) {
      const std::optional<std::string_view> text = embedded(home->file);
      file = files_
                 .emplace(home->file,
                          text ? parsed(*text, fmt::format("built-in {}", home->file), Share::open)
                               : Node{})
                 .first;
    }
    if (const Node* built_in = file->second.find(name)) section = *built_in;
  }
  if (const Node* own = user_.find(name)) {
    if (section.children.empty())
      section = *own;
    else
      override_entries(section, *own);
  }
  return sections_.emplace(std::string{name}, std::move(section)).first->second;
}

const Node* Catalogue::Tables::entry(std::string_view section_name, std::string_view id) const {
  const Node& all = section(section_name);
  return all.is_array() ? find_id(all, id) : all.find(id);
}

std::vector<std::string> Catalogue::Tables::ids(std::string_view section_name) const {
  std::vector<std::string> out;
  const Node& all = section(section_name);
  for (const Node& entry : all.children)
    if (entry.is_table()) out.emplace_back(all.is_array() ? id_of(entry) : entry.key);
  return out;
}

const Node* Catalogue::Tables::trade_range(std::string_view key) const {
  // Keys of the section are quoted whole: "coupling.winding_rotor" = { … }.
  return section("trade_range").find(key);
}

std::string Catalogue::Tables::cycle_table(const Node& entry) const {
  const Node* file = entry.find("file");
  const std::string name = file && file->is_text() ? file->text : std::string{};
  if (entry.place.text && entry.place.text->name.starts_with("built-in "))
    if (const auto text = embedded("cycles/" + name)) return std::string{*text};
  Problems problems;
  const auto text = read_file(folder_ / name, problems);
  problems.throw_if_any();
  return text->content;
}

const duty::Cycle& Catalogue::Tables::cycle(std::string_view id) const {
  if (const auto found = cycles_.find(id); found != cycles_.end()) return found->second;
  const Node* node = entry("cycle", id);
  Problems problems;
  std::vector<std::string> warnings;
  ReadContext context{problems, warnings, {}, {}};
  TableReader table{context, node, "cycle"};
  duty::CycleLabel label;
  label.id = table.text("id");
  label.title = table.text("title");
  label.source = node->find("source") ? node->find("source")->text : std::string{};
  for (TableReader& phase : table.tables("phases"))
    label.phases.push_back({phase.text("id"), phase.number<Time>("end").nominal()});
  const std::vector<duty::PublishedTotal> published = published_totals(table);
  problems.throw_if_any();
  const std::string text = cycle_table(*node);
  duty::Cycle cycle;
  try {
    cycle = duty::cycle_from_csv(text, label);
  } catch (const std::invalid_argument& error) {
    table.complain("file", error.what());
    problems.throw_if_any();
  }
  for (const duty::Mismatch& wrong : duty::mismatches(cycle, published))
    table.complain("file", wrong.text);
  problems.throw_if_any();
  return cycles_.emplace(std::string{id}, std::move(cycle)).first->second;
}

}  // namespace ohmdrag::input
