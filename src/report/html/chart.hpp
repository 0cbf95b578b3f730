#pragma once

#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "ohmdrag/report/html.hpp"

namespace ohmdrag::report {

using Json = nlohmann::ordered_json;

/// A cell of a chart's data: words, a number, an interval, or nothing.
using Datum = std::variant<std::monostate, std::string, double, Interval>;
Datum datum(const std::optional<Interval>& value);
Datum datum(const std::optional<double>& value);
/// The interval times a factor: a share in per cent, seconds in microseconds.
Interval scaled(const Interval& value, double factor);

/// What a chart shows: once as numbers for the drawing and the CSV, once printed as its table.
struct ChartData {
  struct Field {
    std::string name;  ///< in the drawing; an interval adds name_low and name_high
    std::string head;
    std::string unit = {};
  };
  std::vector<Field> fields;
  std::vector<std::vector<Datum>> rows;
};

struct Chart {
  std::string id;         ///< after "chart-" of the figure on the page and of what is saved
  std::string drawing;    ///< data/report/charts/NAME.json
  std::string title;      ///< what is shown, of which variant
  std::string statement;  ///< what to see in it
  ChartData data;
  std::map<std::string, Json> inserts = {};  ///< for each "{{name}}" in the drawing
};

/// A name as charts show it: harmless and not longer than an axis can carry.
std::string label(std::string_view text);

/// The figure with its drawing instructions and its table; nothing without rows.
std::string markup(const Chart& chart, const HtmlParts& parts);

/// JSON that can stand inside a script element: no "<" is left in it.
std::string inside_script(const Json& json);

}  // namespace ohmdrag::report
