#include "ohmdrag/energy/march.hpp"

#include <stdexcept>

namespace ohmdrag::energy {

duty::SumpNode node_in(const SumpDuty& sump, const Stretch& stretch) {
  duty::SumpNode node = sump.node;
  if (stretch.ambient) node.ambient = *stretch.ambient;
  if (sump.air && stretch.dt > Time{})
    node.conductance =
        duty::conductance_at(node.conductance, *sump.air, stretch.distance / stretch.dt);
  return node;
}

std::size_t gear_at(const Gearing& gearing, Speed road_speed, std::size_t present) {
  std::size_t gear = present;
  for (const HigherGear& higher : gearing.higher)
    if (!(higher.shift_down <= higher.shift_up))
      throw std::invalid_argument("gears: a shift down must not lie above its shift up");
  while (gear < gearing.higher.size() && road_speed >= gearing.higher[gear].shift_up) ++gear;
  while (gear > 0 && road_speed < gearing.higher[gear - 1].shift_down) --gear;
  return gear;
}

std::vector<Stretch> stretches(std::span<const duty::Step> steps,
                               std::span<const Gearing> gearing) {
  std::vector<Stretch> result;
  result.reserve(steps.size());
  std::vector<std::size_t> gear(gearing.size(), 0);
  for (const duty::Step& step : steps) {
    Stretch stretch{step.dt, step.distance, step.phase, step.drive, {}, {}};
    for (std::size_t s = 0; s < gearing.size(); ++s) {
      gear[s] = gear_at(gearing[s], step.mean_speed, gear[s]);
      const double ratio = gearing[s].ratio_in(gear[s]);
      const Length circumference = gearing[s].rolling_circumference;
      stretch.speed.push_back(duty::shaft_speed(step.mean_speed, ratio, circumference));
      stretch.torque.push_back(duty::shaft_torque(step.wheel_force, ratio, circumference));
    }
    result.push_back(std::move(stretch));
  }
  return result;
}

Energy PhaseLedger::of_part(std::size_t part) const {
  Energy sum{};
  for (const Energy& share : by_part[part]) sum += share;
  return sum;
}

Energy PhaseLedger::at_battery(std::size_t part, const duty::BatteryPath& path,
                               duty::ShaftSide side) const {
  Energy sum{};
  for (std::size_t d = 0; d < by_part[part].size(); ++d)
    sum += by_part[part][d] * duty::battery_factor(path, static_cast<duty::Drive>(d), side);
  return sum;
}

PhaseLedger Ledger::whole() const {
  PhaseLedger sum = phases.front();
  for (std::size_t i = 1; i < phases.size(); ++i) {
    sum.time += phases[i].time;
    sum.distance += phases[i].distance;
    for (std::size_t p = 0; p < sum.by_part.size(); ++p)
      for (std::size_t d = 0; d < sum.by_part[p].size(); ++d)
        sum.by_part[p][d] += phases[i].by_part[p][d];
  }
  return sum;
}

Ledger march(const DriveUnit& unit, std::span<const Stretch> duty, std::size_t phases,
             const SumpDuty& sump, std::span<const Temperature> dry,
             const std::function<void(const Moment&)>& observe) {
  if (phases == 0) throw std::invalid_argument("march: a duty has at least one phase");
  Ledger ledger;
  ledger.phases.assign(phases, {Time{}, Length{}, {unit.parts.size(), std::array<Energy, 3>{}}});

  LossModel model(unit);
  std::vector<PartLoss> losses(unit.parts.size());
  Temperature oil = sump.start;
  for (const Stretch& stretch : duty) {
    if (stretch.parked) {
      if (!sump.held) oil = duty::temperature_after(sump.node, oil, Power{}, stretch.dt);
      continue;
    }
    if (stretch.oil) oil = *stretch.oil;
    const std::span<const Temperature> dry_here = stretch.dry.empty() ? dry : stretch.dry;
    const Power into_sump = model.at({stretch.speed, stretch.torque, dry_here, oil}, losses);
    PhaseLedger& phase = ledger.phases.at(stretch.phase);
    phase.time += stretch.dt;
    phase.distance += stretch.distance;
    for (std::size_t p = 0; p < losses.size(); ++p)
      phase.by_part[p][static_cast<std::size_t>(stretch.drive)] += losses[p].power * stretch.dt;
    ledger.into_sump += into_sump * stretch.dt;
    if (observe) observe({stretch, oil, losses});
    if (!sump.held && !stretch.oil)
      oil = duty::temperature_after(node_in(sump, stretch), oil, into_sump + sump.other_heat,
                                    stretch.dt);
  }
  ledger.oil_at_end = oil;
  return ledger;
}

}  // namespace ohmdrag::energy
