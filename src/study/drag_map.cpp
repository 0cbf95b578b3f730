#include "ohmdrag/study/drag_map.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

/// Speeds between standstill and the fastest operating point.
constexpr int speed_steps = 10;
constexpr double temperature_step_K = 10.0;

/// The nodes on both axes, and the transmitted torque over speed.
struct Grid {
  std::map<double, double> torque_at;  ///< N m over rad/s, of the operating points
  std::vector<double> speed_rad_s;
  std::vector<double> oil_K;
  std::vector<std::string> remarks;

  double torque_Nm(double speed) const {
    const auto above = torque_at.lower_bound(speed);
    if (above == torque_at.end()) return torque_at.rbegin()->second;
    if (above->first == speed || above == torque_at.begin()) return above->second;
    const auto below = std::prev(above);
    const double share = (speed - below->first) / (above->first - below->first);
    return std::lerp(below->second, above->second, share);
  }
};

/// Rising, without what differs by rounding alone.
void sort_distinct(std::vector<double>& values) {
  std::ranges::sort(values);
  const auto same = [](double a, double b) { return b - a <= 1e-9 * std::abs(b); };
  values.erase(std::unique(values.begin(), values.end(), same), values.end());
}

Grid grid_of(const Nominal& nominal, std::size_t shaft) {
  Grid grid;
  for (const OperatingPoint& point : nominal.world->points) {
    const double speed = std::abs(nominal.model.speeds(point, nominal.draw)[shaft].value());
    if (speed == 0.0) continue;
    const double torque = nominal.model.torques(point, nominal.draw)[shaft].value();
    const auto [first, is_new] = grid.torque_at.emplace(speed, torque);
    if (!is_new && first->second != torque)
      grid.remarks.push_back(fmt::format(
          "{} has the speed of another operating point and another torque: the map has that of the "
          "first",
          point.id));
    grid.speed_rad_s.push_back(speed);
    grid.oil_K.push_back(nominal.draw(point.oil_temperature).value());
  }
  if (grid.speed_rad_s.empty())
    throw std::invalid_argument("a drag map needs an operating point at which the shaft turns");

  const double fastest = *std::ranges::max_element(grid.speed_rad_s);
  for (int i = 1; i <= speed_steps; ++i) grid.speed_rad_s.push_back(fastest * i / speed_steps);
  const double hottest = *std::ranges::max_element(grid.oil_K);
  const double ambient = nominal.model.sump.ambient.value();
  for (double round = std::ceil((ambient - kelvin_at_zero_celsius) / temperature_step_K);
       kelvin_at_zero_celsius + temperature_step_K * round < hottest; ++round)
    grid.oil_K.push_back(kelvin_at_zero_celsius + temperature_step_K * round);
  sort_distinct(grid.speed_rad_s);
  sort_distinct(grid.oil_K);
  return grid;
}

/// The parts of a variant that turn with a shaft.
std::vector<std::size_t> parts_on(const VariantModel& variant, std::size_t shaft) {
  std::vector<std::size_t> parts;
  for (std::size_t p = 0; p < variant.parts.size(); ++p)
    if (variant.parts[p].shaft == shaft) parts.push_back(p);
  return parts;
}

/// Drag torque of the parts of the shaft at one node [N m].
std::vector<double> torques_at(const WorldModel& model, const VariantModel& variant,
                               std::size_t shaft, double speed_rad_s, double torque_Nm,
                               double oil_K) {
  std::vector<AngularVelocity> speed(model.diameter.size());
  std::vector<Torque> torque(model.diameter.size());
  speed[shaft] = AngularVelocity::from_value(speed_rad_s);
  torque[shaft] = Torque::from_value(torque_Nm);
  const auto losses =
      energy::losses_at(variant.unit, {speed, torque, model.dry, Temperature::from_value(oil_K)});
  std::vector<double> result;
  for (const std::size_t p : parts_on(variant, shaft)) result.push_back(losses[p].torque.value());
  return result;
}

double sum(const std::vector<double>& values) {
  double total = 0.0;
  for (const double value : values) total += value;
  return total;
}

std::size_t variant_index(const Case& question, const std::string& id) {
  const auto found = std::ranges::find(question.variants, id, &Variant::id);
  if (found == question.variants.end()) throw std::invalid_argument("no variant is called " + id);
  return static_cast<std::size_t>(found - question.variants.begin());
}

std::size_t fastest_shaft(const WorldModel& model) {
  return static_cast<std::size_t>(std::ranges::max_element(model.ratio) - model.ratio.begin());
}

}  // namespace

DragMap drag_map(const Case& question, const std::string& variant,
                 const std::optional<std::string>& shaft_id) {
  const std::size_t v = variant_index(question, variant);
  const Ensemble ensemble(question, {});
  const Nominal nominal(ensemble, v);
  const std::size_t shaft =
      shaft_id ? nominal.model.shaft_index(*shaft_id) : fastest_shaft(nominal.model);
  const Grid grid = grid_of(nominal, shaft);

  DragMap map;
  map.title = question.title;
  map.file = question.provenance.file;
  map.sha256 = question.provenance.sha256;
  map.invented = question.invented;
  map.variant = variant;
  map.shaft = nominal.world->shafts[shaft].id;
  map.seed = question.seed;
  map.samples = ensemble.draws->samples();
  map.remarks = grid.remarks;
  for (const PartInfo& part : nominal.variant.parts)
    if (part.shaft == shaft)
      map.inside.push_back(part.id);
    else
      map.outside.push_back(
          fmt::format("{} (shaft {})", part.id, nominal.world->shafts[part.shaft].id));
  map.outside.insert(map.outside.end(),
                     {"what the case does not name, churning and windage as a "
                      "rule",
                      "running-in", "ageing of the contacts", "warm-up of the contacts"});

  for (const double oil_K : grid.oil_K)
    for (const double speed : grid.speed_rad_s) {
      DragMapRow row;
      row.speed_rpm = in_rpm(AngularVelocity::from_value(speed));
      row.oil_degC = oil_K - kelvin_at_zero_celsius;
      row.shaft_torque_Nm = grid.torque_Nm(speed);
      map.rows.push_back(std::move(row));
    }
  const auto node = [&](std::size_t i) {
    return std::pair(grid.speed_rad_s[i % grid.speed_rad_s.size()],
                     grid.oil_K[i / grid.speed_rad_s.size()]);
  };
  const auto at_node = [&](const WorldModel& model, const VariantModel& unit, std::size_t i) {
    const auto [speed, oil_K] = node(i);
    try {
      return torques_at(model, unit, shaft, speed, map.rows[i].shaft_torque_Nm, oil_K);
    } catch (const std::domain_error& e) {
      throw std::domain_error(fmt::format("drag map at {:.0f} rpm and {:.0f} degC: {}",
                                          map.rows[i].speed_rpm, map.rows[i].oil_degC, e.what()));
    }
  };
  std::vector<std::vector<double>> drawn_Nm(map.rows.size());
  for (int d = 0; d < map.samples; ++d) {
    const Draw draw(*ensemble.draws, d);
    const WorldModel model(*nominal.world, draw);
    const VariantModel unit(model, *nominal.entry, draw, ensemble.histories[v]);
    for (std::size_t i = 0; i < map.rows.size(); ++i)
      drawn_Nm[i].push_back(sum(at_node(model, unit, i)));
  }
  for (std::size_t i = 0; i < map.rows.size(); ++i) {
    DragMapRow& row = map.rows[i];
    const double speed = node(i).first;
    row.part_torque_Nm = at_node(nominal.model, nominal.variant, i);
    row.torque_Nm = sum(row.part_torque_Nm);
    row.power_W = row.torque_Nm * speed;
    row.drawn_torque_Nm = interval_of(std::move(drawn_Nm[i]));
    row.drawn_power_W = {row.drawn_torque_Nm.low * speed, row.drawn_torque_Nm.mid * speed,
                         row.drawn_torque_Nm.high * speed};
  }
  return map;
}

}  // namespace ohmdrag::study
