#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "input/node.hpp"
#include "input/problems.hpp"
#include "ohmdrag/study/case.hpp"

namespace ohmdrag::input {

/// The text of a file, without a byte-order mark, with the hash of the bytes as they are.
struct FileText {
  std::string content;
  std::string sha256;
};

/// Reads a text file whole, or adds one problem that says why not: missing, a folder, unreadable,
/// empty, larger than a case file can be, not UTF-8, with NUL bytes.
std::optional<FileText> read_file(const std::filesystem::path& file, Problems& problems);

/// The path in a text of a case: beside the file that names it; what a `--set` names lies in the
/// working folder.
std::filesystem::path file_named_by(const Node& node);

/// Offset of the first byte that is not UTF-8, or npos. Source: RFC 3629, section 4.
std::size_t first_not_utf8(std::string_view text);

/// SHA-256 in hexadecimal. Source: NIST FIPS 180-4, through the crypto library.
std::string sha256(std::string_view bytes);
/// The same of a file as it lies on disk.
std::string sha256_on_disk(const std::filesystem::path& file);

/// The hash of the file that a text of a case names; empty if it names none.
std::string hash_of_named_file(const Node& node);

/// The tree of a case with what it includes: files in the order of the list, the including file
/// last; later wins. Hashes go to `provenance`.
Node read_case_tree(const std::filesystem::path& file, Problems& problems,
                    study::Provenance& provenance);
/// The same for a text that stands for the file.
Node case_tree_from_text(FileText text, const std::filesystem::path& file, Problems& problems,
                         study::Provenance& provenance);

}  // namespace ohmdrag::input
