#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "ohmdrag/report/sweep_csv.hpp"
#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/design.hpp"

namespace ohmdrag::app {

/// What the first line of every file of a sweep begins with.
inline constexpr std::string_view first_words_of_sweep = "# design sweep: ";

/// What the head of a sweep is made of.
struct SweepOrigin {
  const study::Case* like;                        ///< the case of a row that could be evaluated
  const study::Design* design;                    ///
  std::vector<study::Provenance::Include> files;  ///< the case first
  std::vector<std::string> sets;                  ///< for every row
  bool draws = false;
  int samples = 0;
  std::vector<std::string> cautions;
};

/// The comments of the head: everything that decides the rows, then what a reader must know.
std::vector<report::SweepComment> sweep_comments(const SweepOrigin& origin);

/// What two heads do not share of that which decides the rows, by name: "case, design"; empty: a
/// file with the one may be gone on with under the other. Where files lie decides nothing.
std::string differences_of_heads(const std::string& one, const std::string& other);

}  // namespace ohmdrag::app
