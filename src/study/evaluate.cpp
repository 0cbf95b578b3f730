#include "ohmdrag/study/evaluate.hpp"

#include <oneapi/tbb/parallel_for.h>

#include <optional>
#include <stdexcept>

#include "ohmdrag/study/side_by_side.hpp"
#include "study/first_order.hpp"
#include "study/sections.hpp"
#include "study/sensitivity_section.hpp"
#include "study/trips.hpp"

namespace ohmdrag::study {
namespace {

VariantFindings variant_findings(const Ensemble& ensemble, const std::optional<ServiceMeans>& means,
                                 std::size_t v) {
  const Sections& sections = ensemble.sections;
  VariantFindings variant;
  variant.id = ensemble.question->variants[v].id;
  variant.title = ensemble.question->variants[v].title;
  const Nominal nominal(ensemble, v);
  if (sections.budget) fill_budget(ensemble, v, nominal, variant);
  if (sections.budget) fill_speed_watts(ensemble, v, nominal, variant);
  if (sections.budget) fill_account(ensemble, v, nominal, variant);
  if (sections.budget) fill_service(ensemble, v, nominal, variant);
  if (sections.energy) fill_energy(ensemble, v, nominal, variant);
  if (sections.energy) variant.trips = ensemble.trips[v];
  if (sections.voltage) fill_voltage(ensemble, v, nominal, variant);
  if (sections.life) fill_life(*means, v, variant);
  if (sections.life) fill_law_blindness(*means, v, variant);
  if (sections.life) fill_rating_life(*means, v, variant);
  if (sections.life) fill_harm(ensemble, v, nominal, variant);
  fill_requirements(ensemble, v, variant);
  return variant;
}

/// Drops the samples on all threads: they are made of so many small blocks that one thread alone
/// takes as long for it as for all sections.
void drop(std::vector<std::vector<VariantSample>>& samples) {
  for (auto& of_variant : samples)
    oneapi::tbb::parallel_for(std::size_t{0}, of_variant.size(),
                              [&](std::size_t i) { of_variant[i] = {}; });
}

}  // namespace

Findings evaluate(const Case& question, const Sections& sections, const TripProgress& progress) {
  if (question.variants.empty()) throw std::invalid_argument("a case needs at least one variant");
  Ensemble ensemble(question, sections, progress);

  Findings findings;
  findings.title = question.title;
  findings.question = question.question;
  findings.invented = question.invented;
  findings.baseline = question.baseline;
  findings.file = question.provenance.file;
  findings.sha256 = question.provenance.sha256;
  for (const auto& include : question.provenance.includes)
    findings.includes.emplace_back(include.file, include.sha256);
  findings.changes = question.provenance.changes;
  findings.seed = question.seed;
  findings.samples = ensemble.draws->samples();
  findings.stability = ensemble.stability;
  for (const auto& point : question.points) findings.points.push_back(point.id);
  for (const auto& duty : question.duties) findings.duties.push_back(duty.id);

  std::optional<ServiceMeans> means;
  if (sections.life || sections.trade) means.emplace(ensemble);
  findings.variants.resize(question.variants.size());
  side_by_side(question.variants.size(),
               [&](std::size_t v) { findings.variants[v] = variant_findings(ensemble, means, v); });
  fill_over_duties(ensemble, findings.variants);
  if (sections.energy) findings.watt_worth = watt_worth(ensemble);
  if (sections.voltage) findings.density_statements = density_statements(question);
  if (sections.trade) findings.trade = trade(*means, findings.variants);
  if (sections.trade) findings.no_first_order = no_first_order(ensemble);
  fill_register(ensemble, findings);
  if (findings.trade) fill_sensitivity(ensemble, findings);
  findings.cautions = cautions(question, sections);
  if (!ensemble.trips.empty())
    for (std::string& caution : trip_cautions(ensemble))
      findings.cautions.push_back(std::move(caution));
  const auto missing = [&](bool asked, bool there, const char* what) {
    if (asked && !there) findings.cautions.emplace_back(what);
  };
  missing(sections.budget, !question.points.empty(),
          "The case has no operating point: no watts at a point.");
  missing(sections.energy, !question.duties.empty(), "The case has no duty: no energy over one.");
  missing(sections.voltage, has_electrics(question),
          "The case has no inverter and coupling: no shaft voltage, no discharges.");
  missing(sections.life, !question.bearings.empty() && !question.duties.empty(),
          "The case has no bearing or no duty: no life and no discharges over a duty.");
  drop(ensemble.samples);
  return findings;
}

}  // namespace ohmdrag::study
