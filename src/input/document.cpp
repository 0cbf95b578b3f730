#include "input/document.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <array>
#include <sstream>
#include <utility>
#include <vector>

#include "ohmdrag/quantity/basis.hpp"
#include "ohmdrag/quantity/share.hpp"

namespace ohmdrag::input {

namespace {

using Text = std::shared_ptr<const SourceText>;

Place place_of(const toml::source_region& region, const Text& text) {
  Place place;
  place.text = text;
  place.line = region.begin.line;
  place.column = region.begin.column;
  if (region.end.line == region.begin.line && region.end.column > region.begin.column)
    place.width = region.end.column - region.begin.column;
  return place;
}

Node node_of(const toml::node& from, const Text& text);

Node table_of(const toml::table& from, const Text& text) {
  Node table;
  table.is_inline = from.is_inline();
  for (const auto& [key, value] : from) {
    Node child = node_of(value, text);
    child.key = std::string{key.str()};
    child.key_place = place_of(key.source(), text);
    table.children.push_back(std::move(child));
  }
  // The parser sorts keys by name; people read in the order they wrote.
  std::ranges::stable_sort(table.children, {}, [](const Node& child) {
    return std::pair{child.key_place.line, child.key_place.column};
  });
  return table;
}

Node node_of(const toml::node& from, const Text& text) {
  Node node;
  if (const auto* table = from.as_table()) {
    node = table_of(*table, text);
  } else if (const auto* array = from.as_array()) {
    node.kind = Node::Kind::array;
    for (const auto& member : *array) node.children.push_back(node_of(member, text));
  } else if (const auto* string = from.as_string()) {
    node.kind = Node::Kind::text;
    node.text = string->get();
  } else if (const auto* integer = from.as_integer()) {
    node.kind = Node::Kind::integer;
    node.integer = integer->get();
  } else if (const auto* real = from.as_floating_point()) {
    node.kind = Node::Kind::real;
    node.real = real->get();
  } else if (const auto* boolean = from.as_boolean()) {
    node.kind = Node::Kind::boolean;
    node.boolean = boolean->get();
  } else {
    node.kind = Node::Kind::date;
    std::ostringstream out;
    from.visit([&](const auto& value) {
      using T = std::remove_cvref_t<decltype(value)>;
      if constexpr (toml::is_date<T> || toml::is_time<T> || toml::is_date_time<T>)
        out << value.get();
    });
    node.text = out.str();
  }
  node.place = place_of(from.source(), text);
  return node;
}

/// The word under the key if it is one of the words; a complaint and what holds above otherwise.
template <std::size_t n>
std::string word_in(const Node& table, const std::string& key, const std::string& what,
                    const std::array<std::string_view, n>& words, const std::string& above,
                    Problems& problems) {
  const Node* word = table.find(key);
  if (!word) return above;
  if (word->is_text() && std::ranges::find(words, word->text) != words.end()) return word->text;
  const std::vector<std::string> known(words.begin(), words.end());
  problems.add(word->place, table.origin.empty() ? key : table.origin + '.' + key,
               fmt::format("read {}, which is not {}", word->as_typed(), what),
               suggestion(word->text, known));
  return above;
}

/// What the table says of itself, else what holds above it.
Told told_in(const Node& table, const Told& above, Problems& problems) {
  Told told = above;
  told.basis = word_in(table, "basis", "a basis", basis_words, above.basis, problems);
  if (const Node* own = table.find("source"); own && own->is_text()) told.source = own->text;
  // As a number it is a share of something.
  if (const Node* own = table.find("share"); own && own->holds_for_its_table())
    told.share = word_in(table, "share", "a level of sharing", share_words, above.share, problems);
  return told;
}

}  // namespace

std::shared_ptr<SourceText> split_lines(std::string_view text, const std::string& name) {
  auto source = std::make_shared<SourceText>();
  source->name = name;
  while (!text.empty()) {
    const std::size_t end = text.find('\n');
    std::string_view line = text.substr(0, end);
    if (line.ends_with('\r')) line.remove_suffix(1);
    source->lines.emplace_back(line);
    if (end == std::string_view::npos) break;
    text.remove_prefix(end + 1);
  }
  return source;
}

Node parse_document(std::string_view text, const std::string& name, Problems& problems,
                    const Told& above) {
  const Text lines = split_lines(text, name);
  Node root;
  try {
    root = table_of(toml::parse(text, name), lines);
  } catch (const toml::parse_error& error) {
    problems.add(place_of(error.source(), lines), {}, std::string{error.description()});
  }
  root.place.text = lines;
  annotate(root, {}, above, problems);
  return root;
}

Node parse_value(std::string_view text) {
  try {
    const toml::table parsed = toml::parse(fmt::format("value = {}\n", text));
    if (parsed.size() == 1)
      if (const toml::node* value = parsed.get("value")) {
        Node node = node_of(*value, nullptr);
        if (node.kind != Node::Kind::date) return node;
      }
  } catch (const toml::parse_error&) {
    // Not TOML: a text that the user did not care to quote.
  }
  Node node;
  node.kind = Node::Kind::text;
  node.text = std::string{text};
  return node;
}

Told told_of(const Node& node) { return {node.basis, node.source, node.share}; }

void annotate(Node& node, const std::string& origin, const Told& above, Problems& problems) {
  const Told told = node.is_table() ? told_in(node, above, problems) : above;
  node.origin = origin;
  node.basis = told.basis;
  node.source = told.source;
  node.share = told.share;
  if (node.is_table()) {
    for (Node& child : node.children)
      annotate(child, origin.empty() ? child.key : origin + '.' + child.key, told, problems);
  } else if (node.is_array()) {
    std::size_t number = 0;
    for (Node& member : node.children) {
      ++number;
      const std::string_view id = id_of(member);
      annotate(member, origin + '.' + (id.empty() ? std::to_string(number) : std::string{id}), told,
               problems);
    }
  }
}

}  // namespace ohmdrag::input
