#pragma once

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <string>

/// Rows of a result document, as tests look them up.
namespace ohmdrag::test {

inline const nlohmann::json& find(const nlohmann::json& list, const char* key,
                                  const std::string& value) {
  for (const nlohmann::json& item : list)
    if (item.at(key) == value) return item;
  FAIL("no entry with " << key << " = " << value);
  return list;
}

inline double mid(const nlohmann::json& row, const char* key) {
  return row.at(key).at("mid").get<double>();
}

}  // namespace ohmdrag::test
