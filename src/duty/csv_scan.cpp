#include "duty/csv_scan.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace ohmdrag::duty {

namespace {

constexpr bool is_blank(char c) { return c == ' ' || c == '\t'; }

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_blank(text.back())) text.remove_suffix(1);
  return text;
}

/// A cell with a decimal comma and a point in its place; longer ones are no numbers.
constexpr std::size_t longest_number = 64;

}  // namespace

std::optional<std::string_view> CellScan::next() {
  std::size_t open = 0;
  while (open < rest_.size() && rest_[open] == ' ') ++open;
  if (open < rest_.size() && rest_[open] == '"') return quoted(open);
  const std::size_t end = rest_.find(separator_);
  const std::string_view cell = rest_.substr(0, end);
  more_ = end != std::string_view::npos;
  rest_.remove_prefix(more_ ? end + 1 : rest_.size());
  return trimmed(cell);
}

std::optional<std::string_view> CellScan::quoted(std::size_t open) {
  std::size_t close = open + 1;
  while (true) {
    close = rest_.find('"', close);
    if (close == std::string_view::npos) return {};
    if (close + 1 >= rest_.size() || rest_[close + 1] != '"') break;
    close += 2;  // a doubled quote stands for one
  }
  const std::string_view cell = rest_.substr(open + 1, close - open - 1);
  rest_.remove_prefix(close + 1);
  while (!rest_.empty() && rest_.front() == ' ') rest_.remove_prefix(1);
  more_ = !rest_.empty();
  if (more_ && rest_.front() != separator_) return {};
  if (more_) rest_.remove_prefix(1);
  return trimmed(cell);
}

std::vector<std::string> header_cells(std::string_view row, char separator) {
  std::vector<std::string> cells;
  CellScan scan(row, separator);
  while (scan.more()) {
    const auto cell = scan.next();
    if (!cell) return {};
    std::string name;
    for (std::size_t i = 0; i < cell->size(); ++i) {
      name += (*cell)[i];
      if ((*cell)[i] == '"' && i + 1 < cell->size() && (*cell)[i + 1] == '"') ++i;
    }
    cells.push_back(std::move(name));
  }
  return cells;
}

std::optional<double> number_in(std::string_view cell, char& decimal) {
  if (cell.size() > 1 && cell[0] == '+' && cell[1] != '-') cell.remove_prefix(1);
  const std::size_t at = cell.find_first_of(".,");
  const char mark = at == std::string_view::npos ? decimal : cell[at];
  if (decimal != 0 && mark != decimal) return {};
  std::array<char, longest_number> with_point{};
  if (mark == ',' && at != std::string_view::npos) {
    if (cell.size() > with_point.size()) return {};
    std::ranges::copy(cell, with_point.begin());
    with_point[at] = '.';
    cell = {with_point.data(), cell.size()};
  }
  double value = 0.0;
  const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  if (error != std::errc{} || end != cell.data() + cell.size() || !std::isfinite(value)) return {};
  decimal = mark;
  return value;
}

}  // namespace ohmdrag::duty
