#pragma once

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
/// \param worn_at  share of life, below 1
std::vector<YearsAge> curve_of(const std::vector<YearsAge>& rows,
                               const std::optional<double>& worn_at);

/// Integral of a figure over the service up to a share of it; 1 for a figure that is 1 all the time
/// at the whole service.
///
///     trapezoids over the curve of one element after another
///
/// Accuracy  exact where the figure goes straight between the ages.
/// Source    derived: three ages are all that is known of a contact.
/// \param curve     from curve_of()
/// \param elements  >= 1, used up one after another
double sum_over_service(const std::vector<YearsAge>& curve, double YearsAge::*figure,
                        double share_of_service, double elements);

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
