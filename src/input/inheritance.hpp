#pragma once

#include "input/node.hpp"
#include "input/problems.hpp"

namespace ohmdrag::input {

/// Gives every variant with `like` what it takes over: a deep copy of the other's table, its own
/// keys winning table by table. What is taken over keeps its place and origin, so a number that two
/// variants share stays one number. Complains of a missing id and of a circle.
void resolve_likes(Node& root, Problems& problems);

/// The tree as a variant's `change` alters it; the tree is the one before resolve_likes, the
/// variant's table the one after.
Node changed_tree(const Node& root, const Node& variant, Problems& problems);

}  // namespace ohmdrag::input
