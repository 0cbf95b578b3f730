// How a case wants its numbers drawn.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "input/case_reader.hpp"
#include "ohmdrag/numerics/joint_normal.hpp"
#include "ohmdrag/study/visit.hpp"

namespace ohmdrag::input {
namespace {

constexpr long long most_samples = 100'000'000;

/// A whole number within limits; complains of any other.
std::optional<int> whole(TableReader& table, std::string_view key, long long least,
                         long long most) {
  const auto value = table.maybe_integer(key);
  if (!value) return std::nullopt;
  if (*value < least || *value > most) {
    table.complain(key, fmt::format("read {}; expected {} to {}", *value, least, most));
    return std::nullopt;
  }
  return static_cast<int>(*value);
}

/// Row by row; empty after a complaint.
std::vector<double> matrix_of(TableReader& table, std::size_t size) {
  if (!table.has("matrix")) {
    table.missing("matrix", "rows of correlations, [[1, 0.6], [0.6, 1]]");
    return {};
  }
  std::vector<double> matrix;
  bool square = table.items("matrix").size() == size;
  for (const Node* row : table.items("matrix")) {
    square = square && row->is_array() && row->children.size() == size;
    for (const Node& cell : row->children) {
      square = square && cell.is_number();
      matrix.push_back(cell.is_number() ? cell.as_real() : 0.0);
    }
  }
  if (!square) {
    table.complain("matrix",
                   fmt::format("expected {} rows of {} numbers, as many as keys", size, size),
                   "two keys: matrix = [[1, 0.6], [0.6, 1]]");
    return {};
  }
  try {
    const numerics::JointNormal check(matrix);
  } catch (const std::invalid_argument& problem) {
    table.complain("matrix", problem.what(),
                   "ones on the diagonal, the same number on either side of it, and no three that "
                   "contradict each other");
    return {};
  }
  return matrix;
}

}  // namespace

void CaseReader::read_samples(TableReader& table) {
  const Node* samples = table.find("samples");
  const bool adaptive = samples && samples->is_text() && samples->text == "adaptive";
  if (samples && samples->is_text() && !adaptive)
    table.complain("samples", fmt::format("read {}; expected a whole number or \"adaptive\"",
                                          samples->as_typed()));
  else if (!adaptive)
    out_.samples = whole(table, "samples", 1, most_samples).value_or(0);
  const auto digits = whole(table, "digits", 1, 4);
  const auto most = whole(table, "most_samples", 1, most_samples);
  if (adaptive) {
    out_.adaptive = study::AdaptiveSampling{};
    if (digits) out_.adaptive->digits = *digits;
    if (most) out_.adaptive->most = *most;
  } else {
    for (const char* key : {"digits", "most_samples"})
      if (table.has(key))
        table.complain(key, "says how an adaptive ensemble ends, but samples is not \"adaptive\"",
                       "write samples = \"adaptive\"");
  }
  if (table.has("first_order")) out_.first_order = table.flag("first_order", false);
}

void CaseReader::read_correlations() {
  for (TableReader& table : top_.tables("correlation")) {
    read_correlation(table);
    table.done();
  }
}

void CaseReader::read_correlation(TableReader& table) {
  const std::vector<std::string> kinds{"spread", "scatter"};
  study::Correlation out;
  out.of_scatter = table.word("of", kinds, false) == "scatter";
  table.maybe_text("id");
  table.maybe_text("validity");
  std::vector<std::string> keys = table.texts("keys");
  if (keys.size() < 2)
    table.complain("keys", "expected two keys or more",
                   "keys as `check` prints them: [\"sump.heat_capacity\", \"sump.conductance\"]");
  const bool twice = std::set<std::string>(keys.begin(), keys.end()).size() != keys.size();
  if (twice) table.complain("keys", "names a key twice");
  out.matrix = matrix_of(table, keys.size());

  std::map<std::string, bool> drawn;  // key -> whether it has what is correlated
  study::for_each_number(std::as_const(out_), [&](const UncertainNumber& number) {
    drawn[number.key] = (out.of_scatter ? number.scatter : number.spread).shape != Shape::exact;
  });
  std::vector<std::string> known;
  for (const auto& [key, varies] : drawn)
    if (varies) known.push_back(key);

  std::size_t used = 0;
  bool right = keys.size() >= 2 && !twice && !out.matrix.empty();
  for (const std::string& key : keys) {
    const auto found = drawn.find(key);
    const Written written = where_written(key);
    if (found != drawn.end() && found->second) {
      ++used;
    } else if (found == drawn.end() && !written.there) {
      table.complain("keys", fmt::format("read \"{}\", but there is no such number", key),
                     suggestion(key, known));
      right = false;
    } else if (found != drawn.end() && !written.by_set) {
      table.complain("keys", fmt::format("read \"{}\", which has no {} to correlate", key,
                                         out.of_scatter ? "scatter" : "spread"));
      right = false;
    }
    // Else an include holds more than the case uses, or somebody tries out a value.
  }
  const auto taken = [&](const std::string& key) {
    return std::ranges::any_of(out_.correlations, [&](const study::Correlation& other) {
      return other.of_scatter == out.of_scatter &&
             std::ranges::find(other.keys, key) != other.keys.end();
    });
  };
  if (const auto other = std::ranges::find_if(keys, taken); other != keys.end()) {
    table.complain("keys", fmt::format("\"{}\" is in another correlation already", *other),
                   "one matrix for all numbers that hang together");
    right = false;
  }
  if (!right) return;
  if (used < keys.size())
    warn(fmt::format("Of the correlation of {} only {} of {} numbers are used in this case.",
                     fmt::join(keys, ", "), used, keys.size()));
  out.keys = std::move(keys);
  out_.correlations.push_back(std::move(out));
}

CaseReader::Written CaseReader::where_written(std::string_view path) const {
  const std::size_t dot = path.find('.');
  if (dot == std::string_view::npos) return {};
  const std::string_view section = path.substr(0, dot);
  std::string_view rest = path.substr(dot + 1);
  const std::string_view id = rest.substr(0, rest.find('.'));
  std::optional<Node> of_catalogue = entry(section, id);
  const Node* node = of_catalogue ? &*of_catalogue : root_.find(section);
  if (of_catalogue) rest.remove_prefix(std::min(rest.size(), id.size() + 1));
  while (node && !rest.empty()) {
    const std::string_view key = rest.substr(0, rest.find('.'));
    node = node->is_array_of_tables() ? find_id(*node, key) : node->find(key);
    rest.remove_prefix(std::min(rest.size(), key.size() + 1));
  }
  if (!node) return {};
  return {true, node->place.text && !node->place.text->numbered};
}

}  // namespace ohmdrag::input
