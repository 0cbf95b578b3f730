#include <algorithm>
#include <numeric>

#include "study/account.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

/// Where watts are accounted for: an operating point, or the whole of a duty.
struct Place {
  std::string point;
  std::string duty;
  std::size_t index = 0;  ///< of the point or the duty

  template <class Entry>
  bool is_of(const Entry& entry) const {
    return entry.point == point && entry.duty == duty;
  }
  /// Own watts of a part; of a duty the mean.
  double part_W(const VariantSample& sample, std::size_t part) const {
    if (duty.empty()) return sample.points[index].parts[part].own_W;
    return part_mean_W(sample.duties[index], part);
  }
  double all_W(const VariantSample& sample) const {
    return duty.empty() ? total_W(sample, index) : mean_W(sample.duties[index]);
  }
};

/// Watts at a place, draw by draw.
struct PlaceDraws {
  /// All parts of a draw are read together: its numbers lie side by side.
  PlaceDraws(const Place& place, std::size_t parts, const std::vector<VariantSample>& samples)
      : all_W(samples.size()), part_W(parts, all_W) {
    for (std::size_t i = 0; i < samples.size(); ++i) {
      all_W[i] = place.all_W(samples[i]);
      for (std::size_t part = 0; part < parts; ++part)
        part_W[part][i] = place.part_W(samples[i], part);
    }
  }

  std::vector<double> all_W;
  std::vector<std::vector<double>> part_W;
};

/// Every operating point, and every duty that was run as a whole.
std::vector<Place> places_of(const Case& world, const VariantSample& any) {
  std::vector<Place> places;
  for (std::size_t p = 0; p < world.points.size(); ++p)
    places.push_back({world.points[p].id, {}, p});
  for (std::size_t d = 0; d < any.duties.size(); ++d)
    if (!any.duties[d].phases.empty()) places.push_back({{}, world.duties[d].id, d});
  return places;
}

AccountRow account_row(const Case& question, const Place& place, const Nominal& nominal,
                       const std::vector<VariantSample>& samples) {
  AccountRow row;
  row.point = place.point;
  row.duty = place.duty;
  PlaceDraws drawn(place, nominal.variant.parts.size(), samples);
  row.total_W = interval_of(drawn.all_W);
  for (std::size_t i = 0; i < nominal.variant.parts.size(); ++i) {
    AccountPart part;
    part.component = nominal.variant.parts[i].id;
    part.own_W = interval_of(std::move(drawn.part_W[i]));
    for (const Allocation& allocation : question.allocations)
      if (allocation.component == part.component && place.is_of(allocation)) {
        part.allocation_W = allocation.max.mid();
        part.margin_W = allocation.max.mid() - part.own_W.high;
        part.maturity = allocation.maturity;
      }
    row.allocated_W += part.allocation_W.value_or(0.0);
    row.parts.push_back(std::move(part));
  }
  if (place.duty.empty()) {
    row.idle_heat_into_sump_W = reduce(
        samples, [&](const VariantSample& s) { return s.points[place.index].idle_into_sump_W; });
    row.heat_into_sump_W = reduce(samples, [&](const VariantSample& s) {
      const PointSample& point = s.points[place.index];
      return std::accumulate(
          point.parts.begin(), point.parts.end(), point.idle_into_sump_W,
          [](double sum, const PartSample& part) { return sum + part.into_sump_W; });
    });
  }
  for (const Target& target : question.targets) {
    if (!place.is_of(target)) continue;
    row.target_W = target.max.mid();
    row.reserve_W = *row.target_W - row.allocated_W;
    row.margin_W = *row.target_W - row.total_W.high;
    const auto within =
        std::ranges::count_if(drawn.all_W, [&](double all_W) { return all_W <= *row.target_W; });
    row.probability = double(within) / double(samples.size());
    row.share_of_parts = target.share_of_parts;
    row.met = *row.probability >= target.share_of_parts;
  }
  return row;
}

SplitRow split_row(const Split& split, const AccountRow& account) {
  SplitRow row{.point = account.point,
               .duty = account.duty,
               .by = split.by == SplitBy::present ? "present" : "equal-margin",
               .total_W = split.total.mid(),
               .parts = {},
               .flags = {}};
  const auto key_W = [&](const AccountPart& part) {
    return split.by == SplitBy::present ? part.own_W.mid : part.own_W.high;
  };
  double sum_W = 0.0;
  for (const AccountPart& part : account.parts) sum_W += key_W(part);
  if (!(sum_W > 0.0)) {
    row.flags.push_back({"nothing-to-split",
                         "the variant takes no watts here, so there is nothing to share out by"});
    return row;
  }
  for (const AccountPart& part : account.parts)
    row.parts.push_back({part.component, part.own_W, row.total_W * key_W(part) / sum_W});
  if (row.total_W < sum_W)
    row.flags.push_back(
        {"split-below-present",
         split.by == SplitBy::present
             ? "the total is less than the middles of these components add up to: every one has "
               "to take less than it does"
             : "the total is less than the high ends of these components add up to: every margin "
               "is negative"});
  return row;
}

}  // namespace

bool account_names_a_duty(const Case& question) {
  const auto of_duty = [](const auto& entry) { return !entry.duty.empty(); };
  return std::ranges::any_of(question.allocations, of_duty) ||
         std::ranges::any_of(question.targets, of_duty) ||
         std::ranges::any_of(question.splits, of_duty);
}

void fill_account(const Ensemble& ensemble, std::size_t v, const Nominal& nominal,
                  VariantFindings& findings) {
  const auto& samples = ensemble.samples[v];
  const Case& question = *ensemble.question;
  for (const Place& place : places_of(*nominal.world, samples.front())) {
    AccountRow row = account_row(question, place, nominal, samples);
    for (const Split& split : question.splits)
      if (place.is_of(split)) findings.split.push_back(split_row(split, row));
    findings.account.push_back(std::move(row));
  }
}

}  // namespace ohmdrag::study
