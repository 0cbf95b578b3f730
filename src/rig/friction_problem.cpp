#include "rig/friction_problem.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::rig {

namespace {

constexpr double at_rest_rpm = 1.0;
/// Rubbing contacts repeat no better from one window to the next, however well each mean is known;
/// common practice, no source.
constexpr double least_repeat = 0.01;
/// Speeds closer than this are one.
constexpr double same_speed = 0.03;
/// A course of speeds that turns back oftener, over the readings, is no sweep.
constexpr double most_turns = 0.25;
constexpr std::size_t fewest_in_sweep = 3;
constexpr double coldest_degC = -60.0, hottest_degC = 300.0;

double viscosity_Pa_s(const FrictionRun& run, const FrictionPoint& point, double torque_Nm) {
  if (!run.oil || !point.temperature) return 0.0;
  double kelvin = point.temperature->value();
  if (run.contact_rise)
    kelvin += run.contact_rise->value() * torque_Nm * std::abs(point.speed.value());
  const double celsius = kelvin - kelvin_at_zero_celsius;
  if (!(celsius >= coldest_degC && celsius <= hottest_degC))
    throw std::invalid_argument(fmt::format(
        "a temperature of {:.1f} degC comes out at a contact; expected {} to {}: is the unit "
        "right, is it another column, is contact_rise too large?",
        celsius, coldest_degC, hottest_degC));
  return material::dynamic_viscosity(*run.oil, Temperature::from_value(kelvin)).value();
}

std::pair<std::string, std::string> halves(const std::string& label) {
  const std::size_t plus = label.find('+');
  if (plus == std::string::npos || plus == 0 || plus + 1 == label.size()) return {};
  return {label.substr(0, plus), label.substr(plus + 1)};
}

std::size_t index_in(const std::vector<std::string>& names, const std::string& name) {
  return static_cast<std::size_t>(std::ranges::find(names, name) - names.begin());
}

/// Whether the sums of the pairs tell each of their halves: where the pairings run in circles of an
/// even count, what is added to every second one cancels.
bool pairs_tell(const std::vector<std::string>& labels, const std::vector<std::string>& singles) {
  std::vector<int> side(singles.size(), 0);
  std::vector<bool> told(singles.size(), false);
  for (std::size_t seed = 0; seed < singles.size(); ++seed) {
    if (side[seed] != 0) continue;
    side[seed] = 1;
    std::vector<std::size_t> together{seed};
    bool odd = false;
    for (std::size_t k = 0; k < together.size(); ++k)
      for (const std::string& label : labels) {
        const auto [first, second] = halves(label);
        const std::size_t i = index_in(singles, first), j = index_in(singles, second);
        if (i != together[k] && j != together[k]) continue;
        const std::size_t other = i == together[k] ? j : i;
        odd = odd || side[other] == side[together[k]];
        if (side[other] != 0) continue;
        side[other] = -side[together[k]];
        together.push_back(other);
      }
    for (const std::size_t i : together) told[i] = odd;
  }
  return std::ranges::all_of(told, [](bool one) { return one; });
}

}  // namespace

FrictionProblem::FrictionProblem(const FrictionRun& run, std::vector<std::string>& notes) {
  require_plausible(run);
  take_points(run, notes);
  take_specimens(run, notes);
  find_sweeps(run);
  weigh(run);
}

void FrictionProblem::take_points(const FrictionRun& run, std::vector<std::string>& notes) {
  const TareCurve tare(run.tare, notes);
  tare_errors_Nm_ = tare.errors_Nm();
  const double d = run.diameter.value();
  std::size_t resting = 0;
  std::vector<double> friction;
  for (std::size_t i = 0; i < run.points.size(); ++i) {
    const FrictionPoint& point = run.points[i];
    if (std::abs(in_rpm(point.speed)) < at_rest_rpm) {
      ++resting;
      continue;
    }
    const double turning = std::abs(point.speed.value());
    const auto off = tare.at(turning);
    if (!off) {
      ++outside_tare_;
      continue;
    }
    FrictionDatum datum;
    datum.point = i;
    datum.torque_Nm =
        (std::copysign(1.0, point.speed.value()) * point.torque.value() - off->torque_Nm) /
        run.elements;
    datum.state = {turning * 0.5 * d, run.line_force.value(),
                   viscosity_Pa_s(run, point, datum.torque_Nm)};
    datum.unit_torque_Nm = run.line_force.value() * std::numbers::pi * d * 0.5 * d;
    datum.time_s = point.time ? point.time->value() : 0.0;
    datum.tare_knots = off->knots;
    for (auto& [knot, share] : datum.tare_knots) share /= run.elements;
    friction.push_back(datum.torque_Nm / datum.unit_torque_Nm);
    data_.push_back(std::move(datum));
  }
  if (resting > 0) notes.push_back(fmt::format("{} readings at rest were left out.", resting));
  if (outside_tare_ > 0)
    notes.push_back(fmt::format("{} readings were left out: the tare was not run at their speed.",
                                outside_tare_));
  if (data_.size() < 3)
    throw std::invalid_argument(
        fmt::format("{} readings are left after the tare and without those at rest", data_.size()));
  require_plausible_friction(run, friction);
}

void FrictionProblem::take_specimens(const FrictionRun& run, std::vector<std::string>& notes) {
  std::set<std::string> labels;
  for (const FrictionDatum& datum : data_) labels.insert(run.points[datum.point].specimen);
  std::vector<std::string> names(labels.begin(), labels.end());
  std::set<std::string> singles;
  bool pairs = run.elements == 2;
  for (const std::string& label : names) {
    const auto [first, second] = halves(label);
    pairs = pairs && !first.empty();
    singles.insert({first, second});
  }
  const std::vector<std::string> parts(singles.begin(), singles.end());
  resolved_pairs_ = pairs && pairs_tell(names, parts);
  specimens_ = resolved_pairs_ ? parts : names;
  for (FrictionDatum& datum : data_) {
    const std::string& label = run.points[datum.point].specimen;
    if (!resolved_pairs_) {
      datum.levels = {{index_in(specimens_, label), 1.0}};
      continue;
    }
    const auto [first, second] = halves(label);
    datum.levels = {{index_in(specimens_, first), 0.5}, {index_in(specimens_, second), 0.5}};
  }
  if (run.elements == 2 && !resolved_pairs_)
    notes.emplace_back(
        "Two elements share the torque: their mean is told, the share of each is not. Three "
        "specimens in three pairings (A+B, A+C, B+C) tell each.");
}

void FrictionProblem::find_sweeps(const FrictionRun& run) {
  bool stated = false;
  for (FrictionDatum& datum : data_) {
    const Sweep sweep = run.points[datum.point].sweep;
    stated = stated || sweep != Sweep::unknown;
    datum.sweep = sweep == Sweep::up ? 0.5 : sweep == Sweep::down ? -0.5 : 0.0;
  }
  if (stated) return;
  std::vector<double> found(data_.size(), 0.0);
  std::size_t turns = 0;
  for (std::size_t i = 1; i < data_.size(); ++i) {
    const bool other =
        run.points[data_[i].point].specimen != run.points[data_[i - 1].point].specimen;
    const double before = data_[i - 1].state.speed_m_s, now = data_[i].state.speed_m_s;
    const bool same = std::abs(now - before) <= same_speed * std::max(now, before);
    found[i] = other ? 0.0 : same ? found[i - 1] : now > before ? 0.5 : -0.5;
    if (found[i] * found[i - 1] < 0.0) ++turns;
  }
  for (std::size_t i = found.size(); i-- > 1;)
    if (found[i - 1] == 0.0 && data_[i - 1].levels == data_[i].levels) found[i - 1] = found[i];
  if (static_cast<double>(turns) > most_turns * static_cast<double>(data_.size())) return;
  for (std::size_t i = 0; i < data_.size(); ++i) data_[i].sweep = found[i];
}

void FrictionProblem::weigh(const FrictionRun& run) {
  std::vector<double> errors;
  double mean = 0.0;
  for (const FrictionDatum& datum : data_) {
    mean += std::abs(datum.torque_Nm) / static_cast<double>(data_.size());
    if (const auto& error = run.points[datum.point].standard_error)
      errors.push_back(error->value() / run.elements);
  }
  std::ranges::sort(errors);
  for (FrictionDatum& datum : data_) {
    const auto& error = run.points[datum.point].standard_error;
    datum.error_Nm = mean;
    if (!errors.empty())
      datum.error_Nm = std::hypot(error ? error->value() / run.elements : errors[errors.size() / 2],
                                  least_repeat * std::abs(datum.torque_Nm));
  }
}

bool FrictionProblem::two_sweeps() const {
  const auto count = [&](double sweep) {
    return static_cast<std::size_t>(std::ranges::count(data_, sweep, &FrictionDatum::sweep));
  };
  const std::size_t fewest =
      std::max(fewest_in_sweep, data_.size() / 4);  // a jump back is no sweep
  return count(0.5) >= fewest && count(-0.5) >= fewest;
}

std::size_t FrictionProblem::distinct_speeds() const {
  std::vector<double> speeds;
  for (const FrictionDatum& datum : data_) speeds.push_back(datum.state.speed_m_s);
  std::ranges::sort(speeds);
  std::size_t distinct = 0;
  double last = 0.0;
  for (const double speed : speeds)
    if (distinct == 0 || speed > (1.0 + same_speed) * last) {
      ++distinct;
      last = speed;
    }
  return distinct;
}

double FrictionProblem::mean_friction() const {
  double sum = 0.0;
  for (const FrictionDatum& datum : data_) sum += datum.torque_Nm / datum.unit_torque_Nm;
  return sum / static_cast<double>(data_.size());
}

FrictionProblem FrictionProblem::with_force(double factor) const {
  FrictionProblem other = *this;
  for (FrictionDatum& datum : other.data_) {
    datum.state.line_force_N_m *= factor;
    datum.unit_torque_Nm *= factor;
  }
  return other;
}

FrictionProblem FrictionProblem::with_torque(double factor) const {
  FrictionProblem other = *this;
  for (FrictionDatum& datum : other.data_) datum.torque_Nm *= factor;
  return other;
}

FrictionProblem FrictionProblem::with_tare(std::size_t knot, double by_Nm) const {
  FrictionProblem other = *this;
  for (FrictionDatum& datum : other.data_)
    for (const auto& [of, share] : datum.tare_knots)
      if (of == knot) datum.torque_Nm -= share * by_Nm;
  return other;
}

FrictionProblem FrictionProblem::without(const std::vector<std::size_t>& data) const {
  FrictionProblem other = *this;
  for (auto i = data.rbegin(); i != data.rend(); ++i)
    other.data_.erase(other.data_.begin() + static_cast<std::ptrdiff_t>(*i));
  return other;
}

FrictionProblem FrictionProblem::from(double time_s) const {
  FrictionProblem other = *this;
  std::erase_if(other.data_,
                [time_s](const FrictionDatum& datum) { return datum.time_s < time_s; });
  return other;
}

}  // namespace ohmdrag::rig
