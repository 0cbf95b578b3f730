#include "study/damage_law.hpp"

#include <fmt/format.h>

#include "ohmdrag/bearing/weibull.hpp"
#include "ohmdrag/life/electrical_life.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

constexpr double never = std::numeric_limits<double>::infinity();

double hours_or_never(const life::LawLife& law) {
  return law.life ? law.life->value() / 3600.0 : never;
}

voltage::DoseRate dose_rate(const BearingSample& per_second) {
  return voltage::DoseRate::from_value(per_second.dose_J_m2);
}

}  // namespace

double law_hours(const DamageLaw& law, double erosion_slope, const BearingSample& here,
                 const BearingSample& baseline, const BearingSample& observed) {
  if (here.undosed > 0.0) return not_a_figure;
  switch (law.kind) {
    case LawKind::dose:
      if (!(here.dose_J_m2 > 0.0)) return never;
      if (!law.after || !(observed.dose_J_m2 > 0.0)) return not_a_figure;
      return hours_or_never(life::life_by_dose(Time::from_value(law.after->mid()),
                                               dose_rate(observed), dose_rate(here)));
    case LawKind::current_density: {
      if (!(here.electrical_damage > 0.0)) return never;
      const double median_h = 1.0 / here.electrical_damage / 3600.0;
      return bearing::l10_from_median(Time::from_value(median_h * 3600.0), erosion_slope).value() /
             3600.0;
    }
    case LawKind::relative:
      break;
  }
  if (!law.baseline_life) return not_a_figure;
  if (!(here.dose_J_m2 > 0.0)) return never;
  if (!(baseline.dose_J_m2 > 0.0)) return 0.0;  // only this one strikes: the factor is zero
  return hours_or_never(life::life_by_dose_factor(Time::from_value(law.baseline_life->mid()),
                                                  dose_factor(baseline, here), law.power.mid()));
}

std::size_t variant_observed(const Ensemble& ensemble, const DamageLaw& law) {
  const auto& variants = ensemble.question->variants;
  for (std::size_t v = 0; v < variants.size(); ++v)
    if (variants[v].id == law.in_variant) return v;
  return ensemble.baseline;
}

std::string law_word(LawKind kind) {
  switch (kind) {
    case LawKind::dose:
      return "dose";
    case LawKind::current_density:
      return "current-density";
    case LawKind::relative:
      break;
  }
  return "relative";
}

std::string blind_spot(const DamageLaw& law) {
  switch (law.kind) {
    case LawKind::dose:
      return fmt::format(
          "dose law, calibrated by \"{}\" after {:.0f} h in {}: blind to the peak "
          "current; one observation gives no scatter",
          law.observed, law.after ? law.after->mid() / 3600.0 : 0.0, law.in_variant);
    case LawKind::current_density:
      return "current-density law: blind to the rate of discharges, rewards load and a larger "
             "contact area. Constants from memory, one 1990s data set. A long computed life does "
             "not show that grounding is unnecessary. Current densities far below these limits "
             "have shortened life by white etching cracks.";
    case LawKind::relative:
      break;
  }
  return "relative law: baseline life and exponent are the user's; blind to everything but the "
         "dose";
}

}  // namespace ohmdrag::study
