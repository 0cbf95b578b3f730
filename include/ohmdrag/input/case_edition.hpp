#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "ohmdrag/quantity/share.hpp"
#include "ohmdrag/study/case.hpp"

namespace ohmdrag::input {

/// A file of a case as a reader may have it.
struct EditionFile {
  std::string name;     ///< as in the provenance of the case
  std::string content;  ///< TOML; the file itself where nothing in it is sealed
  std::string sha256;   ///< of the content
};

/// The files of a case as a reader may have them.
struct CaseEdition {
  std::vector<EditionFile> files;  ///< the case, then what it includes, in the order of provenance
  std::vector<std::string> sealed_keys;  ///< of all that was taken out, numbers or not
  std::string sealed_sha256;  ///< of all that was taken out; empty: nothing, or without a seal
};

/// The case and its includes without what the reader must not see.
///
/// A file in which something is sealed is written anew: the same tables in the same order, without
/// comments (which may repeat values), without `study.seal`, each sealed number replaced by its
/// band, and whatever else stands in a sealed table and holds a digit by "sealed". For open readers
/// that is also every size and every fraction that nobody has called open: what says nothing is for
/// customers. With bands alone
/// it runs, with wider results; else it says what is missing. Tables beside the case, CSV files and
/// logs, are not in it; those that a sealed table names are in the hash with their own.
///
/// The hash is SHA-256 (FIPS 180-4) of `study.seal`, a line end, and a line "key = value" for all
/// that was taken out, in the order of the files. A hash of a few values alone could be found by
/// trial, so without a `study.seal` of twenty characters or more there is none. Whoever has the
/// whole case gets the same hashes again.
///
/// \param question  the same case, read
/// \throws InputError if a file has changed so that it cannot be read any more
CaseEdition case_for(Share reader, const std::filesystem::path& file, const study::Case& question);

}  // namespace ohmdrag::input
