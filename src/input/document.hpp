#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "input/node.hpp"
#include "input/problems.hpp"

namespace ohmdrag::input {

/// The text in lines, without their ends, for problems to show.
std::shared_ptr<SourceText> split_lines(std::string_view text, const std::string& name);

/// The tree of a TOML text, every node with its place, its dotted origin and the basis and source
/// that hold for it. Broken text gives one problem and an empty table.
///
/// \param text  UTF-8 without a byte-order mark
/// \param name  of the file, for problems
Node parse_document(std::string_view text, const std::string& name, Problems& problems);

/// The value of `KEY = text` if `text` is TOML, else `text` itself as a text node.
Node parse_value(std::string_view text);

/// Fills in origin, basis and source below a table: its own `basis` and `source` hold for all in
/// it until a table further in says otherwise.
void annotate(Node& table, const std::string& origin, const std::string& basis,
              const std::string& source, Problems& problems);

}  // namespace ohmdrag::input
