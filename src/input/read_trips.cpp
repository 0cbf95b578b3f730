#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "input/case_reader.hpp"
#include "input/files.hpp"
#include "input/log_form.hpp"
#include "input/ranges.hpp"
#include "ohmdrag/input/trip_file.hpp"

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

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

/// No weather is colder and no oil of a drive hotter: beyond, a sensor is broken or the unit is
/// another. Common practice, no source.
constexpr double coldest_degC = -90.0, hottest_degC = 250.0;

void require_within(const duty::Trip& trip, std::vector<Temperature> duty::TripPiece::*temperatures,
                    std::string_view what) {
  for (const duty::TripPiece& piece : trip.pieces)
    for (const Temperature& t : piece.*temperatures)
      if (!(in_celsius(t) >= coldest_degC && in_celsius(t) <= hottest_degC))
        throw duty::TripError(
            0, {},
            fmt::format("the {} is {:.4g} degC somewhere; expected {} to {} degC: is the unit "
                        "right, is the sensor sound?",
                        what, in_celsius(t), coldest_degC, hottest_degC));
}

void require_plausible(const duty::Trip& trip) {
  require_within(trip, &duty::TripPiece::sump_temperature, "sump temperature");
  require_within(trip, &duty::TripPiece::ambient_temperature, "ambient temperature");
  const PhysicalRange possible = physical_range("shaft_speed", Dimension::rotational_speed);
  for (const duty::TripPiece& piece : trip.pieces)
    for (const AngularVelocity& n : piece.shaft_speed)
      if (!possible.admits(n.value()))
        throw duty::TripError(
            0, {},
            fmt::format("the shaft speed is {:.4g} rpm somewhere; expected {}", in_rpm(n),
                        possible.in_words(Dimension::rotational_speed)));
}

duty::TripForm form_of(TableReader& table) {
  duty::TripForm form;
  TableReader columns = table.required_table("columns");
  if (columns.present()) {
    form.columns.time = log_column(columns, "time");
    form.columns.speed = log_column(columns, "speed");
    form.columns.shaft_speed = maybe_log_column(columns, "shaft_speed");
    form.columns.torque = maybe_log_column(columns, "torque");
    form.columns.sump_temperature = maybe_log_column(columns, "sump_temperature");
    form.columns.ambient_temperature = maybe_log_column(columns, "ambient_temperature");
    columns.done();
  }
  form.separator = log_separator(table);
  form.decimal = log_decimal(table);
  return form;
}

}  // namespace

void CaseReader::read_places_of(TableReader& table, const duty::TripColumns& columns,
                                study::Duty& duty) {
  if (columns.shaft_speed || columns.torque)
    duty.shaft = shaft_of(table);
  else if (table.has("shaft"))
    table.complain("shaft", "has no effect: columns maps neither shaft_speed nor torque");
  for (const std::string_view key : {"start_temperature", "oil_temperature"})
    if (columns.sump_temperature && table.has(key))
      table.complain(key, "stands beside a sump_temperature that holds the oil to the log",
                     "leave one of them out");
  if (!columns.sump_temperature && !table.has("start_temperature") && !table.has("oil_temperature"))
    table.complain({},
                   "expected start_temperature, oil_temperature or a column sump_temperature; "
                   "found none");
  const bool warms_up = table.has("start_temperature");
  const auto states_dry_side = [](const study::Shaft& shaft) {
    return shaft.dry_side_temperature.has_value();
  };
  if (columns.ambient_temperature && !warms_up && std::ranges::all_of(out_.shafts, states_dry_side))
    warn(
        fmt::format("The ambient_temperature of duty {} has no effect: its oil is held and every "
                    "shaft states its dry_side_temperature.",
                    duty.id));
}

void CaseReader::read_trips(TableReader& table, study::Duty& duty) {
  if (!out_.vehicle)
    table.complain("trips", "measured trips need a [vehicle]; there is none",
                   "write shaft_speed = \"… rpm\" and hours_per_year instead");
  const std::string name = table.text("trips");
  const auto form = std::make_shared<const duty::TripForm>(form_of(table));
  read_places_of(table, form->columns, duty);
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
                            duty::Trip trip = read_trip(file, reader);
                            require_plausible(trip);
                            return trip;
                          }});
  }
}

}  // namespace ohmdrag::input
