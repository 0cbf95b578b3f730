#include "study/years_section.hpp"

#include <algorithm>
#include <cmath>

#include "study/survival.hpp"
#include "study/years.hpp"

namespace ohmdrag::study {
namespace {

constexpr double seconds_an_hour = 3600.0;
constexpr double per_mm2 = 1e-6;
constexpr double dose_of_1000h = 1000.0 * seconds_an_hour * per_mm2;
constexpr int steps_of_service = 10;

double dose_per_1000h(const BearingSample& per_second) {
  return per_second.undosed > 0.0 ? not_a_figure : per_second.dose_J_m2 * dose_of_1000h;
}

YearsAge row_of(const YearsLane& lane, const ServiceMix& mix, Age age) {
  static constexpr std::array names{"begin", "middle", "end"};
  const auto a = static_cast<std::size_t>(age);
  const Passage& passage = lane.at(age);
  const BearingSample with = service_sum(mix, passage.with());
  const BearingSample open = service_sum(mix, passage.without());
  YearsAge row;
  row.age = names[a];
  row.share_of_life = share_of_service(age);
  if (const LivingContact* element = lane.element())
    row.line_force_N_per_mm = element->life.line_force(age).value() * 1e-3;
  if (lane.nominal.variant.grounded) {
    const auto& path = lane.nominal.variant.path[a];
    row.resistance_ohm =
        path ? voltage::direct_resistance(*path).value() : std::numeric_limits<double>::infinity();
  }
  row.striking_time_share = with.striking_s;
  row.discharge_rate_per_s = with.discharges;
  row.dose_J_per_mm2_per_1000h = dose_per_1000h(with);
  row.open_striking_time_share = open.striking_s;
  row.open_discharge_rate_per_s = open.discharges;
  row.open_dose_J_per_mm2_per_1000h = dose_per_1000h(open);
  row.element_W = passage.element_W(mix);
  return row;
}

void add_steps(const YearsLane& lane, double service_h, YearsFindings& years) {
  const std::vector<YearsAge> curve = curve_of(years.ages, worn_at(lane.element()));
  for (int i = 0; i <= steps_of_service; ++i) {
    YearsStep step;
    step.share_of_service = double(i) / steps_of_service;
    step.hours = step.share_of_service * service_h;
    const auto sum = [&](double YearsAge::*figure) {
      return service_h * sum_over_service(curve, figure, step.share_of_service, years.elements);
    };
    step.discharges = sum(&YearsAge::discharge_rate_per_s) * seconds_an_hour;
    step.dose_J_per_mm2 = sum(&YearsAge::dose_J_per_mm2_per_1000h) / 1000.0;
    step.open_dose_J_per_mm2 = sum(&YearsAge::open_dose_J_per_mm2_per_1000h) / 1000.0;
    step.element_kWh = sum(&YearsAge::element_W) / 1000.0;
    years.steps.push_back(step);
  }
}

YearsFindings years_of(const YearsLane& lane, const Case& question, const ServiceMix& mix) {
  YearsFindings years;
  years.has_element = lane.nominal.variant.grounded;
  for (const Age age : ages) years.ages.push_back(row_of(lane, mix, age));
  const auto service_h = service_hours(question, mix, lane.at(Age::begin).with());
  if (service_h) {
    years.elements = lane.elements(*service_h);
    for (YearsAge& row : years.ages) row.hours = row.share_of_life * *service_h / years.elements;
    years.service_distance_km = service_distance_km(question, mix);
    add_steps(lane, *service_h, years);
  }
  tell_protection(question, mix, worn_at(lane.element()), service_h, years);
  return years;
}

}  // namespace

YearsOfVariants::YearsOfVariants(const Ensemble& ensemble)
    : ensemble_(ensemble), mix_(service_mix(*ensemble.question)) {}
YearsOfVariants::~YearsOfVariants() = default;

void YearsOfVariants::join(Walker& walker) {
  walker.onlookers.push_back(lanes_
                                 .emplace_back(std::make_unique<YearsLane>(
                                     walker, mix_, nominal_duties(ensemble_, walker.variant)))
                                 .get());
}

void YearsOfVariants::fill(std::vector<VariantFindings>& findings) const {
  const Case& question = *ensemble_.question;
  for (const auto& lane : lanes_)
    findings.at(lane->variant).years = years_of(*lane, question, mix_);
  add_survival(ensemble_, lanes_, findings);
  const auto& baseline = findings.at(ensemble_.baseline).years;
  for (const auto& lane : lanes_) {
    auto& steps = findings[lane->variant].years->steps;
    for (std::size_t i = 0; i < steps.size(); ++i) {
      steps[i].baseline_survival = baseline ? baseline->steps[i].survival : not_a_figure;
      steps[i].baseline_dose_J_per_mm2 =
          baseline ? baseline->steps[i].dose_J_per_mm2 : not_a_figure;
    }
  }
}

}  // namespace ohmdrag::study
