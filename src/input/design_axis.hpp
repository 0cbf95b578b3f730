#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "input/reader.hpp"
#include "ohmdrag/study/design.hpp"

namespace ohmdrag::input {

/// An axis as somebody wrote it: values, or a range.
struct WrittenAxis {
  std::string key;
  Place place;  ///< for complaints
  std::vector<std::string> values;
  std::string from;
  std::string to;
  std::optional<long long> steps;
  bool by_ratio = false;
  std::string spread;
};

/// "KEY=0.01 N/mm; 0.02 N/mm", "KEY=20 mm to 60 mm in 5 steps by ratio", "KEY=20 to 60 mm".
/// \param number  of the option, from 1
WrittenAxis axis_of_option(const std::string& typed, std::size_t number, Problems& problems);
/// One of [[axis]].
WrittenAxis axis_of_table(TableReader& table, Problems& problems);

/// Complains of what does not go with the kind of design.
study::DesignAxis read_axis(const WrittenAxis& written, study::DesignKind kind, Problems& problems);

/// Complains of a key that no `--set` could carry.
void check_key(const std::string& key, const Place& place, Problems& problems);

/// A unit that some dimension knows.
bool is_unit(std::string_view text);

std::string_view without_blanks(std::string_view text);

}  // namespace ohmdrag::input
