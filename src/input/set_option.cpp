#include "input/set_option.hpp"

#include <fmt/format.h>

#include <charconv>
#include <optional>
#include <utility>
#include <vector>

#include "input/document.hpp"

namespace ohmdrag::input {

namespace {

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view blanks = " \t";
  const std::size_t first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

/// The words of a dotted path; a word in double quotes may hold dots.
std::vector<std::string> words_of(std::string_view path) {
  std::vector<std::string> words(1);
  bool quoted = false;
  for (const char c : path) {
    if (c == '"')
      quoted = !quoted;
    else if (c == '.' && !quoted)
      words.emplace_back();
    else
      words.back() += c;
  }
  return words;
}

std::vector<std::string> ids_in(const Node& array) {
  std::vector<std::string> ids;
  for (const Node& member : array.children) ids.emplace_back(id_of(member));
  return ids;
}

/// The member of an array by id, or by number from 1 where members have none.
Node* member_of(Node& array, const std::string& word) {
  if (Node* found = find_id(array, word)) return found;
  std::size_t number = 0;
  const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), number);
  if (error != std::errc{} || end != word.data() + word.size()) return nullptr;
  return number >= 1 && number <= array.children.size() ? &array.children[number - 1] : nullptr;
}

Node new_table(const std::string& key, const Place& place, std::string origin) {
  Node table;
  table.key = key;
  table.key_place = place;
  table.place = place;
  table.origin = std::move(origin);
  return table;
}

void share_unless_told(Node& node, const std::string& share) {
  if (node.share.empty()) node.share = share;
  for (Node& child : node.children) share_unless_told(child, share);
}

void replace(Node& old, Node value) {
  share_unless_told(value, old.share);

  value.key = old.key;
  value.key_place = value.place;
  // An id and its table go on to be what they were.
  old = std::move(value);
}

}  // namespace

void set_at(Node& root, std::string_view path, Node value, const std::string& key,
            Problems& problems) {
  const std::vector<std::string> words = words_of(path);
  Node* at = &root;
  std::string gone;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string& word = words[i];
    const bool last = i + 1 == words.size();
    if (at->is_array()) {
      Node* member = member_of(*at, word);
      if (!member) {
        problems.add_unknown_key(value.place, key, fmt::format("{} has no \"{}\"", gone, word),
                                 suggestion(word, ids_in(*at)));
        return;
      }
      if (last) return replace(*member, std::move(value));
      at = member;
    } else if (at->is_table() && !at->is_value_table()) {
      if (last) {
        value.key = word;
        value.key_place = value.place;
        drop_alternatives(*at, word);
        const Told above = told_of(*at);
        if (value.holds_for_its_table()) {
          const std::string origin = at->origin;
          put(*at, std::move(value));
          annotate(*at, origin, above, problems);
          return;
        }
        // Another value is as secret as the one it replaces.
        const Node* old = at->find(word);
        share_unless_told(value, old ? old->share : above.share);
        return put(*at, std::move(value));
      }
      Node* child = at->find(word);
      if (!child) {
        drop_alternatives(*at, word);
        at->children.push_back(
            new_table(word, value.place, gone.empty() ? word : gone + '.' + word));
        child = &at->children.back();
      }
      at = child;
    } else {
      problems.add_unknown_key(
          value.place, key,
          fmt::format("{} is {}, not a table, so it has no key \"{}\"", gone, at->as_typed(), word),
          {});
      return;
    }
    gone += (gone.empty() ? "" : ".") + word;
  }
}

void apply_sets(Node& root, std::span<const std::string> sets, Problems& problems) {
  for (std::size_t i = 0; i < sets.size(); ++i) {
    const std::string& typed = sets[i];
    auto text = std::make_shared<SourceText>();
    text->name = fmt::format("--set {}", i + 1);
    text->lines = {typed};
    text->numbered = false;
    Place place{text, 1, 1, typed.size()};
    const std::size_t equals = typed.find('=');
    const std::string key{trimmed(std::string_view{typed}.substr(0, equals))};
    if (equals == std::string::npos || key.empty()) {
      problems.add(place, {}, fmt::format("read \"{}\"; expected KEY=VALUE", typed),
                   "for example --set shaft.rotor.diameter=\"46 mm\"");
      continue;
    }
    Node value = parse_value(trimmed(std::string_view{typed}.substr(equals + 1)));
    value.place = {text, 1, equals + 2, typed.size() - equals - 1};
    annotate(value, key, {.source = "--set"}, problems);
    const auto all_at = [&](Node& node, const auto& self) -> void {
      node.place = value.place;
      node.key_place = value.place;
      for (Node& child : node.children) self(child, self);
    };
    all_at(value, all_at);
    set_at(root, key, std::move(value), key, problems);
  }
}

}  // namespace ohmdrag::input
