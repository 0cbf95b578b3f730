#include "input/document.hpp"

#include <fmt/format.h>
#include <algorithm>

#include <toml++/toml.h>
#include <sstream>
#include <utility>
#include <vector>

#include "ohmdrag/quantity/basis.hpp"

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

std::string basis_in(const Node& table, Problems& problems, const std::string& inherited) {
  const Node* basis = table.find("basis");
  if (!basis) return inherited;
  if (basis->is_text() && basis_from_word(basis->text)) return basis->text;
  const std::vector<std::string> words(basis_words.begin(), basis_words.end());
  problems.add(basis->place, table.origin.empty() ? "basis" : table.origin + ".basis",
               fmt::format("read {}, which is not a basis", basis->as_typed()),
               suggestion(basis->text, words));
  return inherited;
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

Node parse_document(std::string_view text, const std::string& name, Problems& problems) {
  const Text lines = split_lines(text, name);
  Node root;
  try {
    root = table_of(toml::parse(text, name), lines);
  } catch (const toml::parse_error& error) {
    problems.add(place_of(error.source(), lines), {}, std::string{error.description()});
  }
  root.place.text = lines;
  annotate(root, {}, {}, {}, problems);
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

void annotate(Node& node, const std::string& origin, const std::string& basis,
              const std::string& source, Problems& problems) {
  node.origin = origin;
  node.basis = basis;
  node.source = source;
  if (node.is_table()) {
    node.basis = basis_in(node, problems, basis);
    if (const Node* own = node.find("source"); own && own->is_text()) node.source = own->text;
    for (Node& child : node.children)
      annotate(child, origin.empty() ? child.key : origin + '.' + child.key, node.basis,
               node.source, problems);
  } else if (node.is_array()) {
    std::size_t number = 0;
    for (Node& member : node.children) {
      ++number;
      const std::string_view id = id_of(member);
      annotate(member, origin + '.' + (id.empty() ? std::to_string(number) : std::string{id}),
               node.basis, node.source, problems);
    }
  }
}

}  // namespace ohmdrag::input
