#include "ohmdrag/bearing/damage_sum.hpp"
#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/bearing/tapered_load.hpp"
#include "study/model.hpp"

namespace ohmdrag::study {
namespace {

/// Basic rating life consumed by a stretch, as a share.
/// \param axial_factor  of tapered rollers, none for all others
double fatigue_damage(const BearingModel& bearing, const std::optional<double>& axial_factor,
                      const energy::Stretch& stretch) {
  const AngularVelocity speed = stretch.speed[bearing.shaft];
  const Torque torque = stretch.torque[bearing.shaft];
  const energy::BearingLoads loads = bearing.loads.at(torque);
  const Force load = axial_factor ? bearing::tapered_roller_equivalent_load(
                                        loads.radial, loads.axial, *axial_factor)
                                  : bearing.equivalent_load(torque);
  if (speed == AngularVelocity{} || !(load > Force{})) return 0.0;
  const double exponent =
      bearing.roller ? bearing::roller_life_exponent : bearing::ball_life_exponent;
  return bearing::damage(stretch.dt,
                         bearing::basic_life(bearing.dynamic_rating, load, exponent, speed));
}

DutyModel running(const WorldModel& model, const Duty& duty, const Draw& draw) {
  DutyModel result;
  const bool held = duty.oil_temperature.has_value();
  result.sump = {model.sump, model.other_heat,
                 held ? draw(*duty.oil_temperature) : draw(*duty.start_temperature), held};
  if (!duty.cycles.empty()) {
    result.driven = true;
    const duty::Cycle cycle = duty::sequence(duty.cycles);
    for (const auto& phase : cycle.phases) result.phases.push_back(phase.id);
    result.steps = duty::steps(cycle, *model.vehicle);
    result.stretches = energy::stretches(result.steps, model.gearing);
    return result;
  }
  // A machine runs steadily. With a warm-up a shift of eight hours stands for the duty.
  const auto shafts = model.diameter.size();
  energy::Stretch steady;
  steady.drive = duty::Drive::traction;
  const std::size_t given = model.shaft_index(duty.shaft);
  for (std::size_t s = 0; s < shafts; ++s) {
    const double faster = model.ratio[s] / model.ratio[given];
    steady.speed.push_back(draw(*duty.shaft_speed) * faster);
    steady.torque.push_back(duty.torque ? draw(*duty.torque) * (1.0 / faster) : Torque{});
  }
  const int pieces = held ? 1 : 8 * 60;
  steady.dt = Time::from_value(8.0 * 3600.0 / pieces);
  result.stretches.assign(static_cast<std::size_t>(pieces), steady);
  result.phases = {std::string(duty::whole)};
  return result;
}

}  // namespace

DutyModel duty_model(const WorldModel& model, const Duty& duty, const Draw& draw) {
  DutyModel result = running(model, duty, draw);
  // Basic life sees load and speed alone: the same for every variant and oil temperature.
  for (std::size_t b = 0; b < model.bearings.size(); ++b) {
    const BearingType& type = model.world->bearings[b].type;
    const auto axial_factor = type.family == BearingType::Family::tapered_roller
                                  ? std::optional(draw(type.axial_factor.value()))
                                  : std::nullopt;
    double damage = 0.0;
    for (const energy::Stretch& stretch : result.stretches)
      damage += fatigue_damage(model.bearings[b], axial_factor, stretch);
    result.fatigue.push_back(damage);
  }
  return result;
}

}  // namespace ohmdrag::study
