#include "input/node.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

namespace ohmdrag::input {

namespace {

using Group = std::array<std::string_view, 3>;
constexpr std::array alternatives{
    Group{"line_force", "total_radial_force", "split_shaft_reading"},
    Group{"rise_time_10_90", "rise_time_0_100", ""},
    Group{"fall_time_90_10", "fall_time_100_0", ""},
    Group{"rotor_frame", "air_gap", ""},
    Group{"road_load", "road_load_us", ""},
    Group{"start_temperature", "oil_temperature", ""},
    Group{"element", "power", "measured"},
    Group{"insulation", "hybrid", ""},
    Group{"coating", "capacitance", ""},
    Group{"lean_deg", "end_factor", ""},
    Group{"count", "packing", ""},
};

/// Rows of one value, points = [{ … }, { … }], rather than things with names of their own.
bool is_value_list(const Node& array) {
  return std::ranges::all_of(
      array.children, [](const Node& member) { return member.is_inline && id_of(member).empty(); });
}

template <class N>
auto find_child(N& table, std::string_view name) -> decltype(table.children.data()) {
  if (!table.is_table()) return nullptr;
  const auto found = std::ranges::find(table.children, name, &Node::key);
  return found == table.children.end() ? nullptr : &*found;
}

template <class N>
auto find_member(N& array, std::string_view id) -> decltype(array.children.data()) {
  const auto found =
      std::ranges::find_if(array.children, [&](const Node& member) { return id_of(member) == id; });
  return found == array.children.end() ? nullptr : &*found;
}

}  // namespace

bool Node::is_array_of_tables() const {
  return is_array() && !children.empty() &&
         std::ranges::all_of(children, [](const Node& child) { return child.is_table(); });
}

bool Node::is_value_table() const {
  // A table over something, { at = [...], value = [...] }, is not one number.
  return is_table() && find("value") && !find("value")->is_array();
}

bool Node::holds_for_its_table() const {
  return key == "basis" || key == "source" || (key == "share" && is_text());
}

const Node* Node::find(std::string_view name) const { return find_child(*this, name); }
Node* Node::find(std::string_view name) { return find_child(*this, name); }

std::string Node::as_typed() const {
  switch (kind) {
    case Kind::text:
      return '"' + text + '"';
    case Kind::integer:
      return fmt::format("{}", integer);
    case Kind::real:
      return fmt::format("{}", real);
    case Kind::boolean:
      return boolean ? "true" : "false";
    case Kind::date:
      return text;
    case Kind::array:
      return "a list";
    case Kind::table:
      return "a table";
  }
  return {};
}

std::string_view id_of(const Node& table) {
  const Node* id = table.find("id");
  return id && id->is_text() ? std::string_view{id->text} : std::string_view{};
}

const Node* find_id(const Node& array, std::string_view id) { return find_member(array, id); }
Node* find_id(Node& array, std::string_view id) { return find_member(array, id); }

void put(Node& table, Node child) {
  if (Node* old = table.find(child.key))
    *old = std::move(child);
  else
    table.children.push_back(std::move(child));
}

void drop_alternatives(Node& table, std::string_view key) {
  for (const Group& group : alternatives) {
    if (std::ranges::find(group, key) == group.end()) continue;
    std::erase_if(table.children, [&](const Node& child) {
      return child.key != key && std::ranges::find(group, child.key) != group.end();
    });
  }
}

void merge(Node& base, const Node& over) {
  if (base.children.empty()) {
    base.children = over.children;
    return;
  }
  // Before anything is laid over: where the upper table writes both of a group itself, both stay,
  // for the reader to complain.
  for (const Node& child : over.children)
    if (!base.find(child.key)) drop_alternatives(base, child.key);
  for (const Node& child : over.children) {
    Node* old = base.find(child.key);
    if (!old) {
      base.children.push_back(child);
    } else if (old->is_table() && child.is_table() && !child.is_inline && !child.is_value_table()) {
      merge(*old, child);
    } else if (old->is_array_of_tables() && child.is_array_of_tables() && !is_value_list(child)) {
      for (const Node& member : child.children) {
        Node* same = id_of(member).empty() ? nullptr : find_id(*old, id_of(member));
        if (same)
          merge(*same, member);
        else
          old->children.push_back(member);
      }
    } else {
      *old = child;
    }
  }
}

}  // namespace ohmdrag::input
