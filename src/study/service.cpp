#include "study/service.hpp"

#include <algorithm>
#include <stdexcept>

namespace ohmdrag::study {

ServiceMix service_mix(const Case& question) {
  ServiceMix mix;
  const auto driven = [](const Duty& duty) { return duty.is_driven(); };
  // Without a mix machines are weighted by their hours, and every driven duty counts the same.
  double all_hours = 0.0;
  for (const Duty& duty : question.duties)
    if (duty.hours_per_year) all_hours += duty.hours_per_year->mid();
  // Start temperatures of one duty are that duty.
  const auto members = [&](const Duty& duty) {
    return duty.family.empty() ? 1
                               : std::ranges::count(question.duties, duty.family, &Duty::family);
  };
  double families = 0.0;
  for (const Duty& duty : question.duties) families += 1.0 / double(members(duty));
  for (const Duty& duty : question.duties) {
    const auto named = question.service.mix.find(duty.id);
    if (!question.service.mix.empty())
      mix.share.push_back(named == question.service.mix.end() ? 0.0 : named->second);
    else if (all_hours > 0.0)
      mix.share.push_back(duty.hours_per_year ? duty.hours_per_year->mid() / all_hours : 0.0);
    else
      mix.share.push_back(1.0 / (families * double(members(duty))));
  }
  bool any_driven = false, any_steady = false;
  for (std::size_t d = 0; d < mix.share.size(); ++d)
    if (mix.share[d] > 0.0) (driven(question.duties[d]) ? any_driven : any_steady) = true;
  if (any_driven && any_steady)
    throw std::invalid_argument(
        "service.mix: shares of a distance and of running hours cannot be mixed");
  mix.driven = any_driven;
  return mix;
}

ServiceMean service_mean(const ServiceMix& mix, const VariantSample& sample, std::size_t bearing) {
  ServiceMean mean;
  for (std::size_t d = 0; d < mix.share.size(); ++d) {
    if (mix.share[d] == 0.0) continue;
    const DutySample& duty = sample.duties[d];
    const double time = duty.time_s();
    const double weight = weight_of(mix, d, duty.distance_m(), time);
    mean.seconds_per_unit += weight * time;
    if (bearing >= duty.bearings.size()) continue;
    const BearingSample& b = duty.bearings[bearing];
    BearingSample& sum = mean.per_second;
    for (const auto figure : bearing_sums) sum.*figure += weight * b.*figure;
    for (std::size_t c = 0; c < credit_us.size(); ++c)
      sum.striking_by_credit_s[c] += weight * b.striking_by_credit_s[c];
  }
  if (mean.seconds_per_unit > 0.0) {
    BearingSample& sum = mean.per_second;
    const double per_second = 1.0 / mean.seconds_per_unit;
    for (const auto figure : bearing_sums) sum.*figure *= per_second;
    for (double& figure : sum.striking_by_credit_s) figure *= per_second;
  }
  return mean;
}

void add_way(const BearingSample& way, BearingSample& sum) {
  const double conducting_s = std::max(sum.conducting_s, way.conducting_s);
  // One way is struck at a time: shares add.
  for (const auto member : bearing_sums) sum.*member += way.*member;
  sum.conducting_s = conducting_s;
  for (std::size_t c = 0; c < credit_us.size(); ++c)
    sum.striking_by_credit_s[c] += way.striking_by_credit_s[c];
}

std::optional<double> hours_a_year(const Case& question, const ServiceMix& mix) {
  // The hours of the duties are those of a year; the mix only says how they are shared.
  double hours = 0.0;
  for (std::size_t d = 0; d < mix.share.size(); ++d)
    if (mix.share[d] > 0.0 && question.duties[d].hours_per_year)
      hours += question.duties[d].hours_per_year->mid() / 3600.0;
  return hours > 0.0 ? std::optional(hours) : std::nullopt;
}

std::optional<double> service_hours(const Case& question, const ServiceMix& mix,
                                    const VariantSample& sample) {
  if (mix.driven) {
    if (!question.service.distance) return std::nullopt;
    const double metres = question.service.distance->mid();
    return metres * service_mean(mix, sample, 0).seconds_per_unit / 3600.0;
  }
  if (question.service.hours) return question.service.hours->mid() / 3600.0;
  const auto a_year = hours_a_year(question, mix);
  if (!question.service.years || !a_year) return std::nullopt;
  return *a_year * question.service.years->mid();
}

std::optional<double> service_distance_km(const Case& question, const ServiceMix& mix) {
  if (!mix.driven || !question.service.distance) return std::nullopt;
  return question.service.distance->mid() / 1000.0;
}

}  // namespace ohmdrag::study
