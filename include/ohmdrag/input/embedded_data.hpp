#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace ohmdrag::input {

/// A file of data/ as it was when the program was built.
struct EmbeddedFile {
  std::string_view path;     ///< below data/, "cycles/cycles.toml"
  std::string_view content;  ///< every byte of it; lives as long as the program
};

/// All of them, sorted by path.
std::span<const EmbeddedFile> embedded_files();

/// The content of a file, or nothing if data/ had none of that path.
std::optional<std::string_view> embedded(std::string_view path);

}  // namespace ohmdrag::input
