#pragma once

#include <cstddef>
#include <exception>
#include <string>
#include <vector>

namespace ohmdrag::input {

/// One thing that is wrong with an input, and where.
struct Problem {
  std::string file;          ///< as the user named it; "--set 1" for the first --set
  std::size_t line = 0;      ///< from 1; 0: the whole file
  std::size_t column = 0;    ///< from 1, counted in code points
  std::string key;           ///< dotted path; empty: the whole file
  std::string what;          ///< what was read and what was expected
  std::string hint;          ///< one line; may be empty
  std::string excerpt;       ///< the line of the file, without its end; may be empty
  std::size_t width = 1;     ///< code points to underline
  bool unknown_key = false;  ///< the key itself is wrong, whatever its value
};

/// The problem as the user sees it:
///
///     case.toml:4:13: error: seal.width: a length needs a unit
///       4 | width = 0.2
///         |         ^~~
///       hint: accepted units: mm, cm, m
std::string in_words(const Problem& problem);

/// All problems of an input at once, sorted by file, line and column.
class InputError : public std::exception {
 public:
  explicit InputError(std::vector<Problem> found);
  const char* what() const noexcept override { return text_.c_str(); }

  std::vector<Problem> problems;

 private:
  std::string text_;
};

}  // namespace ohmdrag::input
