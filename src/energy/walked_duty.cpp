#include "energy/walked_duty.hpp"

#include <algorithm>
#include <functional>
#include <stdexcept>

#include "energy/duty_step.hpp"

namespace ohmdrag::energy {
namespace {

// A table costs as much as so many stretches.
constexpr std::size_t fewest_stretches = 64;

}  // namespace

WalkedDuty::WalkedDuty(const QuickMarch::Order& order, WalkLanes* lanes, std::size_t lane)
    : order_(order),
      tables_(*order.march->tables_),
      placed_(*order.columns->stretches),
      by_tables_(order.duty.size() >= fewest_stretches),
      apart_(placed_.apart.begin()),
      solved_(tables_.contacts.size()) {
  if (order.phases == 0) throw std::invalid_argument("march: a duty has at least one phase");
  if (placed_.time.size() > order.phases)
    throw std::out_of_range("march: a stretch names a phase that is not there");
  const SumpDuty& sump = *order.sump;
  if (!sump.held) {  // refuses what march() refuses
    duty::temperature_after(sump.node, sump.start, Power{}, Time{});
    if (sump.air) duty::conductance_at(sump.node.conductance, *sump.air, sump.air->at);
  }
  const std::size_t buckets = 3 * order.phases;
  other_J_.assign(buckets * tables_.others.size(), 0.0);
  walk_.shafts = tables_.shafts();
  if (lanes) {
    walk_.shafts[0].energy_J = lanes->energy_J(lane);
    walk_.shafts[0].scaled_rad = lanes->scaled_rad(lane);
  } else {
    gather_alone(buckets);
  }
  walk_.oil_K = sump.start.value();
  walk_.per_capacity_K_J = 1.0 / sump.node.heat_capacity.value();
  walk_.conductance_W_K = sump.node.conductance.value();
  walk_.air_W_K = sump.air ? sump.air->added.value() : 0.0;
  walk_.ambient_K = sump.node.ambient.value();
  walk_.moves = !sump.held;
  walk_.steps = placed_.steps.data();
  walk_.places = placed_.places.data();
  walk_.load_W = order.columns->load_W.data();
  if (sump.held && by_tables_ && !placed_.held.empty() && tables_.others.empty() && hold()) {
    oil_K_.assign(order_.duty.size(), walk_.oil_K);
    walk_.next = order_.duty.size();
    return;
  }
  oil_K_.resize(order_.duty.size());
  walk_.oil_at_K = oil_K_.data();
}

void WalkedDuty::gather_alone(std::size_t buckets) {
  std::size_t figures = 0;
  for (const WalkedShaft& shaft : walk_.shafts) figures += shaft.figures;
  gathered_.assign(buckets * (figures + walk_.shafts.size()), 0.0);
  double* next = gathered_.data();
  for (WalkedShaft& shaft : walk_.shafts) {
    shaft.energy_J = {next, shaft.figures, 1};
    next += buckets * shaft.figures;
  }
  for (WalkedShaft& shaft : walk_.shafts) {
    shaft.scaled_rad = {next, 1, 1};
    next += buckets;
  }
}

bool WalkedDuty::fits_lanes(const QuickMarch::Order& order) {
  return !order.sump->held && order.duty.size() >= fewest_stretches &&
         order.march->tables_->usual();
}

std::size_t WalkedDuty::used_figures(const QuickMarch::Order& order) {
  return 1 + order.march->tables_->contacts[0].parts.size();
}

bool WalkedDuty::ready() {
  const bool held = order_.sump->held;
  while (walk_.next < order_.duty.size()) {
    const std::size_t i = walk_.next;
    walk_.other_heat_W = order_.sump->other_heat.value() + add_others(i);
    if (apart_ != placed_.apart.end() && *apart_ == i) {
      ++apart_;
      step_apart(i);
      continue;
    }
    tables_.enter_viscosity(walk_);
    if (by_tables_ && tables_.enter_panels(walk_, held)) {
      walk_.to = !tables_.others.empty()         ? i + 1
                 : apart_ != placed_.apart.end() ? *apart_
                                                 : order_.duty.size();
      return true;
    }
    step_solved(i);
  }
  return false;
}

/// All stretches at once where nothing hangs on their order; false where the tables do not serve.
bool WalkedDuty::hold() {
  tables_.enter_viscosity(walk_);
  if (!tables_.enter_panels(walk_, true)) return false;
  for (std::size_t s = 0; s < walk_.shafts.size(); ++s) {
    WalkedShaft& shaft = walk_.shafts[s];
    if (!shaft.coefficients.empty()) {
      const std::size_t row = component::ShaftTable::oil_points * shaft.figures;
      for (const PlacedStretches::Held::Weight& weight : placed_.held[s].weights) {
        const double* const figures = shaft.coefficients.data() + weight.node * row;
        double* const energy_J = &shaft.energy_J(weight.bucket);  // gathered alone: held
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
    for (std::size_t b = 0; b < placed_.held[s].turned.size(); ++b) {
      const auto& speeds = placed_.held[s].turned[b];
      const auto at = std::partition_point(speeds.begin(), speeds.end() - 1, std::not_fn(follows));
      shaft.scaled_rad(b) =
          bearing::viscous_scale(0.0) * at->slower_rad + power * at->scaled_faster_rad;
    }
  }
  return true;
}

void WalkedDuty::step_by_tables() {
  walk_.to = walk_.next + 1;
  TableWalk* const alone = &walk_;
  energy::walk({&alone, 1}, walk_.to, tables_.width);
}

void WalkedDuty::step_solved(std::size_t i) {
  const Stretch& stretch = order_.duty[i];
  const std::span<const Temperature> dry =
      stretch.dry.empty() ? std::span(tables_.dry) : std::span(stretch.dry);
  const double dt_s = stretch.dt.value();
  for (std::size_t s = 0; s < walk_.shafts.size(); ++s) {
    WalkedShaft& shaft = walk_.shafts[s];
    shaft.coefficients = {};
    if (!tables_.contacts[s].table) continue;
    const component::ShaftSystem& system = tables_.unit.shafts[s];
    std::optional<component::ShaftState>& state = solved_[s];
    state =
        component::solve(system, stretch.speed[s], {Temperature::from_value(walk_.oil_K), dry[s]},
                         state ? &*state : nullptr);
    const double into_oil_W = component::into_oil(system, *state).value();
    const std::size_t bucket = placed_.steps[i].bucket;
    shaft.energy_J(bucket) += into_oil_W * dt_s;
    for (std::size_t c = 0; c < state->contacts.size(); ++c)
      shaft.energy_J(bucket, 1 + c) += state->contacts[c].power.value() * dt_s;
    walk_.other_heat_W += into_oil_W;
  }
  step_by_tables();
}

void WalkedDuty::step_apart(std::size_t i) {
  const Stretch& stretch = order_.duty[i];
  const SumpDuty& sump = *order_.sump;
  if (stretch.parked) {
    oil_K_[i] = walk_.oil_K;
    if (!sump.held)
      walk_.oil_K = duty::temperature_after(sump.node, Temperature::from_value(walk_.oil_K),
                                            Power{}, stretch.dt)
                        .value();
    ++walk_.next;
    return;
  }
  if (stretch.oil) walk_.oil_K = stretch.oil->value();
  walk_.moves = !sump.held && !stretch.oil;
  tables_.enter_viscosity(walk_);
  const PlacedSpeed* const first = walk_.places + i * walk_.shafts.size();
  const bool within = std::all_of(first, first + walk_.shafts.size(),
                                  [](const PlacedSpeed& place) { return place.within; });
  if (by_tables_ && within && stretch.dry.empty() &&
      tables_.enter_panels(walk_, sump.held && !stretch.oil))
    step_by_tables();
  else
    step_solved(i);
  walk_.moves = !sump.held;
}

/// Of parts that are computed stretch by stretch: adds their energy and returns their heat, W.
double WalkedDuty::add_others(std::size_t i) {
  const Stretch& stretch = order_.duty[i];
  if (tables_.others.empty() || stretch.parked) return 0.0;
  double sum_W = 0.0;
  const std::span<const Temperature> dry =
      stretch.dry.empty() ? std::span(tables_.dry) : std::span(stretch.dry);
  const Temperature oil = stretch.oil ? *stretch.oil : Temperature::from_value(walk_.oil_K);
  for (std::size_t k = 0; k < tables_.others.size(); ++k) {
    const Power power = loss_into_oil(tables_.unit, {stretch.speed, stretch.torque, dry, oil},
                                      tables_.unit.parts[tables_.others[k]])
                            .power;
    other_J_[placed_.steps[i].bucket * tables_.others.size() + k] += (power * stretch.dt).value();
    sum_W += power.value();
  }
  return sum_W;
}

Ledger WalkedDuty::ledger() const {
  Ledger ledger;
  const std::size_t phases = order_.phases, others = tables_.others.size();
  ledger.phases.assign(phases,
                       {Time{}, Length{}, {tables_.unit.parts.size(), std::array<Energy, 3>{}}});
  for (std::size_t phase = 0; phase < placed_.time.size(); ++phase) {
    ledger.phases[phase].time = placed_.time[phase];
    ledger.phases[phase].distance = placed_.distance[phase];
  }
  double into_sump_J = 0.0;
  for (std::size_t b = 0; b < 3 * phases; ++b) {
    const auto energy = [&](std::size_t part) -> Energy& {
      return ledger.phases[b / 3].by_part[part][b % 3];
    };
    for (std::size_t s = 0; s < walk_.shafts.size(); ++s) {
      const WalkedShaft& shaft = walk_.shafts[s];
      into_sump_J += shaft.energy_J(b);
      const std::vector<std::size_t>& parts = tables_.contacts[s].parts;
      for (std::size_t c = 0; c < parts.size(); ++c)
        energy(parts[c]) = Energy::from_value(shaft.energy_J(b, 1 + c));
    }
    for (std::size_t r = 0; r < tables_.bearings.size(); ++r) {
      const QuickMarch::Tables::Rolling& rolling = tables_.bearings[r];
      const DutyColumns::Bearing& loaded = order_.columns->bearings[r];
      const std::vector<double>& load_J = loaded.torques->energy_J;
      const double energy_J = rolling.viscous_Nm * walk_.shafts[rolling.shaft].scaled_rad(b) +
                              (b < load_J.size() ? loaded.scale * load_J[b] : 0.0);
      energy(rolling.part) = Energy::from_value(energy_J);
      into_sump_J += energy_J;
    }
    for (std::size_t k = 0; k < others; ++k) {
      energy(tables_.others[k]) = Energy::from_value(other_J_[b * others + k]);
      into_sump_J += other_J_[b * others + k];
    }
  }
  ledger.into_sump = Energy::from_value(into_sump_J);
  ledger.oil_at_end = Temperature::from_value(walk_.oil_K);
  return ledger;
}

}  // namespace ohmdrag::energy
