#include "app/sweep_rows.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <exception>
#include <stdexcept>
#include <utility>
#include <vector>

#include "ohmdrag/study/other_editions.hpp"

namespace ohmdrag::app {
namespace {

std::string in_one_line(const input::InputError& error) {
  constexpr std::size_t told = 3;
  std::vector<std::string> parts;
  for (const input::Problem& problem : error.problems) {
    if (parts.size() == told) {
      parts.push_back(fmt::format("and {} more", error.problems.size() - told));
      break;
    }
    parts.push_back(problem.key.empty() ? problem.what : problem.key + ": " + problem.what);
  }
  return fmt::format("{}", fmt::join(parts, "; "));
}

/// Problems of a row's own `--set`s, which nobody typed as such, under the name of the row.
input::InputError named_after(std::size_t row, std::vector<input::Problem> problems,
                              std::size_t typed_sets) {
  const auto typed = [&](const std::string& file) {
    for (std::size_t i = 1; i <= typed_sets; ++i)
      if (file == fmt::format("--set {}", i)) return true;
    return false;
  };
  for (input::Problem& problem : problems)
    if (problem.file.starts_with("--set ") && !typed(problem.file))
      problem.file = fmt::format("row {} of the design", row + 1);
  return input::InputError(std::move(problems));
}

}  // namespace

SweepRows::SweepRows(const input::CaseTree& tree, const study::Design& design, bool draws,
                     std::size_t typed_sets, Share reader)
    : tree_(tree), design_(design), draws_(draws), typed_sets_(typed_sets), reader_(reader) {}

study::Headlines SweepRows::headlines(const study::Case& question) const {
  return study::headlines_for(reader_, question, study::headlines(question));
}

study::Case SweepRows::question(const study::DesignRow& row) const {
  study::Case question = tree_.with(study::sets_of(design_, row));
  if (!draws_) study::keep_to_the_middle(question);
  // Rows are told apart by their inputs, not by how often each was drawn.
  question.adaptive.reset();
  return question;
}

SoundRow SweepRows::first_sound_row() const {
  constexpr std::size_t tries = 100;
  std::exception_ptr first;
  const auto keep = [&](std::exception_ptr thrown) {
    if (!first) first = std::move(thrown);
  };
  for (std::size_t i = 0; i < std::min(tries, design_.rows); ++i) {
    try {
      study::Case asked = question({i, design_.cells(i)});
      study::Headlines found = headlines(asked);
      return {std::move(asked), std::move(found)};
    } catch (const input::InputError& error) {
      const auto thrown = std::make_exception_ptr(named_after(i, error.problems, typed_sets_));
      if (std::ranges::any_of(error.problems, &input::Problem::unknown_key))
        std::rethrow_exception(thrown);
      keep(thrown);
    } catch (const std::invalid_argument&) {
      keep(std::current_exception());
    } catch (const std::domain_error&) {
      keep(std::current_exception());
    }
  }
  std::rethrow_exception(first);
}

std::string SweepRows::lines(const study::DesignRow& row, const report::SweepCsv& csv) {
  std::string why;
  try {
    return csv.lines(row, headlines(question(row)));
  } catch (const input::InputError& error) {
    why = in_one_line(error);
  } catch (const std::invalid_argument& error) {  // a formula is not defined for the case
    why = error.what();
  } catch (const std::domain_error& error) {  // the case has no solution
    why = error.what();
  }
  ++refused_;
  if (reader_ != Share::internal) why = "for the own house alone, because it quotes values";
  return csv.refused(row, why);
}

}  // namespace ohmdrag::app
