#include "rig/friction_tare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace ohmdrag::rig {

namespace {

/// Readings this close in speed are repeats, and a speed so far outside is still that of the end.
constexpr double same_speed = 0.02, same_speed_rpm = 2.0;

double reach_of(double speed_rad_s) {
  return same_speed * speed_rad_s + from_rpm(same_speed_rpm).value();
}

struct Knot {
  double speed_sum = 0.0, torque_sum = 0.0, squares = 0.0, error_squares = 0.0;
  std::size_t count = 0;
  bool errors_known = true;

  double speed() const { return speed_sum / static_cast<double>(count); }
  double torque() const { return torque_sum / static_cast<double>(count); }
  double deviations() const { return std::max(0.0, squares - torque() * torque_sum); }
};

std::vector<Knot> knots_of(std::vector<TareReading> readings) {
  std::ranges::sort(readings, {}, [](const TareReading& r) { return std::abs(r.speed.value()); });
  std::vector<Knot> knots;
  double first = 0.0;
  for (const TareReading& reading : readings) {
    const double speed = std::abs(reading.speed.value());
    const double torque = std::copysign(1.0, reading.speed.value()) * reading.torque.value();
    if (!std::isfinite(speed) || !std::isfinite(torque))
      throw std::invalid_argument("the tare holds a value that is no number");
    if (knots.empty() || speed > first + reach_of(first)) {
      knots.emplace_back();
      first = speed;
    }
    Knot& knot = knots.back();
    knot.speed_sum += speed;
    knot.torque_sum += torque;
    knot.squares += torque * torque;
    ++knot.count;
    if (reading.standard_error)
      knot.error_squares += std::pow(reading.standard_error->value(), 2);
    else
      knot.errors_known = false;
  }
  return knots;
}

/// Of one reading, from what three neighbours are off a straight line. Source: T. Gasser, L. Sroka,
/// C. Jennen-Steinmetz, Biometrika 73 (1986) 625-633 (from memory).
double variance_from_neighbours(const std::vector<Knot>& knots) {
  double sum = 0.0;
  for (std::size_t i = 1; i + 1 < knots.size(); ++i) {
    const double span = knots[i + 1].speed() - knots[i - 1].speed();
    const double a = (knots[i + 1].speed() - knots[i].speed()) / span, b = 1.0 - a;
    const double off = a * knots[i - 1].torque() + b * knots[i + 1].torque() - knots[i].torque();
    sum += off * off / (a * a + b * b + 1.0);
  }
  return sum / static_cast<double>(knots.size() - 2);
}

}  // namespace

TareCurve::TareCurve(const Tare& tare, std::vector<std::string>& notes) {
  if (const auto* stated = std::get_if<StatedTare>(&tare)) {
    everywhere_ = true;
    torque_Nm_ = {stated->torque.value()};
    errors_Nm_ = {stated->standard_error.value()};
  } else if (const auto* readings = std::get_if<std::vector<TareReading>>(&tare)) {
    take_readings(*readings, notes);
  } else {
    everywhere_ = true;
    notes.emplace_back(
        "No tare was taken off: bearings and couplings of the rig count as friction of the "
        "specimen. Run it once without the specimen, over the same speeds.");
  }
}

void TareCurve::take_readings(const std::vector<TareReading>& readings,
                              std::vector<std::string>& notes) {
  if (readings.empty()) throw std::invalid_argument("the tare has no reading");
  const std::vector<Knot> knots = knots_of(readings);
  double deviations = 0.0;
  std::size_t repeats = 0;
  bool errors_known = true;
  for (const Knot& knot : knots) {
    speed_rad_s_.push_back(knot.speed());
    torque_Nm_.push_back(knot.torque());
    deviations += knot.deviations();
    repeats += knot.count - 1;
    errors_known = errors_known && knot.errors_known;
  }
  double variance = 0.0;
  if (repeats > 0)
    variance = deviations / static_cast<double>(repeats);
  else if (!errors_known && knots.size() > 2)
    variance = variance_from_neighbours(knots);
  else if (!errors_known)
    notes.emplace_back(
        "Nobody knows how well the tare repeats: it was read once. Read it twice or more.");
  for (const Knot& knot : knots) {
    const auto n = static_cast<double>(knot.count);
    const double own = errors_known ? knot.error_squares / (n * n) : 0.0;
    errors_Nm_.push_back(std::sqrt(std::max(own, variance / n)));
  }
}

std::optional<TareCurve::At> TareCurve::at(double speed_rad_s) const {
  if (everywhere_) {
    if (torque_Nm_.empty()) return At{};
    return At{torque_Nm_.front(), {{0, 1.0}}};
  }
  const double least = speed_rad_s_.front(), highest = speed_rad_s_.back();
  if (speed_rad_s < least - reach_of(least) || speed_rad_s > highest + reach_of(highest))
    return std::nullopt;
  const auto above = std::ranges::lower_bound(speed_rad_s_, speed_rad_s);
  if (above == speed_rad_s_.begin()) return At{torque_Nm_.front(), {{0, 1.0}}};
  if (above == speed_rad_s_.end()) return At{torque_Nm_.back(), {{torque_Nm_.size() - 1, 1.0}}};
  const auto i = static_cast<std::size_t>(above - speed_rad_s_.begin());
  const double share =
      (speed_rad_s - speed_rad_s_[i - 1]) / (speed_rad_s_[i] - speed_rad_s_[i - 1]);
  return At{std::lerp(torque_Nm_[i - 1], torque_Nm_[i], share), {{i - 1, 1.0 - share}, {i, share}}};
}

}  // namespace ohmdrag::rig
