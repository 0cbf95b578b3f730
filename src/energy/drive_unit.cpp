#include "ohmdrag/energy/drive_unit.hpp"

#include <stdexcept>

namespace ohmdrag::energy {
namespace {

Torque magnitude(Torque t) { return t < Torque{} ? -t : t; }
AngularVelocity magnitude(AngularVelocity w) { return w < AngularVelocity{} ? -w : w; }

/// What a part takes that gives all its heat to the oil it stands in.
struct LossIntoOil {
  const DriveUnit& unit;
  const Running& now;

  PartLoss operator()(const ContactPart&) const {
    throw std::logic_error("a contact is solved with its shaft");
  }
  PartLoss operator()(const RulePart& rule) const {
    const auto loss = component::rule_loss(rule.rule, unit.shafts[rule.shaft].diameter,
                                           now.speed[rule.shaft], {now.oil, rule.viscosity_40});
    return {magnitude(loss.torque), loss.power, std::nullopt};
  }
  PartLoss operator()(const StatedPart& stated) const {
    const auto drag = component::stated_drag(stated.loss, now.speed[stated.shaft]);
    return {magnitude(drag.torque), drag.power, std::nullopt};
  }
  PartLoss operator()(const FaceSealPart& faces) const {
    const auto state = component::gas_face_seal_state(
        faces.seal, component::air_between_faces(now.dry[faces.shaft], faces.gas_pressure),
        now.speed[faces.shaft]);
    return {magnitude(state.torque), state.power, std::nullopt};
  }
  PartLoss operator()(const GearPart& gear) const {
    const AngularVelocity omega = magnitude(now.speed[gear.shaft]);
    if (omega == AngularVelocity{}) return {Torque{}, Power{}, std::nullopt};
    const Power power = mesh_loss_at(unit, now, gear).power;
    return {power / omega, power, std::nullopt};
  }
  PartLoss operator()(const MeasuredPart& part) const {
    const auto drag = part.table.drag(now.speed[part.shaft], now.oil);
    return {part.factor * magnitude(drag.torque), part.factor * drag.power, std::nullopt};
  }
  PartLoss operator()(const BearingPart& part) const {
    const BearingLoads loads = part.loads.at(now.torque[part.shaft]);
    const KinematicViscosity nu =
        material::kinematic_viscosity(unit.shafts[part.shaft].lubricant, now.oil);
    const AngularVelocity omega = magnitude(now.speed[part.shaft]);
    const Torque friction = bearing_friction(part, nu, omega, loads).total();
    return {friction, friction * omega, std::nullopt};
  }
};

}  // namespace

bearing::FrictionTorque bearing_friction(const BearingPart& part, KinematicViscosity nu,
                                         AngularVelocity omega, const BearingLoads& loads) {
  if (const auto* rollers = std::get_if<CylindricalRolling>(&part.rolling)) {
    bearing::FrictionTorque rolling =
        bearing::cylindrical_roller_torque(part.constants, nu, omega, loads.radial);
    if (rollers->flange_factor && omega != AngularVelocity{})
      rolling.load += bearing::flange_torque(*rollers->flange_factor, part.constants.pitch_diameter,
                                             loads.axial);
    return rolling;
  }
  if (const auto* rollers = std::get_if<TaperedRolling>(&part.rolling))
    return bearing::tapered_roller_torque(part.constants, rollers->axial_factor, nu, omega,
                                          loads.radial, loads.axial);
  return bearing::palmgren_torque(part.constants, nu, omega, loads.radial, loads.axial);
}

component::MeshLoss mesh_loss_at(const DriveUnit& unit, const Running& now, const GearPart& gear) {
  const component::MeshLubrication lubrication{
      .viscosity = material::dynamic_viscosity(unit.shafts[gear.shaft].lubricant, now.oil),
      .roughness = gear.roughness,
      .oil_factor = gear.oil_factor};
  return component::mesh_loss(gear.pair, gear.geometry, lubrication, now.torque[gear.shaft],
                              now.speed[gear.shaft]);
}

PartLoss loss_into_oil(const DriveUnit& unit, const Running& now, const Part& part) {
  return std::visit(LossIntoOil{unit, now}, part.form);
}

LossModel::LossModel(const DriveUnit& unit)
    : unit_(&unit), networks_(unit.shafts.size()), states_(unit.shafts.size()) {}

Power LossModel::at(const Running& now, std::span<PartLoss> losses) {
  const std::size_t shafts = unit_->shafts.size();
  if (now.speed.size() != shafts || now.torque.size() != shafts || now.dry.size() != shafts ||
      losses.size() != unit_->parts.size())
    throw std::invalid_argument(
        "drive unit: one speed, torque and dry side a shaft, one loss a part");

  Power into_sump{};
  for (std::size_t s = 0; s < shafts; ++s) {
    const component::ShaftSystem& system = unit_->shafts[s];
    if (system.contacts.empty()) continue;
    const component::Surroundings around{now.oil, now.dry[s]};
    networks_[s].emplace(system, now.speed[s], around);
    states_[s] = component::solve(*networks_[s], system, now.speed[s], around,
                                  solved_before_ ? &states_[s] : nullptr);
    into_sump += component::into_oil(system, states_[s]);
  }
  solved_before_ = true;

  for (std::size_t p = 0; p < losses.size(); ++p) {
    const Part& part = unit_->parts[p];
    if (const auto* here = std::get_if<ContactPart>(&part.form)) {
      const component::ContactState& state = states_[here->shaft].contacts[here->contact];
      losses[p] = {magnitude(state.torque), state.power, state.contact};
    } else {
      losses[p] = loss_into_oil(*unit_, now, part);
      into_sump += losses[p].power;
    }
  }
  return into_sump;
}

std::vector<PartLoss> losses_at(const DriveUnit& unit, const Running& now) {
  LossModel model(unit);
  std::vector<PartLoss> losses(unit.parts.size());
  model.at(now, losses);
  return losses;
}

DriveUnit without(const DriveUnit& unit, std::size_t part) {
  DriveUnit rest = unit;
  const auto removed = rest.parts.begin() + static_cast<std::ptrdiff_t>(part);
  if (const auto* gone = std::get_if<ContactPart>(&removed->form)) {
    const ContactPart was = *gone;
    auto& contacts = rest.shafts[was.shaft].contacts;
    contacts.erase(contacts.begin() + static_cast<std::ptrdiff_t>(was.contact));
    for (Part& other : rest.parts)
      if (auto* c = std::get_if<ContactPart>(&other.form);
          c && c->shaft == was.shaft && c->contact > was.contact)
        --c->contact;
  }
  rest.parts.erase(removed);
  return rest;
}

Power net_power(const DriveUnit& unit, const Running& now, std::size_t part) {
  const auto total = [&](const DriveUnit& u) {
    Power sum{};
    for (const PartLoss& loss : losses_at(u, now)) sum += loss.power;
    return sum;
  };
  return total(unit) - total(without(unit, part));
}

}  // namespace ohmdrag::energy
