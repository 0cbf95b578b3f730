#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <numbers>
#include <utility>

#include "study/trips.hpp"

namespace ohmdrag::study {
namespace {

/// A logged column at times that only rise.
template <class Q>
class Column {
 public:
  Column(const std::vector<Time>& time, const std::vector<Q>& value) : time_(time), value_(value) {}

  bool there() const { return !value_.empty(); }

  /// Linear between the samples, as the speed.
  Q at(Time t) {
    while (next_ + 1 < time_.size() && time_[next_] < t) ++next_;
    const double share = (t - time_[next_ - 1]) / (time_[next_] - time_[next_ - 1]);
    return value_[next_ - 1] + share * (value_[next_] - value_[next_ - 1]);
  }

 private:
  const std::vector<Time>& time_;
  const std::vector<Q>& value_;
  std::size_t next_ = 1;
};

/// Turns of every shaft in a turn of the given one.
std::vector<double> turns_per_turn(const WorldModel& model, std::size_t given,
                                   const energy::Stretch& stretch) {
  std::vector<double> result;
  for (std::size_t s = 0; s < model.ratio.size(); ++s)
    result.push_back(stretch.speed[given] == AngularVelocity{}
                         ? model.ratio[s] / model.ratio[given]  // a box stands in its first gear
                         : (stretch.speed[s] / stretch.speed[given]).value());
  return result;
}

/// Air at the dry sides where a log names the ambient.
std::vector<Temperature> dry_in(const WorldModel& model, Temperature ambient) {
  std::vector<Temperature> dry = model.dry;
  for (std::size_t s = 0; s < dry.size(); ++s)
    if (!model.world->shafts[s].dry_side_temperature) dry[s] = ambient;
  return dry;
}

/// Puts what a piece holds beside the road speed into the stretches made of it. None of them
/// reaches over a sample, so the mean of a column over a stretch is its value in the middle.
void lay_over(const WorldModel& model, const Duty& duty, const duty::TripPiece& piece,
              std::vector<energy::Stretch>& stretches) {
  Column shaft_speed(piece.time, piece.shaft_speed);
  Column torque(piece.time, piece.torque);
  Column oil(piece.time, piece.sump_temperature);
  Column ambient(piece.time, piece.ambient_temperature);
  const bool of_shaft = shaft_speed.there() || torque.there();
  const std::size_t given = of_shaft ? model.shaft_index(duty.shaft) : 0;
  Time begin = piece.time.front();
  for (energy::Stretch& stretch : stretches) {
    const Time middle = begin + 0.5 * stretch.dt;
    begin += stretch.dt;
    if (oil.there()) stretch.oil = oil.at(middle);
    if (ambient.there()) {
      stretch.ambient = ambient.at(middle);
      stretch.dry = dry_in(model, *stretch.ambient);
    }
    if (!of_shaft) continue;
    const std::vector<double> turns = turns_per_turn(model, given, stretch);
    const auto speed = shaft_speed.there() ? shaft_speed.at(middle) : stretch.speed[given];
    const auto drive_torque = torque.there() ? torque.at(middle) : stretch.torque[given];
    for (std::size_t s = 0; s < turns.size(); ++s) {
      stretch.speed[s] = speed * turns[s];
      if (torque.there()) stretch.torque[s] = drive_torque / turns[s];
    }
    if (stretch.drive == duty::Drive::standstill && speed != AngularVelocity{})
      stretch.drive = duty::Drive::traction;
  }
}

/// Turns of the shaft in a turn of the wheel over a whole trip; none without way.
std::optional<double> measured_ratio(const Vehicle& vehicle, const duty::Trip& trip) {
  double turns = 0.0;
  for (const duty::TripPiece& piece : trip.pieces)
    for (std::size_t i = 1; i < piece.time.size(); ++i)
      turns += 0.5 * (piece.shaft_speed[i - 1] + piece.shaft_speed[i]).value() *
               (piece.time[i] - piece.time[i - 1]).value() / (2.0 * std::numbers::pi);
  if (!(trip.report.distance > Length{})) return std::nullopt;
  return turns / (trip.report.distance / vehicle.rolling_circumference).value();
}

std::string ratio_in_words(const Shaft& shaft) {
  if (shaft.higher_gears.empty()) return fmt::format("{:.4g}", shaft.ratio.mid());
  return fmt::format("{:.4g} to {:.4g}", shaft.ratio.mid(), shaft.higher_gears.back().ratio.mid());
}

/// "21.5 to 63 degC".
std::string range_in_words(const duty::Trip& trip,
                           std::vector<Temperature> duty::TripPiece::*column) {
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (const duty::TripPiece& piece : trip.pieces)
    for (const Temperature& t : piece.*column) {
      low = std::min(low, in_celsius(t));
      high = std::max(high, in_celsius(t));
    }
  return fmt::format("{:.3g} to {:.3g} °C", low, high);
}

}  // namespace

void for_each_trip(const Duty& duty, const std::function<void(const duty::Trip&)>& use) {
  for (const TripFile& file : duty.trips) {
    std::optional<duty::Trip> trip;
    try {
      trip = file.read();
    } catch (const duty::TripError&) {
      continue;  // march_trips says why
    }
    use(*trip);
  }
}

DutyModel trip_model(const WorldModel& model, const Duty& duty, const duty::Trip& trip,
                     const Draw& draw) {
  DutyModel whole;
  Duty driven;
  driven.id = duty.id;
  driven.start_temperature = duty.start_temperature;
  driven.oil_temperature = duty.oil_temperature;
  for (const duty::TripPiece& piece : trip.pieces) {
    driven.cycles = {duty::cycle_of(piece, duty.id)};
    DutyModel part = duty_model(model, driven, draw);
    lay_over(model, duty, piece, part.stretches);
    if (!piece.shaft_speed.empty() || !piece.torque.empty())
      part.fatigue = fatigue_of(model, part.stretches, draw);
    if (whole.stretches.empty()) {
      whole = std::move(part);
      continue;
    }
    std::ranges::move(part.steps, std::back_inserter(whole.steps));
    std::ranges::move(part.stretches, std::back_inserter(whole.stretches));
    for (std::size_t b = 0; b < whole.fatigue.size(); ++b) whole.fatigue[b] += part.fatigue[b];
  }
  return whole;
}

std::string measured_in_words(const Case& world, const Duty& duty, const duty::Trip& trip) {
  const duty::TripPiece& any = trip.pieces.front();
  std::vector<std::string> list;
  if (!any.shaft_speed.empty()) {
    const auto shaft = std::ranges::find(world.shafts, duty.shaft, &Shaft::id);
    const auto ratio = measured_ratio(*world.vehicle, trip);
    list.push_back(
        fmt::format("the speed of shaft {}{}", duty.shaft,
                    ratio ? fmt::format(" ({:.4g} turns in a turn of the wheel; the case says {})",
                                        *ratio, ratio_in_words(*shaft))
                          : ""));
  }
  if (!any.torque.empty())
    list.push_back(
        fmt::format("the torque of shaft {} for the loads of bearings and gears, while "
                    "traction and consumption are those of the road load",
                    duty.shaft));
  if (!any.sump_temperature.empty())
    list.push_back(fmt::format("the oil, held to the log: {}",
                               range_in_words(trip, &duty::TripPiece::sump_temperature)));
  if (!any.ambient_temperature.empty())
    list.push_back(fmt::format("the ambient: {}",
                               range_in_words(trip, &duty::TripPiece::ambient_temperature)));
  if (list.empty()) return {};
  return fmt::format(" Measured, in place of the case: {}.", fmt::join(list, "; "));
}

}  // namespace ohmdrag::study
