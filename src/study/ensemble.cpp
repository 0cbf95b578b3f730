#include "study/ensemble.hpp"

#include <fmt/format.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <complex>
#include <stdexcept>

#include "ohmdrag/study/visit.hpp"
#include "study/account.hpp"
#include "study/electric.hpp"
#include "study/heat_into_sump.hpp"
#include "study/sections.hpp"
#include "study/service_history.hpp"
#include "study/trips.hpp"

namespace ohmdrag::study {
namespace {

constexpr std::array shown_Hz{10.0, 100.0, 1e3, 1e4, 1e5, 1e6, 5e6, 1e7, 1e8};

/// The frequencies that the report shows and the requirements ask for, rising.
std::vector<Frequency> frequencies_of(const Case& question) {
  std::vector<Frequency> result;
  for (const double f : shown_Hz) result.push_back(Frequency::from_value(f));
  for (const Requirement& requirement : question.requirements)
    for (const Frequency& f : requirement.band) result.push_back(f);
  if (question.inverter) result.push_back(question.inverter->switching_frequency.nominal());
  std::sort(result.begin(), result.end());
  result.erase(std::unique(result.begin(), result.end()), result.end());
  return result;
}

/// Over the frequencies; infinite where no path is left.
std::vector<double> impedance_ohm(const std::optional<voltage::GroundingPath>& path,
                                  const std::vector<Frequency>& frequencies) {
  std::vector<double> result;
  for (const Frequency& f : frequencies)
    result.push_back(path ? std::abs(voltage::impedance_ohm(*path, f))
                          : std::numeric_limits<double>::infinity());
  return result;
}

void sample_path(const VariantModel& variant, const std::vector<Frequency>& frequencies,
                 VariantSample& sample) {
  if (!variant.grounded) return;
  for (std::size_t a = 0; a < ages.size(); ++a) {
    const auto& path = variant.path[a];
    sample.impedance_ohm[a] = impedance_ohm(path, frequencies);
    sample.resistance_ohm[a] =
        path ? voltage::direct_resistance(*path).value() : std::numeric_limits<double>::infinity();
  }
}

/// The same of the contact as it runs at a point.
void sample_path(const WorldModel& model, const VariantModel& variant, const OperatingPoint& point,
                 const std::vector<Frequency>& frequencies, const Draw& draw, PointSample& sample) {
  if (!variant.grounded) return;
  const auto part = std::ranges::find(variant.parts, "grounding", &PartInfo::id);
  const double degC =
      sample.parts[static_cast<std::size_t>(part - variant.parts.begin())].contact_degC;
  const auto contact = std::isnan(degC) ? std::nullopt : std::optional(from_celsius(degC));
  const AngularVelocity speed = model.speeds(point, draw)[part->shaft];
  for (const Age age : ages)
    sample.impedance_ohm[static_cast<std::size_t>(age)] =
        impedance_ohm(variant.path_at(age, speed, contact), frequencies);
}

std::vector<ContactSample> contact_samples(const VariantModel& variant) {
  std::vector<ContactSample> result;
  for (const LivingContact& living : variant.lives) {
    ContactSample sample;
    for (const Age age : ages) {
      const auto a = static_cast<std::size_t>(age);
      sample.line_force_N_m[a] = living.life.line_force(age).value();
      sample.width_m[a] = living.life.of(age).width.value();
    }
    const contact::Aged& end = living.life.of(Age::end);
    sample.wear_m = end.wear.value();
    if (end.groove) sample.groove_m = end.groove->value();
    if (end.length_used && living.life.history)
      sample.worn_out_s = living.life.history->age.value() / *end.length_used;
    if (living.life.density && living.life.history) {
      const Length around = std::numbers::pi * variant.unit.shafts[living.shaft].diameter;
      sample.debris_kg_per_s =
          (*living.life.density * end.worn * around / living.life.history->age).value();
    }
    result.push_back(sample);
  }
  return result;
}

bool marches_duties(const Ensemble& ensemble) {
  const Sections& asked = ensemble.sections;
  return asked.energy || asked.life || (asked.budget && account_names_a_duty(*ensemble.question));
}

/// Every variant in one draw; worlds and their duties are built once for the variants they share.
std::vector<VariantSample> sample_all(const Ensemble& ensemble, const Draw& draw) {
  const Case& question = *ensemble.question;
  std::vector<VariantSample> result;
  const Case* built_for = nullptr;
  std::unique_ptr<WorldModel> model;
  std::vector<DutyModel> duties;
  for (std::size_t v = 0; v < question.variants.size(); ++v) {
    const Case& world = ensemble.world(v);
    const bool march = marches_duties(ensemble);
    if (&world != built_for) {
      model = std::make_unique<WorldModel>(world, draw);
      duties.clear();
      if (march)
        for (const Duty& duty : world.duties) duties.push_back(duty_model(*model, duty, draw));
      built_for = &world;
    }
    const Variant& variant = question.variants[v];
    try {
      const VariantModel unit(*model, variant, draw, ensemble.histories[v]);
      VariantSample sample;
      std::optional<ElectricModel> electric;
      // Its table of stresses costs as much as a short duty: only where a section asks for it.
      if (has_electrics(world) && (ensemble.sections.voltage || ensemble.sections.life))
        electric.emplace(*model, unit, draw);
      for (const OperatingPoint& point : world.points) {
        sample.points.push_back(point_sample(*model, unit, point, draw));
        sample_path(*model, unit, point, ensemble.frequencies, draw, sample.points.back());
      }
      if (electric && ensemble.sections.voltage)
        for (std::size_t p = 0; p < world.points.size(); ++p)
          sample.points[p].electric = electric->at(world.points[p], draw);
      for (std::size_t d = 0; d < duties.size(); ++d) {
        sample.duties.push_back(duty_sample(
            *model, unit, duties[d], electric && ensemble.sections.life ? &*electric : nullptr));
        if (world.duties[d].trips.empty())
          sample.duties.back().baseline_Wh_per_km = baseline_consumption(*model, duties[d], draw);
      }
      sample_path(unit, ensemble.frequencies, sample);
      sample.contacts = contact_samples(unit);
      result.push_back(std::move(sample));
    } catch (const std::invalid_argument& e) {
      throw std::invalid_argument(fmt::format("variant {}: {}", variant.id, e.what()));
    } catch (const std::domain_error& e) {
      throw std::domain_error(fmt::format("variant {}: {}", variant.id, e.what()));
    }
  }
  return result;
}

/// Far from the middle a contact may be unstable or not fit: there is no answer then.
std::optional<std::vector<VariantSample>> sample_if_possible(const Ensemble& ensemble,
                                                             const Draw& draw) {
  try {
    return sample_all(ensemble, draw);
  } catch (const std::invalid_argument&) {
    return std::nullopt;
  } catch (const std::domain_error&) {
    return std::nullopt;
  }
}

std::size_t index_of_baseline(const Case& question) {
  for (std::size_t v = 0; v < question.variants.size(); ++v)
    if (question.variants[v].id == question.baseline) return v;
  return 0;
}

}  // namespace

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
  for (const energy::PhaseLedger& phase : ledger.phases) {
    PhaseSample sample{phase.time.value(), phase.distance.value(), {}, {}};
    for (std::size_t p = 0; p < variant.parts.size(); ++p) {
      sample.shaft_J.push_back(phase.of_part(p).value());
      if (duty.driven)
        sample.battery_J.push_back(
            phase.at_battery(p, *model.path, model.gearing[variant.parts[p].shaft].side).value());
    }
    result.phases.push_back(std::move(sample));
  }
  result.worth = shaft_worth(model, duty);
  result.end_oil_degC = in_celsius(ledger.oil_at_end);
  return result;
}

double baseline_consumption(const WorldModel& model, const DutyModel& duty, const Draw& draw) {
  if (!duty.driven) return 0.0;
  const auto& auxiliary = model.world->vehicle->auxiliary_power;
  return in_Wh_per_km(duty::consumption(
      duty::battery_balance(duty.steps, *model.path, auxiliary ? draw(*auxiliary) : Power{})));
}

std::vector<std::optional<std::vector<VariantSample>>> samples_at(const Ensemble& of,
                                                                  std::span<const Places> places) {
  const Draws stated(of.draws->drawn(), places);
  std::vector<std::optional<std::vector<VariantSample>>> result(places.size());
  oneapi::tbb::parallel_for(std::size_t{0}, places.size(), [&](std::size_t i) {
    result[i] = sample_if_possible(of, Draw(stated, static_cast<int>(i)));
  });
  return result;
}

const Case& world_of(const Case& question, const Variant& variant) {
  return variant.world ? *variant.world : question;
}

const Case& Ensemble::world(std::size_t variant) const {
  return world_of(*question, question->variants[variant]);
}

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

PointSample point_sample(const WorldModel& model, const VariantModel& variant,
                         const OperatingPoint& point, const Draw& draw) {
  const auto speeds = model.speeds(point, draw);
  const auto torques = model.torques(point, draw);
  const energy::Running now{speeds, torques, model.dry, draw(point.oil_temperature)};
  const energy::DriveUnit unit = unit_at(point, *model.world, variant, draw);
  PointSample sample;
  const auto losses = energy::losses_at(unit, now);
  const HeatIntoSump heat = heat_into_sump(unit, now, losses);
  sample.idle_into_sump_W = heat.idle.value();
  for (std::size_t p = 0; p < losses.size(); ++p) {
    const energy::PartLoss& loss = losses[p];
    PartSample part{loss.torque.value(), loss.power.value(), loss.power.value(), not_a_figure};
    if (loss.contact) part.contact_degC = in_celsius(*loss.contact);
    part.into_sump_W = heat.by_part[p].value();
    sample.total_W += part.own_W;
    sample.parts.push_back(part);
  }
  for (std::size_t p = 0; p < sample.parts.size(); ++p)
    if (std::holds_alternative<energy::ContactPart>(unit.parts[p].form))
      sample.parts[p].net_W = energy::net_power(unit, now, p).value();
  const auto has_aged = [](const LivingContact& living) { return living.life.history.has_value(); };
  if (std::ranges::any_of(variant.lives, has_aged)) {
    const auto aged = energy::losses_at(variant.unit_at(Age::end), now);
    for (std::size_t p = 0; p < sample.parts.size(); ++p)
      sample.parts[p].aged_W = aged[p].power.value();
  }
  return sample;
}

Ensemble::Ensemble(const Case& of, const Sections& asked, const TripProgress& progress)
    : question(&of),
      sections(asked),
      frequencies(frequencies_of(of)),
      baseline(index_of_baseline(of)) {
  std::vector<const UncertainNumber*> numbers;
  for_each_number(of, [&](const UncertainNumber& number) { numbers.push_back(&number); });
  for (const Variant& variant : of.variants)
    histories.push_back(service_history(of, world_of(of, variant), variant));
  const int count = of.samples > 0 ? of.samples : default_samples;
  draws = std::make_unique<Draws>(numbers, count, of.seed);

  std::vector<std::vector<VariantSample>> by_draw(static_cast<std::size_t>(count));
  oneapi::tbb::parallel_for(std::size_t{0}, by_draw.size(), [&](std::size_t i) {
    by_draw[i] = sample_all(*this, Draw(*draws, static_cast<int>(i)));
  });
  samples.resize(of.variants.size());
  for (auto& draw : by_draw)
    for (std::size_t v = 0; v < draw.size(); ++v) samples[v].push_back(std::move(draw[v]));
  if (marches_duties(*this)) march_trips(*this, progress);
}

}  // namespace ohmdrag::study
