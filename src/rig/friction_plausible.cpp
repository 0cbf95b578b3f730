#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/rig/friction_fit.hpp"
#include "rig/friction_problem.hpp"

namespace ohmdrag::rig {

namespace {

/// No pair of a shaft rubs less or more; common practice, no source.
constexpr double least_friction = 0.003, highest_friction = 5.0;
/// A transducer stands at its end where its highest reading comes so often, over so many speeds and
/// so much oftener than any other.
constexpr std::size_t stands_in_row = 3;
constexpr double stands_share = 0.15, oftener_than_others = 3.0;
/// Share of readings below zero from which the sign, not noise, is wrong.
constexpr double most_negative = 0.2;
constexpr double power_agrees = 0.03, power_refused = 0.2;

[[noreturn]] void refuse(const std::string& why) { throw std::invalid_argument(why); }

double middle_of(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

void require_range_of_transducer(const FrictionRun& run) {
  std::map<double, std::size_t> readings;
  for (const FrictionPoint& point : run.points) ++readings[std::abs(point.torque.value())];
  if (readings.size() == 1) return;  // said in the remarks
  const auto [highest, times] = *readings.rbegin();
  std::size_t others = 1;
  for (const auto& [torque, count] : readings)
    if (torque < highest) others = std::max(others, count);
  std::map<double, int> speeds;
  for (const FrictionPoint& point : run.points)
    if (std::abs(point.torque.value()) == highest) ++speeds[std::round(in_rpm(point.speed))];
  if (times < stands_in_row || speeds.size() < stands_in_row ||
      static_cast<double>(times) < stands_share * static_cast<double>(run.points.size()) ||
      static_cast<double>(times) < oftener_than_others * static_cast<double>(others))
    return;
  refuse(
      fmt::format("the torque reads {} N*m, its highest value, {} times and at {} speeds: the "
                  "transducer seems to stand at its end. Take a larger one, or leave these out",
                  print_number(highest, 4), times, speeds.size()));
}

void require_times(const FrictionRun& run) {
  for (std::size_t i = 1; i < run.points.size(); ++i) {
    const FrictionPoint &before = run.points[i - 1], &now = run.points[i];
    if (before.time && now.time && before.specimen == now.specimen && *now.time < *before.time)
      refuse(fmt::format("time runs back from {} s to {} s at reading {}",
                         print_number(before.time->value(), 6), print_number(now.time->value(), 6),
                         i + 1));
  }
}

}  // namespace

void require_plausible(const FrictionRun& run) {
  if (!(run.diameter.value() > 0.0 && run.line_force.value() > 0.0))
    refuse("diameter and line force of the specimen must be positive");
  if (run.elements != 1 && run.elements != 2)
    refuse("one element or two can turn on a shaft at once");
  if (run.points.size() < fewest_friction_points)
    refuse(fmt::format("the run has {} settled readings; {} or more make a fit", run.points.size(),
                       fewest_friction_points));
  for (std::size_t i = 0; i < run.points.size(); ++i)
    if (!std::isfinite(run.points[i].speed.value()) || !std::isfinite(run.points[i].torque.value()))
      refuse(fmt::format("reading {} holds a value that is no number", i + 1));
  require_times(run);
  require_range_of_transducer(run);
}

void require_plausible_friction(const FrictionRun& run, const std::vector<double>& friction) {
  const auto negative = std::ranges::count_if(friction, [](double value) { return value < 0.0; });
  if (static_cast<double>(negative) > most_negative * static_cast<double>(friction.size()))
    refuse(fmt::format(
        "the torque drives the shaft at {} of {} readings{}: is its sign turned round, {}",
        negative, friction.size(),
        std::holds_alternative<std::monostate>(run.tare) ? "" : " after the tare",
        std::holds_alternative<std::monostate>(run.tare) ? "its zero off?"
                                                         : "is the tare that of another rig?"));
  const double middle = middle_of(friction);
  if (!(middle >= least_friction && middle <= highest_friction))
    refuse(fmt::format(
        "torque, force and diameter come to a friction coefficient of {} in the middle; expected "
        "{} to {}: are the units right, the columns swapped, the force that of a length?",
        print_number(middle, 2), least_friction, highest_friction));
}

std::string power_against_torque(const std::vector<AngularVelocity>& speed,
                                 const std::vector<Torque>& torque,
                                 const std::vector<Power>& power) {
  std::vector<double> ratios;
  for (std::size_t i = 0; i < std::min({speed.size(), torque.size(), power.size()}); ++i)
    if (const double from_torque = speed[i].value() * torque[i].value(); from_torque != 0.0)
      ratios.push_back(power[i].value() / from_torque);
  if (ratios.empty()) return {};
  const double ratio = middle_of(std::move(ratios));
  if (std::abs(ratio - 1.0) <= power_agrees) return {};
  const std::string apart =
      fmt::format("the logged power is {} times torque times speed", print_number(ratio, 3));
  if (!(std::abs(ratio - 1.0) < power_refused))
    refuse(apart + ": is a unit wrong, does one of them hold the motor or the tare as well?");
  return "Power and torque disagree: " + apart + ". The torque was taken.";
}

}  // namespace ohmdrag::rig
