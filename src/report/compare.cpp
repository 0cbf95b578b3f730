#include "ohmdrag/report/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "ohmdrag/quantity/print.hpp"
#include "report/json_rows.hpp"
#include "report/page.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

using study::ComparedSide;
using study::Comparison;
using study::FigureMove;
using study::InputChange;

constexpr std::string_view not_stated = "not stated";

/// "1", or "1 and 3" where changes only make sense together.
std::string numbers_of(const std::vector<std::size_t>& part) {
  if (part.empty()) return "version";
  std::string text;
  for (const std::size_t i : part) text += (text.empty() ? "" : " and ") + fmt::format("{}", i + 1);
  return text;
}

std::string signed_number(double value) {
  return fmt::format("{}{}", value > 0.0 ? "+" : "", print_number(value, 4));
}

/// The shares by size, those that are nothing left out.
std::string shares_in_words(const Comparison& comparison, const FigureMove& move) {
  if (!move.remark.empty()) return move.remark;
  std::vector<std::size_t> order;
  for (std::size_t p = 0; p < move.shares.size(); ++p)
    if (move.shares[p] != 0.0) order.push_back(p);
  std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
    return std::abs(move.shares[a]) > std::abs(move.shares[b]);
  });
  std::string text;
  for (const std::size_t p : order)
    text += fmt::format("{}{}: {}", text.empty() ? "" : "; ", numbers_of(comparison.parts[p]),
                        signed_number(move.shares[p]));
  return text;
}

Table changes_table(const Comparison& comparison) {
  Table table;
  table.columns = {{"", ""},
                   {"key", "", Align::left, true},
                   {"before", "", Align::left, true},
                   {"after", "", Align::left, true},
                   {"basis", "", Align::left, true}};
  for (std::size_t i = 0; i < comparison.changes.size(); ++i) {
    const InputChange& change = comparison.changes[i];
    const std::string basis =
        change.basis_before == change.basis_after
            ? change.basis_after
            : fmt::format("{} → {}", change.basis_before.empty() ? "–" : change.basis_before,
                          change.basis_after.empty() ? "–" : change.basis_after);
    table.rows.push_back({Cell{fmt::format("{}", i + 1)}, words(change.key),
                          words(change.before.value_or(std::string(not_stated))),
                          words(change.after.value_or(std::string(not_stated))), words(basis)});
  }
  return table;
}

Table moves_table(const Comparison& comparison) {
  Table table;
  table.columns = {{"variant", "", Align::left},
                   {"figure", "", Align::left},
                   {"before", ""},
                   {"after", ""},
                   {"move", ""},
                   {"of which change", "", Align::left, true},
                   {"rest", ""}};
  table.keys = 2;
  const auto shown = [](const std::optional<double>& value) {
    return Cell{value ? print_number(*value, 4) : std::string(nothing)};
  };
  for (const FigureMove& move : comparison.moves)
    table.rows.push_back(
        {words(move.variant), words(move.figure), shown(move.before), shown(move.after),
         Cell{move.move ? signed_number(*move.move) : std::string(nothing)},
         words(shares_in_words(comparison, move)),
         Cell{move.shares.empty() ? std::string(nothing) : signed_number(move.rest)}});
  return table;
}

std::string choice(const std::string& chosen) { return chosen.empty() ? "no variant" : chosen; }

void say_choice(const Comparison& comparison, Page& page) {
  if (comparison.chosen_before == comparison.chosen_after) {
    page.say(fmt::format("stays {}.", choice(comparison.chosen_after)), "Choice: ");
  } else {
    page.say(fmt::format("turns from {} to {}.", choice(comparison.chosen_before),
                         choice(comparison.chosen_after)),
             "Choice: ");
  }
  for (std::size_t p = 0; p < comparison.parts.size(); ++p)
    if (comparison.parts.size() > 1 &&
        comparison.chosen_with_part_alone[p] != comparison.chosen_before)
      page.say(fmt::format("alone turns it to {}.", choice(comparison.chosen_with_part_alone[p])),
               fmt::format("Change {} ", numbers_of(comparison.parts[p])));
  for (const study::RequirementTurn& turn : comparison.turned)
    page.say(fmt::format("{} of {}: {} before, {} after.", turn.requirement, turn.variant,
                         turn.met_before ? "met" : "missed", turn.met_after ? "met" : "missed"),
             "Requirement: ");
}

std::string side_in_words(const ComparedSide& side) {
  std::string text = fmt::format("{}, {} draws, seed {}", side.file, side.samples, side.seed);
  for (const std::string& set : side.sets) text += fmt::format(", --set {}", set);
  return text;
}

Json json_of(const ComparedSide& side) {
  return {{"title", side.title},     {"file", side.file}, {"sha256", side.sha256},
          {"version", side.version}, {"seed", side.seed}, {"samples", side.samples},
          {"sets", side.sets}};
}

Json text_or_null(const std::optional<std::string>& text) { return text ? Json(*text) : Json(); }

Json json_of(const InputChange& change) {
  return {{"key", change.key},
          {"before", text_or_null(change.before)},
          {"after", text_or_null(change.after)},
          {"basis_before", word_or_null(change.basis_before)},
          {"basis_after", word_or_null(change.basis_after)},
          {"words_only", change.words_only}};
}

Json json_of(const FigureMove& move) {
  Json shares = Json::array();
  for (const double share : move.shares) shares.push_back(number(share));
  return {{"variant", move.variant},
          {"figure", move.figure},
          {"before", to(move.before)},
          {"after", to(move.after)},
          {"move", to(move.move)},
          {"shares", std::move(shares)},
          {"rest", move.shares.empty() ? Json() : number(move.rest)},
          {"remark", word_or_null(move.remark)}};
}

}  // namespace

std::string comparison(const Comparison& comparison, const TerminalOptions& options) {
  Page page(options);
  page.title("Two cases side by side");
  page.say(side_in_words(comparison.before), "Before: ");
  page.say(side_in_words(comparison.after), "After: ");
  page.space();
  if (comparison.nothing_changed()) {
    page.say("Nothing is changed: every input and every headline figure is the same.");
    return std::move(page).text();
  }
  say_choice(comparison, page);
  if (comparison.version_changed)
    page.say(
        fmt::format("{} before, {} after.{}", comparison.before.version, comparison.after.version,
                    comparison.changes.empty()
                        ? ""
                        : " What it moved cannot be told from what the inputs moved: "
                          "evaluate both cases with one version."),
        "Program version: ");
  for (const std::string& difference : comparison.differences) page.say(difference + '.', "- ");
  if (!comparison.changes.empty()) {
    page.heading("What was changed");
    page.table(changes_table(comparison));
  }
  if (comparison.moves.empty()) {
    page.heading("What moved");
    page.say("No headline figure moves.");
  } else {
    page.heading("What moved, and what moved it");
    page.table(moves_table(comparison));
    page.say(
        fmt::format("Middles of the draws; {} figures do not move. The share of a change is "
                    "the mean of what it moves alone before and of what taking it back moves "
                    "after; the rest is what three and more changes do only together.",
                    comparison.figures_alike));
  }
  page.heading("Cautions");
  for (const std::string& caution : comparison.cautions) page.say(caution, "- ");
  return std::move(page).text();
}

std::string comparison_json(const Comparison& comparison, const std::string& version) {
  Json changes = Json::array(), parts = Json::array(), moves = Json::array(),
       turned = Json::array();
  for (const InputChange& change : comparison.changes) changes.push_back(json_of(change));
  for (std::size_t p = 0; p < comparison.parts.size(); ++p) {
    Json keys = Json::array();
    for (const std::size_t i : comparison.parts[p]) keys.push_back(comparison.changes[i].key);
    parts.push_back({{"changes", std::move(keys)},
                     {"chosen_with_it_alone", word_or_null(comparison.chosen_with_part_alone[p])}});
  }
  for (const FigureMove& move : comparison.moves) moves.push_back(json_of(move));
  for (const study::RequirementTurn& turn : comparison.turned)
    turned.push_back({{"variant", turn.variant},
                      {"requirement", turn.requirement},
                      {"met_before", turn.met_before},
                      {"met_after", turn.met_after}});
  const Json document{{"schema", "ohmdrag-compare/1"},
                      {"program", version},
                      {"before", json_of(comparison.before)},
                      {"after", json_of(comparison.after)},
                      {"version_changed", comparison.version_changed},
                      {"changes", std::move(changes)},
                      {"parts", std::move(parts)},
                      {"moves", std::move(moves)},
                      {"figures_alike", comparison.figures_alike},
                      {"requirements_turned", std::move(turned)},
                      {"chosen_before", word_or_null(comparison.chosen_before)},
                      {"chosen_after", word_or_null(comparison.chosen_after)},
                      {"differences", comparison.differences},
                      {"cautions", comparison.cautions}};
  return escaped_for_terminal(
             document.dump(2, ' ', false, nlohmann::json::error_handler_t::replace)) +
         '\n';
}

}  // namespace ohmdrag::report
