#pragma once

#include <filesystem>
#include <stdexcept>
#include <string>

namespace ohmdrag::app {

/// A report could not be written; the message names the path.
struct WriteError : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Writes beside the target and renames: an interrupted run leaves the old file or the new one,
/// never half of one.
/// \throws WriteError
void write_file(const std::filesystem::path& target, const std::string& content);

}  // namespace ohmdrag::app
