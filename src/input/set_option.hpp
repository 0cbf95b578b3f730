#pragma once

#include <span>
#include <string>
#include <string_view>

#include "input/node.hpp"
#include "input/problems.hpp"

namespace ohmdrag::input {

/// Lays each `KEY=VALUE` over the tree, in order. Members of arrays of tables go by their id:
/// variant.dense-ring.grounding.line_force.
void apply_sets(Node& root, std::span<const std::string> sets, Problems& problems);

/// Puts a value at a dotted path, making tables on the way as needed. `value` keeps its place and
/// origin. Complains at the value's place, under `key`.
void set_at(Node& root, std::string_view path, Node value, const std::string& key,
            Problems& problems);

}  // namespace ohmdrag::input
