#pragma once

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

#include "ohmdrag/study/years_findings.hpp"
#include "study/model.hpp"
#include "study/service.hpp"

/// From figures at three ages of a contact to what comes together over the service.
namespace ohmdrag::study {

/// Share of its life at which a contact with a wear length is used up; none if it lasts longer.
std::optional<double> worn_at(const LivingContact* element);

/// The ages, and between them straight lines. What is worn out before its end keeps the figures of
/// the last age it reached until then and has those of the end, open and without force, from then.
/// \param rows     by rising share_of_life
/// \param worn_at  share of life, below 1
template <class Row>
std::vector<Row> curve_of(const std::vector<Row>& rows, const std::optional<double>& worn_at) {
  if (!worn_at) return rows;
  std::vector<Row> curve;
  for (const Row& row : rows)
    if (row.share_of_life < *worn_at) curve.push_back(row);
  for (Row row : {curve.back(), rows.back()}) {
    row.share_of_life = *worn_at;
    curve.push_back(row);
  }
  curve.push_back(rows.back());
  return curve;
}

/// Integral of a figure over the life of one element up to a share of it; trapezoids.
template <class Row>
double sum_over_life(const std::vector<Row>& curve, double Row::*figure, double until) {
  double sum = 0.0;
  for (std::size_t i = 1; i < curve.size(); ++i) {
    const double from = curve[i - 1].share_of_life, to = curve[i].share_of_life;
    const double upto = std::min(to, until);
    if (!(upto > from)) continue;
    const double before = curve[i - 1].*figure, after = curve[i].*figure;
    const double there = before + (after - before) * ((upto - from) / (to - from));
    sum += 0.5 * (before + there) * (upto - from);
  }
  return sum;
}

/// Integral of a figure over the service up to a share of it; 1 for a figure that is 1 all the time
/// at the whole service.
///
///     trapezoids over the curve of one element after another
///
/// Accuracy  exact where the figure goes straight between the ages.
/// Source    derived: three ages are all that is known of a contact.
/// \param curve     from curve_of()
/// \param elements  >= 1, used up one after another
template <class Row>
double sum_over_service(const std::vector<Row>& curve, double Row::*figure, double share_of_service,
                        double elements) {
  const double lived = share_of_service * elements;
  const double whole = std::floor(lived);
  double sum = sum_over_life(curve, figure, lived - whole);
  if (whole > 0.0) sum += whole * sum_over_life(curve, figure, 1.0);
  return sum / elements;
}

/// First share of life at which a figure comes within a tenth of the same without a path, straight
/// between the ages; none if it never does or nothing strikes.
std::optional<double> share_at_loss(const std::vector<YearsAge>& curve,
                                    double YearsAge::*with = &YearsAge::striking_time_share,
                                    double YearsAge::*open = &YearsAge::open_striking_time_share);

/// Whether and when the protection is lost, and the words for it. After ages and elements.
/// \param service_h  running hours of the service, if known
void tell_protection(const Case& question, const ServiceMix& mix,
                     const std::optional<double>& worn_at, const std::optional<double>& service_h,
                     YearsFindings& years);

}  // namespace ohmdrag::study
