#include "ohmdrag/input/trip_file.hpp"

#include <fmt/format.h>
#include <zlib.h>

#include <algorithm>
#include <cctype>
#include <memory>
#include <string>
#include <string_view>
#include <system_error>

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

constexpr unsigned block_size = 256 * 1024;

struct Closing {
  void operator()(gzFile file) const { gzclose_r(file); }
};
using Archive = std::unique_ptr<gzFile_s, Closing>;

[[noreturn]] void refuse(const std::string& why) { throw duty::TripError(0, {}, why); }

void require_file(const fs::path& file) {
  std::error_code failed;
  const fs::file_status status = fs::status(file, failed);
  if (!fs::exists(status)) refuse("there is no such file");
  if (!fs::is_regular_file(status)) refuse("is no regular file; expected a CSV file");
}

/// The next block of the text; empty at its end.
std::string_view next_block(gzFile archive, std::string& block) {
  const int got = gzread(archive, block.data(), block_size);
  int error = Z_OK;
  const char* why = gzerror(archive, &error);
  if (error == Z_BUF_ERROR) refuse("the archive ends before its text does");
  if (got < 0) refuse(fmt::format("cannot be read: {}", error == Z_ERRNO ? "I/O error" : why));
  return std::string_view(block).substr(0, static_cast<std::size_t>(got));
}

bool is_trip(const fs::path& file) {
  std::string name = file.filename().string();
  std::ranges::transform(name, name.begin(),
                         [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return name.ends_with(".csv") || name.ends_with(".csv.gz");
}

}  // namespace

duty::Trip read_trip(const fs::path& file, duty::TripReader& reader) {
  require_file(file);
  const Archive archive(gzopen(file.c_str(), "rb"));
  if (!archive) refuse("cannot be opened");
  gzbuffer(archive.get(), block_size);
  std::string block(block_size, '\0');
  try {
    for (auto text = next_block(archive.get(), block); !text.empty();
         text = next_block(archive.get(), block))
      reader.feed(text);
  } catch (const duty::TripError&) {
    reader.clear();
    throw;
  }
  return reader.finish();
}

std::vector<fs::path> trip_files(const fs::path& folder_or_file) {
  if (!fs::is_directory(folder_or_file)) {
    if (fs::exists(folder_or_file)) return {folder_or_file};
    throw fs::filesystem_error("there is no such file or folder", folder_or_file,
                               std::make_error_code(std::errc::no_such_file_or_directory));
  }
  std::vector<fs::path> files;
  for (const fs::directory_entry& entry : fs::directory_iterator(folder_or_file))
    if (entry.is_regular_file() && is_trip(entry.path())) files.push_back(entry.path());
  std::ranges::sort(files);
  return files;
}

}  // namespace ohmdrag::input
