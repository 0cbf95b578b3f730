#include "rig/endurance_plausible.hpp"

#include <fmt/format.h>

#include <cmath>
#include <set>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::rig {

namespace {

constexpr double seconds_in_hour = 3600.0;
/// More is no contact but air; common practice, no source.
constexpr double open_ohm = 1e9;
/// An instrument stands at its end where so many readings in a row show the largest value of the
/// run, several times as many as stand still anywhere else; common practice, no source.
constexpr std::size_t shortest_stand = 5, stand_over_others = 3;

[[noreturn]] void refuse(const std::string& why) { throw std::invalid_argument(why); }

void require_hours(const EnduranceSpecimen& specimen) {
  std::set<double> hours;
  double before = 0.0;
  for (const Time& time : specimen.time) {
    const double now = time.value();
    if (!(now >= 0.0 && std::isfinite(now)))
      refuse(fmt::format("specimen {}: {} are no hours of a run: is it another column?",
                         specimen.name, hours_in_words(now)));
    if (now < before)
      refuse(fmt::format(
          "specimen {}: time runs back, {} after {}. Are hours and impedance swapped, or two "
          "specimens under one name?",
          specimen.name, hours_in_words(now), hours_in_words(before)));
    before = now;
    hours.insert(now);
  }
  if (hours.size() < fewest_readings)
    refuse(fmt::format(
        "specimen {}: its {} readings stand at {} different hours; a curve needs {} or more",
        specimen.name, specimen.time.size(), hours.size(), fewest_readings));
}

void require_impedances(const EnduranceSpecimen& specimen) {
  if (specimen.impedance.size() != specimen.time.size() ||
      (!specimen.torque.empty() && specimen.torque.size() != specimen.time.size()))
    refuse(
        fmt::format("specimen {}: hours, impedances and torques differ in number", specimen.name));
  for (const Resistance& impedance : specimen.impedance) {
    const double now = impedance.value();
    if (!(now > 0.0))
      refuse(
          fmt::format("specimen {}: an impedance of {} ohm is none, magnitudes are positive. Is "
                      "the sign wrong, an offset too large, or is it another column?",
                      specimen.name, print_number(now, 3)));
    if (!(now < open_ohm))
      refuse(
          fmt::format("specimen {}: {} ohm are an open contact or a loose lead. Cut the log there",
                      specimen.name, print_number(now, 3)));
  }
}

/// Longest row of readings that show one value.
std::size_t longest_stand(const EnduranceRun& run, double value, bool of_it) {
  std::size_t longest = 0;
  for (const EnduranceSpecimen& specimen : run.specimens) {
    std::size_t row = 0;
    for (std::size_t j = 0; j < specimen.impedance.size(); ++j) {
      const double now = specimen.impedance[j].value();
      const bool same = j > 0 && now == specimen.impedance[j - 1].value();
      row = (now == value) != of_it ? 0 : same ? row + 1 : 1;
      longest = std::max(longest, row);
    }
  }
  return longest;
}

void require_instrument_within_its_range(const EnduranceRun& run) {
  double largest = 0.0;
  for (const EnduranceSpecimen& specimen : run.specimens)
    for (const Resistance& impedance : specimen.impedance)
      largest = std::max(largest, impedance.value());
  const std::size_t stand = longest_stand(run, largest, true);
  if (stand < shortest_stand || stand < stand_over_others * longest_stand(run, largest, false))
    return;
  refuse(
      fmt::format("{} readings in a row stand at {} ohm, the largest of the run: the instrument is "
                  "at the end of its range, or the contact is open. Cut the log there, or measure "
                  "with a larger range",
                  stand, print_number(largest, 4)));
}

/// Values that differ; rounded readings of two specimens that do not change may agree.
bool varies(const std::vector<Resistance>& impedance) {
  std::set<double> values;
  for (const Resistance& now : impedance) values.insert(now.value());
  return values.size() >= fewest_readings;
}

void require_different(const EnduranceRun& run) {
  for (std::size_t a = 0; a < run.specimens.size(); ++a)
    for (std::size_t b = a + 1; b < run.specimens.size(); ++b)
      if (run.specimens[a].impedance == run.specimens[b].impedance &&
          varies(run.specimens[a].impedance))
        refuse(fmt::format("specimens {} and {} read the same throughout: one log under two names?",
                           run.specimens[a].name, run.specimens[b].name));
}

}  // namespace

std::string specimens_in_words(std::size_t count) {
  return fmt::format("{} specimen{}", count, count == 1 ? "" : "s");
}

std::string hours_in_words(double seconds) {
  return print_number(seconds / seconds_in_hour, 4) + " h";
}

void require_plausible(const EnduranceRun& run) {
  if (run.specimens.empty()) refuse("the run has no specimen");
  for (const EnduranceSpecimen& specimen : run.specimens) {
    if (specimen.time.size() < fewest_readings)
      refuse(fmt::format("specimen {} has {} readings; a curve needs {} or more", specimen.name,
                         specimen.time.size(), fewest_readings));
    require_impedances(specimen);
    require_hours(specimen);
  }
  require_different(run);
  require_instrument_within_its_range(run);
  if (run.limit && !(run.limit->value() > 0.0)) refuse("the limit must be positive");
  if (run.service && !(run.service->value() > 0.0)) refuse("the service hours must be positive");
  if (!(run.confidence > 0.0 && run.confidence < 1.0))
    refuse("the confidence must lie between 0 and 1");
}

}  // namespace ohmdrag::rig
