#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string_view>

#include "input/files.hpp"
#include "input/problems.hpp"

namespace ohmdrag::input {

/// Hands a file of text, plain or compressed by gzip, to `take` block by block; which of the two,
/// its first bytes say, not its name. Memory holds one block.
/// \throws std::runtime_error, without the name of the file, if it is missing, a folder, unreadable
///         or a damaged archive; whatever `take` throws.
void read_blocks(const std::filesystem::path& file,
                 const std::function<void(std::string_view)>& take);

/// The text of a log that an instrument wrote, as UTF-8, with the hash of the bytes on disk; or one
/// problem that says why not. Plain or compressed by gzip; a byte-order mark is left out; bytes
/// that are no UTF-8 are read as ISO 8859-1.
std::optional<FileText> read_log_text(const std::filesystem::path& file, Problems& problems);

}  // namespace ohmdrag::input
