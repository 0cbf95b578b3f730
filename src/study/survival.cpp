#include "study/survival.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/bearing/weibull.hpp"
#include "study/damage_law.hpp"
#include "study/years.hpp"

namespace ohmdrag::study {
namespace {

using Curve = std::vector<DamageRate>;

enum class Path { kept, open };

/// Share of a life that 90 % survive, as an age in units of that life.
double survival(double share_of_life, double slope) {
  if (std::isinf(share_of_life)) return 0.0;
  return bearing::survival({Time::from_value(1.0), slope}, Time::from_value(share_of_life));
}

/// Dose and fatigue of one bearing at each age; erosion is still to come.
Curve rates_of(const YearsLane& lane, std::size_t bearing, Path path) {
  Curve rows;
  for (const Age age : ages) {
    const Passage& passage = lane.at(age);
    const VariantSample& sample = path == Path::open ? passage.without() : passage.with();
    const BearingSample sum = service_mean(lane.mix, sample, bearing).per_second;
    DamageRate row;
    row.share_of_life = share_of_service(age);
    row.dose_J_m2_s = sum.dose_J_m2;
    row.fatigue_per_h = 3600.0 * fatigue_share(*lane.nominal.world, sum);
    rows.push_back(row);
  }
  return rows;
}

/// A bearing of the mean dose that a variant gives it in its first hours; of its whole service
/// where that is shorter.
BearingSample mean_over_first(const YearsLane& lane, std::size_t bearing, double hours,
                              double service_h) {
  const Curve curve = curve_of(rates_of(lane, bearing, Path::kept), worn_at(lane.element()));
  const double share = std::min(1.0, hours / service_h);
  BearingSample mean;
  mean.dose_J_m2 =
      sum_over_service(curve, &DamageRate::dose_J_m2_s, share, lane.elements(service_h)) / share;
  return mean;
}

/// Erosion under a law, age by age. What the law was calibrated by ages as well: its dose is the
/// mean over the hours of the calibration.
class ErosionOverService {
 public:
  /// \param baseline, observed  null: not there to compare with
  ErosionOverService(const DamageLaw& law, const YearsLane* baseline, const YearsLane* observed,
                     double service_h)
      : law_(law), baseline_(baseline), observed_(observed), service_h_(service_h) {}

  /// Fills erosion_per_h; NaN where the law says nothing.
  void add_to(Curve& rows, const YearsLane& lane, std::size_t bearing, Path path) const {
    const double slope = life_slopes(*lane.nominal.world).erosion;
    const BearingSample base = reference(baseline_, bearing, law_.baseline_life);
    const BearingSample observed = reference(observed_, bearing, law_.after);
    for (std::size_t a = 0; a < rows.size(); ++a) {
      const Passage& passage = lane.at(ages[a]);
      const VariantSample& sample = path == Path::open ? passage.without() : passage.with();
      const BearingSample here = service_mean(lane.mix, sample, bearing).per_second;
      rows[a].erosion_per_h = 1.0 / law_hours(law_, slope, here, base, observed);
    }
  }

 private:
  BearingSample reference(const YearsLane* lane, std::size_t bearing,
                          const std::optional<Uncertain<Time>>& calibrated) const {
    if (!lane || !calibrated) return {};
    return mean_over_first(*lane, bearing, calibrated->mid() / 3600.0, service_h_);
  }

  const DamageLaw& law_;
  const YearsLane* baseline_;
  const YearsLane* observed_;
  double service_h_;
};

std::vector<Curve> curves_of(const YearsLane& lane, Path path,
                             const std::optional<ErosionOverService>& erosion) {
  std::vector<Curve> curves;
  for (std::size_t b = 0; b < lane.nominal.world->bearings.size(); ++b) {
    Curve rows = rates_of(lane, b, path);
    if (erosion) erosion->add_to(rows, lane, b, path);
    curves.push_back(curve_of(rows, worn_at(lane.element())));
  }
  return curves;
}

bool silent(const std::vector<Curve>& curves) {
  return std::ranges::any_of(curves, [](const Curve& curve) {
    return std::ranges::any_of(curve,
                               [](const DamageRate& row) { return std::isnan(row.erosion_per_h); });
  });
}

std::string in_words(const Case& world, const std::string& law, bool law_is_silent) {
  const char* const rating = starts_at_modified(world) ? "modified" : "basic";
  if (law.empty())
    return fmt::format(
        "Fatigue alone, by the {} rating life: no law of damage is named, so that discharges take "
        "nothing from this survival.",
        rating);
  if (law_is_silent)
    return fmt::format(
        "Fatigue alone, by the {} rating life: the {} law says nothing here, as nothing discharges "
        "where it was calibrated or a contact area is not known.",
        rating, law);
  return fmt::format(
      "Fatigue by the {} rating life, and erosion under the {} law; the damage of every year with "
      "the oil and the dose of that year.",
      rating, law);
}

}  // namespace

double survival_of(const std::vector<Curve>& curves, const LifeSlopes& slopes, double service_h,
                   double share_of_service, double elements) {
  if (!(share_of_service > 0.0)) return 1.0;
  double product = 1.0;
  for (const Curve& curve : curves) {
    const auto lived = [&](double DamageRate::*rate) {
      const auto infinite = [&](const DamageRate& row) { return std::isinf(row.*rate); };
      if (std::ranges::any_of(curve, infinite)) return std::numeric_limits<double>::infinity();
      return service_h * sum_over_service(curve, rate, share_of_service, elements);
    };
    product *= survival(lived(&DamageRate::fatigue_per_h), slopes.fatigue) *
               survival(lived(&DamageRate::erosion_per_h), slopes.erosion);
  }
  return product;
}

void add_survival(const Ensemble& ensemble, const std::vector<std::unique_ptr<YearsLane>>& lanes,
                  std::vector<VariantFindings>& findings) {
  const Case& question = *ensemble.question;
  const DamageLaw* law = question.laws.empty() ? nullptr : &question.laws.front();
  const auto lane_of = [&](std::size_t variant) -> const YearsLane* {
    for (const auto& lane : lanes)
      if (lane->variant == variant) return lane.get();
    return nullptr;
  };
  for (const auto& lane : lanes) {
    YearsFindings& years = *findings[lane->variant].years;
    if (years.steps.empty()) continue;
    const Case& world = *lane->nominal.world;
    const LifeSlopes slopes = life_slopes(world);
    const double service_h = years.steps.back().hours;
    std::optional<ErosionOverService> erosion;
    if (law)
      erosion.emplace(*law, lane_of(ensemble.baseline), lane_of(variant_observed(ensemble, *law)),
                      service_h);
    const std::vector<Curve> fatigue = curves_of(*lane, Path::kept, std::nullopt);
    std::vector<Curve> with = curves_of(*lane, Path::kept, erosion);
    std::vector<Curve> open = curves_of(*lane, Path::open, erosion);
    const bool law_is_silent = silent(with) || silent(open);
    if (law_is_silent) with = open = fatigue;
    if (law && !law_is_silent) years.survival_law = law_word(law->kind);
    years.survival_in_words = in_words(world, law ? law_word(law->kind) : "", law_is_silent);
    for (YearsStep& step : years.steps) {
      const auto of = [&](const std::vector<Curve>& curves) {
        return survival_of(curves, slopes, service_h, step.share_of_service, years.elements);
      };
      step.survival = of(with);
      step.open_survival = of(open);
      step.fatigue_survival = of(fatigue);
    }
  }
}

}  // namespace ohmdrag::study
