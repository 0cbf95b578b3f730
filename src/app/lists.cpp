#include <fmt/format.h>

#include <algorithm>
#include <iostream>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/commands.hpp"
#include "ohmdrag/duty/cycle.hpp"
#include "ohmdrag/input/catalogue.hpp"
#include "ohmdrag/input/embedded_data.hpp"
#include "ohmdrag/input/starter.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/report/json.hpp"
#include "ohmdrag/report/terminal.hpp"
#include "ohmdrag/report/units.hpp"

namespace ohmdrag::app {
namespace {

/// The schema that a kind of list is; none of a list of entries.
std::optional<std::string> schema_path(const std::string& kind) {
  if (kind == "schema") return "schema/ohmdrag-result-1.json";
  if (kind == "fit-schema") return "schema/ohmdrag-fit-1.json";
  if (kind == "size-schema") return "schema/ohmdrag-size-1.json";
  if (kind == "compare-schema") return "schema/ohmdrag-compare-1.json";
  if (kind == "ask-schema") return "schema/ohmdrag-ask-1.json";
  if (kind == "explain-schema") return "schema/ohmdrag-explain-1.json";
  return std::nullopt;
}

report::List cycle_rows(const input::Catalogue& catalogue) {
  report::List list{{"id", "title", "duration s", "distance km", "max km/h", "mean km/h",
                     "sum of 1 Hz speeds km/h", "stop share", "phases", "source"},
                    {}};
  for (const std::string& id : catalogue.ids("cycles")) {
    const duty::Cycle cycle = catalogue.cycle(id);
    const duty::CycleTotals t = duty::totals(cycle);
    std::string phases;
    for (const auto& phase : cycle.phases) phases += (phases.empty() ? "" : ", ") + phase.id;
    list.rows.push_back(
        {id, cycle.title, fmt::format("{:.0f}", t.duration.value()),
         fmt::format("{:.4f}", t.distance.value() / 1000.0), fmt::format("{:.1f}", in_kmh(t.max)),
         fmt::format("{:.2f}", in_kmh(t.mean)), fmt::format("{:.1f}", in_kmh(t.checksum)),
         fmt::format("{:.3f}", t.stop_share), phases, cycle.source});
  }
  return list;
}

report::List fit_rows(const input::Catalogue& catalogue) {
  report::List list{{"fit", "title", "above mm", "up to mm", "lower deviation um",
                     "upper deviation um", "basis", "source"},
                    {}};
  const auto in = [](Length length, double unit_m) {
    return print_number(length.value() / unit_m, /*digits=*/6);
  };
  for (const std::string& id : catalogue.ids("fits")) {
    const study::Fit fit = catalogue.fit(id);
    for (const auto& band : fit.bands)
      list.rows.push_back({fit.id, fit.title, in(band.above, 1e-3), in(band.up_to, 1e-3),
                           in(band.lower_deviation, 1e-6), in(band.upper_deviation, 1e-6),
                           std::string(to_word(band.basis)), band.source});
  }
  return list;
}

std::string word_of(const std::optional<Basis>& basis) {
  return basis ? std::string(to_word(*basis)) : std::string{};
}

/// For people: an entry's own line, below it a line for each parameter under the name that an
/// override uses, then a blank one. The source of the entry stands once.
report::List entry_rows(const input::Catalogue& catalogue, const std::string& kind) {
  report::List list{{"entry", "value", "basis", "source"}, {}};
  for (const input::ListedEntry& entry : catalogue.entries(kind)) {
    if (!list.rows.empty()) list.rows.push_back({"", "", "", ""});
    list.rows.push_back({entry.id, entry.title, word_of(entry.basis), entry.source});
    for (const input::ListedValue& value : entry.values) {
      const std::string own =
          value.number && value.number->source != entry.source ? value.number->source : "";
      list.rows.push_back({value.name, value.text,
                           value.number ? std::string(to_word(value.number->basis)) : "", own});
    }
  }
  return list;
}

/// For scripts: every line says all of itself.
report::List entry_document(const input::Catalogue& catalogue, const std::string& kind) {
  report::List list{{"entry", "key", "name", "written", "value", "unit", "basis", "source"}, {}};
  for (const input::ListedEntry& entry : catalogue.entries(kind)) {
    list.rows.push_back({entry.id, entry.key, "title", entry.title, entry.title, "",
                         word_of(entry.basis), entry.source});
    for (const input::ListedValue& value : entry.values) {
      std::vector<std::string> row{"", value.key, value.name, value.text};
      if (value.number) {
        const InUnit shown = in_engineering_unit(value.number->interval, value.number->dimension);
        row.insert(row.end(), {print_interval(shown.value), shown.unit,
                               std::string(to_word(value.number->basis)), value.number->source});
      } else {
        row.insert(row.end(), {value.text, "", "", ""});
      }
      list.rows.push_back(std::move(row));
    }
  }
  return list;
}

report::List rows_of(const std::string& kind, const input::Catalogue& catalogue, bool for_script) {
  if (kind == "cycles") return cycle_rows(catalogue);
  if (kind == "fits") return fit_rows(catalogue);
  return for_script ? entry_document(catalogue, kind) : entry_rows(catalogue, kind);
}

struct ListOptions : Common {
  std::string kind;
};

std::vector<std::string> list_kinds() {
  std::vector<std::string> kinds = input::Catalogue::kinds();
  kinds.push_back("units");
  kinds.push_back("schema");
  kinds.push_back("fit-schema");
  kinds.push_back("size-schema");
  kinds.push_back("compare-schema");
  kinds.push_back("ask-schema");
  kinds.push_back("explain-schema");
  return kinds;
}

Exit list(const ListOptions& options) {
  if (const auto schema = schema_path(options.kind)) {
    std::cout << input::embedded(*schema).value();
    return Exit::done;
  }
  const Screen at = screen();
  const report::TerminalOptions terminal{at.width, at.bold};
  if (options.kind == "units" && !options.json) {
    std::cout << report::units_list(terminal);
    return Exit::done;
  }
  const report::List rows =
      options.kind == "units"
          ? report::unit_rows()
          : rows_of(options.kind, input::load_catalogue(options.data_folder), options.json);
  std::cout << (options.json ? report::json_table(options.kind, rows.heads, rows.rows)
                             : report::plain_table(rows.heads, rows.rows, terminal));
  return Exit::done;
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (const auto& word : words) text += (text.empty() ? "" : ", ") + word;
  return text;
}

}  // namespace

void declare_lists(CLI::App& cli, Exit& exit) {
  auto listed = std::make_shared<ListOptions>();
  CLI::App* lists = cli.add_subcommand("list", "What is built in: " + joined(list_kinds()));
  lists->add_option("KIND", listed->kind, joined(list_kinds()))
      ->required()
      ->check(CLI::IsMember(list_kinds()));
  add_common(*lists, *listed);
  lists->footer("Example: ohmdrag list cycles");
  lists->callback([listed, &exit] { exit = list(*listed); });

  auto fresh_options = std::make_shared<ListOptions>();
  std::vector<std::string> starters = input::starter_kinds();
  for (const std::string& kind : input::run_starter_kinds()) starters.push_back(kind);
  CLI::App* fresh =
      cli.add_subcommand("new", "A commented file of a case or a measured run to begin from");
  fresh->add_option("KIND", fresh_options->kind, joined(starters))
      ->required()
      ->check(CLI::IsMember(starters));
  fresh->footer("Example: ohmdrag new vehicle > my-case.toml");
  add_common(*fresh, *fresh_options);
  fresh->callback([fresh_options, &exit] {
    const std::string text = input::starter(fresh_options->kind);
    std::cout << (fresh_options->json ? report::json_table("starter", {"kind", "text"},
                                                           {{fresh_options->kind, text}})
                                      : text);
    exit = Exit::done;
  });
}

}  // namespace ohmdrag::app
