#pragma once

#include <string>
#include <string_view>

namespace ohmdrag::test {

/// The whole path of a file of the project, "data/bands.toml". Where the project lies is compiled
/// into one object alone, so that a compiler cache serves two checkouts with all others.
std::string in_source(std::string_view path);

}  // namespace ohmdrag::test
