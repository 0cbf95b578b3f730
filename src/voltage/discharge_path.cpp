#include "ohmdrag/voltage/discharge_path.hpp"

#include <algorithm>
#include <stdexcept>

namespace ohmdrag::voltage {

namespace {

void require_valid(const DischargePath& path) {
  if (!(path.film >= Capacitance{} && path.beside >= Capacitance{}))
    throw std::invalid_argument("discharge path: a capacitance must not be negative");
  if (path.in_series && !(*path.in_series > Capacitance{}))
    throw std::invalid_argument("discharge path: what stands in series must be positive");
}

}  // namespace

std::string_view to_word(PathKind kind) {
  switch (kind) {
    case PathKind::bearing:
      return "bearing";
    case PathKind::gear_mesh:
      return "gear-mesh";
    case PathKind::driven_machine:
      return "driven-machine";
    case PathKind::stated:
      return "stated";
  }
  throw std::invalid_argument("discharge path: unknown kind");
}

bool ties_to_frame(const DischargePath& path) { return path.conducting && !path.in_series; }

Capacitance capacitance(const DischargePath& path) {
  require_valid(path);
  if (ties_to_frame(path)) return path.beside;
  if (path.conducting) return *path.in_series + path.beside;
  return share_on_film(path) * path.film + path.beside;
}

Capacitance capacitance(std::span<const DischargePath> paths) {
  Capacitance sum{};
  for (const DischargePath& path : paths) sum += capacitance(path);
  return sum;
}

double share_on_film(const DischargePath& path) {
  require_valid(path);
  if (path.conducting) return 0.0;
  return path.in_series ? double(*path.in_series / (*path.in_series + path.film)) : 1.0;
}

std::optional<PathThreshold> threshold_at_shaft(const DischargePath& path) {
  if (path.conducting) return std::nullopt;
  const double share = share_on_film(path);
  const ThresholdBand& band = path.threshold.band;
  return PathThreshold{path.threshold.drawn / share,
                       {band.at_05 / share, band.at_50 / share, band.at_95 / share}};
}

std::optional<std::size_t> weakest_path(std::span<const DischargePath> paths) {
  if (std::ranges::any_of(paths, ties_to_frame)) return std::nullopt;
  std::optional<std::size_t> weakest;
  std::optional<Voltage> lowest;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    const auto threshold = threshold_at_shaft(paths[i]);
    if (!threshold || (lowest && !(threshold->drawn < *lowest))) continue;
    lowest = threshold->drawn;
    weakest = i;
  }
  return weakest;
}

}  // namespace ohmdrag::voltage
