// What programs and cases read of a fitted run.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/report/run_fit.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

/// Which ends the interval has.
std::string ends_of(const rig::RunFigure::Told& told) {
  if (!told.interval) return "none";
  const bool low = std::isfinite(told.interval->first);
  const bool high = std::isfinite(told.interval->second);
  if (low && high) return "both";
  if (low) return "low";
  return high ? "high" : "none";
}

Json json_of(const rig::RunFigure& figure) {
  if (!figure.told) return nullptr;
  const auto& [value, error, interval] = *figure.told;
  return {{"value", number(value)},
          {"standard_error", error ? number(*error) : Json(nullptr)},
          {"interval", ends_of(*figure.told)},
          {"low", interval ? number(interval->first) : Json(nullptr)},
          {"high", interval ? number(interval->second) : Json(nullptr)}};
}

struct JsonOfCell {
  Json operator()(std::monostate) const { return nullptr; }
  Json operator()(const std::string& text) const { return text; }
  Json operator()(double value) const { return number(value); }
  Json operator()(const Interval& value) const {
    return {{"low", number(value.low)}, {"mid", number(value.mid)}, {"high", number(value.high)}};
  }
};

Json json_of(const rig::RunTable& table) {
  Json rows = Json::array();
  for (const auto& row : table.rows) {
    Json cells = Json::object();
    for (std::size_t c = 0; c < row.size(); ++c)
      cells[table.columns[c].key] = std::visit(JsonOfCell{}, row[c]);
    rows.push_back(std::move(cells));
  }
  return {{"title", table.title}, {"rows", std::move(rows)}};
}

Json json_of(const std::vector<std::pair<std::string, std::string>>& labelled) {
  Json rows = Json::array();
  for (const auto& [label, text] : labelled) rows.push_back({{"label", label}, {"text", text}});
  return rows;
}

Json run_of(const rig::RunFindings& findings) {
  Json files = Json::array();
  for (const rig::RunFile& file : findings.files)
    files.push_back({{"name", file.name}, {"sha256", file.sha256}, {"rows", file.rows}});
  return {{"title", findings.title},   {"specimen", findings.specimen},
          {"date", findings.date},     {"oil", findings.oil},
          {"files", std::move(files)}, {"conditions", json_of(findings.conditions)}};
}

/// A basic string of TOML.
std::string quoted(const std::string& text) {
  std::string out = "\"";
  for (const char c : harmless(text)) {
    if (c == '"' || c == '\\') out += '\\';
    out += c;
  }
  return out + '"';
}

std::string names_of(const std::vector<rig::RunFile>& files) {
  std::string text;
  for (const rig::RunFile& file : files) text += (text.empty() ? "" : " and ") + file.name;
  return text;
}

std::string source_of(const rig::RunFindings& findings) {
  std::size_t rows = 0;
  for (const rig::RunFile& file : findings.files) rows += file.rows;
  std::string text =
      fmt::format("run {}, {}, {}", names_of(findings.files), findings.specimen, findings.date);
  if (!findings.oil.empty()) text += ", " + findings.oil;
  text += fmt::format(", {} samples", rows);
  if (!findings.source_remark.empty()) text += "; " + findings.source_remark;
  return text;
}

constexpr int digits_of_value = 6, digits_of_half_width = 2, digits_of_factor = 3;

std::string with_unit(double shown, int digits, const rig::ShownIn& in) {
  const std::string text = print_number(shown, digits);
  return in.unit.empty() ? text : text + ' ' + in.unit;
}

/// Right of the equals sign.
struct TomlOf {
  const std::string& source;

  std::string operator()(const std::string& text) const { return quoted(text); }
  std::string operator()(double value) const { return print_number(value, digits_of_value); }
  std::string operator()(bool value) const { return value ? "true" : "false"; }
  std::string operator()(const rig::FittedNumber& number) const {
    const rig::ShownIn& in = number.shown;
    const auto half = [&](double si) {
      return fmt::format("± {}", with_unit(si / in.scale, digits_of_half_width, in));
    };
    const auto factor = [](double f) {
      return fmt::format("×/÷ {}", print_number(f, digits_of_factor));
    };
    std::string text = fmt::format(
        "{{ value = \"{}\"", with_unit(number.value / in.scale - in.offset, digits_of_value, in));
    if (number.spread_ends)
      text += fmt::format(
          ", spread = \"{} … {}\"",
          print_number(number.spread_ends->first / in.scale - in.offset, digits_of_value),
          with_unit(number.spread_ends->second / in.scale - in.offset, digits_of_value, in));
    else if (number.spread_factor)
      text += fmt::format(", spread = \"{}\"", factor(*number.spread_factor));
    else if (number.spread)
      text += fmt::format(", spread = \"{}\"", half(*number.spread));
    if (number.scatter_factor)
      text += fmt::format(", scatter = \"{}\"", factor(*number.scatter_factor));
    else if (number.scatter)
      text += fmt::format(", scatter = \"{}\"", half(*number.scatter));
    return text + fmt::format(", basis = \"measured\", source = {} }}", quoted(source));
  }
};

std::string toml_of(const rig::FittedCorrelation& correlation) {
  const std::size_t n = correlation.keys.size();
  std::string keys, rows;
  for (std::size_t i = 0; i < n; ++i) {
    keys += (i > 0 ? ", " : "") + quoted(correlation.keys[i]);
    rows += i > 0 ? ", [" : "[";
    for (std::size_t j = 0; j < n; ++j)
      rows += (j > 0 ? ", " : "") + print_number(correlation.matrix[i * n + j], digits_of_value);
    rows += ']';
  }
  std::string text = fmt::format(
      "[[correlation]]\n# {}\nkeys = [{}]\n",
      correlation.of_scatter
          ? "a part that lies high in one lies high in all: a case draws their scatter together"
          : "told together by the run: a case draws what it does not know of them together",
      keys);
  if (correlation.of_scatter) text += "of = \"scatter\"\n";
  return text + fmt::format("matrix = [{}]\n", rows);
}

}  // namespace

std::string run_fit_json(const rig::RunFindings& findings) {
  Json parameters = Json::object(), tables = Json::object();
  for (const rig::RunFigure& figure : findings.figures) parameters[figure.key] = json_of(figure);
  for (const rig::RunTable& table : findings.tables) tables[table.key] = json_of(table);
  const Json document{{"schema", "ohmdrag-fit/1"},
                      {"kind", findings.kind},
                      {"run", run_of(findings)},
                      {"model", findings.model},
                      {"parameters", std::move(parameters)},
                      {"tables", std::move(tables)},
                      {"quality", json_of(findings.quality)},
                      {"warnings", findings.warnings},
                      {"notes", findings.notes},
                      {"cautions", findings.cautions}};
  return escaped_for_terminal(
             document.dump(2, ' ', false, nlohmann::json::error_handler_t::replace)) +
         '\n';
}

std::string run_fit_toml(const rig::RunFindings& findings, const std::string& version) {
  if (findings.entries.empty()) return {};
  const std::string source = source_of(findings);
  std::string text = fmt::format("# Fitted by ohmdrag {}.\n", version);
  for (const rig::RunFile& file : findings.files)
    text += fmt::format("# {}: sha256 {}\n", harmless(file.name), file.sha256);
  text += "# A case that includes this file must not state these keys itself: later wins.\n";
  for (const std::string& comment : findings.entry_comments)
    text += fmt::format("# {}\n", harmless(comment));
  for (const rig::FittedEntry& entry : findings.entries) {
    const std::string head = '[' + entry.table + ']';
    text += (entry.one_of_list ? '[' + head + ']' : head) + '\n';
    if (!entry.validity.empty()) text += fmt::format("# {}\n", harmless(entry.validity));
    for (const rig::EntryLine& line : entry.lines)
      text += fmt::format("{} = {}\n", line.key, std::visit(TomlOf{source}, line.value));
  }
  for (const rig::FittedCorrelation& correlation : findings.correlations)
    text += toml_of(correlation);
  return text;
}

}  // namespace ohmdrag::report
