#include <algorithm>
#include <cmath>
#include <limits>

#include "energy/duty_step.hpp"
#include "ohmdrag/energy/quick_march.hpp"

namespace ohmdrag::energy {

bearing::FrictionTorque slow_friction(const BearingPart& part, Torque shaft_torque) {
  return bearing_friction(part, KinematicViscosity::from_value(1e-6),
                          AngularVelocity::from_value(1.0), part.loads.at(shaft_torque));
}

DutyStep duty_step(const Stretch& stretch, const std::optional<duty::AirStream>& air) {
  DutyStep step{.dt_s = stretch.dt.value(), .parked = stretch.parked};
  if (stretch.parked) return step;
  step.bucket = 3 * stretch.phase + static_cast<std::size_t>(stretch.drive);
  if (stretch.oil) step.oil_K = stretch.oil->value();
  if (stretch.ambient) step.ambient_K = stretch.ambient->value();
  if (air && stretch.dt > Time{}) {
    const duty::AirStream of_one{ThermalConductance::from_value(1.0), air->at, air->exponent};
    step.air_share = duty::conductance_at({}, of_one, stretch.distance / stretch.dt).value();
  }
  return step;
}

PlacedStretches::PlacedStretches(std::span<const Stretch> duty,
                                 std::span<const component::SpeedGrid> grids, const SumpDuty& sump)
    : shafts(grids.size()) {
  steps.reserve(duty.size());
  places.reserve(duty.size() * shafts);
  for (std::size_t i = 0; i < duty.size(); ++i) {
    const Stretch& stretch = duty[i];
    steps.push_back(duty_step(stretch, sump.air));
    bool usual = !stretch.parked && !stretch.oil && stretch.dry.empty();
    for (std::size_t s = 0; s < shafts; ++s) {
      if (stretch.parked) {
        places.emplace_back();
        continue;
      }
      places.push_back({grids[s].place(stretch.speed[s]), two_thirds(in_rpm(stretch.speed[s]))});
      usual = usual && places.back().within;
    }
    if (!usual) apart.push_back(i);
    if (stretch.parked) continue;
    time.resize(std::max(time.size(), stretch.phase + 1));
    distance.resize(time.size());
    time[stretch.phase] += stretch.dt;
    distance[stretch.phase] += stretch.distance;
  }
  if (!sump.held || !apart.empty()) return;
  for (std::size_t s = 0; s < shafts; ++s) held.push_back(hold(s, grids[s].nodes()));
}

PlacedStretches::Held PlacedStretches::hold(std::size_t shaft, std::size_t nodes) const {
  const std::size_t buckets = 3 * time.size();
  Held found;
  found.turned.resize(buckets);
  for (std::size_t b = 0; b < buckets; ++b)
    for (std::size_t n = 0; n < nodes; ++n) found.weights.push_back({b, n, 0.0, 0.0});
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const PlacedSpeed& place = places[i * shafts + shaft];
    const double turned_rad = place.speed_rad_s * steps[i].dt_s;
    for (std::size_t k = 0; k < place.weights.size(); ++k) {
      Held::Weight& weight = found.weights[steps[i].bucket * nodes + place.first + k];
      weight.time_s += place.weights[k] * steps[i].dt_s;
      weight.angle_rad += place.weights[k] * turned_rad;
    }
    found.turned[steps[i].bucket].push_back(
        {place.viscous_speed, turned_rad, place.viscous_speed * turned_rad});
  }
  std::erase_if(found.weights,
                [](const Held::Weight& w) { return w.time_s == 0.0 && w.angle_rad == 0.0; });
  for (std::vector<Held::Turned>& speeds : found.turned) {
    std::ranges::stable_sort(speeds, {}, &Held::Turned::viscous_speed);
    speeds.push_back({std::numeric_limits<double>::infinity(), 0.0, 0.0});
    double slower_rad = 0.0;
    for (Held::Turned& at : speeds) {
      const double here_rad = at.slower_rad;
      at.slower_rad = slower_rad;
      slower_rad += here_rad;
    }
    for (std::size_t i = speeds.size() - 1; i-- > 0;)
      speeds[i].scaled_faster_rad += speeds[i + 1].scaled_faster_rad;
  }
  return found;
}

LoadTorques::LoadTorques(const BearingPart& part, std::span<const Stretch> duty) : of(part) {
  torque_Nm.reserve(duty.size());
  power_W.reserve(duty.size());
  for (const Stretch& stretch : duty) {
    if (stretch.parked) {
      torque_Nm.push_back(0.0);
      power_W.push_back(0.0);
      continue;
    }
    torque_Nm.push_back(slow_friction(part, stretch.torque[part.shaft]).load.value());
    power_W.push_back(torque_Nm.back() * std::abs(stretch.speed[part.shaft].value()));
    const DutyStep step = duty_step(stretch, std::nullopt);
    energy_J.resize(std::max(energy_J.size(), step.bucket + 1));
    energy_J[step.bucket] += power_W.back() * step.dt_s;
  }
}

std::optional<double> LoadTorques::scale_to(const BearingPart& other) const {
  const bearing::PalmgrenConstants &a = of.constants, &b = other.constants;
  const bool same = of.shaft == other.shaft && of.loads == other.loads &&
                    of.rolling == other.rolling &&
                    a.load_torque_exponent == b.load_torque_exponent &&
                    a.pitch_diameter == b.pitch_diameter && a.static_rating == b.static_rating;
  if (!same) return std::nullopt;
  if (a.load_torque_factor == b.load_torque_factor) return 1.0;
  const auto* rollers = std::get_if<CylindricalRolling>(&of.rolling);
  if (rollers && rollers->flange_factor) return std::nullopt;  // has a factor of its own
  if (!(a.load_torque_factor > 0.0)) return std::nullopt;
  return b.load_torque_factor / a.load_torque_factor;
}

void add_speeds(std::span<const Stretch> duty, std::vector<component::SpeedRange>& speeds) {
  for (const Stretch& stretch : duty)
    for (std::size_t s = 0; s < speeds.size() && !stretch.parked; ++s)
      speeds[s].add(stretch.speed[s]);
}

std::vector<component::SpeedGrid> speed_grids(const DriveUnit& unit,
                                              std::span<const component::SpeedRange> speeds) {
  std::vector<component::SpeedGrid> grids;
  for (std::size_t s = 0; s < unit.shafts.size(); ++s)
    grids.emplace_back(unit.shafts[s], speeds[s]);
  return grids;
}

}  // namespace ohmdrag::energy
