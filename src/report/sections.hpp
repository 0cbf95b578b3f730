#pragma once

#include "ohmdrag/study/findings.hpp"
#include "report/page.hpp"

/// The parts of a page, each from the findings alone. A part without rows prints nothing.
namespace ohmdrag::report {

inline constexpr int top_rung = 7;  ///< of the claim ladder

/// All parts, whatever the command: the answer first.
Page whole_page(const study::Findings& findings, const TerminalOptions& options);

void print_trade(const study::Findings& findings, Page& page);
/// The same without its answer: costs beside gains, and the verdict of each variant.
void print_exchange(const study::Findings& findings, Page& page);
void print_budget(const study::Findings& findings, Page& page);
/// Totals against targets and what a total was shared out to, of one variant.
void print_account(const study::VariantFindings& variant, Page& page);
void print_watt_worth(const std::vector<study::WorthRow>& rows, Page& page);
void print_energy(const study::Findings& findings, Page& page);
/// What each variant does besides, against the baseline.
void print_harm(const study::Findings& findings, Page& page);
void print_ground(const study::Findings& findings, Page& page);
/// Comparison of all variants at one operating point, one line each.
void print_comparison(const study::Findings& findings, const std::string& point, Page& page);
void print_strike_map(const study::StrikeMap& map, Page& page);
void print_duty_time(const study::StrikeMap& map, Page& page);
/// What is struck, with what energy and current; the notes say what was published about currents.
void print_discharge(const study::VoltageRow& row,
                     const std::vector<study::DensityStatement>& statements, Footnotes& notes,
                     Page& page);
/// All ways from the shaft to the frame.
void print_paths(const study::VoltageRow& row, Page& page);
void print_spectrum(const study::VoltageRow& row, Page& page);
void print_life(const study::Findings& findings, Page& page);
/// From the begin of the service to its end, of the variants with an element.
void print_years(const study::Findings& findings, Page& page);
/// What moves the answer of a trade, what it stands down to and what overturns it.
void print_sensitivity(const study::Findings& findings, Page& page);
void print_requirements(const study::Findings& findings, Page& page);
/// How still an adaptive ensemble stands, and the first-order result beside the draws.
void print_doubt(const study::Findings& findings, Page& page);
/// A requirement that asks for a confidence, in a sentence.
std::string parts_in_words(const study::ShareOfParts& parts);
void print_register(const study::Findings& findings, Page& page);
/// So many numbers of the register, from its top.
Table register_table(const study::Findings& findings, std::size_t rows);
/// How much of the headlines rests on assumed numbers, a sentence each.
std::vector<std::string> assumed_share_in_words(const study::Findings& findings);
void print_cautions(const study::Findings& findings, Page& page);
void print_not_claimed(const study::Findings& findings, Page& page);

/// Verdict over the pulse-duration credit t0, the credits side by side.
void print_credits(const std::vector<study::CreditVerdict>& credits, bool with_share, Page& page);

}  // namespace ohmdrag::report
