#pragma once

#include <string_view>

#include "input/reader.hpp"

/// The members of a plain struct out of the table of an entry, by the names of its for_each_member.
namespace ohmdrag::input {

/// The entry's own child in the catalogue, whose value stands in for "unknown".
inline const Node* below(const Node* base, std::string_view key) {
  return base ? base->find(key) : nullptr;
}

/// Hands each member's name and place to the table.
inline auto reading(TableReader& table, const Node* base) {
  return [&table, base](const char* name, auto& member) {
    table.into(name, member, below(base, name));
  };
}

/// A struct of nothing but such members. Include its for_each_member before use.
template <class T>
T members_of(TableReader& table, const Node* base) {
  T out;
  for_each_member(out, reading(table, base));  // found beside T
  return out;
}

}  // namespace ohmdrag::input
