#pragma once

#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "ohmdrag/input/load_case.hpp"

namespace ohmdrag::input {

/// A case whose files are read once and that is asked for again and again with other values. Files
/// that it names outside its includes (tables, records, trips) are read each time.
class CaseTree {
 public:
  /// \throws InputError if a file of the case cannot be read or is no TOML
  CaseTree(const std::filesystem::path& file, const LoadOptions& options);
  ~CaseTree();
  CaseTree(const CaseTree&) = delete;
  CaseTree& operator=(const CaseTree&) = delete;

  /// The case with more `--set`s after those of the options; safe from many threads at once.
  /// \throws InputError with every problem of the case and of the sets
  study::Case with(std::span<const std::string> sets) const;

  /// The file of the case, what it includes, and every file of the data folder, each with its
  /// SHA-256.
  const std::vector<study::Provenance::Include>& files() const;

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

}  // namespace ohmdrag::input
