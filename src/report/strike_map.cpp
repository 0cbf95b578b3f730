#include <algorithm>
#include <cmath>
#include <string_view>

#include "ohmdrag/quantity/print.hpp"
#include "report/sections.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

using study::StrikeCell;
using study::StrikeMap;

constexpr std::size_t head_width = 9;   // "-17.5 °C" and a blank
constexpr std::size_t cell_width = 3;   // a letter, its mark, a blank
constexpr std::size_t label_cells = 2;  // a speed of five digits and a blank
constexpr std::size_t tail_width = 16;
constexpr int speed_digits = 5;
constexpr int share_digits = 3;

std::string trimmed(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line;
}

/// A grid of short texts under the shaft speeds, beside the oil temperatures, with a last column.
/// What the page cannot hold side by side stands in blocks below one another.
void print_grid(const StrikeMap& map, const std::vector<std::vector<std::string>>& texts,
                std::string_view tail_head, const std::vector<std::string>& tails, Page& page) {
  const std::size_t columns = map.shaft_speed_rpm.size();
  const auto room = static_cast<std::size_t>(std::max(page.options().width, 1));
  const std::size_t fixed = head_width + tail_width;
  const std::size_t a_block = std::max<std::size_t>(
      label_cells, (room > fixed ? room - fixed : 0) / cell_width / label_cells * label_cells);
  for (std::size_t from = 0; from < columns; from += a_block) {
    const std::size_t to = std::min(from + a_block, columns);
    const std::size_t width = (to - from + label_cells - 1) / label_cells * label_cells;
    std::string head = padded_right("rpm", head_width);
    for (std::size_t c = from; c < to; c += label_cells)
      head += padded_right(print_number(map.shaft_speed_rpm[c], speed_digits),
                           label_cells * cell_width);
    page.line(trimmed(head + std::string(tail_head)));
    for (std::size_t r = 0; r < texts.size(); ++r) {
      std::string line =
          padded_left(print_number(map.oil_degC[r], share_digits) + " °C", head_width - 1) + ' ';
      for (std::size_t c = from; c < to; ++c) line += padded_right(texts[r][c], cell_width);
      page.line(trimmed(padded_right(line, head_width + width * cell_width) + tails[r]));
    }
  }
}

std::string letter(const StrikeCell& cell) {
  if (cell.regime == "conducting") return "c";
  if (cell.verdict == "expected") return "E";
  return cell.verdict == "possible" ? "p" : "-";
}

/// The marks of what else could be said of a cell.
std::string marked(const StrikeCell& cell) {
  const bool credit = cell.without_credit != cell.verdict;
  const bool fixed = cell.by_fixed_threshold != cell.verdict;
  const char* mark = credit && fixed ? "#" : credit ? "'" : fixed ? "*" : "";
  return letter(cell) + mark;
}

std::vector<std::vector<std::string>> texts_of(const StrikeMap& map,
                                               std::string (*text)(const StrikeCell&)) {
  std::vector<std::vector<std::string>> rows;
  for (const auto& cells : map.cells) {
    rows.emplace_back();
    for (const StrikeCell& cell : cells) rows.back().push_back(text(cell));
  }
  return rows;
}

std::string whole_per_cent(double share) {
  if (!(share > 0.0)) return "·";
  const double per_cent = std::round(100.0 * share);
  return per_cent > 0.0 ? print_number(per_cent, share_digits) : "+";
}

std::string conducting_below(const std::optional<double>& rpm) {
  if (!rpm) return "always";
  return *rpm > 0.0 ? print_number(*rpm, share_digits) + " rpm" : "never";
}

std::string per_cent(double share) { return print_number(100.0 * share, share_digits) + " %"; }

}  // namespace

void print_strike_map(const StrikeMap& map, Page& page) {
  std::vector<std::string> tails;
  for (const auto& rpm : map.conducting_below_rpm) tails.push_back(conducting_below(rpm));
  print_grid(map, texts_of(map, marked), "conducts below", tails, page);
  const Interval& fixed = map.fixed_threshold_V;
  page.say(
      "Everything at its middle, the element at the end of its service. c: a bearing conducts; -: "
      "nothing strikes; p: a discharge is possible; E: expected. ': worse without credit for short "
      "pulses; *: otherwise with a fixed threshold of " +
      print_number(fixed.low, share_digits) + ", " + print_number(fixed.mid, share_digits) +
      " and " + print_number(fixed.high, share_digits) +
      " V (weak, middling and strong bearings) where the film insulates; #: both.");
  if (map.duties.empty()) return;
  page.say("Of the time of the duties, moment by moment: conducting " +
           per_cent(map.conducting_time_share) + ", nothing strikes " +
           per_cent(map.holding_time_share) + ", striking " + per_cent(map.striking_time_share) +
           ", at rest " + per_cent(map.standstill_time_share) + ".");
}

void print_duty_time(const StrikeMap& map, Page& page) {
  if (map.duties.empty()) return;
  page.say("Time of the service mix in each cell, in per cent; +: less than half of one.");
  print_grid(map,
             texts_of(map, [](const StrikeCell& cell) { return whole_per_cent(cell.time_share); }),
             "", std::vector<std::string>(map.cells.size()), page);
}

}  // namespace ohmdrag::report
