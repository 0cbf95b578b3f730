#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace ohmdrag::input {

/// The text that a node was read from, for excerpts.
struct SourceText {
  std::string name;  ///< as it stands in problems
  std::vector<std::string> lines;
  bool numbered = true;  ///< false: one line without a number, a `--set`
};

struct Place {
  std::shared_ptr<const SourceText> text;
  std::size_t line = 0;
  std::size_t column = 0;
  std::size_t width = 1;
};

/// A value of a case or data file. Unlike the parser's own tree a copy keeps its place, so that
/// a value taken over from another table or file still knows where it was written.
struct Node {
  enum class Kind { text, integer, real, boolean, date, array, table };

  Kind kind = Kind::table;
  std::string key;  ///< within its table
  Place key_place;
  Place place;
  std::string text;  ///< of text; of a date as written
  long long integer = 0;
  double real = 0.0;
  bool boolean = false;
  bool is_inline = false;      ///< `{ … }`: replaced as a whole, never merged
  std::vector<Node> children;  ///< of an array or a table, in the order of the file

  std::string origin;  ///< dotted path where it was written
  std::string basis;   ///< word; empty: none given
  std::string source;
  std::string share;  ///< word; empty: none given

  bool is_table() const { return kind == Kind::table; }
  bool is_text() const { return kind == Kind::text; }
  bool is_array() const { return kind == Kind::array; }
  bool is_number() const { return kind == Kind::integer || kind == Kind::real; }
  /// An array whose members are tables, and at least one.
  bool is_array_of_tables() const;
  /// `{ value = … }`: one number with its spread and basis.
  bool is_value_table() const;
  /// `basis`, `source` and, as a word, `share`: what a table says of all that is in it.
  bool holds_for_its_table() const;

  const Node* find(std::string_view name) const;
  Node* find(std::string_view name);
  /// A number of either kind as real.
  double as_real() const { return kind == Kind::integer ? static_cast<double>(integer) : real; }
  /// The value as it would be typed, for "read …".
  std::string as_typed() const;
};

/// The `id` of a table; empty if it has none.
std::string_view id_of(const Node& table);

/// The table of an array of tables that has the id, or nullptr.
const Node* find_id(const Node& array, std::string_view id);
Node* find_id(Node& array, std::string_view id);

/// Adds or replaces the child of that key.
void put(Node& table, Node child);

/// Lays `over` onto `base`: tables key by key, arrays of tables by id, all else replaced, also a
/// list of `{ … }` without ids. A key of `over` also removes those keys of `base` that say the same
/// in another way.
void merge(Node& base, const Node& over);

/// Takes away what says the same as `key` in another way, such as line_force and
/// total_radial_force: the later word wins over the whole group.
void drop_alternatives(Node& table, std::string_view key);

}  // namespace ohmdrag::input
