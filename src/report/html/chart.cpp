#include "report/html/chart.hpp"

#include <cmath>
#include <stdexcept>

#include "report/html/markup.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

constexpr std::size_t longest_label = 60;

Json finite(double value) { return std::isfinite(value) ? Json(value) : Json(); }

/// The columns of the drawing's data: an interval anywhere in a field adds its two ends.
struct Columns {
  explicit Columns(const ChartData& data) {
    for (std::size_t f = 0; f < data.fields.size(); ++f) {
      const std::string& name = data.fields[f].name;
      names.push_back(name);
      has_ends.push_back(std::ranges::any_of(
          data.rows, [f](const auto& row) { return std::holds_alternative<Interval>(row[f]); }));
      if (!has_ends.back()) continue;
      names.push_back(name + "_low");
      names.push_back(name + "_high");
    }
  }
  Json names = Json::array();
  std::vector<bool> has_ends;
};

void add_values(Json& row, const Datum& datum, bool has_ends) {
  const auto* interval = std::get_if<Interval>(&datum);
  if (const auto* text = std::get_if<std::string>(&datum))
    row.push_back(label(*text));
  else if (const auto* value = std::get_if<double>(&datum))
    row.push_back(finite(*value));
  else
    row.push_back(interval ? finite(interval->mid) : Json());
  if (!has_ends) return;
  row.push_back(interval ? finite(interval->low) : Json());
  row.push_back(interval ? finite(interval->high) : Json());
}

Cell cell_of(const Datum& datum) {
  if (const auto* text = std::get_if<std::string>(&datum)) return words(*text);
  if (const auto* value = std::get_if<double>(&datum))
    return std::isnan(*value) ? words(std::string(nothing)) : figure(*value);
  if (const auto* interval = std::get_if<Interval>(&datum)) return figure(*interval);
  return words(std::string(nothing));
}

/// Without names, which would be most of the bytes: the page's script puts them back.
Json rows_of(const ChartData& data, const Columns& columns) {
  Json rows = Json::array();
  for (const auto& row : data.rows) {
    Json one = Json::array();
    for (std::size_t i = 0; i < row.size(); ++i) add_values(one, row[i], columns.has_ends[i]);
    rows.push_back(std::move(one));
  }
  return rows;
}

Table table_of(const ChartData& data) {
  Table table{.columns = {}, .rows = {}, .keys = 1};
  for (const auto& field : data.fields) table.columns.push_back({field.head, field.unit});
  for (std::size_t c = 0; c < table.columns.size(); ++c) {
    const bool textual = std::ranges::all_of(
        data.rows, [c](const auto& row) { return std::holds_alternative<std::string>(row[c]); });
    if (textual) table.columns[c].align = Align::left;
  }
  for (const auto& row : data.rows) {
    table.rows.emplace_back();
    for (const Datum& value : row) table.rows.back().push_back(cell_of(value));
  }
  return table;
}

/// Every string "{{name}}" of a drawing gives way to what is inserted there.
void insert(Json& node, const std::map<std::string, Json>& inserts) {
  if (node.is_structured()) {
    for (Json& child : node) insert(child, inserts);
  } else if (node.is_string()) {
    const std::string& text = node.get_ref<const std::string&>();
    if (!text.starts_with("{{") || !text.ends_with("}}")) return;
    const auto found = inserts.find(text.substr(2, text.size() - 4));
    if (found == inserts.end()) throw std::invalid_argument("chart: nothing to insert at " + text);
    node = found->second;
  }
}

}  // namespace

Datum datum(const std::optional<Interval>& value) { return value ? Datum(*value) : Datum(); }
Datum datum(const std::optional<double>& value) { return value ? Datum(*value) : Datum(); }

Interval scaled(const Interval& value, double factor) {
  return {factor * value.low, factor * value.mid, factor * value.high};
}

std::string label(std::string_view text) { return elided(harmless(text), longest_label); }

std::string inside_script(const Json& json) {
  std::string out;
  for (const char c : json.dump(-1, ' ', false, Json::error_handler_t::replace)) {
    if (c == '<')
      out += "\\u003c";
    else
      out += c;
  }
  return out;
}

std::string markup(const Chart& chart, const HtmlParts& parts) {
  if (chart.data.rows.empty()) return {};
  const std::string_view text = parts.data("report/charts/" + chart.drawing + ".json");
  Json drawing = Json::parse(text);
  insert(drawing, chart.inserts);

  Json heads = Json::object();
  for (const auto& field : chart.data.fields)
    heads[field.name] = field.unit.empty() ? field.head : field.head + " [" + field.unit + "]";
  const Columns columns(chart.data);
  const Json whole = {{"title", label(chart.title)},
                      {"heads", std::move(heads)},
                      {"columns", columns.names},
                      {"rows", rows_of(chart.data, columns)},
                      {"drawing", std::move(drawing)}};

  const std::string title = escaped_heading(chart.title);
  return "<figure class=chart id=\"chart-" + chart.id + "\">\n<figcaption><b>" + title + "</b> " +
         escaped(chart.statement) + "</figcaption>\n<div class=plot role=img aria-label=\"" +
         title + ". The table below has its figures.\"></div>\n<p class=save hidden></p>\n" +
         "<details class=figures open><summary>Figures of this chart</summary>\n" +
         markup(table_of(chart.data), chart.title) + "</details>\n" +
         "<script type=\"application/json\">" + inside_script(whole) + "</script>\n</figure>\n";
}

}  // namespace ohmdrag::report
