#include "rig/endurance_entry.hpp"

#include <fmt/format.h>

#include <cmath>
#include <utility>

#include "ohmdrag/quantity/distribution.hpp"
#include "rig/endurance_plausible.hpp"

namespace ohmdrag::rig {

namespace {

/// Value of the middle part with the error of its estimate; from part to part what scatters.
FittedNumber number_of(const Interval& value, const std::optional<Interval>& scatter, double parts,
                       ShownIn shown) {
  FittedNumber number;
  number.value = value.mid;
  number.shown = std::move(shown);
  number.spread_factor = std::sqrt(value.high / value.low);
  if (scatter && scatter->mid > 0.0)
    number.scatter_factor = std::exp(normal_95 * scatter->mid * std::sqrt(parts));
  return number;
}

/// What the specimens were measured at.
FittedNumber reference_of(double value, ShownIn shown) {
  FittedNumber number;
  number.value = value;
  number.shown = std::move(shown);
  return number;
}

}  // namespace

void add_entries(RunFindings& out, const EnduranceRun& run, const EnduranceFit& fit,
                 const EnduranceUse& use) {
  if (use.contact.empty()) {
    out.no_entry = "the run names no contact (`contact = \"…\"`)";
    return;
  }
  FittedEntry entry{fmt::format("contact.{}.resistance", use.contact),
                    fmt::format("Measured from {} to {}, {} law; the middle of {}.",
                                hours_in_words(fit.begin.value()), hours_in_words(fit.end.value()),
                                word_of(fit.law), specimens_in_words(run.specimens.size())),
                    {}};
  // As many as share a reading average out; the scatter of one is larger by their root.
  const auto parts = static_cast<double>(use.in_series);
  if (use.line_force && use.diameter) {
    entry.lines.push_back({"bulk", std::string("0 ohm")});
    entry.lines.push_back({"film", number_of(fit.at_begin, fit.scatter_at_begin, parts, {"ohm"})});
    entry.lines.push_back({"at_line_force", reference_of(use.line_force->value(), {"N/mm", 1e3})});
    entry.lines.push_back({"at_diameter", reference_of(use.diameter->value(), {"mm", 1e-3})});
    out.entry_comments.emplace_back(
        "The run does not tell bulk from film: all of it is written as film and follows its "
        "exponents, which a force run tells.");
    out.entry_comments.emplace_back(
        "Measured on the running contact of the rig: an entry with [….resistance.running] would "
        "count its rise twice.");
  } else {
    out.entry_comments.emplace_back(
        "Without line_force and diameter of the specimens the level has no reference: bulk and "
        "film are not written.");
  }
  if (use.force_held && fit.growth_to_service) {
    entry.lines.push_back({"end_of_service_factor",
                           number_of(*fit.growth_to_service, fit.scatter_of_growth, parts, {})});
    out.entry_comments.push_back(fmt::format("end_of_service_factor is the rise over {}.",
                                             hours_in_words(run.service->value())));
  } else if (!use.force_held) {
    out.entry_comments.emplace_back(
        "The force was not held: the growth holds what its loss added, which a case counts itself. "
        "end_of_service_factor, the rise at equal force, is not written.");
  } else {
    out.entry_comments.emplace_back(
        "The run says nothing at the service hours: end_of_service_factor is not written.");
  }
  if (entry.lines.empty()) {
    out.no_entry =
        "neither force and diameter nor a held force with service hours are stated, so there is "
        "nothing that a case could take";
    out.entry_comments.clear();
    return;
  }
  if (use.contact.find_first_not_of(
          "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_") != std::string::npos)
    entry.table = fmt::format("contact.\"{}\".resistance", use.contact);
  out.source_remark =
      fmt::format("{}, {} law", specimens_in_words(run.specimens.size()), word_of(fit.law));
  if (run.specimens.size() == 1)
    out.entry_comments.emplace_back(
        "One specimen: the spread is that of its readings alone. How parts differ is not told; add "
        "a scatter of your own.");
  out.entries.push_back(std::move(entry));
}

}  // namespace ohmdrag::rig
