#include "ohmdrag/energy/quick_march.hpp"

#include <algorithm>
#include <functional>
#include <limits>
#include <stdexcept>

#include "energy/duty_step.hpp"
#include "energy/quick_walker.hpp"

namespace ohmdrag::energy {
namespace {

// A table costs as much as so many stretches.
constexpr std::size_t fewest_stretches = 64;

}  // namespace

QuickMarch::Walker::Walker(const DriveUnit& unit, std::span<const component::SpeedGrid> grids,
                           std::vector<Temperature> dry, numerics::LaneWidth width)
    : unit_(&unit),
      dry_(std::move(dry)),
      width_(width),
      contacts_(unit.shafts.size()),
      viscosity_(unit.shafts.size()) {
  walk_.shafts.resize(unit.shafts.size());
  for (std::size_t s = 0; s < unit.shafts.size(); ++s) {
    const component::ShaftSystem& shaft = unit.shafts[s];
    contacts_[s].parts.resize(shaft.contacts.size());
    if (shaft.contacts.empty()) continue;
    contacts_[s].table.emplace(shaft, grids[s], dry_[s], width);
    walk_.shafts[s].figures = contacts_[s].table->figures();
  }
  for (std::size_t p = 0; p < unit.parts.size(); ++p) {
    const Part& part = unit.parts[p];
    if (const auto* here = std::get_if<ContactPart>(&part.form)) {
      contacts_[here->shaft].parts[here->contact] = p;
    } else if (const auto* rolling = std::get_if<BearingPart>(&part.form)) {
      bearings_.push_back(
          {p, rolling->shaft,
           slow_friction(*rolling, Torque{}).viscous.value() / bearing::viscous_scale(0.0)});
      walk_.shafts[rolling->shaft].viscous_Nm += bearings_.back().viscous_Nm;
    } else {
      others_.push_back(p);
    }
  }
}

void QuickMarch::Walker::begin(const DutyColumns& columns, std::size_t phases,
                               const SumpDuty& sump) {
  const std::size_t buckets = 3 * phases;
  for (WalkedShaft& shaft : walk_.shafts) {
    shaft.energy_J.assign(buckets * shaft.figures, 0.0);
    shaft.scaled_rad.assign(buckets, 0.0);
  }
  other_J_.assign(buckets * others_.size(), 0.0);
  const PlacedStretches& placed = *columns.stretches;
  if (!sump.held) {  // refuses what march() refuses
    duty::temperature_after(sump.node, sump.start, Power{}, Time{});
    if (sump.air) duty::conductance_at(sump.node.conductance, *sump.air, sump.air->at);
  }
  walk_.oil_K = sump.start.value();
  walk_.per_capacity_K_J = 1.0 / sump.node.heat_capacity.value();
  walk_.conductance_W_K = sump.node.conductance.value();
  walk_.air_W_K = sump.air ? sump.air->added.value() : 0.0;
  walk_.ambient_K = sump.node.ambient.value();
  walk_.other_heat_W = sump.other_heat.value();
  walk_.moves = !sump.held;
  walk_.steps = placed.steps.data();
  walk_.places = placed.places.data();
}

void QuickMarch::Walker::enter_viscosity() {
  walk_.low_K = 0.0;
  walk_.high_K = std::numeric_limits<double>::infinity();
  for (std::size_t s = 0; s < walk_.shafts.size(); ++s)
    if (walk_.shafts[s].viscous_Nm > 0.0)
      viscosity_[s].enter(unit_->shafts[s].lubricant, walk_.shafts[s], walk_);
}

bool QuickMarch::Walker::enter_tables(bool held) {
  for (std::size_t s = 0; s < contacts_.size(); ++s) {
    if (!contacts_[s].table) continue;
    const component::ShaftTable::Panel& panel =
        contacts_[s].table->panel(Temperature::from_value(walk_.oil_K), held);
    if (!panel.tabulated) return false;
    WalkedShaft& shaft = walk_.shafts[s];
    shaft.coefficients = panel.coefficients.data();
    shaft.middle_K = panel.middle_K;
    walk_.low_K = std::max(walk_.low_K, panel.low_K);
    walk_.high_K = std::min(walk_.high_K, panel.high_K);
  }
  return true;
}

void QuickMarch::Walker::add_loads(const DutyColumns& columns) {
  load_W_.assign(columns.stretches->steps.size(), 0.0);
  for (const DutyColumns::Bearing& bearing : columns.bearings) {
    const double scale = bearing.scale;
    const double* const power_W = bearing.torques->power_W.data();
    double* const load_W = load_W_.data();
    for (std::size_t i = 0; i < load_W_.size(); ++i) load_W[i] += scale * power_W[i];
  }
  walk_.load_W = load_W_.data();
}

/// All stretches at once where nothing hangs on their order; false where the tables do not serve.
bool QuickMarch::Walker::hold(const PlacedStretches& placed) {
  enter_viscosity();
  if (!enter_tables(true)) return false;
  for (std::size_t s = 0; s < contacts_.size(); ++s) {
    WalkedShaft& shaft = walk_.shafts[s];
    if (contacts_[s].table) {
      const std::size_t row = component::ShaftTable::oil_points * shaft.figures;
      for (const PlacedStretches::Held::Weight& weight : placed.held[s].weights) {
        const double* const figures = shaft.coefficients + weight.node * row;
        double* const energy_J = shaft.energy_J.data() + weight.bucket * shaft.figures;
        energy_J[0] += weight.time_s * figures[0];
        for (std::size_t f = 1; f < shaft.figures; ++f)
          energy_J[f] += weight.angle_rad * figures[f];
      }
    }
    if (!(shaft.viscous_Nm > 0.0)) continue;
    const double power = viscosity_power(shaft, walk_.oil_K);
    const auto follows = [&](const PlacedStretches::Held::Turned& at) {
      const double here = power * at.viscous_speed;
      return bearing::viscous_scale(here) == here;
    };
    for (std::size_t b = 0; b < placed.held[s].turned.size(); ++b) {
      const auto& speeds = placed.held[s].turned[b];
      const auto at = std::partition_point(speeds.begin(), speeds.end() - 1, std::not_fn(follows));
      shaft.scaled_rad[b] =
          bearing::viscous_scale(0.0) * at->slower_rad + power * at->scaled_faster_rad;
    }
  }
  return true;
}

std::size_t QuickMarch::Walker::step_solved(const Stretch& stretch, std::size_t i) {
  const std::span<const Temperature> dry = stretch.dry.empty() ? dry_ : stretch.dry;
  const double dt_s = stretch.dt.value(), other_heat_W = walk_.other_heat_W;
  for (std::size_t s = 0; s < contacts_.size(); ++s) {
    walk_.shafts[s].coefficients = nullptr;
    if (!contacts_[s].table) continue;
    const component::ShaftSystem& system = unit_->shafts[s];
    std::optional<component::ShaftState>& state = contacts_[s].solved;
    state =
        component::solve(system, stretch.speed[s], {Temperature::from_value(walk_.oil_K), dry[s]},
                         state ? &*state : nullptr);
    const double into_oil_W = component::into_oil(system, *state).value();
    double* const energy_J =
        walk_.shafts[s].energy_J.data() + walk_.steps[i].bucket * walk_.shafts[s].figures;
    energy_J[0] += into_oil_W * dt_s;
    for (std::size_t c = 0; c < state->contacts.size(); ++c)
      energy_J[1 + c] += state->contacts[c].power.value() * dt_s;
    walk_.other_heat_W += into_oil_W;
  }
  const std::size_t next = walk(walk_, i, i + 1, width_);
  walk_.other_heat_W = other_heat_W;
  return next;
}

void QuickMarch::Walker::step_apart(const Stretch& stretch, std::size_t i, const SumpDuty& sump) {
  if (stretch.parked) {
    walk_.oil_at_K[i] = walk_.oil_K;
    if (!sump.held)
      walk_.oil_K = duty::temperature_after(sump.node, Temperature::from_value(walk_.oil_K),
                                            Power{}, stretch.dt)
                        .value();
    return;
  }
  if (stretch.oil) walk_.oil_K = stretch.oil->value();
  walk_.moves = !sump.held && !stretch.oil;
  enter_viscosity();
  const PlacedSpeed* const first = walk_.places + i * contacts_.size();
  const bool within = std::all_of(first, first + contacts_.size(),
                                  [](const PlacedSpeed& place) { return place.within; });
  if (by_tables_ && within && stretch.dry.empty() && enter_tables(sump.held && !stretch.oil))
    walk(walk_, i, i + 1, width_);
  else
    step_solved(stretch, i);
  walk_.moves = !sump.held;
}

double QuickMarch::Walker::add_others(const Stretch& stretch, std::size_t bucket) {
  double sum_W = 0.0;
  const std::span<const Temperature> dry = stretch.dry.empty() ? dry_ : stretch.dry;
  const Temperature oil = stretch.oil ? *stretch.oil : Temperature::from_value(walk_.oil_K);
  for (std::size_t k = 0; k < others_.size(); ++k) {
    const Power power =
        loss_into_oil(*unit_, {stretch.speed, stretch.torque, dry, oil}, unit_->parts[others_[k]])
            .power;
    other_J_[bucket * others_.size() + k] += (power * stretch.dt).value();
    sum_W += power.value();
  }
  return sum_W;
}

Ledger QuickMarch::Walker::march(std::span<const Stretch> duty, const DutyColumns& columns,
                                 std::size_t phases, const SumpDuty& sump,
                                 std::vector<double>& oil_K) {
  const PlacedStretches& placed = *columns.stretches;
  if (phases == 0) throw std::invalid_argument("march: a duty has at least one phase");
  if (placed.time.size() > phases)
    throw std::out_of_range("march: a stretch names a phase that is not there");
  begin(columns, phases, sump);
  by_tables_ = duty.size() >= fewest_stretches;
  oil_K.resize(duty.size());
  walk_.oil_at_K = oil_K.data();
  if (sump.held && by_tables_ && !placed.held.empty() && others_.empty() && hold(placed)) {
    std::ranges::fill(oil_K, walk_.oil_K);
    return ledger(columns, phases);
  }
  add_loads(columns);
  auto apart = placed.apart.begin();
  std::size_t i = 0;
  while (i < duty.size()) {
    const bool is_apart = apart != placed.apart.end() && *apart == i;
    const double other_heat_W = walk_.other_heat_W;
    if (!others_.empty() && !duty[i].parked)
      walk_.other_heat_W += add_others(duty[i], placed.steps[i].bucket);
    if (is_apart) {
      step_apart(duty[i], i, sump);
      ++i;
      ++apart;
    } else {
      enter_viscosity();
      const std::size_t to = !others_.empty()              ? i + 1
                             : apart != placed.apart.end() ? *apart
                                                           : duty.size();
      if (by_tables_ && enter_tables(sump.held))
        i = walk(walk_, i, to, width_);
      else
        i = step_solved(duty[i], i);
    }
    walk_.other_heat_W = other_heat_W;
  }
  return ledger(columns, phases);
}

Ledger QuickMarch::Walker::ledger(const DutyColumns& columns, std::size_t phases) const {
  Ledger ledger;
  ledger.phases.assign(phases, {Time{}, Length{}, {unit_->parts.size(), std::array<Energy, 3>{}}});
  const PlacedStretches& placed = *columns.stretches;
  for (std::size_t phase = 0; phase < placed.time.size(); ++phase) {
    ledger.phases[phase].time = placed.time[phase];
    ledger.phases[phase].distance = placed.distance[phase];
  }
  double into_sump_J = 0.0;
  for (std::size_t b = 0; b < 3 * phases; ++b) {
    const auto energy = [&](std::size_t part) -> Energy& {
      return ledger.phases[b / 3].by_part[part][b % 3];
    };
    for (std::size_t s = 0; s < contacts_.size(); ++s) {
      const WalkedShaft& shaft = walk_.shafts[s];
      const double* const energy_J = shaft.energy_J.data() + b * shaft.figures;
      into_sump_J += energy_J[0];
      for (std::size_t c = 0; c < contacts_[s].parts.size(); ++c)
        energy(contacts_[s].parts[c]) = Energy::from_value(energy_J[1 + c]);
    }
    for (std::size_t r = 0; r < bearings_.size(); ++r) {
      const Rolling& rolling = bearings_[r];
      const DutyColumns::Bearing& loaded = columns.bearings[r];
      const std::vector<double>& load_J = loaded.torques->energy_J;
      const double energy_J = rolling.viscous_Nm * walk_.shafts[rolling.shaft].scaled_rad[b] +
                              (b < load_J.size() ? loaded.scale * load_J[b] : 0.0);
      energy(rolling.part) = Energy::from_value(energy_J);
      into_sump_J += energy_J;
    }
    for (std::size_t k = 0; k < others_.size(); ++k) {
      energy(others_[k]) = Energy::from_value(other_J_[b * others_.size() + k]);
      into_sump_J += other_J_[b * others_.size() + k];
    }
  }
  ledger.into_sump = Energy::from_value(into_sump_J);
  ledger.oil_at_end = Temperature::from_value(walk_.oil_K);
  return ledger;
}

QuickMarch::QuickMarch(const DriveUnit& unit, std::span<const component::SpeedGrid> grids,
                       std::vector<Temperature> dry, numerics::LaneWidth width)
    : walker_(std::make_unique<Walker>(unit, grids, std::move(dry), width)) {}

QuickMarch::~QuickMarch() = default;

Ledger QuickMarch::operator()(std::span<const Stretch> duty, const DutyColumns& columns,
                              std::size_t phases, const SumpDuty& sump,
                              std::vector<double>& oil_K) {
  return walker_->march(duty, columns, phases, sump, oil_K);
}

}  // namespace ohmdrag::energy
