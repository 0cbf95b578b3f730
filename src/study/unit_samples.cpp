#include "study/unit_samples.hpp"

#include <algorithm>
#include <cmath>

#include "study/account.hpp"
#include "study/electric.hpp"
#include "study/heat_into_sump.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {

energy::DriveUnit unit_at(const OperatingPoint& point, const Case& world,
                          const VariantModel& variant, const Draw& draw) {
  energy::DriveUnit unit = variant.unit;
  if (!point.running_time) return unit;
  const RunningIn& law = world.running_in;
  const double factor =
      contact::running_in_factor({draw(law.excess), draw(law.time)}, draw(*point.running_time));
  for (component::ShaftSystem& shaft : unit.shafts)
    for (component::ShaftContact& contact : shaft.contacts)
      contact.law = contact::scaled(contact.law, factor);
  return unit;
}

namespace {

/// energy::net_power() of a contact, out of the losses of the whole unit: only its own shaft is
/// solved again.
Power net_of_contact(const energy::DriveUnit& unit, const energy::Running& now,
                     const energy::LossModel& solved, std::span<const energy::PartLoss> losses,
                     std::size_t part) {
  const auto& gone = std::get<energy::ContactPart>(unit.parts[part].form);
  component::ShaftSystem rest = unit.shafts[gone.shaft];
  rest.contacts.erase(rest.contacts.begin() + static_cast<std::ptrdiff_t>(gone.contact));
  component::ShaftState state;
  if (!rest.contacts.empty()) {
    const component::Surroundings around{now.oil, now.dry[gone.shaft]};
    const component::ThermalNetwork network(rest, around, solved.networks()[gone.shaft]->films());
    state = component::solve(network, rest, now.speed[gone.shaft], around);
  }
  Power with{}, without{};
  for (std::size_t p = 0; p < losses.size(); ++p) {
    with += losses[p].power;
    if (p == part) continue;
    const auto* here = std::get_if<energy::ContactPart>(&unit.parts[p].form);
    without += here && here->shaft == gone.shaft
                   ? state.contacts[here->contact - (here->contact > gone.contact ? 1 : 0)].power
                   : losses[p].power;
  }
  return with - without;
}

}  // namespace

std::optional<energy::DriveUnit> aged_unit(const VariantModel& variant) {
  const auto has_aged = [](const LivingContact& living) { return living.life.history.has_value(); };
  if (std::ranges::none_of(variant.lives, has_aged)) return std::nullopt;
  return variant.unit_at(Age::end);
}

PointSample point_sample(const WorldModel& model, const VariantModel& variant,
                         const OperatingPoint& point, const Draw& draw) {
  return point_sample(model, variant, aged_unit(variant), point, draw);
}

PointSample point_sample(const WorldModel& model, const VariantModel& variant,
                         const std::optional<energy::DriveUnit>& aged, const OperatingPoint& point,
                         const Draw& draw) {
  const auto speeds = model.speeds(point, draw);
  const auto torques = model.torques(point, draw);
  const energy::Running now{speeds, torques, model.dry, draw(point.oil_temperature)};
  std::optional<energy::DriveUnit> running_in;
  if (point.running_time) running_in = unit_at(point, *model.world, variant, draw);
  const energy::DriveUnit& unit = running_in ? *running_in : variant.unit;
  PointSample sample;
  energy::LossModel solved(unit);
  std::vector<energy::PartLoss> losses(unit.parts.size());
  solved.at(now, losses);
  const HeatIntoSump heat = heat_into_sump(unit, solved, losses);
  sample.idle_into_sump_W = heat.idle.value();
  sample.parts.reserve(losses.size());
  for (std::size_t p = 0; p < losses.size(); ++p) {
    const energy::PartLoss& loss = losses[p];
    PartSample part{loss.torque.value(), loss.power.value(), loss.power.value(), not_a_figure};
    if (loss.contact) part.contact_degC = in_celsius(*loss.contact);
    if (std::holds_alternative<energy::ContactPart>(unit.parts[p].form))
      part.net_W = net_of_contact(unit, now, solved, losses, p).value();
    part.into_sump_W = heat.by_part[p].value();
    sample.total_W += part.own_W;
    sample.parts.push_back(part);
  }
  if (aged) {
    const auto losses_aged = energy::losses_at(*aged, now);
    for (std::size_t p = 0; p < sample.parts.size(); ++p)
      sample.parts[p].aged_W = losses_aged[p].power.value();
  }
  return sample;
}

DutySample duty_sample(const WorldModel& model, const VariantModel& variant, const DutyModel& duty,
                       const ElectricModel* electric) {
  DutySample result;
  result.bearings.resize(model.bearings.size() + model.other_paths.size());
  for (std::size_t b = 0; b < model.bearings.size(); ++b)
    result.bearings[b].damage = duty.fatigue[b];
  ElectricState scratch;
  const auto observe = [&](const energy::Moment& moment) {
    variant.fatigue.accumulate(model, moment.stretch, moment.oil, result.bearings);
    if (electric) electric->accumulate(moment.stretch, moment.oil, scratch, result.bearings);
  };
  const energy::Ledger ledger = energy::march(variant.unit, duty.stretches, duty.phases.size(),
                                              duty.sump, model.dry, observe);
  fill_phases(model, variant, duty, ledger, result);
  result.worth = shaft_worth(model, shaft_turning(duty, model.diameter.size()), duty.driven);
  result.end_oil_degC = in_celsius(ledger.oil_at_end);
  return result;
}

void fill_phases(const WorldModel& model, const VariantModel& variant, const DutyModel& duty,
                 const energy::Ledger& ledger, DutySample& result) {
  result.phases.resize(ledger.phases.size());
  for (std::size_t i = 0; i < ledger.phases.size(); ++i) {
    const energy::PhaseLedger& phase = ledger.phases[i];
    PhaseSample& sample = result.phases[i];
    sample.time_s = phase.time.value();
    sample.distance_m = phase.distance.value();
    sample.shaft_J.reserve(variant.parts.size());
    if (duty.driven) sample.battery_J.reserve(variant.parts.size());
    for (std::size_t p = 0; p < variant.parts.size(); ++p) {
      sample.shaft_J.push_back(phase.of_part(p).value());
      if (duty.driven)
        sample.battery_J.push_back(
            phase.at_battery(p, *model.path, model.gearing[variant.parts[p].shaft].side).value());
    }
  }
}

double baseline_consumption(const WorldModel& model, const DutyModel& duty, const Draw& draw) {
  if (!duty.driven) return 0.0;
  const auto& auxiliary = model.world->vehicle->auxiliary_power;
  return in_Wh_per_km(duty::consumption(
      duty::battery_balance(duty.steps, *model.path, auxiliary ? draw(*auxiliary) : Power{})));
}

}  // namespace ohmdrag::study
