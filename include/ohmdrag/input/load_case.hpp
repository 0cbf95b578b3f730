#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/input/input_error.hpp"
#include "ohmdrag/study/case.hpp"

namespace ohmdrag::input {

struct LoadOptions {
  std::vector<std::string> sets;  ///< each `--set` as typed: "shaft.rotor.diameter=46 mm"
  std::optional<std::filesystem::path> data_folder;  ///< its *.toml override the built-in entries
};

/// Reads a case file, version 1, with what it includes.
///
/// \throws InputError with every problem of the files and of the `--set`s.
study::Case load_case(const std::filesystem::path& file, const LoadOptions& options = {});

/// The same from text; `name` stands in the problems, includes are looked for beside it.
study::Case case_from_text(const std::string& text, const std::filesystem::path& name,
                           const LoadOptions& options = {});

/// One number of a case for `check` and the register: SI, with where it came from.
struct CheckedValue {
  std::string key;
  double mid = 0.0;   ///< SI
  Interval interval;  ///< SI, 95 %, spread only
  Dimension dimension = Dimension::ratio;
  std::string unit;     ///< the SI unit's spelling; "1" for a ratio
  std::string read_as;  ///< the text it was read from
  Basis basis = Basis::assumed;
  std::string source;
  bool unknown = false;
  Share share = Share::customer;
};

CheckedValue checked_value(const UncertainNumber& number);

/// Every number of the case, each key once, in the order of the case.
std::vector<CheckedValue> all_values(const study::Case& question);

}  // namespace ohmdrag::input
