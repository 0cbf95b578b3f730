#include <fmt/format.h>

#include <algorithm>
#include <iostream>
#include <memory>

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

constexpr char schema_path[] = "schema/ohmdrag-result-1.json";

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

report::List entry_rows(const input::Catalogue& catalogue, const std::string& kind) {
  report::List list{{"entry", "value", "reads", "unit", "basis", "source"}, {}};
  for (const input::ListedEntry& entry : catalogue.entries(kind)) {
    list.rows.push_back({entry.id, entry.title, "", "", "", entry.source});
    for (const input::CheckedValue& value : entry.values) {
      const auto dot = value.key.rfind('.');
      const InUnit shown = in_engineering_unit(value.interval, value.dimension);
      list.rows.push_back({"", value.key.substr(dot == std::string::npos ? 0 : dot + 1),
                           print_interval(shown.value), shown.unit,
                           std::string(to_word(value.basis)),
                           value.source == entry.source ? "" : value.source});
    }
  }
  return list;
}

struct ListOptions : Common {
  std::string kind;
};

std::vector<std::string> list_kinds() {
  std::vector<std::string> kinds = input::Catalogue::kinds();
  kinds.push_back("units");
  kinds.push_back("schema");
  return kinds;
}

Exit list(const ListOptions& options) {
  if (options.kind == "schema") {
    std::cout << input::embedded(schema_path).value();
    return Exit::done;
  }
  const Screen at = screen();
  const report::TerminalOptions terminal{at.width, at.bold};
  if (options.kind == "units" && !options.json) {
    std::cout << report::units_list(terminal);
    return Exit::done;
  }
  report::List rows;
  if (options.kind == "units") {
    rows = report::unit_rows();
  } else {
    const input::Catalogue catalogue = input::load_catalogue(options.data_folder);
    rows = options.kind == "cycles" ? cycle_rows(catalogue) : entry_rows(catalogue, options.kind);
  }
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
  CLI::App* fresh = cli.add_subcommand("new", "A commented case file to begin from");
  fresh->add_option("KIND", fresh_options->kind, joined(input::starter_kinds()))
      ->required()
      ->check(CLI::IsMember(input::starter_kinds()));
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
