#include "input/toml_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string_view>

namespace ohmdrag::input {
namespace {

/// A basic string. Source: TOML 1.0.0, "String".
std::string quoted(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\')
      out += fmt::format("\\{}", c);
    else if (byte < 0x20U || byte == 0x7FU)
      out += fmt::format("\\u{:04X}", byte);
    else
      out += c;
  }
  return out + '"';
}

std::string key_text(std::string_view key) {
  const bool bare = !key.empty() && std::ranges::all_of(key, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
           c == '-';
  });
  return bare ? std::string(key) : quoted(key);
}

std::string real_text(double value) {
  if (std::isnan(value)) return "nan";
  if (std::isinf(value)) return value > 0.0 ? "inf" : "-inf";
  std::string text = fmt::format("{}", value);
  // Without a point it would read as a whole number.
  return text.find_first_of(".e") == std::string::npos ? text + ".0" : text;
}

std::string value_text(const Node& node) {
  switch (node.kind) {
    case Node::Kind::text:
      return quoted(node.text);
    case Node::Kind::integer:
      return fmt::format("{}", node.integer);
    case Node::Kind::real:
      return real_text(node.real);
    case Node::Kind::boolean:
      return node.boolean ? "true" : "false";
    case Node::Kind::date:
      return node.text;
    case Node::Kind::array:
    case Node::Kind::table:
      break;
  }
  const bool table = node.is_table();
  std::string inside;
  for (const Node& child : node.children)
    inside += (inside.empty() ? "" : ", ") + (table ? key_text(child.key) + " = " : std::string()) +
              value_text(child);
  return table ? "{ " + inside + " }" : '[' + inside + ']';
}

/// An array whose tables were written under [[key]].
bool has_heads(const Node& node) {
  return node.is_array_of_tables() && std::ranges::none_of(node.children, &Node::is_inline);
}

bool is_value(const Node& node) { return node.is_table() ? node.is_inline : !has_heads(node); }

void write(const Node& table, const std::string& path, std::string& out) {
  for (const Node& child : table.children)
    if (is_value(child)) out += fmt::format("{} = {}\n", key_text(child.key), value_text(child));
  for (const Node& child : table.children) {
    if (is_value(child)) continue;
    const std::string name = path.empty() ? key_text(child.key) : path + '.' + key_text(child.key);
    if (child.is_table()) {
      out += fmt::format("\n[{}]\n", name);
      write(child, name, out);
      continue;
    }
    for (const Node& member : child.children) {
      out += fmt::format("\n[[{}]]\n", name);
      write(member, name, out);
    }
  }
}

}  // namespace

std::string toml_text(const Node& table) {
  std::string out;
  write(table, {}, out);
  return out;
}

}  // namespace ohmdrag::input
