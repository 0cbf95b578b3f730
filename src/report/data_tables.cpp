#include "report/data_tables.hpp"

#include <algorithm>
#include <limits>
#include <utility>

namespace ohmdrag::report {
namespace {

using Cells = std::vector<std::pair<std::string, Value>>;

// Above this a double no longer names every whole number: 2^53.
constexpr std::uint64_t most_exact_whole = 9007199254740992ULL;

bool is_interval(const Json& node) {
  return node.is_object() && node.size() == 3 && node.contains("low") && node.contains("mid") &&
         node.contains("high");
}

double end_of(const Json& node, const char* name) {
  const Json& end = node.at(name);
  return end.is_number() ? end.get<double>() : std::numeric_limits<double>::quiet_NaN();
}

Value value_of(const Json& node) {
  if (node.is_null()) return {};
  if (node.is_boolean()) return node.get<bool>();
  if (node.is_number_unsigned() && node.get<std::uint64_t>() > most_exact_whole) return node.dump();
  if (node.is_number()) return node.get<double>();
  if (node.is_string()) return node.get<std::string>();
  if (is_interval(node))
    return Interval{end_of(node, "low"), end_of(node, "mid"), end_of(node, "high")};
  return node.dump();
}

bool holds_rows(const Json& node) {
  return node.is_array() && !node.empty() && node.front().is_object();
}

/// Texts, or the texts of flags, one after another.
std::string joined(const Json& list) {
  std::string out;
  for (const Json& item : list) {
    const Json& text = item.is_object() ? item.at("text") : item;
    out += (out.empty() ? "" : "; ") + (text.is_string() ? text.get<std::string>() : text.dump());
  }
  return out;
}

/// The words a row begins with name it in the tables of the lists within it.
Cells names_in(const Json& row) {
  Cells out;
  for (const auto& [key, value] : row.items()) {
    if (!value.is_string() && !value.is_null()) break;
    if (key != "title") out.emplace_back(key, value_of(value));
  }
  return out;
}

class Builder {
 public:
  explicit Builder(const Json& document) : document_(document) {}

  std::vector<DataTable> tables() && {
    Json study = Json::object();
    for (const auto& [key, value] : document_.items())
      if (value.is_primitive()) study[key] = value;
    study.update(document_.at("case"));
    row("study", {}, study);
    for (const auto& [key, value] : document_.items()) {
      if (key == "variants")
        variants(value);
      else if (key == "trade")
        trade(value);
      else if (value.is_array())
        list(key, {}, value);
      else if (value.is_object() && key != "case")
        row(key, {}, value);
    }
    for (DataTable& table : tables_) drop_empty_columns(table);
    std::erase_if(tables_, [](const DataTable& table) { return table.columns.empty(); });
    return std::move(tables_);
  }

 private:
  void variants(const Json& list_of_variants) {
    for (const Json& variant : list_of_variants) {
      Json plain = Json::object();
      for (const auto& [key, value] : variant.items())
        if (value.is_primitive()) plain[key] = value;
      row("variants", {}, plain);
    }
    for (const Json& variant : list_of_variants) {
      const Cells names{{"variant", value_of(variant.at("id"))}};
      for (const auto& [key, value] : variant.items()) {
        if (key == "strike_map")
          strike_map(names, value);
        else if (key == "courses")
          courses(names, value);
        else if (value.is_array())
          list(key, names, value);
        else if (value.is_object())
          row(key, names, value);
      }
    }
  }

  /// Its lists are tables in their own right.
  void trade(const Json& node) {
    Json plain = Json::object();
    for (const auto& [key, value] : node.items())
      if (holds_rows(value))
        list(key, {}, value);
      else
        plain[key] = value;
    row("trade", {}, plain);
  }

  void list(const std::string& id, const Cells& names, const Json& items) {
    for (const Json& item : items) {
      if (item.is_object() && !is_interval(item)) {
        row(id, names, item);
        continue;
      }
      Cells cells = names;
      cells.emplace_back(id, value_of(item));
      add(id, cells);
    }
  }

  void row(const std::string& id, const Cells& names, const Json& object) {
    Cells cells = names;
    std::vector<std::pair<std::string, const Json*>> below;
    fill(cells, below, {}, object);
    add(id, cells);
    Cells own = names;
    for (auto& name : names_in(object)) own.push_back(std::move(name));
    for (const auto& [key, items] : below) {
      if (key.ends_with("_by_point"))
        by_point(id + '_' + key, key, own, *items);
      else
        list(id + '_' + key, own, *items);
    }
  }

  void fill(Cells& cells, std::vector<std::pair<std::string, const Json*>>& below,
            const std::string& prefix, const Json& object) {
    for (const auto& [key, value] : object.items()) {
      const std::string name = prefix + key;
      if (value.is_object() && !is_interval(value))
        fill(cells, below, name + '_', value);
      else if (holds_rows(value) && key != "flags")
        below.emplace_back(name, &value);
      else if (value.is_array())
        cells.emplace_back(name, value.empty() ? Value{} : Value{joined(value)});
      else
        cells.emplace_back(name, value_of(value));
    }
  }

  /// Figures in the order of the operating points.
  void by_point(const std::string& id, const std::string& key, const Cells& names,
                const Json& items) {
    const Json& points = document_.at("case").at("points");
    for (std::size_t i = 0; i < items.size(); ++i) {
      Cells cells = names;
      cells.emplace_back("point", i < points.size() ? value_of(points[i]) : Value{});
      cells.emplace_back(key.substr(0, key.size() - std::string("_by_point").size()),
                         value_of(items[i]));
      add(id, cells);
    }
  }

  /// Everything over speed and oil, one row a cell; what hangs on the oil alone; the rest.
  void strike_map(const Cells& names, const Json& map) {
    const Json& speeds = map.at("shaft_speeds_rpm");
    const Json& oils = map.at("oil_temperatures_degC");
    const auto cells_over = [&](const std::string& id, const Cells& of, const auto& add_figures) {
      for (std::size_t r = 0; r < oils.size(); ++r)
        for (std::size_t c = 0; c < speeds.size(); ++c) {
          Cells cells = of;
          cells.emplace_back("oil_temperature_degC", value_of(oils[r]));
          cells.emplace_back("shaft_speed_rpm", value_of(speeds[c]));
          add_figures(cells, r, c);
          add(id, cells);
        }
    };
    cells_over("strike_map", names, [&](Cells& cells, std::size_t r, std::size_t c) {
      cells.emplace_back("torque_Nm", value_of(map.at("torques_Nm")[c]));
      for (const auto& [key, grid] : map.items())
        if (grid.is_array() && !grid.empty() && grid.front().is_array())
          cells.emplace_back(key, value_of(grid[r][c]));
    });
    for (const Json& duty : map.at("duties")) {
      Cells of = names;
      of.emplace_back("duty", value_of(duty.at("duty")));
      cells_over("strike_map_duties", of, [&](Cells& cells, std::size_t r, std::size_t c) {
        cells.emplace_back("time_share", value_of(duty.at("time_share")[r][c]));
      });
    }
    for (std::size_t r = 0; r < oils.size(); ++r) {
      Cells cells = names;
      cells.emplace_back("oil_temperature_degC", value_of(oils[r]));
      cells.emplace_back("conducting_below_rpm", value_of(map.at("conducting_below_rpm")[r]));
      add("strike_map_oil", cells);
    }
    Cells rest = names;
    for (const auto& [key, value] : map.items())
      if (!value.is_array()) rest.emplace_back(key, value_of(value));
    add("strike_map_summary", rest);
  }

  /// A row for each contact and step; without contacts the oil alone.
  void courses(const Cells& names, const Json& duties) {
    for (const Json& duty : duties) {
      const Json& times = duty.at("time_s");
      const auto rows_of = [&](const Json& contact) {
        for (std::size_t i = 0; i < times.size(); ++i) {
          Cells cells = names;
          cells.emplace_back("duty", value_of(duty.at("duty")));
          if (!contact.is_null())
            cells.emplace_back("component", value_of(contact.at("component")));
          cells.emplace_back("time_s", value_of(times[i]));
          cells.emplace_back("oil_degC", value_of(duty.at("oil_degC")[i]));
          if (!contact.is_null())
            for (const char* figure : {"mean_degC", "highest_degC"})
              cells.emplace_back(figure, value_of(contact.at(figure)[i]));
          add("courses", cells);
        }
      };
      if (duty.at("contacts").empty()) rows_of(Json());
      for (const Json& contact : duty.at("contacts")) rows_of(contact);
    }
  }

  void add(const std::string& id, const Cells& cells) {
    auto table = std::ranges::find(tables_, id, &DataTable::id);
    if (table == tables_.end()) {
      tables_.push_back({id, {}, {}});
      table = tables_.end() - 1;
    }
    std::vector<Value> line(table->columns.size());
    for (const auto& [name, value] : cells) {
      const std::size_t at = table->column(name);
      if (at == table->columns.size()) {
        table->columns.push_back(name);
        line.emplace_back();
      }
      line[at] = value;
    }
    table->rows.push_back(std::move(line));
  }

  static void drop_empty_columns(DataTable& table) {
    for (auto& line : table.rows) line.resize(table.columns.size());
    for (std::size_t i = table.columns.size(); i-- > 0;) {
      if (std::ranges::any_of(table.rows, [&](const auto& line) { return line[i].index() != 0; }))
        continue;
      const auto at = static_cast<std::ptrdiff_t>(i);
      table.columns.erase(table.columns.begin() + at);
      for (auto& line : table.rows) line.erase(line.begin() + at);
    }
  }

  const Json& document_;
  std::vector<DataTable> tables_;
};

}  // namespace

std::size_t DataTable::column(const std::string& name) const {
  return static_cast<std::size_t>(std::ranges::find(columns, name) - columns.begin());
}

std::vector<DataTable> data_tables(const Json& document) { return Builder(document).tables(); }

const DataTable* find_table(const std::vector<DataTable>& tables, const std::string& id) {
  const auto found = std::ranges::find(tables, id, &DataTable::id);
  return found == tables.end() ? nullptr : &*found;
}

}  // namespace ohmdrag::report
