// How fast a folder of measured trips is read, and whether memory grows with their number: trips of
// 1800 s at 1 Hz with six columns, invented here, read from files as a case reads them.
//
//   bench_trips [TRIPS]
//
// A table for people; it fails nothing, as the machine may be busy.

#include <sys/resource.h>

#include <array>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>

#include "ohmdrag/input/trip_file.hpp"

namespace {

namespace fs = std::filesystem;
using namespace ohmdrag;

constexpr int samples = 1800;

/// Stop and go around a mean speed that differs from trip to trip.
std::string invented_trip(int trip) {
  std::string text = "t [s];v [km/h];n [rpm];M [N*m];T_oil [degC];gear\n";
  std::array<char, 128> row{};
  for (int t = 0; t < samples; ++t) {
    const double wave = std::sin(0.01 * t * (1.0 + 0.001 * trip)) + 0.4 * std::sin(0.13 * t);
    const double v = std::max(0.0, 40.0 + 0.01 * trip + 45.0 * wave);
    std::snprintf(row.data(), row.size(), "%d;%.2f;%.1f;%.2f;%.1f;D\n", t, v, 83.0 * v,
                  20.0 * std::cos(0.02 * t), 23.0 + 0.02 * t);
    text += row.data();
  }
  return text;
}

struct Folder {
  explicit Folder(int trips)
      : path(fs::temp_directory_path() / ("ohmdrag-bench-trips-" + std::to_string(trips))) {
    fs::create_directories(path);
    for (int trip = 0; trip < trips; ++trip) {
      const std::string text = invented_trip(trip);
      bytes += text.size();
      std::ofstream(path / ("trip" + std::to_string(trip) + ".csv"), std::ios::binary) << text;
    }
  }
  ~Folder() { fs::remove_all(path); }

  fs::path path;
  std::size_t bytes = 0;
};

double peak_MB() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

void row(int trips) {
  const Folder folder(trips);
  duty::TripReader reader({.columns = {.time = {"t [s]", "s"},
                                       .speed = {"v [km/h]", "km/h"},
                                       .shaft_speed = {},
                                       .torque = {},
                                       .sump_temperature = {},
                                       .ambient_temperature = {}}});
  const auto start = std::chrono::steady_clock::now();
  std::size_t read = 0;
  Length way{};
  for (const fs::path& file : input::trip_files(folder.path)) {
    const duty::Trip trip = input::read_trip(file, reader);
    read += trip.report.samples;
    way += trip.report.distance;
  }
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  std::printf("%8d %10.1f %10.3f %10.1f %14.3g %12.1f %12.1f\n", trips,
              static_cast<double>(folder.bytes) / 1e6, took.count(),
              static_cast<double>(folder.bytes) / 1e6 / took.count(),
              static_cast<double>(read) / took.count(), way.value() / 1000.0, peak_MB());
}

}  // namespace

int main(int count, char** arguments) {
  const int most = count > 1 ? std::atoi(arguments[1]) : 2000;
  std::printf("%8s %10s %10s %10s %14s %12s %12s\n", "trips", "MB", "s", "MB/s", "samples/s", "km",
              "peak RSS MB");
  row(std::max(1, most / 20));
  row(std::max(1, most));
}
