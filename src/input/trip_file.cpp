#include "ohmdrag/input/trip_file.hpp"

#include <algorithm>
#include <cctype>
#include <stdexcept>
#include <string>
#include <string_view>
#include <system_error>

#include "input/text_blocks.hpp"

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

bool is_trip(const fs::path& file) {
  std::string name = file.filename().string();
  std::ranges::transform(name, name.begin(),
                         [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return name.ends_with(".csv") || name.ends_with(".csv.gz");
}

}  // namespace

duty::Trip read_trip(const fs::path& file, duty::TripReader& reader) {
  try {
    read_blocks(file, [&](std::string_view text) { reader.feed(text); });
  } catch (const duty::TripError&) {
    reader.clear();
    throw;
  } catch (const std::runtime_error& error) {
    reader.clear();
    throw duty::TripError(0, {}, error.what());
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
