#include <fmt/format.h>

#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

constexpr double newton_per_m_in_N_per_mm = 1e-3;
constexpr double metre_in_mm = 1e3;
constexpr double metre_in_um = 1e6;
constexpr double kg_per_s_in_mg_per_1000h = 1e6 * 3.6e6;

/// What keeps a lip tight, against the force that is left.
std::vector<Flag> tightness_flags(const LipElement& lip, const ServiceRow& row) {
  if (!lip.least_line_force)
    return {{"least-force-missing",
             "no least force for tightness is given (least_line_force): a force that falls, or is "
             "made small, may cost the seal its tightness. Says nothing about leakage."}};
  const double least = lip.least_line_force->nominal().value() * newton_per_m_in_N_per_mm;
  const double left = row.line_force_end_N_per_mm.low;
  return {{"least-force",
           fmt::format("least force for tightness {} N/mm ({}): at the end of service {} of the "
                       "parts hold {} N/mm, {} it. Says nothing about leakage.",
                       print_number(least, 3), to_word(lip.least_line_force->basis), "97.5 %",
                       print_number(left, 3), left >= least ? "above" : "BELOW")}};
}

std::vector<Flag> service_flags(const Element& element, const ContactLife& life,
                                const ServiceRow& row) {
  std::vector<Flag> flags;
  if (life.line_force(Age::begin) == LineForce{} && life.of(Age::begin).line_force() > LineForce{})
    flags.push_back({"lifted",
                     "the pressure on the air side lifts the lip off the shaft: it seals "
                     "nothing"});
  for (const auto& flag : life.flags) flags.push_back(in_words(flag, "end of service"));
  if (row.worn_out_after_h && row.worn_out_after_h->mid < *row.hours)
    flags.push_back({"worn-out", fmt::format("worn out after {} of {} running hours in the middle "
                                             "of the draws: then it touches nothing",
                                             print_number(row.worn_out_after_h->mid, 2),
                                             print_number(*row.hours, 2))});
  if (row.resistance_end_ohm && std::isinf(row.resistance_end_ohm->high))
    flags.push_back(
        {"open-at-end",
         "in some draws it has lost more than nine tenths of its force by the end: taken "
         "as open"});
  constexpr double widest_calibrated_mm = 0.5;
  const auto* lip = std::get_if<LipElement>(&element.form);
  if (lip && std::holds_alternative<MixedFilmEntry>(lip->law) &&
      row.contact_width_end_mm.mid > widest_calibrated_mm)
    flags.push_back(
        {"wide-band",
         "the worn band is far wider than the new one; that film friction goes with its "
         "cube root is derived, no test stands behind it"});
  if (life.history)
    flags.push_back(
        {"remembered-ageing", "End-of-life force rests on remembered wear and ageing constants."});
  else
    flags.push_back({"no-service",
                     "nothing is known of its service (no [service] of the element, or no service "
                     "distance, years or hours of the case): the force is kept"});
  if (lip && row.component == "seal")
    for (Flag& flag : tightness_flags(*lip, row)) flags.push_back(std::move(flag));
  return flags;
}

}  // namespace

void fill_service(const Ensemble& ensemble, std::size_t v, const Nominal& nominal,
                  VariantFindings& findings) {
  const auto& samples = ensemble.samples[v];
  for (std::size_t c = 0; c < nominal.variant.lives.size(); ++c) {
    const LivingContact& living = nominal.variant.lives[c];
    const auto by_age = [&](std::array<double, ages.size()> ContactSample::*member, Age age,
                            double unit) {
      return reduce(samples, [&](const VariantSample& s) {
        return unit * (s.contacts[c].*member)[static_cast<std::size_t>(age)];
      });
    };
    const auto at_end = [&](double ContactSample::*member, double unit) {
      return reduce(samples,
                    [&](const VariantSample& s) { return unit * (s.contacts[c].*member); });
    };
    const auto known = [&](double ContactSample::*member) {
      return !std::isnan(samples.front().contacts[c].*member);
    };

    ServiceRow row;
    row.component = living.id;
    const PartInfo& info = *std::ranges::find(nominal.variant.parts, living.id, &PartInfo::id);
    row.title = info.title;
    row.basis = info.basis;
    if (living.life.history) {
      row.hours = living.life.history->age.value() / 3600.0;
      row.way_km = living.life.history->way.value() / 1000.0;
      row.ageing_temperature_degC = in_celsius(living.life.history->temperature);
    }
    const auto force = &ContactSample::line_force_N_m;
    row.line_force_N_per_mm = by_age(force, Age::begin, newton_per_m_in_N_per_mm);
    row.line_force_middle_N_per_mm = by_age(force, Age::middle, newton_per_m_in_N_per_mm);
    row.line_force_end_N_per_mm = by_age(force, Age::end, newton_per_m_in_N_per_mm);
    row.contact_width_mm = by_age(&ContactSample::width_m, Age::begin, metre_in_mm);
    row.contact_width_end_mm = by_age(&ContactSample::width_m, Age::end, metre_in_mm);
    if (living.life.history) row.wear_um = at_end(&ContactSample::wear_m, metre_in_um);
    if (living.life.history && known(&ContactSample::groove_m))
      row.shaft_groove_um = at_end(&ContactSample::groove_m, metre_in_um);
    if (known(&ContactSample::debris_kg_per_s))
      row.debris_mg_per_1000h = at_end(&ContactSample::debris_kg_per_s, kg_per_s_in_mg_per_1000h);
    if (known(&ContactSample::worn_out_s))
      row.worn_out_after_h = at_end(&ContactSample::worn_out_s, 1.0 / 3600.0);
    if (living.id == "grounding" && nominal.variant.grounded) {
      const auto ohms = [&](Age age) {
        return reduce(samples, [&](const VariantSample& s) {
          return s.resistance_ohm[static_cast<std::size_t>(age)];
        });
      };
      row.resistance_ohm = ohms(Age::begin);
      row.resistance_middle_ohm = ohms(Age::middle);
      row.resistance_end_ohm = ohms(Age::end);
    }
    row.flags = service_flags(*info.element, living.life, row);
    findings.service.push_back(std::move(row));
  }
}

}  // namespace ohmdrag::study
