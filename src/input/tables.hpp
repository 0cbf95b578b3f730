#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "input/node.hpp"
#include "input/reader.hpp"
#include "ohmdrag/input/catalogue.hpp"

namespace ohmdrag::input {

/// The trees behind a catalogue. A file is parsed when its first section is asked for, so not for
/// several threads at once.
struct Catalogue::Tables {
  explicit Tables(const std::optional<std::filesystem::path>& data_folder);

  /// A section such as "contact" or "discharge": the built-in one with the user's entries in place
  /// of those of the same name. Empty if neither has it.
  /// \throws InputError if a file of it is broken.
  const Node& section(std::string_view name) const;
  /// An entry of a section, or nullptr.
  const Node* entry(std::string_view section_name, std::string_view id) const;
  std::vector<std::string> ids(std::string_view section_name) const;
  /// The range of the trade for a generic key, or nullptr.
  const Node* trade_range(std::string_view key) const;
  /// A cycle checked against its published totals.
  /// \throws InputError if its table is broken; the id must exist.
  const duty::Cycle& cycle(std::string_view id) const;

 private:
  std::string cycle_table(const Node& entry) const;

  std::filesystem::path folder_;
  Node user_;
  mutable std::map<std::string, Node, std::less<>> files_;
  mutable std::map<std::string, Node, std::less<>> sections_;
  mutable std::map<std::string, duty::Cycle, std::less<>> cycles_;
};

}  // namespace ohmdrag::input
