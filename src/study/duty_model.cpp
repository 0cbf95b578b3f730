#include <algorithm>
#include <cmath>

#include "study/model.hpp"

namespace ohmdrag::study {
namespace {

/// A shift that stands for a machine's duty with a warm-up.
constexpr double shift_s = 8.0 * 3600.0;
/// Longest stretch of a machine that warms up: the sump's time constants are many minutes.
constexpr double longest_piece_s = 60.0;

/// A soak before the first stretch of its cycle.
void insert_soaks(const Duty& duty, const Draw& draw, std::vector<energy::Stretch>& stretches) {
  std::vector<std::size_t> first_phase{0};
  for (const duty::Cycle& cycle : duty.cycles)
    first_phase.push_back(first_phase.back() + cycle.phases.size());
  for (const Duty::Soak& soak : duty.soaks) {
    const std::size_t shafts = stretches.front().speed.size();
    const energy::Stretch rest{.dt = draw(soak.time),
                               .distance = Length{},
                               .phase = first_phase.at(soak.before_cycle),
                               .drive = duty::Drive::standstill,
                               .speed = std::vector<AngularVelocity>(shafts),
                               .torque = std::vector<Torque>(shafts),
                               .parked = true};
    const auto place = std::ranges::find_if(stretches, [&](const energy::Stretch& stretch) {
      return !stretch.parked && stretch.phase == first_phase.at(soak.before_cycle);
    });
    stretches.insert(place, rest);
  }
}

void drive(const WorldModel& model, const Duty& duty, const Draw& draw, DutyModel& result) {
  result.driven = true;
  const duty::Cycle cycle = duty::sequence(duty.cycles);
  for (const auto& phase : cycle.phases) result.phases.push_back(phase.id);
  result.steps = duty::steps(cycle, *model.vehicle);
  result.stretches = energy::stretches(result.steps, model.gearing);
  insert_soaks(duty, draw, result.stretches);
}

/// All shafts at the speed and torque of the one that the duty names.
energy::Stretch turning(const WorldModel& model, const Duty& duty, AngularVelocity speed,
                        Torque torque) {
  energy::Stretch stretch;
  stretch.drive = duty::Drive::traction;
  const std::size_t given = model.shaft_index(duty.shaft);
  for (const double ratio : model.ratio) {
    const double faster = ratio / model.ratio[given];
    stretch.speed.push_back(speed * faster);
    stretch.torque.push_back(torque * (1.0 / faster));
  }
  return stretch;
}

/// Equal pieces of a steady stretch, in one where the oil is held.
void append_pieces(energy::Stretch steady, Time whole, bool held,
                   std::vector<energy::Stretch>& stretches) {
  const double pieces = held ? 1.0 : std::max(1.0, std::ceil(whole.value() / longest_piece_s));
  steady.dt = whole / pieces;
  stretches.insert(stretches.end(), static_cast<std::size_t>(pieces), steady);
}

void run_steadily(const WorldModel& model, const Duty& duty, const Draw& draw, DutyModel& result) {
  const Torque torque = duty.torque ? draw(*duty.torque) : Torque{};
  append_pieces(turning(model, duty, draw(*duty.shaft_speed), torque), Time::from_value(shift_s),
                result.sump.held, result.stretches);
  result.phases = {std::string(duty::whole)};
}

void run_profile(const WorldModel& model, const Duty& duty, const Draw& draw, DutyModel& result) {
  for (const LoadStep& step : duty.load_steps) result.phases.push_back(step.id);
  for (int turn = 0; turn < duty.profile_repeats; ++turn)
    for (std::size_t i = 0; i < duty.load_steps.size(); ++i) {
      const LoadStep& step = duty.load_steps[i];
      energy::Stretch steady =
          turning(model, duty, draw(step.shaft_speed), step.torque ? draw(*step.torque) : Torque{});
      steady.phase = i;
      if (step.oil_temperature) steady.oil = draw(*step.oil_temperature);
      append_pieces(std::move(steady), draw(step.time), result.sump.held, result.stretches);
    }
}

}  // namespace

energy::SumpDuty sump_duty(const WorldModel& model, const Duty& duty, const Draw& draw) {
  energy::SumpDuty sump{.node = model.sump,
                        .other_heat = model.other_heat,
                        .start = {},
                        .held = !duty.start_temperature,
                        .air = model.air};
  if (duty.start_temperature)
    sump.start = draw(*duty.start_temperature);
  else if (duty.oil_temperature)
    sump.start = draw(*duty.oil_temperature);
  else if (!duty.load_steps.empty())
    sump.start = draw(*duty.load_steps.front().oil_temperature);
  else  // a trip whose log holds the oil of every stretch
    sump.start = model.sump.ambient;
  return sump;
}

DutyModel duty_way(const WorldModel& model, const Duty& duty, const Draw& draw) {
  DutyModel result;
  result.sump = sump_duty(model, duty, draw);
  result.driven = duty.is_driven();
  if (!duty.trips.empty())  // each is marched by itself
    result.phases = {std::string(duty::whole)};
  else if (!duty.cycles.empty())
    drive(model, duty, draw, result);
  else if (!duty.load_steps.empty())
    run_profile(model, duty, draw, result);
  else
    run_steadily(model, duty, draw, result);
  return result;
}

DutyModel duty_model(const WorldModel& model, const Duty& duty, const Draw& draw) {
  DutyModel result = duty_way(model, duty, draw);
  result.fatigue = fatigue_of(model, result.stretches, draw);
  return result;
}

}  // namespace ohmdrag::study
