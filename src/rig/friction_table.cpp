#include "rig/friction_table.hpp"

#include <fmt/format.h>

#include <cmath>
#include <stdexcept>

#include "ohmdrag/rig/steady_windows.hpp"

namespace ohmdrag::rig {

namespace {

Sweep sweep_of(const std::string& word) {
  if (word == "up") return Sweep::up;
  if (word == "down") return Sweep::down;
  if (word.empty()) return Sweep::unknown;
  throw std::invalid_argument(
      fmt::format("the column of sweeps holds \"{}\"; expected up, down or nothing", word));
}

std::vector<Torque> torques_of(const FrictionTable& table) {
  if (!table.torque.empty()) return table.torque;
  std::vector<Torque> torque;
  for (std::size_t i = 0; i < table.power.size(); ++i)
    torque.push_back(table.speed[i].value() == 0.0 ? Torque{} : table.power[i] / table.speed[i]);
  return torque;
}

std::string label_at(const FrictionTable& table, std::size_t row) {
  return table.specimen.empty() ? std::string() : table.specimen[row];
}

void add_windows(const FrictionTable& table, const std::vector<Torque>& torque, std::size_t from,
                 std::size_t to, SteadyWindows& sum, std::vector<FrictionPoint>& points) {
  TorqueLog log;
  const auto part = [&](const auto& column) {
    using Column = std::decay_t<decltype(column)>;
    if (column.empty()) return Column{};
    return Column(column.begin() + static_cast<std::ptrdiff_t>(from),
                  column.begin() + static_cast<std::ptrdiff_t>(to));
  };
  log.time = part(table.time);
  log.speed = part(table.speed);
  log.torque = part(torque);
  log.temperature = part(table.temperature);
  const SteadyWindows found = steady_windows(log);
  sum.at_rest += found.at_rest;
  sum.between += found.between;
  sum.settling += found.settling;
  sum.drifting += found.drifting;
  for (const SteadyWindow& window : found.windows) {
    FrictionPoint point;
    point.speed = window.speed;
    point.torque = window.torque;
    point.standard_error = window.standard_error;
    point.temperature = window.temperature;
    point.time = window.middle;
    point.specimen = label_at(table, from);
    points.push_back(std::move(point));
    sum.windows.push_back(window);
  }
}

ReadPoints from_samples(const FrictionTable& table, const std::string& name) {
  ReadPoints out;
  SteadyWindows sum;
  const std::vector<Torque> torque = torques_of(table);
  for (std::size_t from = 0; from < table.speed.size();) {
    std::size_t to = from + 1;
    while (to < table.speed.size() && label_at(table, to) == label_at(table, from)) ++to;
    add_windows(table, torque, from, to, sum, out.points);
    from = to;
  }
  out.conditions.push_back(fmt::format(
      "{}: {} steady windows; of {} samples {} at rest, {} between speeds, {} settling and {} "
      "drifting were left out.",
      name, sum.windows.size(), table.speed.size(), sum.at_rest, sum.between, sum.settling,
      sum.drifting));
  if (out.points.empty())
    throw std::invalid_argument(
        fmt::format("{}: nothing in it is steady: dwell at each speed until the torque stands, for "
                    "{} samples or more",
                    name, 2 * fewest_in_window));
  if (sum.drifting > table.speed.size() / 4)
    out.warnings.push_back(fmt::format(
        "{}: the torque drifts in much of the log ({} of {} samples): dwell longer, until "
        "temperatures stand.",
        name, sum.drifting, table.speed.size()));
  return out;
}

ReadPoints from_rows(const FrictionTable& table) {
  ReadPoints out;
  const std::vector<Torque> torque = torques_of(table);
  for (std::size_t i = 0; i < table.speed.size(); ++i) {
    FrictionPoint point;
    point.speed = table.speed[i];
    point.torque = torque[i];
    if (!table.temperature.empty()) point.temperature = table.temperature[i];
    if (!table.time.empty()) point.time = table.time[i];
    point.specimen = label_at(table, i);
    if (!table.sweep.empty()) point.sweep = sweep_of(table.sweep[i]);
    out.points.push_back(std::move(point));
  }
  return out;
}

}  // namespace

ReadPoints points_of(const FrictionTable& table, const std::string& name) {
  ReadPoints out = table.samples ? from_samples(table, name) : from_rows(table);
  if (!table.torque.empty() && !table.power.empty()) {
    std::string remark = power_against_torque(table.speed, table.torque, table.power);
    if (!remark.empty()) out.warnings.push_back(std::move(remark));
  }
  return out;
}

}  // namespace ohmdrag::rig
