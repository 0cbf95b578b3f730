#pragma once

#include <optional>
#include <string>
#include <vector>

#include "input/node.hpp"
#include "ohmdrag/study/compare.hpp"

namespace ohmdrag::input {

/// A place in a tree, word by word: keys of tables, ids of members of arrays.
using TreePath = std::vector<std::string>;

/// One key that differs, or several that say the same in different ways.
struct TreeChange {
  struct Edit {
    TreePath parent;
    std::string word;                   ///< key, or id of a member
    std::optional<Node> before, after;  ///< none: not there
  };
  std::vector<Edit> edits;
  study::InputChange shown;
};

/// The keys in which two trees differ, by key.
std::vector<TreeChange> differences(const Node& before, const Node& after);

/// Lays one side's values of a change over a tree.
void apply(const TreeChange& change, bool as_after, Node& tree);

/// A value as TOML has it in one line.
std::string written(const Node& node);

}  // namespace ohmdrag::input
