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

void fill_law_blindness(const ServiceMeans& means, std::size_t v, VariantFindings& findings) {
  const Ensemble& ensemble = means.ensemble();
  const Case& question = *ensemble.question;
  if (v == ensemble.baseline || !has_electrics(ensemble.world(v)) ||
      std::ranges::find(question.laws, LawKind::current_density, &DamageLaw::kind) ==
          question.laws.end())
    return;
  const std::size_t draws = ensemble.samples[v].size();
  for (std::size_t b = 0; b < ensemble.world(v).bearings.size(); ++b) {
    std::size_t blind = 0;
    for (std::size_t i = 0; i < draws; ++i) {
      const BearingSample& here = means.of(v, b)[i].per_second;
      const BearingSample& base = means.of(ensemble.baseline, b)[i].per_second;
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
