#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "input/node.hpp"
#include "ohmdrag/input/input_error.hpp"

namespace ohmdrag::input {

/// Collects what is wrong, so that a user sees all of it at once. The same problem at the same
/// place counts once: a case is read again for each variant with a `change`.
class Problems {
 public:
  void add(const Place& where, std::string key, std::string what, std::string hint = {});
  /// Of a key that nothing knows, whatever its value.
  void add_unknown_key(const Place& where, std::string key, std::string what, std::string hint);
  void add_for_file(std::string file, std::string what, std::string hint = {});

  bool empty() const { return found_.empty(); }
  /// What is wrong first, without its place; empty if nothing is.
  std::string first() const { return found_.empty() ? std::string{} : found_.front().what; }
  /// \throws InputError with everything found, if there is anything.
  void throw_if_any();

 private:
  void keep(Problem problem);
  std::vector<Problem> found_;
  bool more_ = false;
};

/// "did you mean X" for the nearest known name, or a list of the few known names, or nothing.
std::string suggestion(std::string_view typed, std::span<const std::string> known);

/// The known name fewest single-letter changes away (Levenshtein); empty if none is near.
std::string nearest(std::string_view typed, std::span<const std::string> known);

}  // namespace ohmdrag::input
