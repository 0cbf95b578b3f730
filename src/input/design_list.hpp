#pragma once

#include <filesystem>
#include <optional>

#include "input/problems.hpp"
#include "ohmdrag/study/design.hpp"

namespace ohmdrag::input {

/// A design as rows of a CSV file, which stays on disk: the file is read through once, for its
/// hash, the number of its rows and every complaint of its form, and again row by row as the rows
/// are asked for. Commas, semicolons or tabs between the cells, whichever the head shows; quotes
/// as in RFC 4180, within a line; empty lines and lines that begin with # say nothing.
///
/// Nothing after a complaint.
std::optional<study::Design> read_design_list(const std::filesystem::path& file,
                                              Problems& problems);

}  // namespace ohmdrag::input
