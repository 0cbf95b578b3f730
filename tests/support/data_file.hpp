#pragma once

#include <toml++/toml.h>

#include <catch2/catch.hpp>
#include <string>
#include <variant>

#include "ohmdrag/quantity/read.hpp"
#include "support/in_source.hpp"

/// The shipped data as tests see it: the text of an entry, read with its unit.
namespace ohmdrag::test {

inline toml::table data_file(const std::string& name) {
  return toml::parse_file(test::in_source("data/") + name);
}

/// A number written as "100 degC" or { value = "100 degC", ... }.
inline Distribution data_number(const toml::table& entry, std::string_view key,
                                Dimension dimension) {
  INFO(key);
  const toml::node* node = entry.get(key);
  REQUIRE(node);
  if (const toml::table* table = node->as_table()) node = table->get("value");
  REQUIRE(node);
  REQUIRE(node->is_string());
  const auto read = read_quantity(node->as_string()->get(), dimension);
  REQUIRE(std::holds_alternative<Distribution>(read));
  return std::get<Distribution>(read);
}

/// The basis of a number: its own or that of its entry.
inline std::string data_basis(const toml::table& entry, std::string_view key) {
  if (const auto own = entry[key]["basis"].value<std::string>()) return *own;
  return entry["basis"].value_or(std::string{});
}

}  // namespace ohmdrag::test
