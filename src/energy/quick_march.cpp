#include "ohmdrag/energy/quick_march.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace ohmdrag::energy {
namespace {

// Oil between these; colder and hotter is computed.
constexpr double coldest_K = 233.15, hottest_K = 473.15;
constexpr std::size_t oil_cells = 120;

// A table costs as much as so many stretches.
constexpr std::size_t fewest_stretches = 64;

double two_thirds(double x) { return std::cbrt(x * x); }

/// Of a bearing that turns so slowly that its viscous part is the least.
bearing::FrictionTorque slow_friction(const BearingPart& part, Torque shaft_torque) {
  return bearing_friction(part, KinematicViscosity::from_value(1e-6),
                          AngularVelocity::from_value(1.0), part.loads.at(shaft_torque));
}

/// The last step of a sump and what is left of a heat after it: most steps are alike.
class SumpStep {
 public:
  explicit SumpStep(const SumpDuty& sump) : sump_(&sump) {}

  double after_K(double oil_K, Power heat, const Stretch& stretch) {
    const duty::SumpNode node = node_in(*sump_, stretch);
    if (node.conductance != conductance_ || stretch.dt != dt_) {
      conductance_ = node.conductance;
      dt_ = stretch.dt;
      // Linear in what flows in: one step of a watt and the same sump tells all others.
      const duty::SumpNode balanced{node.heat_capacity, node.conductance,
                                    Temperature::from_value(oil_K)};
      K_per_W_ = duty::temperature_after(balanced, Temperature::from_value(oil_K),
                                         Power::from_value(1.0), stretch.dt)
                     .value() -
                 oil_K;
    }
    const double net_W = heat.value() - conductance_.value() * (oil_K - node.ambient.value());
    return oil_K + net_W * K_per_W_;
  }

 private:
  const SumpDuty* sump_;
  ThermalConductance conductance_ = ThermalConductance::from_value(-1.0);
  Time dt_;
  double K_per_W_ = 0.0;
};

}  // namespace

PlacedStretches::PlacedStretches(std::span<const Stretch> duty,
                                 std::span<const component::SpeedGrid> grids)
    : shafts(grids.size()) {
  places.reserve(duty.size() * shafts);
  viscous_speed.reserve(duty.size() * shafts);
  for (const Stretch& stretch : duty)
    for (std::size_t s = 0; s < shafts; ++s) {
      places.push_back(grids[s].place(stretch.speed[s]));
      viscous_speed.push_back(two_thirds(in_rpm(stretch.speed[s])));
    }
}

LoadTorques::LoadTorques(const BearingPart& part, std::span<const Stretch> duty) : of(part) {
  torque_Nm.reserve(duty.size());
  for (const Stretch& stretch : duty)
    torque_Nm.push_back(slow_friction(part, stretch.torque[part.shaft]).load.value());
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

void raise_to_top(std::span<const Stretch> duty, std::vector<AngularVelocity>& top) {
  for (const Stretch& stretch : duty)
    for (std::size_t s = 0; s < top.size(); ++s)
      top[s] = std::max({top[s], stretch.speed[s], -stretch.speed[s]});
}

std::vector<component::SpeedGrid> speed_grids(const DriveUnit& unit,
                                              std::span<const AngularVelocity> top) {
  const AngularVelocity least = AngularVelocity::from_value(1.0);
  constexpr double room = 1.001;  // for the rounding of a cube root
  std::vector<component::SpeedGrid> grids;
  for (std::size_t s = 0; s < unit.shafts.size(); ++s)
    grids.emplace_back(unit.shafts[s], std::max(least, room * top[s]));
  return grids;
}

QuickMarch::QuickMarch(const DriveUnit& unit, std::span<const component::SpeedGrid> grids,
                       std::vector<Temperature> dry)
    : unit_(&unit),
      dry_(std::move(dry)),
      tables_(unit.shafts.size()),
      contact_parts_(unit.shafts.size()),
      oil_grid_(coldest_K, hottest_K, oil_cells) {
  for (std::size_t s = 0; s < unit.shafts.size(); ++s) {
    const component::ShaftSystem& shaft = unit.shafts[s];
    contact_parts_[s].resize(shaft.contacts.size());
    if (!shaft.contacts.empty()) tables_[s].emplace(shaft, grids[s], dry_[s]);
    torque_Nm_.resize(std::max(torque_Nm_.size(), shaft.contacts.size()));
    viscosity_.push_back(oil_grid_.values([&](double oil_K) {
      return two_thirds(shaft.lubricant.viscosity.point(oil_K).viscosity_mm2_s);
    }));
  }
  for (std::size_t p = 0; p < unit.parts.size(); ++p) {
    const Part& part = unit.parts[p];
    if (const auto* here = std::get_if<ContactPart>(&part.form)) {
      contact_parts_[here->shaft][here->contact] = p;
    } else if (const auto* rolling = std::get_if<BearingPart>(&part.form)) {
      bearings_.push_back(
          {p, rolling->shaft,
           slow_friction(*rolling, Torque{}).viscous.value() / bearing::viscous_scale(0.0)});
    } else {
      others_.push_back(p);
    }
  }
}

bool QuickMarch::by_tables(const Stretch& stretch, std::size_t i, const DutyColumns& columns,
                           Temperature oil, bool held, std::span<double> power_W,
                           double& into_sump_W) {
  if (!stretch.dry.empty()) return false;
  into_sump_W = 0.0;
  const PlacedStretches& placed = *columns.stretches;
  for (std::size_t s = 0; s < tables_.size(); ++s) {
    if (!tables_[s]) continue;
    const component::SpeedGrid::Place& place = placed.places[i * placed.shafts + s];
    const auto into_oil_W = tables_[s]->at(place, oil, held, torque_Nm_);
    if (!into_oil_W) return false;
    into_sump_W += *into_oil_W;
    for (std::size_t c = 0; c < contact_parts_[s].size(); ++c)
      power_W[contact_parts_[s][c]] = torque_Nm_[c] * place.speed_rad_s;
  }
  for (std::size_t b = 0; b < bearings_.size(); ++b) {
    const Rolling& rolling = bearings_[b];
    const std::size_t here = i * placed.shafts + rolling.shaft;
    const double scale =
        bearing::viscous_scale(viscosity_power(rolling.shaft, oil) * placed.viscous_speed[here]);
    const DutyColumns::Bearing& loaded = columns.bearings[b];
    power_W[rolling.part] =
        (rolling.viscous_Nm * scale + loaded.scale * loaded.torques->torque_Nm[i]) *
        placed.places[here].speed_rad_s;
    into_sump_W += power_W[rolling.part];
  }
  if (others_.empty()) return true;
  const Running now{stretch.speed, stretch.torque, dry_, oil};
  for (const std::size_t p : others_) {
    power_W[p] = loss_into_oil(*unit_, now, unit_->parts[p]).power.value();
    into_sump_W += power_W[p];
  }
  return true;
}

double QuickMarch::viscosity_power(std::size_t shaft, Temperature oil) const {
  if (oil_grid_.holds(oil.value()))
    return oil_grid_.place(oil.value()).of(viscosity_[shaft].data());
  return two_thirds(in_mm2_per_s(unit_->shafts[shaft].lubricant.viscosity.at(oil)));
}

Ledger QuickMarch::operator()(std::span<const Stretch> duty, const DutyColumns& columns,
                              std::size_t phases, const SumpDuty& sump,
                              std::vector<double>& oil_K) {
  if (phases == 0) throw std::invalid_argument("march: a duty has at least one phase");
  const std::size_t parts = unit_->parts.size();
  Ledger ledger;
  ledger.phases.assign(phases, {Time{}, Length{}, {parts, std::array<Energy, 3>{}}});
  oil_K.resize(duty.size());

  LossModel exactly(*unit_);
  std::vector<PartLoss> losses(parts);
  std::vector<double> power_W(parts);
  SumpStep step(sump);
  Temperature oil = sump.start;
  for (std::size_t i = 0; i < duty.size(); ++i) {
    const Stretch& stretch = duty[i];
    if (stretch.oil && !stretch.parked) oil = *stretch.oil;
    oil_K[i] = oil.value();
    if (stretch.parked) {
      if (!sump.held) oil = duty::temperature_after(sump.node, oil, Power{}, stretch.dt);
      continue;
    }
    double into_sump_W = 0.0;
    if (duty.size() < fewest_stretches ||
        !by_tables(stretch, i, columns, oil, sump.held && !stretch.oil, power_W, into_sump_W)) {
      const std::span<const Temperature> dry = stretch.dry.empty() ? dry_ : stretch.dry;
      into_sump_W = exactly.at({stretch.speed, stretch.torque, dry, oil}, losses).value();
      for (std::size_t p = 0; p < parts; ++p) power_W[p] = losses[p].power.value();
    }
    PhaseLedger& phase = ledger.phases.at(stretch.phase);
    phase.time += stretch.dt;
    phase.distance += stretch.distance;
    for (std::size_t p = 0; p < parts; ++p)
      phase.by_part[p][static_cast<std::size_t>(stretch.drive)] +=
          Power::from_value(power_W[p]) * stretch.dt;
    const Power into_sump = Power::from_value(into_sump_W);
    ledger.into_sump += into_sump * stretch.dt;
    if (!sump.held && !stretch.oil)
      oil =
          Temperature::from_value(step.after_K(oil.value(), into_sump + sump.other_heat, stretch));
  }
  ledger.oil_at_end = oil;
  return ledger;
}

}  // namespace ohmdrag::energy
