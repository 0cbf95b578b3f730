#include <fmt/format.h>

#include <array>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "input/case_reader.hpp"
#include "input/files.hpp"
#include "ohmdrag/input/trip_file.hpp"

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

struct Mark {
  std::string_view word;
  char character;
};
constexpr std::array separators{Mark{"comma", ','}, Mark{"semicolon", ';'}, Mark{"tab", '\t'}};
constexpr std::array decimals{Mark{"point", '.'}, Mark{"comma", ','}};

/// A mark by its word; none where the key is not there.
template <std::size_t N>
std::optional<char> mark_of(TableReader& table, std::string_view key,
                            const std::array<Mark, N>& marks) {
  if (!table.has(key)) return std::nullopt;
  std::vector<std::string> words;
  for (const Mark& mark : marks) words.emplace_back(mark.word);
  const std::string read = table.word(key, words);
  for (const Mark& mark : marks)
    if (mark.word == read) return mark.character;
  return std::nullopt;
}

std::string hash_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  if (!in) return "unreadable";
  return sha256(std::string(std::istreambuf_iterator<char>(in), {}));
}

/// One hash for all trips, so that a report names thousands of files in a line: of a folder that of
/// the lines "hash, two blanks, name" of its files, as the usual tools list them.
std::string hash_of(const fs::path& place, const std::vector<fs::path>& files) {
  if (!fs::is_directory(place)) return hash_of(place);
  std::string listing;
  for (const fs::path& file : files)
    listing += fmt::format("{}  {}\n", hash_of(file), file.filename().string());
  return sha256(listing);
}

duty::TripColumn column_of(TableReader& columns, std::string_view key) {
  TableReader table = columns.required_table(key);
  if (!table.present()) return {};
  duty::TripColumn column{table.text("name"), table.text("unit")};
  table.done();
  return column;
}

duty::TripForm form_of(TableReader& table) {
  duty::TripForm form;
  TableReader columns = table.required_table("columns");
  if (columns.present()) {
    form.columns.time = column_of(columns, "time");
    form.columns.speed = column_of(columns, "speed");
    for (const std::string_view key :
         {"shaft_speed", "torque", "sump_temperature", "ambient_temperature"})
      if (columns.has(key))
        columns.complain(key,
                         "is no part of a duty yet: shaft speeds and torques follow from the road "
                         "speed, oil from start_temperature or oil_temperature",
                         "leave the column out; others of the log are ignored as well");
    columns.done();
  }
  form.separator = mark_of(table, "separator", separators);
  form.decimal = mark_of(table, "decimal", decimals);
  return form;
}

}  // namespace

void CaseReader::read_trips(TableReader& table, study::Duty& duty) {
  if (!out_.vehicle)
    table.complain("trips", "measured trips need a [vehicle]; there is none",
                   "write shaft_speed = \"… rpm\" and hours_per_year instead");
  const std::string name = table.text("trips");
  const auto form = std::make_shared<const duty::TripForm>(form_of(table));
  try {
    const duty::TripReader sound(*form);
  } catch (const std::invalid_argument& error) {
    if (!form->columns.time.name.empty() && !form->columns.speed.name.empty())
      table.complain("columns", error.what());
    return;
  }
  const Node* named = table.find("trips");
  if (name.empty() || !named->is_text()) return;
  const fs::path place = file_named_by(*named);
  std::vector<fs::path> files;
  try {
    files = trip_files(place);
  } catch (const fs::filesystem_error& error) {
    table.complain("trips", fmt::format("{}: {}", place.string(), error.code().message()));
    return;
  }
  if (files.empty())
    table.complain("trips", fmt::format("{}: there is no *.csv or *.csv.gz in it", place.string()));
  out_.provenance.includes.push_back({place.string(), hash_of(place, files)});
  for (fs::path& file : files) {
    std::string id = file.filename().string();
    duty.trips.push_back({std::move(id), [form, file = std::move(file)] {
                            duty::TripReader reader(*form);
                            return read_trip(file, reader);
                          }});
  }
}

}  // namespace ohmdrag::input
