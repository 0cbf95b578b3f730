#include "ohmdrag/life/discharge_dose.hpp"

#include <stdexcept>

namespace ohmdrag::life {

double DischargeDose::striking_share() const {
  return time > Time{} ? double(striking / time) : 0.0;
}

double DischargeDose::expected_share() const {
  return time > Time{} ? double(expected / time) : 0.0;
}

Frequency DischargeDose::mean_rate() const {
  return time > Time{} ? discharges / time : Frequency{};
}

voltage::DoseRate DischargeDose::mean_dose_rate() const {
  return time > Time{} ? voltage::DoseRate{dose / time} : voltage::DoseRate{};
}

void add(DischargeDose& sum, const DoseStep& step) {
  if (!(step.duration >= Time{} && step.rate >= Frequency{} && step.power >= Power{} &&
        step.dose_rate >= voltage::DoseRate{}))
    throw std::invalid_argument("dose: durations and rates must not be negative");
  sum.time += step.duration;
  if (step.verdict != voltage::Verdict::none) sum.striking += step.duration;
  if (step.verdict == voltage::Verdict::expected) sum.expected += step.duration;
  sum.discharges += double(step.rate * step.duration);
  sum.energy += step.power * step.duration;
  sum.dose += step.dose_rate * step.duration;
}

DischargeDose accumulate(std::span<const DoseStep> steps) {
  DischargeDose sum;
  for (const DoseStep& step : steps) add(sum, step);
  return sum;
}

std::optional<double> dose_factor(const DischargeDose& baseline, const DischargeDose& variant) {
  if (!(baseline.time > Time{} && variant.time > Time{}))
    throw std::invalid_argument("dose factor: both duties must cover some time");
  if (variant.dose == EnergyPerArea{}) return std::nullopt;
  return double(baseline.mean_dose_rate() / variant.mean_dose_rate());
}

}  // namespace ohmdrag::life
