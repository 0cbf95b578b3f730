#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "input/node.hpp"
#include "input/problems.hpp"

namespace ohmdrag::input {

/// The text in lines, without their ends, for problems to show.
std::shared_ptr<SourceText> split_lines(std::string_view text, const std::string& name);

/// The value of `KEY = text` if `text` is TOML, else `text` itself as a text node.
Node parse_value(std::string_view text);

/// What holds for a value until a table further in says otherwise.
struct Told {
  std::string basis = {};
  std::string source = {};
  std::string share = {};
};
Told told_of(const Node& node);

/// The tree of a TOML text, every node with its place, its dotted origin and the basis, source and
/// share that hold for it. Broken text gives one problem and an empty table.
///
/// \param text  UTF-8 without a byte-order mark
/// \param name  of the file, for problems
/// \param above  holds for what the text says nothing of
Node parse_document(std::string_view text, const std::string& name, Problems& problems,
                    const Told& above = {});

/// Fills in origin, basis, source and share below a node: what a table says of itself holds for all
/// in it until a table further in says otherwise.
void annotate(Node& node, const std::string& origin, const Told& above, Problems& problems);

}  // namespace ohmdrag::input
