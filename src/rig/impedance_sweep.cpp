#include "ohmdrag/rig/impedance_sweep.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "ohmdrag/numerics/least_squares.hpp"

namespace ohmdrag::rig {

namespace {

/// Frequencies within this share are one: instruments print six digits and more.
constexpr double same_frequency = 1e-5;

bool same(Frequency a, Frequency b) { return std::abs((a / b).value() - 1.0) < same_frequency; }

}  // namespace

double angular_frequency(const SweepPoint& point) {
  return 2.0 * std::numbers::pi * point.frequency.value();
}

Sweep sorted(Sweep sweep) {
  std::ranges::stable_sort(sweep, {}, &SweepPoint::frequency);
  return sweep;
}

std::optional<std::complex<double>> impedance_at(const Sweep& points, Frequency frequency) {
  constexpr double beside = 1e-3;
  if (points.empty() || frequency < points.front().frequency * (1.0 - beside) ||
      frequency > points.back().frequency * (1.0 + beside))
    return std::nullopt;
  const auto above = std::ranges::lower_bound(points, frequency, {}, &SweepPoint::frequency);
  if (above == points.begin()) return above->ohm;
  const auto below = above - 1;
  if (above == points.end()) return below->ohm;
  const double share = std::log((frequency / below->frequency).value()) /
                       std::log((above->frequency / below->frequency).value());
  return below->ohm + share * (above->ohm - below->ohm);
}

std::optional<SweepRepeats> repeats_of(const Sweep& sweep) {
  const Sweep points = sorted(sweep);
  std::vector<double> changes;
  for (std::size_t begin = 0, end = 0; begin < points.size(); begin = end) {
    for (end = begin; end < points.size() && same(points[end].frequency, points[begin].frequency);)
      ++end;
    if (end - begin > 1)
      changes.push_back(std::log(std::abs(points[end - 1].ohm / points[begin].ohm)));
  }
  constexpr std::size_t fewest = 3;
  if (changes.size() < fewest) return std::nullopt;
  const auto n = static_cast<double>(changes.size());
  SweepRepeats result{.frequencies = changes.size()};
  for (const double change : changes) result.mean_change += change / n;
  double squares = 0.0;
  for (const double change : changes)
    squares += (change - result.mean_change) * (change - result.mean_change);
  const double deviation = std::sqrt(squares / (n - 1.0));
  result.standard_error = deviation / std::sqrt(n);
  result.noise = deviation / std::numbers::sqrt2;
  result.drifts = std::abs(result.mean_change) >
                  std::max(least_drift, numerics::student_95(n - 1.0) * result.standard_error);
  return result;
}

double error_of_reflection(std::complex<double> ohm, Resistance reference) {
  const double z0_ohm = reference.value();
  const std::complex<double> reflection = (ohm - z0_ohm) / (ohm + z0_ohm);
  constexpr double thousandth = 1e-3;
  return 2.0 * thousandth / std::abs(1.0 - reflection * reflection);
}

}  // namespace ohmdrag::rig
