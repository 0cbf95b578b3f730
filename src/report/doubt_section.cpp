#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "report/sections.hpp"

namespace ohmdrag::report {
namespace {

std::string per_cent(double share, int digits = 3) {
  return print_number(100.0 * share, digits) + " %";
}

void print_stability(const study::Stability& stability, Page& page) {
  page.heading("How still the ends of the intervals stand");
  const auto moving = std::ranges::count(stability.figures, false, &study::StableEnd::still);
  page.say(fmt::format(
      "{} blocks of {} samples; {}.", stability.blocks, stability.block,
      stability.still
          ? fmt::format("the ends of all {} headline figures stand still to {} digits of their "
                        "standard uncertainty",
                        stability.figures.size(), stability.digits)
          : fmt::format("of {} headline figures the ends of {} do not stand still to {} digits of "
                        "their standard uncertainty: the largest number of samples did not suffice",
                        stability.figures.size(), moving, stability.digits)));
  Table table{.columns = {{"variant", "", Align::left},
                          {"figure", "", Align::left, true},
                          {"low end ±"},
                          {"high end ±"},
                          {"allowed ±"},
                          {"unit", "", Align::left}},
              .rows = {},
              .keys = 2};
  for (const study::StableEnd& row : stability.figures)
    if (!row.still)
      table.rows.push_back({words(row.variant), words(row.figure), figure(row.low_error),
                            figure(row.high_error), figure(row.tolerance), words(row.unit)});
  if (!table.rows.empty()) page.table(table);
}

std::string verdict_of(const study::FirstOrderRow& row, Footnotes& notes) {
  using enum study::FirstOrderRow::Verdict;
  switch (row.verdict) {
    case valid:
      return "good to ± " + print_number(row.tolerance, 2);
    case not_valid:
      return "not valid " + notes.mark("Not valid here, because " + row.because + ".");
    case not_settled:
      break;
  }
  return "not settled " + notes.mark("Not settled: " + row.because + ".");
}

void print_first_order(const std::vector<study::FirstOrderRow>& rows, Page& page) {
  page.heading("First order beside the draws");
  Footnotes notes;
  Table table{.columns = {{"variant", "", Align::left},
                          {"figure", "", Align::left, true},
                          {"first order"},
                          {"draws"},
                          {"unit", "", Align::left},
                          {"first order is", "", Align::left, true}},
              .rows = {},
              .keys = 2};
  for (const study::FirstOrderRow& row : rows)
    table.rows.push_back({words(row.variant), words(row.figure), figure(row.first_order),
                          figure(row.ensemble), words(row.unit), words(verdict_of(row, notes))});
  page.table(table);
  page.notes(notes);
}

}  // namespace

std::string parts_in_words(const study::ShareOfParts& parts) {
  using enum study::ShareOfParts::Way;
  const std::string asked =
      fmt::format("asked: {} of the parts with {} confidence", per_cent(parts.share_asked, 4),
                  per_cent(parts.confidence_asked));
  std::string text;
  switch (parts.way) {
    case none:
      return asked + "; not shown: " + parts.remark + '.';
    case nested:
      if (parts.share.low == parts.share.high && (parts.share.mid == 0.0 || parts.share.mid == 1.0))
        return fmt::format(
            "{} in nearly all of {} states of what is not known, with {} parts each ({}).",
            parts.share.mid == 0.0 ? "none of the parts" : "all parts", parts.states, parts.parts,
            asked);
      text = fmt::format(
          "{} of the parts with {} confidence ({}); {} confidence that {} do. In {} states of what "
          "is not known, with {} parts each: {} … {} of them in 95 % of the states; a share is "
          "known to ± {}, a confidence to ± {}.",
          per_cent(parts.share_at_confidence), per_cent(parts.confidence_asked), asked,
          per_cent(parts.confidence_of_share), per_cent(parts.share_asked, 4), parts.states,
          parts.parts, per_cent(parts.share.low), per_cent(parts.share.high),
          per_cent(parts.share_known_to, 2), per_cent(parts.confidence_known_to, 2));
      break;
    case alike:
      text = fmt::format(
          "all parts with {} confidence ({}), as nothing scatters from part to part in this case; "
          "{} states of what is not known, a confidence is known to ± {}.",
          per_cent(parts.confidence_of_share), asked, parts.states,
          per_cent(parts.confidence_known_to, 2));
      break;
    case order_statistics:
      text = fmt::format(
          "at least {} of the parts with {} confidence ({}), by {} parts drawn independently, of "
          "which {} do; {} confidence that {} do.",
          per_cent(parts.share_at_confidence, 4), per_cent(parts.confidence_asked), asked,
          parts.parts, per_cent(parts.share.mid, 4), per_cent(parts.confidence_of_share),
          per_cent(parts.share_asked, 4));
      break;
  }
  if (!parts.remark.empty()) text += " Mind: " + parts.remark + '.';
  return text;
}

void print_doubt(const study::Findings& findings, Page& page) {
  if (findings.stability) print_stability(*findings.stability, page);
  if (!findings.first_order.empty()) print_first_order(findings.first_order, page);
}

}  // namespace ohmdrag::report
