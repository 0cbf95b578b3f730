#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

bool alike(double a, double b) {
  constexpr double rounding = 1e-9;
  return std::abs(a - b) <= rounding * std::max(std::abs(a), std::abs(b));
}

}  // namespace

void fill_law_blindness(const Ensemble& ensemble, std::size_t v, VariantFindings& findings) {
  const Case& question = *ensemble.question;
  if (v == ensemble.baseline || !has_electrics(ensemble.world(v)) ||
      std::ranges::find(question.laws, LawKind::current_density, &DamageLaw::kind) ==
          question.laws.end())
    return;
  const ServiceMix mix = service_mix(question);
  const std::size_t draws = ensemble.samples[v].size();
  for (std::size_t b = 0; b < ensemble.world(v).bearings.size(); ++b) {
    std::size_t blind = 0;
    for (std::size_t i = 0; i < draws; ++i) {
      const BearingSample here = service_mean(mix, ensemble.samples[v][i], b).per_second;
      const BearingSample base =
          service_mean(mix, ensemble.samples[ensemble.baseline][i], b).per_second;
      if (here.electrical_damage > 0.0 && alike(here.electrical_damage, base.electrical_damage) &&
          !alike(here.dose_J_m2, base.dose_J_m2))
        ++blind;
    }
    if (blind == 0) continue;
    findings.life[b].flags.push_back(
        {"law-blind",
         fmt::format("Under the current-density law {} gains exactly nothing in hours in {} % of "
                     "the draws, although rate, energy and dose of the discharges differ: what is "
                     "left on the shaft still exceeds the threshold, and the law sees only the "
                     "height of a discharge, never how many there are.",
                     findings.id, print_number(100.0 * double(blind) / double(draws), 3))});
  }
}

}  // namespace ohmdrag::study
