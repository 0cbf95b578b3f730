#pragma once

#include <string>
#include <vector>

#include "ohmdrag/study/case.hpp"

namespace ohmdrag::input {

/// A file that a case was read from.
struct CaseFile {
  std::string name;     ///< as the program was given it, or as the case names it
  std::string content;  ///< its bytes; empty: left out for its size
  std::string sha256;   ///< of the bytes
};

/// All files of a case: itself, what it includes, its tables, its measured trips.
///
/// Every file is read again and must still be what the case was read from.
///
/// Limits    files are taken in their order as long as all together stay below `most_bytes`; the
///           others come without content.
/// \throws InputError if a file has changed or is gone since the case was read.
std::vector<CaseFile> case_files(const study::Provenance& provenance, std::size_t most_bytes);

}  // namespace ohmdrag::input
