#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "input/node.hpp"
#include "input/problems.hpp"
#include "ohmdrag/quantity/uncertain.hpp"

namespace ohmdrag::input {

/// The entries that others take by name, "relaxation" "fkm": those of the case over the built-in.
struct EntrySource {
  std::function<std::optional<Node>(std::string_view section, std::string_view id)> entry;
  std::function<std::vector<std::string>(std::string_view section)> ids;
};

/// What reading needs beside the tree itself.
struct ReadContext {
  Problems& problems;
  std::vector<std::string>& warnings;
  /// What stands in for "unknown" under a generic key ("coupling.winding_rotor"), or nullptr.
  std::function<const Node*(std::string_view key)> trade_range;
  EntrySource entries;
};

/// Reads one table key by key. Every getter complains about what it finds wrong and goes on with a
/// value that no later step can trip over; `done` complains about the keys nobody asked for.
class TableReader {
 public:
  /// \param table   nullptr or a non-table reads as an empty table
  /// \param generic the table's path without ids, "variant.seal": physical and trade ranges go by
  /// it
  TableReader(ReadContext& context, const Node* table, std::string generic);

  bool present() const { return table_ != nullptr; }
  const Node* node() const { return table_; }
  const std::string& path() const { return path_; }

  /// The child as it is, nullptr if it is not there.
  const Node* find(std::string_view key);
  bool has(std::string_view key) { return find(key) != nullptr; }
  /// The only one of the keys that is there; complains about none (if required) and several.
  std::string_view exactly_one(std::span<const std::string_view> keys, bool required = true);

  template <class Q>
  Uncertain<Q> number(std::string_view key) {
    return number<Q>(key, nullptr);
  }
  /// `fallback` stands in for a missing key and for "unknown" without a trade range.
  template <class Q>
  Uncertain<Q> number(std::string_view key, const Node* fallback) {
    Uncertain<Q> out;
    read_number(key, fallback, true, out);
    return out;
  }
  template <class Q>
  std::optional<Uncertain<Q>> maybe_number(std::string_view key) {
    Uncertain<Q> out;
    if (!read_number(key, nullptr, false, out)) return std::nullopt;
    return out;
  }
  /// For members that for_each_member hands out.
  template <class Q>
  void into(std::string_view key, Uncertain<Q>& member, const Node* fallback = nullptr) {
    member = number<Q>(key, fallback);
  }
  template <class Q>
  void into(std::string_view key, std::optional<Uncertain<Q>>& member, const Node* = nullptr) {
    member = maybe_number<Q>(key);
  }
  /// A number whose dimension follows from another key.
  std::optional<Uncertain<double>> maybe_number_of(std::string_view key, Dimension dimension);
  /// A list of numbers; a single value is a list of one.
  template <class Q>
  std::vector<Uncertain<Q>> numbers(std::string_view key) {
    std::vector<Uncertain<Q>> out;
    for (const Node* item : items(key)) {
      Uncertain<Q> value;
      value.dimension = DimensionOf<Q>::value;
      read_node(*item, generic_ + '.' + std::string{key}, nullptr, value);
      out.push_back(std::move(value));
    }
    return out;
  }

  /// Sizes in one text, "18 mm x 8 mm x 0.4 mm"; empty after a complaint.
  std::vector<Length> lengths(std::string_view key, std::size_t count);

  std::string text(std::string_view key);
  std::optional<std::string> maybe_text(std::string_view key);
  /// A text that must be one of the words; the first stands in for what is wrong or missing.
  std::string word(std::string_view key, std::span<const std::string> words, bool required = true);
  /// A text or a list of texts.
  std::vector<std::string> texts(std::string_view key);
  bool flag(std::string_view key, bool otherwise);
  std::optional<double> maybe_plain(std::string_view key);
  std::optional<long long> maybe_integer(std::string_view key);

  /// A table below this one; reads as empty if it is missing.
  TableReader table(std::string_view key);
  /// The same, with a complaint if it is missing.
  TableReader required_table(std::string_view key);
  /// The tables of an array of tables; several without an `id` or with the same are complained of.
  std::vector<TableReader> tables(std::string_view key);
  /// The members of an array; a single value is a list of one.
  std::vector<const Node*> items(std::string_view key);

  /// Complains at the key (or at the table, if the key is not there).
  void complain(std::string_view key, std::string what, std::string hint = {});
  void missing(std::string_view key, std::string_view what);

  void done();

 private:
  std::string key_path(std::string_view key) const;
  bool read_number(std::string_view key, const Node* fallback, bool required, UncertainNumber& out);
  void read_node(const Node& node, const std::string& generic, const Node* fallback,
                 UncertainNumber& out);
  bool read_value(const Node& node, const std::string& key, UncertainNumber& out);
  void read_value_table(const Node& node, const std::string& key, UncertainNumber& out);
  void stand_in(const Node& node, const std::string& generic, const Node* fallback,
                UncertainNumber& out);
  void check_range(const Node& node, const std::string& generic, const std::string& key,
                   UncertainNumber& out);

  ReadContext* context_;
  const Node* table_;
  std::string generic_;
  std::string path_;
  std::vector<std::string> asked_;
};

}  // namespace ohmdrag::input
