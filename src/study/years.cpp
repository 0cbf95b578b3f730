#include "study/years.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::study {
namespace {

/// Of what strikes without a path: from here on the path is taken to protect no more. Convention.
constexpr double lost_from = 0.9;

/// A figure with the path and the same without it.
struct FigurePair {
  double YearsAge::*with;
  double YearsAge::*open;
};
constexpr FigurePair striking{&YearsAge::striking_time_share, &YearsAge::open_striking_time_share};
constexpr FigurePair dose{&YearsAge::dose_J_per_mm2_per_1000h,
                          &YearsAge::open_dose_J_per_mm2_per_1000h};

std::string at_time(const Protection& lost) {
  std::string text;
  if (lost.after_h)
    text = fmt::format("after about {} running hours", print_number(*lost.after_h, 2));
  else
    text = fmt::format("at about {} % of its life", print_number(100.0 * *lost.lost_at, 2));
  if (lost.after_km) text += fmt::format(", {} km", print_number(*lost.after_km, 2));
  if (lost.after_years) text += fmt::format(", {} years", print_number(*lost.after_years, 2));
  return text;
}

std::string in_words(const Protection& protection, const std::string& what) {
  if (protection.word == "never")
    return fmt::format("By {}: even new it leaves nine tenths or more.", what);
  if (protection.word == "lost")
    return fmt::format("By {}: lost {}, nine tenths or more from then on.", what,
                       at_time(protection));
  return fmt::format("By {}: kept to the end of its life.", what);
}

std::string ratio_in_words(const std::vector<YearsAge>& rows) {
  // Seals age as well: without a path nothing may strike at one end of the service.
  if (!(rows.front().open_dose_J_per_mm2_per_1000h > 0.0 &&
        rows.back().open_dose_J_per_mm2_per_1000h > 0.0))
    return {};
  const auto per_cent = [](const YearsAge& row) {
    return print_number(100.0 * row.dose_J_per_mm2_per_1000h / row.open_dose_J_per_mm2_per_1000h,
                        2);
  };
  return fmt::format(" Its dose is {} % of that without a path when new, {} % at the end.",
                     per_cent(rows.front()), per_cent(rows.back()));
}

std::string in_words(const YearsFindings& years) {
  if (!years.has_element) return "No path to the housing is known: nothing protects.";
  if (years.by_striking.word == "not-needed")
    return "Without the element nothing strikes in the model: there is nothing to protect from.";
  std::string text = "Protection, against the same unit without a path. " +
                     in_words(years.by_striking, "striking time");
  if (years.by_dose.word != "unknown") text += ' ' + in_words(years.by_dose, "dose");
  if (years.by_dose.word != "unknown" && years.by_dose.word != "not-needed")
    text += ratio_in_words(years.ages);
  if (years.worn_out_after_h)
    text +=
        fmt::format(" Worn out after {} running hours.", print_number(*years.worn_out_after_h, 2));
  if (years.elements > 1.0)
    text += fmt::format(" Counted anew for each of {} elements.", print_number(years.elements, 2));
  return text;
}

}  // namespace

std::optional<double> worn_at(const LivingContact* element) {
  if (!element || !element->life.history) return std::nullopt;
  const auto& used = element->life.of(Age::end).length_used;
  return used && *used > 1.0 ? std::optional(1.0 / *used) : std::nullopt;
}

std::optional<double> share_at_loss(const std::vector<YearsAge>& curve, double YearsAge::*with,
                                    double YearsAge::*open) {
  const auto beyond = [&](const YearsAge& row) { return row.*with - lost_from * row.*open; };
  for (std::size_t i = 0; i < curve.size(); ++i) {
    if (!(curve[i].*open > 0.0) || beyond(curve[i]) < 0.0) continue;
    if (i == 0) return 0.0;
    const double before = beyond(curve[i - 1]), after = beyond(curve[i]);
    const double from = curve[i - 1].share_of_life, to = curve[i].share_of_life;
    return before < 0.0 ? from + (to - from) * (-before / (after - before)) : to;
  }
  return std::nullopt;
}

void tell_protection(const Case& question, const ServiceMix& mix,
                     const std::optional<double>& worn_at, const std::optional<double>& service_h,
                     YearsFindings& years) {
  const std::vector<YearsAge> curve = curve_of(years.ages, worn_at);
  const auto by = [&](const FigurePair& pair) {
    Protection result;
    const auto unknown = [&](const YearsAge& row) { return std::isnan(row.*pair.open); };
    const auto strikes = [&](const YearsAge& row) { return row.*pair.open > 0.0; };
    if (!years.has_element)
      result.word = "none";
    else if (std::ranges::any_of(curve, unknown))
      result.word = "unknown";
    else if (std::ranges::none_of(curve, strikes))
      result.word = "not-needed";
    else if (!(result.lost_at = share_at_loss(curve, pair.with, pair.open)))
      result.word = "kept";
    else
      result.word = *result.lost_at > 0.0 ? "lost" : "never";
    if (!result.lost_at || !service_h) return result;
    const double share_of_service = *result.lost_at / years.elements;
    result.after_h = share_of_service * *service_h;
    if (mix.driven) result.after_km = share_of_service * question.service.distance->mid() / 1000.0;
    const auto a_year = hours_a_year(question, mix);
    if (question.service.years)
      result.after_years = share_of_service * question.service.years->mid();
    else if (a_year)
      result.after_years = *result.after_h / *a_year;
    return result;
  };
  years.by_striking = by(striking);
  years.by_dose = by(dose);
  if (worn_at && service_h) years.worn_out_after_h = *worn_at * *service_h / years.elements;
  years.sentence = in_words(years);
  years.remark =
      "Over the years: everything at its middle. Computed at three ages of the contacts, straight "
      "between them: a time of loss is known to a quarter of a life at best. At each age all "
      "contacts stand at the same share of their own lives, rub and warm the oil as then. Open: "
      "the element rubs and does not conduct, oil and films alike. Doses of several ways to the "
      "frame are added. That protection is lost at nine tenths of what strikes without a path is "
      "a convention.";
}

}  // namespace ohmdrag::study
