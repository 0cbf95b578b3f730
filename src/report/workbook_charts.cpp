#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/workbook.hpp"

namespace ohmdrag::report {
namespace {

/// Colours that most colour-blind readers tell apart, each with a mark of its own. Source: M.
/// Okabe, K. Ito, Color Universal Design, 2008 (from memory): black, orange, sky blue, bluish
/// green, blue, vermilion, reddish purple.
constexpr std::array<lxw_color_t, 7> colours{0x000001, 0xE69F00, 0x56B4E9, 0x009E73,
                                             0x0072B2, 0xD55E00, 0xCC79A7};
constexpr std::array<std::uint8_t, 7> marks{LXW_CHART_MARKER_CIRCLE,  LXW_CHART_MARKER_SQUARE,
                                            LXW_CHART_MARKER_DIAMOND, LXW_CHART_MARKER_TRIANGLE,
                                            LXW_CHART_MARKER_X,       LXW_CHART_MARKER_PLUS,
                                            LXW_CHART_MARKER_STAR};
constexpr std::size_t chart_column = 8;  // to the right of the figures
constexpr std::size_t rows_of_a_chart = 24;
constexpr std::size_t points_of_a_cross = 5;

std::string text_in(const DataTable& table, std::size_t row, const std::string& column) {
  const std::size_t at = table.column(column);
  if (at == table.columns.size()) return {};
  const auto* text = std::get_if<std::string>(&table.rows[row][at]);
  return text ? *text : std::string();
}

const Interval* interval_in(const DataTable& table, std::size_t row, const std::string& column) {
  const std::size_t at = table.column(column);
  const auto* value =
      at == table.columns.size() ? nullptr : std::get_if<Interval>(&table.rows[row][at]);
  return value && std::isfinite(value->mid) ? value : nullptr;
}

std::string cells(std::size_t column, std::size_t first, std::size_t last) {
  const char letter = static_cast<char>('A' + column);
  return fmt::format("=charts!${0}${1}:${0}${2}", letter, first + 1, last + 1);
}

/// The sheet under construction: figures on the left, a chart beside each block of them.
class ChartSheet {
 public:
  explicit ChartSheet(Workbook& book) : book_(book), sheet_(book.sheet("charts")) {
    worksheet_set_column(sheet_, 0, 0, 28.0, nullptr);
    worksheet_set_column(sheet_, 1, 2, 14.0, nullptr);
    worksheet_set_landscape(sheet_);
    worksheet_fit_to_pages(sheet_, 1, 0);  // a chart in one piece on paper
  }

  void begin(const std::string& what, const std::vector<std::string>& heads) {
    row_ = std::max(row_, free_);
    first_ = row_;
    book_.text(sheet_, row_++, 0, what, book_.title());
    for (std::size_t i = 0; i < heads.size(); ++i)
      book_.text(sheet_, row_, i, heads[i], book_.head());
    ++row_;
  }
  void line(const std::string& name, const std::vector<double>& figures) {
    book_.text(sheet_, row_, 0, name);
    for (std::size_t i = 0; i < figures.size(); ++i)
      book_.number(sheet_, row_, i + 1, figures[i], "General");
    ++row_;
  }
  std::size_t row() const { return row_; }
  std::size_t head_row() const { return first_ + 1; }

  /// A series named by a cell: a name that begins with "=" stays a name.
  lxw_chart_series* series(lxw_chart* chart, const std::string& x, const std::string& y,
                           std::size_t name_row, std::size_t name_column, std::size_t number) {
    lxw_chart_series* series = chart_add_series(chart, x.c_str(), y.c_str());
    chart_series_set_name_range(series, "charts", static_cast<lxw_row_t>(name_row),
                                static_cast<lxw_col_t>(name_column));
    lxw_chart_line line{};
    line.color = colours[number % colours.size()];
    line.width = 1.5F;
    chart_series_set_line(series, &line);
    chart_series_set_marker_type(series, marks[number % marks.size()]);
    return series;
  }
  void put(lxw_chart* chart, const char* title, const char* x, const char* y) {
    chart_title_set_name(chart, title);
    chart_axis_set_name(chart->x_axis, x);
    chart_axis_set_name(chart->y_axis, y);
    chart_legend_set_position(chart, LXW_CHART_LEGEND_BOTTOM);
    lxw_chart_options size{};
    size.x_scale = 1.5;
    size.y_scale = 1.5;
    worksheet_insert_chart_opt(sheet_, static_cast<lxw_row_t>(first_),
                               static_cast<lxw_col_t>(chart_column), chart, &size);
    free_ = first_ + rows_of_a_chart;
    row_ += 2;
  }

 private:
  Workbook& book_;
  lxw_worksheet* sheet_;
  std::size_t row_ = 0;
  std::size_t first_ = 0;
  std::size_t free_ = 0;
};

/// Each variant a cross: from low to high watts, from low to high of what it takes away.
void add_exchange(Workbook& book, ChartSheet& sheet, const DataTable& exchange) {
  sheet.begin("What a variant costs and what it takes away (crosses: 95 %)",
              {"variant", "net watts, W", "share of striking time removed"});
  lxw_chart* chart = book.chart(LXW_CHART_SCATTER_STRAIGHT_WITH_MARKERS);
  std::size_t number = 0;
  for (std::size_t i = 0; i < exchange.rows.size(); ++i) {
    const Interval* watts = interval_in(exchange, i, "point_net_W");
    const Interval* removed = interval_in(exchange, i, "striking_time_share_removed");
    if (!watts || !removed) continue;
    const std::string name = text_in(exchange, i, "variant");
    const std::size_t first = sheet.row();
    sheet.line(name, {watts->low, removed->mid});
    sheet.line(name, {watts->high, removed->mid});
    sheet.line(name, {watts->mid, removed->mid});
    sheet.line(name, {watts->mid, removed->low});
    sheet.line(name, {watts->mid, removed->high});
    const std::size_t last = first + points_of_a_cross - 1;
    sheet.series(chart, cells(1, first, last), cells(2, first, last), first, 0, number++);
  }
  if (number == 0) return;
  sheet.put(chart, "What it costs and what it buys", "net watts against the baseline, W",
            "share of striking time removed");
}

/// Own watts at the first operating point, components down, variants across.
void add_watts(Workbook& book, ChartSheet& sheet, const DataTable& budget) {
  const std::string point = text_in(budget, 0, "point");
  std::vector<std::string> variants, components;
  const auto note = [](std::vector<std::string>& names, const std::string& name) {
    if (std::ranges::find(names, name) == names.end()) names.push_back(name);
  };
  for (std::size_t i = 0; i < budget.rows.size(); ++i) {
    if (text_in(budget, i, "point") != point) continue;
    note(variants, text_in(budget, i, "variant"));
    note(components, text_in(budget, i, "component"));
  }
  constexpr std::size_t most_variants = chart_column - 1;
  if (variants.size() > most_variants) variants.resize(most_variants);
  std::vector<std::string> heads{"component"};
  heads.insert(heads.end(), variants.begin(), variants.end());
  sheet.begin(fmt::format("Own watts at {}, middle of the interval", point), heads);
  const std::size_t first = sheet.row();
  for (const std::string& component : components) {
    std::vector<double> figures;
    for (const std::string& variant : variants) {
      double watts = std::nan("");
      for (std::size_t i = 0; i < budget.rows.size(); ++i)
        if (text_in(budget, i, "point") == point && text_in(budget, i, "variant") == variant &&
            text_in(budget, i, "component") == component)
          if (const Interval* own = interval_in(budget, i, "own_W")) watts = own->mid;
      figures.push_back(watts);
    }
    sheet.line(component, figures);
  }
  lxw_chart* chart = book.chart(LXW_CHART_COLUMN);
  for (std::size_t v = 0; v < variants.size(); ++v) {
    lxw_chart_series* series =
        sheet.series(chart, cells(0, first, sheet.row() - 1), cells(v + 1, first, sheet.row() - 1),
                     sheet.head_row(), v + 1, v);
    lxw_chart_fill fill{};
    fill.color = colours[v % colours.size()];
    chart_series_set_fill(series, &fill);
  }
  sheet.put(chart, "Own watts per component", "component, at the first operating point",
            "own watts, W");
}

/// Magnitude at the end of service, of every variant with a path, at the first operating point.
void add_impedance(Workbook& book, ChartSheet& sheet, const DataTable& impedance) {
  const std::string point = text_in(impedance, 0, "point");
  sheet.begin(fmt::format("Impedance of the path at the end of service, at {}", point),
              {"variant", "frequency, Hz", "magnitude, Ω"});
  lxw_chart* chart = book.chart(LXW_CHART_SCATTER_STRAIGHT_WITH_MARKERS);
  std::size_t number = 0;
  std::size_t first = sheet.row();
  const auto finish = [&] {
    if (sheet.row() > first)
      sheet.series(chart, cells(1, first, sheet.row() - 1), cells(2, first, sheet.row() - 1), first,
                   0, number++);
    first = sheet.row();
  };
  std::string variant;
  const std::size_t frequency = impedance.column("frequency_Hz");
  for (std::size_t i = 0; i < impedance.rows.size(); ++i) {
    const Interval* magnitude = interval_in(impedance, i, "magnitude");
    if (text_in(impedance, i, "point") != point || !magnitude) continue;
    if (text_in(impedance, i, "variant") != variant) finish();
    variant = text_in(impedance, i, "variant");
    sheet.line(variant, {std::get<double>(impedance.rows[i][frequency]), magnitude->mid});
  }
  finish();
  if (number == 0) return;
  constexpr std::uint16_t decades = 10;
  chart_axis_set_log_base(chart->x_axis, decades);
  chart_axis_set_log_base(chart->y_axis, decades);
  sheet.put(chart, "Impedance of the path over frequency", "frequency, Hz", "magnitude, Ω");
}

}  // namespace

void add_charts(Workbook& book, const std::vector<DataTable>& tables) {
  const DataTable* exchange = find_table(tables, "exchange");
  const DataTable* budget = find_table(tables, "budget");
  const DataTable* impedance = find_table(tables, "voltage_impedance_end_of_service_ohm");
  if (!exchange && !budget && !impedance) return;
  ChartSheet sheet(book);
  if (exchange) add_exchange(book, sheet, *exchange);
  if (budget) add_watts(book, sheet, *budget);
  if (impedance) add_impedance(book, sheet, *impedance);
}

}  // namespace ohmdrag::report
