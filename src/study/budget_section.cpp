#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "ohmdrag/quantity/print.hpp"
#include "study/limit_flags.hpp"
#include "study/sections.hpp"
#include "study/unit_samples.hpp"

namespace ohmdrag::study {
namespace {

/// What the part does to the temperature of the other contacts on its shaft.
std::vector<Flag> warming_flags(const energy::DriveUnit& unit, std::size_t part,
                                const energy::ContactPart& here, const component::ShaftState& with,
                                const energy::Running& now) {
  const energy::DriveUnit rest = energy::without(unit, part);
  const auto& system = rest.shafts[here.shaft];
  std::vector<Flag> flags;
  if (system.contacts.empty()) return flags;
  const auto state =
      component::solve(system, now.speed[here.shaft], {now.oil, now.dry[here.shaft]});
  for (std::size_t other = 0; other < system.contacts.size(); ++other) {
    const std::size_t there = other < here.contact ? other : other + 1;
    const double rise = (with.contacts[there].contact - state.contacts[other].contact).value();
    flags.push_back(
        {"warms-neighbour", fmt::format("warms the contact of the {} by {} K",
                                        system.contacts[other].id, print_number(rise, 2))});
  }
  return flags;
}

std::vector<Flag> contact_flags(const Nominal& nominal, const energy::DriveUnit& unit,
                                std::size_t part, const energy::ContactPart& here,
                                const energy::Running& now, const std::string& where) {
  std::vector<Flag> flags;
  const Element& element = *nominal.variant.parts[part].element;
  const auto& system = unit.shafts[here.shaft];
  const auto state =
      component::solve(system, now.speed[here.shaft], {now.oil, now.dry[here.shaft]});
  for (const auto& flag : component::flags(system, state))
    if (!flag.contact || *flag.contact == here.contact) flags.push_back(in_words(flag.flag, where));

  const Shaft& shaft = nominal.world->shafts[here.shaft];
  if (!shaft.oil_side_length || !shaft.dry_side_length)
    flags.push_back({"infinite-shaft",
                     "infinite shaft assumed: no length of the shaft is given on one side, which "
                     "flatters the contact temperature"});
  if (!shaft.dry_side_temperature)
    flags.push_back({"dry-side-ambient",
                     "the air at the dry side is taken at ambient; beside a hot rotor the contact "
                     "runs hotter"});
  const ContactAtPoint at{nominal, part, system, state, here.contact};
  for (const auto& more : {limit_flags(at), design_flags(at)})
    flags.insert(flags.end(), more.begin(), more.end());
  const auto* lip = std::get_if<LipElement>(&element.form);
  if (lip && std::holds_alternative<MixedFilmEntry>(lip->law))
    flags.push_back({"lip-estimate",
                     "Lip friction is an estimate (about ±32 %) calibrated on general loss rules; "
                     "replace it by a measured torque."});
  else if (lip)
    flags.push_back({"one-coefficient",
                     "one coefficient of friction at every speed, from memory; replace it by a "
                     "measured torque"});
  else
    for (Flag& flag : warming_flags(unit, part, here, state, now)) flags.push_back(std::move(flag));
  return flags;
}

/// What the friction laws of rollers leave out or take for granted.
void rolling_flags(const energy::BearingPart& part, const energy::BearingLoads& loads,
                   std::vector<Flag>& flags) {
  const auto* cylindrical = std::get_if<energy::CylindricalRolling>(&part.rolling);
  if (cylindrical && !cylindrical->flange_factor && loads.axial != Force{})
    flags.push_back({"axial-load-unused",
                     "cylindrical rollers: without a flange_factor the axial load rubs nowhere"});
  if (std::holds_alternative<energy::TaperedRolling>(part.rolling))
    flags.push_back({"cone-reaction",
                     "tapered rollers: the axial load must hold what the cones of both bearings "
                     "induce"});
}

/// What formulas, limits and inputs leave to say about a part at a point.
std::vector<Flag> part_flags(const Nominal& nominal, std::size_t part, std::size_t point,
                             const energy::Running& now) {
  std::vector<Flag> flags;
  const auto& form = nominal.variant.unit.parts[part].form;
  const std::string& where = nominal.world->points[point].id;

  if (const auto* here = std::get_if<energy::ContactPart>(&form)) {
    const OperatingPoint& at = nominal.world->points[point];
    flags = contact_flags(nominal, unit_at(at, *nominal.world, nominal.variant, nominal.draw), part,
                          *here, now, where);
  } else if (const auto* rule = std::get_if<energy::RulePart>(&form)) {
    const auto& system = nominal.variant.unit.shafts[rule->shaft];
    const auto loss = component::rule_loss(rule->rule, system.diameter, now.speed[rule->shaft],
                                           {now.oil, rule->viscosity_40});
    for (const auto& flag : loss.flags) flags.push_back(in_words(flag, where));
    flags.push_back({"general-rule",
                     "General rule for spring-loaded lips in industrial oils; extrapolated here."});
  } else if (const auto* faces = std::get_if<energy::FaceSealPart>(&form)) {
    const auto state = component::gas_face_seal_state(
        faces->seal, component::air_between_faces(now.dry[faces->shaft], faces->gas_pressure),
        now.speed[faces->shaft]);
    for (const auto& flag : state.flags) flags.push_back(in_words(flag, where));
    flags.push_back(
        {"parallel-faces", "Parallel faces at a given film; lift-off speed is an input."});
  } else if (const auto* gear = std::get_if<energy::GearPart>(&form)) {
    for (const auto& flag : energy::mesh_loss_at(nominal.variant.unit, now, *gear).flags)
      flags.push_back(in_words(flag, where));
    if (now.torque[gear->shaft] == Torque{} && now.speed[gear->shaft] != AngularVelocity{})
      flags.push_back({"no-load",
                       "the shaft transmits no torque here, so the mesh loses nothing; churning "
                       "and windage are not in it"});
    flags.push_back({"context-only", "Context only."});
  } else if (const auto* measured = std::get_if<energy::MeasuredPart>(&form)) {
    for (const auto& flag : measured->table.drag(now.speed[measured->shaft], now.oil).flags)
      flags.push_back(in_words(flag, where));
    flags.push_back({"measured-table", nominal.variant.parts[part].element->remark});
  } else if (const auto* rolling = std::get_if<energy::BearingPart>(&form)) {
    if (const auto flag = bearing::outside_palmgren_speed(now.speed[rolling->shaft],
                                                          rolling->constants.pitch_diameter))
      flags.push_back(in_words(*flag, where));
    if (rolling->loads.at(now.torque[rolling->shaft]).held)
      flags.push_back(
          {"load-curve-end",
           "the shaft torque lies beyond the given bearing loads: the end row is used"});
    flags.push_back({"palmgren-estimate", "Palmgren estimate, ±50 % on the viscous factor."});
    rolling_flags(*rolling, rolling->loads.at(now.torque[rolling->shaft]), flags);
  }
  if (nominal.variant.parts[part].id == "grounding")
    std::ranges::move(in_words(nominal.variant.grounding_notes), std::back_inserter(flags));
  return flags;
}

}  // namespace

Nominal::Nominal(const Ensemble& ensemble, std::size_t v)
    : world(&ensemble.world(v)),
      entry(&ensemble.question->variants[v]),
      model(*world, draw),
      variant(model, *entry, draw, ensemble.histories[v]) {}

double total_W(const VariantSample& sample, std::size_t point) {
  return sample.points[point].total_W;
}

void fill_budget(const Ensemble& ensemble, std::size_t v, const Nominal& nominal,
                 VariantFindings& findings) {
  const auto& samples = ensemble.samples[v];
  for (std::size_t p = 0; p < nominal.world->points.size(); ++p) {
    const OperatingPoint& point = nominal.world->points[p];
    const auto speeds = nominal.model.speeds(point, nominal.draw);
    const auto torques = nominal.model.torques(point, nominal.draw);
    const energy::Running now{speeds, torques, nominal.model.dry,
                              nominal.draw(point.oil_temperature)};
    for (std::size_t i = 0; i < nominal.variant.parts.size(); ++i) {
      const PartInfo& info = nominal.variant.parts[i];
      const auto figure = [&](double PartSample::*member) {
        return reduce(samples,
                      [&](const VariantSample& s) { return s.points[p].parts[i].*member; });
      };
      BudgetRow row;
      row.point = point.id;
      row.component = info.id;
      row.kind = info.kind;
      row.title = info.title;
      row.shaft = nominal.world->shafts[info.shaft].id;
      row.shaft_speed_rpm = in_rpm(speeds[info.shaft]);
      row.surface_speed_mps =
          rim_speed(speeds[info.shaft], 0.5 * nominal.model.diameter[info.shaft]).value();
      row.torque_Nm = figure(&PartSample::torque_Nm);
      row.own_W = figure(&PartSample::own_W);
      row.net_W = figure(&PartSample::net_W);
      const auto living = std::ranges::find(nominal.variant.lives, info.id, &LivingContact::id);
      if (living != nominal.variant.lives.end() && living->life.history)
        row.own_end_of_service_W = figure(&PartSample::aged_W);
      if (std::holds_alternative<energy::ContactPart>(nominal.variant.unit.parts[i].form))
        row.contact_temperature_degC = figure(&PartSample::contact_degC);
      row.heat_into_sump_W = figure(&PartSample::into_sump_W);
      row.basis = info.basis;
      row.flags = part_flags(nominal, i, p, now);
      for (const Allocation& allocation : ensemble.question->allocations)
        if (allocation.component == info.id && allocation.point == point.id) {
          row.allocation_W = allocation.max.mid();
          row.margin_W = allocation.max.mid() - row.own_W.high;
          row.maturity = allocation.maturity;
        }
      findings.budget.push_back(std::move(row));
    }
  }
}

}  // namespace ohmdrag::study
