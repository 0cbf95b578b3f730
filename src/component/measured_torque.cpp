#include "ohmdrag/component/measured_torque.hpp"

// Before Boost: pchip.hpp of Boost 1.74 calls isnan without std, which only the C header declares.
#include <math.h>

#include <algorithm>
#include <boost/math/interpolators/pchip.hpp>
#include <cmath>
#include <map>
#include <stdexcept>
#include <string>
#include <utility>

namespace ohmdrag::component {

namespace {

constexpr auto measured = "measured torque";

/// Torque over speed at one temperature.
class Curve {
 public:
  explicit Curve(std::vector<std::pair<double, double>> points) : points_(std::move(points)) {
    if (points_.size() < 2)
      throw std::invalid_argument("measured torque: a curve needs at least two speeds");
    std::sort(points_.begin(), points_.end());
    for (std::size_t i = 1; i < points_.size(); ++i)
      if (points_[i].first == points_[i - 1].first)
        throw std::invalid_argument("measured torque: one speed stands twice in a curve");
    if (points_.size() < least_for_cubic) return;
    std::vector<double> speeds;
    std::vector<double> torques;
    for (const auto& [speed, torque] : points_) {
      speeds.push_back(speed);
      torques.push_back(torque);
    }
    cubic_.emplace(std::move(speeds), std::move(torques));
  }

  double slowest_rad_s() const { return points_.front().first; }
  double fastest_rad_s() const { return points_.back().first; }

  /// Torque [N m]; beyond an end its value.
  double at(double speed_rad_s) const {
    const double x = std::clamp(speed_rad_s, slowest_rad_s(), fastest_rad_s());
    if (cubic_) return (*cubic_)(x);
    std::size_t right = 1;
    while (right + 1 < points_.size() && points_[right].first < x) ++right;
    const auto& [x0, y0] = points_[right - 1];
    const auto& [x1, y1] = points_[right];
    return std::lerp(y0, y1, (x - x0) / (x1 - x0));
  }

 private:
  static constexpr std::size_t least_for_cubic = 4;
  std::vector<std::pair<double, double>> points_;  // speed [rad/s], torque [N m]
  std::optional<boost::math::interpolators::pchip<std::vector<double>>> cubic_;
};

bool valid(double x) { return x >= 0.0 && std::isfinite(x); }

double per_minute(double speed_rad_s) { return in_rpm(AngularVelocity::from_value(speed_rad_s)); }
double celsius(double temperature_K) { return in_celsius(Temperature::from_value(temperature_K)); }

}  // namespace

struct MeasuredTorque::Table {
  bool over_temperature;
  BeyondTable beyond;
  std::vector<double> temperature_K;  // rising; a single 0 without temperatures
  std::vector<Curve> curves;          // one a temperature
};

MeasuredTorque::MeasuredTorque(std::span<const MeasuredTorqueRow> rows, BeyondTable beyond) {
  if (rows.empty()) throw std::invalid_argument("measured torque: no rows");
  const bool over_temperature = rows.front().temperature.has_value();
  std::map<double, std::vector<std::pair<double, double>>> by_temperature;
  for (const MeasuredTorqueRow& row : rows) {
    if (row.temperature.has_value() != over_temperature)
      throw std::invalid_argument("measured torque: give every row a temperature, or none");
    const double temperature_K = over_temperature ? row.temperature->value() : 0.0;
    if (!(valid(row.speed.value()) && valid(row.torque.value()) && valid(temperature_K)))
      throw std::invalid_argument(
          "measured torque: speed, torque and temperature must be finite and not negative");
    by_temperature[temperature_K].emplace_back(row.speed.value(), row.torque.value());
  }
  auto table = std::make_shared<Table>(Table{over_temperature, beyond, {}, {}});
  for (auto& [temperature_K, points] : by_temperature) {
    table->temperature_K.push_back(temperature_K);
    table->curves.emplace_back(std::move(points));
  }
  table_ = std::move(table);
}

bool MeasuredTorque::over_temperature() const { return table_->over_temperature; }

MeasuredDrag MeasuredTorque::drag(AngularVelocity speed, Temperature temperature) const {
  const Table& table = *table_;
  const double speed_rad_s = std::abs(speed.value());
  const double coldest_K = table.temperature_K.front();
  const double hottest_K = table.temperature_K.back();
  const double wanted_K = table.over_temperature ? temperature.value() : coldest_K;
  if (!(std::isfinite(speed_rad_s) && std::isfinite(wanted_K)))
    throw std::invalid_argument("measured torque: speed and temperature must be finite");
  const double used_K = std::clamp(wanted_K, coldest_K, hottest_K);

  // The curves beside the temperature; the same one twice at a measured temperature.
  const auto above =
      std::lower_bound(table.temperature_K.begin(), table.temperature_K.end(), used_K);
  const auto high = static_cast<std::size_t>(above - table.temperature_K.begin());
  const std::size_t low = *above == used_K ? high : high - 1;
  const Curve& cold = table.curves[low];
  const Curve& hot = table.curves[high];

  MeasuredDrag drag;
  if (speed_rad_s > 0.0) {
    const double slowest_rad_s = std::max(cold.slowest_rad_s(), hot.slowest_rad_s());
    const double fastest_rad_s = std::min(cold.fastest_rad_s(), hot.fastest_rad_s());
    // Compared in the unit of the rows: a row at the end of the table must not fall outside by
    // the rounding of another unit.
    if (!(speed_rad_s >= slowest_rad_s && speed_rad_s <= fastest_rad_s))
      drag.flags.push_back({measured, "speed, 1/min", per_minute(speed_rad_s),
                            per_minute(slowest_rad_s), per_minute(fastest_rad_s)});
    if (used_K != wanted_K)
      drag.flags.push_back({measured, "temperature, degC", celsius(wanted_K), celsius(coldest_K),
                            celsius(hottest_K)});
    if (table.beyond == BeyondTable::refuse && !drag.flags.empty())
      throw std::domain_error("measured torque: " + std::string(drag.flags.front().quantity) +
                              " outside the measured range");
  }

  const double at_cold_Nm = cold.at(speed_rad_s);
  const double torque_Nm =
      low == high ? at_cold_Nm
                  : std::lerp(at_cold_Nm, hot.at(speed_rad_s),
                              (used_K - table.temperature_K[low]) /
                                  (table.temperature_K[high] - table.temperature_K[low]));
  drag.torque = Torque::from_value(speed.value() < 0.0 ? -torque_Nm : torque_Nm);
  drag.power = drag.torque * speed;
  return drag;
}

}  // namespace ohmdrag::component
