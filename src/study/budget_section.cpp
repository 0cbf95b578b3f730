#include <fmt/format.h>

#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

/// What a contact's or a bearing's formulas left, and what its limits say.
std::vector<Flag> part_flags(const Nominal& nominal, std::size_t part, std::size_t point,
                             const energy::Running& now) {
  std::vector<Flag> flags;
  const PartInfo& info = nominal.variant.parts[part];
  const auto& form = nominal.variant.unit.parts[part].form;
  const std::string where = nominal.world->points[point].id;

  if (const auto* here = std::get_if<energy::ContactPart>(&form)) {
    const auto& system = nominal.variant.unit.shafts[here->shaft];
    const auto state =
        component::solve(system, now.speed[here->shaft], {now.oil, now.dry[here->shaft]});
    for (const auto& flag : component::flags(system, state))
      if (!flag.contact || *flag.contact == here->contact)
        flags.push_back(in_words(flag.flag, where));
    const Shaft& shaft = nominal.world->shafts[here->shaft];
    if (!shaft.oil_side_length || !shaft.dry_side_length)
      flags.push_back({"infinite-shaft",
                       "infinite shaft assumed: no length of the shaft is given on one side, which "
                       "flatters the contact temperature"});
    if (!shaft.dry_side_temperature)
      flags.push_back(
          {"dry-side-ambient",
           "the air at the dry side is taken at ambient; beside a hot rotor the contact "
           "runs hotter"});
    const double contact_degC = in_celsius(state.contacts[here->contact].contact);
    if (info.element && info.element->temperature_limit) {
      const double limit = in_celsius(info.element->temperature_limit->nominal());
      if (contact_degC > limit)
        flags.push_back(
            {"temperature-limit",
             fmt::format("contact at {} °C, {} K above the element's limit of {} °C",
                         print_number(contact_degC, 3), print_number(contact_degC - limit, 2),
                         print_number(limit, 3))});
    }
    if (info.element && info.element->speed_limit) {
      const double v = std::abs(rim_speed(now.speed[here->shaft], 0.5 * system.diameter).value());
      const double limit = info.element->speed_limit->nominal().value();
      if (v > limit)
        flags.push_back({"speed-limit", fmt::format("surface speed {} m/s is above the element's "
                                                    "limit of {} m/s",
                                                    print_number(v, 3), print_number(limit, 3))});
    }
    if (std::holds_alternative<LipElement>(info.element->form))
      flags.push_back(
          {"lip-estimate",
           "Lip friction is an estimate (about ±32 %) calibrated on general loss rules; "
           "replace it by a measured torque."});
  } else if (const auto* rule = std::get_if<energy::RulePart>(&form)) {
    const auto& system = nominal.variant.unit.shafts[rule->shaft];
    const auto loss = component::rule_loss(rule->rule, system.diameter, now.speed[rule->shaft],
                                           {now.oil, rule->viscosity_40});
    for (const auto& flag : loss.flags) flags.push_back(in_words(flag, where));
    flags.push_back({"general-rule",
                     "General rule for spring-loaded lips in industrial oils; extrapolated here."});
  } else if (const auto* rolling = std::get_if<energy::BearingPart>(&form)) {
    if (const auto flag = bearing::outside_palmgren_speed(now.speed[rolling->shaft],
                                                          rolling->constants.pitch_diameter))
      flags.push_back(in_words(*flag, where));
    if (rolling->loads.at(now.torque[rolling->shaft]).held)
      flags.push_back(
          {"load-curve-end",
           "the shaft torque lies beyond the given bearing loads: the end row is used"});
    flags.push_back({"palmgren-estimate", "Palmgren estimate, ±50 % on the viscous factor."});
  }
  if (info.id == "grounding")
    flags.insert(flags.end(), nominal.variant.grounding_flags.begin(),
                 nominal.variant.grounding_flags.end());
  return flags;
}

}  // namespace

Nominal::Nominal(const Ensemble& ensemble, std::size_t v)
    : world(&ensemble.world(v)),
      entry(&ensemble.question->variants[v]),
      model(*world, draw),
      variant(model, *entry, draw) {}

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
      if (std::holds_alternative<energy::ContactPart>(nominal.variant.unit.parts[i].form))
        row.contact_temperature_degC = figure(&PartSample::contact_degC);
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
