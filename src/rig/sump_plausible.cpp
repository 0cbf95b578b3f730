#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"
#include "rig/sump_model.hpp"

namespace ohmdrag::rig {

namespace {

/// Colder is no weather, hotter no oil of a drive; common practice, no source.
constexpr double coldest_degC = -90.0, hottest_degC = 250.0;
/// Kilojoules a kelvin cannot jump: so much between two samples, and so fast, is another column or
/// a loose plug; common practice, no source.
constexpr double largest_jump_K = 3.0, fastest_K_s = 2.0;
/// Jumps of single samples are outliers and counted; more than this share of the log is no log.
constexpr double most_jumps = 0.005;
/// A sensor stands at its end where so many samples in a row, and this share of the log, read the
/// highest value, while the same time before still rose by so many of its steps.
constexpr std::size_t shortest_stand = 20;
constexpr double shortest_stand_share = 0.05, rise_before_in_steps = 5.0;

struct Range {
  double low = std::numeric_limits<double>::infinity();
  double high = -low;

  void take(double value) {
    low = std::min(low, value);
    high = std::max(high, value);
  }
  double width() const { return high - low; }
};

std::string in_K(double value) { return print_number(value, 3) + " K"; }
std::string celsius_in_words(double kelvin) {
  return fmt::format("{:.1f} degC", kelvin - kelvin_at_zero_celsius);
}

[[noreturn]] void refuse(const std::string& why) { throw std::invalid_argument(why); }

Range range_of(const SumpRun& run, std::vector<Temperature> SumpPiece::*column) {
  Range range;
  for (const SumpPiece& piece : run.pieces)
    for (const Temperature& t : piece.*column) range.take(t.value());
  return range;
}

/// Of the medians over twentieths of the pieces: what changes beside noise and single wrong
/// samples.
Range smooth_range(const SumpRun& run) {
  constexpr std::size_t parts = 20;
  Range range;
  for (const SumpPiece& piece : run.pieces) {
    const std::size_t length = std::max<std::size_t>(1, piece.sump.size() / parts);
    for (std::size_t begin = 0; begin + length <= piece.sump.size(); begin += length) {
      std::vector<double> part;
      for (std::size_t i = begin; i < begin + length; ++i) part.push_back(piece.sump[i].value());
      const auto middle = part.begin() + static_cast<std::ptrdiff_t>(length / 2);
      std::nth_element(part.begin(), middle, part.end());
      range.take(*middle);
    }
  }
  return range;
}

void require_temperatures(const Range& range, std::string_view what) {
  for (const double end : {range.low, range.high})
    if (!(end >= coldest_degC + kelvin_at_zero_celsius &&
          end <= hottest_degC + kelvin_at_zero_celsius))
      refuse(
          fmt::format("the {} is {} somewhere; expected {} to {} degC: is the unit right, is it "
                      "another column?",
                      what, celsius_in_words(end), coldest_degC, hottest_degC));
}

void require_no_jumps(const SumpRun& run, std::size_t samples) {
  std::size_t jumps = 0;
  double largest = 0.0;
  for (const SumpPiece& piece : run.pieces)
    for (std::size_t i = 1; i < piece.time.size(); ++i) {
      const double jump = std::abs((piece.sump[i] - piece.sump[i - 1]).value());
      const double dt = (piece.time[i] - piece.time[i - 1]).value();
      if (jump <= largest_jump_K || jump <= fastest_K_s * dt) continue;
      ++jumps;
      largest = std::max(largest, jump);
    }
  if (static_cast<double>(jumps) > std::max(2.0, most_jumps * static_cast<double>(samples)))
    refuse(
        fmt::format("the sump temperature jumps {} times from one sample to the next, by up to "
                    "{}: a sump cannot. Is it another column, is the plug loose?",
                    jumps, in_K(largest)));
}

/// The smallest change between two neighbours that changes at all.
double step_of(const SumpPiece& piece) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 1; i < piece.sump.size(); ++i)
    if (const double change = std::abs((piece.sump[i] - piece.sump[i - 1]).value()); change > 1e-9)
      least = std::min(least, change);
  return least;
}

void require_sensor_within_its_range(const SumpPiece& piece, double highest, std::size_t samples) {
  const auto longest = std::max(static_cast<double>(shortest_stand),
                                shortest_stand_share * static_cast<double>(samples));
  std::size_t begin = 0;
  for (std::size_t i = 0; i < piece.sump.size(); ++i) {
    if (piece.sump[i].value() < highest) {
      begin = i + 1;
      continue;
    }
    if (static_cast<double>(i - begin + 1) < longest) continue;
    const std::size_t before = begin - std::min(begin, static_cast<std::size_t>(longest));
    const double rise = highest - piece.sump[before].value();
    if (rise > rise_before_in_steps * step_of(piece))
      refuse(fmt::format(
          "from {} s on the oil reads {}, the highest of the log, again and again, "
          "though it rose by {} just before: the sensor seems to stand at its end. Cut "
          "the log there",
          print_number(piece.time[begin].value(), 4), celsius_in_words(highest), in_K(rise)));
    return;
  }
}

/// The whole heat of the log.
double heat_J(const SumpRun& run) {
  double sum = 0.0;
  for (const SumpPiece& piece : run.pieces)
    for (std::size_t i = 0; i < piece.heat.size(); ++i)
      sum += piece.heat[i].value() * (piece.time[i + 1] - piece.time[i]).value();
  return sum;
}

void require_sense_of_the_change(const SumpRun& run, std::vector<std::string>& notes) {
  const double fall =
      run.pieces.front().sump.front().value() - run.pieces.back().sump.back().value();
  if (!(run.heat_known && heat_J(run) > 0.0 && fall > least_range_K)) return;
  double warmest_over_ambient = -std::numeric_limits<double>::infinity();
  for (const SumpPiece& piece : run.pieces)
    for (std::size_t i = 0; i < piece.sump.size(); ++i)
      warmest_over_ambient =
          std::max(warmest_over_ambient, (piece.sump[i] - piece.ambient[i]).value());
  if (warmest_over_ambient <= least_range_K)
    refuse(
        fmt::format("the oil cools by {} although it is heated and no warmer than its "
                    "surroundings: are sump_temperature and ambient_temperature swapped?",
                    in_K(fall)));
  notes.push_back(fmt::format(
      "The oil cools by {} although it is heated: it began warmer than it settles.", in_K(fall)));
}

}  // namespace

void require_plausible(const SumpRun& run, std::vector<std::string>& notes) {
  std::size_t samples = 0;
  for (const SumpPiece& piece : run.pieces) samples += piece.time.size();
  if (samples < fewest_samples)
    refuse(fmt::format("the log has {} samples; a fit wants {} or more", samples, fewest_samples));
  const Range sump = range_of(run, &SumpPiece::sump);
  require_temperatures(sump, "sump temperature");
  require_temperatures(range_of(run, &SumpPiece::ambient), "ambient temperature");
  const Range changed = smooth_range(run);
  if (changed.width() < least_range_K)
    refuse(
        fmt::format("the oil stays within {} all the time; a log tells something when it warms up "
                    "or cools by {} or more. Are sump_temperature and ambient_temperature swapped?",
                    in_K(changed.width()), in_K(least_range_K)));
  require_no_jumps(run, samples);
  for (const SumpPiece& piece : run.pieces)
    require_sensor_within_its_range(piece, sump.high, samples);
  require_sense_of_the_change(run, notes);
}

}  // namespace ohmdrag::rig
