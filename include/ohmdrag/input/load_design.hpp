#pragma once

#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/input/input_error.hpp"
#include "ohmdrag/study/design.hpp"

namespace ohmdrag::input {

/// What a user says of a design, in a file, in options, or both.
struct DesignRequest {
  std::optional<std::filesystem::path> file;  ///< TOML: [design] and [[axis]]
  /// Each as typed: "KEY=A; B; C", "KEY=A to B in 6 steps", the same "by ratio". They come after
  /// the axes of the file and replace those of the same key.
  std::vector<std::string> axes;
  std::optional<std::filesystem::path> list;  ///< CSV: a row of the design a line, named by keys
  std::optional<long long> points;            ///< of a quasi-random design
};

/// Reads a design. A range has its ends included, in even steps or, by ratio, in even ratios; its
/// ends may have different units of one dimension, and the first one's is kept. Levels that all
/// have the same unit lend it to their axis. Cells of a list are texts as after `--set`, in quotes
/// where they hold separators; "key [unit]" in its head gives a unit to the whole column; an empty
/// cell leaves the case as it is.
///
/// Whether the case knows the keys is for whoever reads it.
///
/// \throws InputError with every problem of file, options and list
study::Design load_design(const DesignRequest& request);

}  // namespace ohmdrag::input
