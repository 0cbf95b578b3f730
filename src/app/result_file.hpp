#pragma once

#include <filesystem>
#include <vector>

#include "ohmdrag/study/compare.hpp"

namespace ohmdrag::app {

/// What a comparison needs of a result document.
struct ResultFile {
  study::ComparedSide side;
  study::Headlines headlines;
  struct Input {
    std::string key, value, basis;
  };
  std::vector<Input> inputs;  ///< the register of assumptions
};

/// Whether the file is taken for a result document rather than for a case.
bool is_result_file(const std::filesystem::path& file);

/// Reads a document of `ohmdrag trade --json`.
/// \throws UsageError for any other document
ResultFile read_result(const std::filesystem::path& file);

/// Inputs that the registers of two results show otherwise, by key.
std::vector<study::InputChange> changed_inputs(const ResultFile& before, const ResultFile& after);

}  // namespace ohmdrag::app
