#pragma once

#include <string>

#include "input/node.hpp"

namespace ohmdrag::input {

/// The table as TOML 1.0, its keys in their order, values before tables as TOML asks for. Reads
/// back to the same tree but for comments and places.
std::string toml_text(const Node& table);

}  // namespace ohmdrag::input
