#include "study/sizing_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"
#include "study/element_model.hpp"
#include "study/sections.hpp"
#include "study/sizing_knob.hpp"

namespace ohmdrag::study {
namespace {

using Side = SizingLimit::Side;

/// The force over the values of the knob, not the knob: a longer fibre presses less.
double force_of(const SizingRow& row) {
  return row.line_force_N_mm.mid > 0.0 ? row.line_force_N_mm.mid : row.knob;
}

std::string per_cent(double share) { return print_number(100.0 * share, 3) + " %"; }

std::string cost_in_words(const SizingRow& row) {
  std::string text;
  if (row.net_W) text += fmt::format("{} W net at the worst point", print_interval(*row.net_W));
  if (row.Wh_per_km)
    text += fmt::format("{}{} Wh/km over the worst duty", text.empty() ? "" : ", ",
                        print_interval(*row.Wh_per_km));
  return text;
}

/// Every row between the first and the last inside is inside.
bool without_gap(const SizingFindings& found) {
  return found.inside.back() - found.inside.front() + 1 == found.inside.size();
}

std::string window_in_words(const SizingFindings& found) {
  const SizingRow &low = found.rows[found.inside.front()], &high = found.rows[found.inside.back()];
  const SizingRow& best = found.rows[*found.cheapest];
  std::string text = fmt::format(
      "Between {} and {} every limit is kept by the share of parts that it asks for{}. Cheapest of "
      "these: {} ({}); {} of the parts keep all limits there at once.",
      in_words(found.knob, low.knob), in_words(found.knob, high.knob),
      without_gap(found) ? "" : ", with gaps (see the table)", in_words(found.knob, best.knob),
      cost_in_words(best), per_cent(best.inside));
  const bool open_below = found.inside.front() == 0;
  const bool open_above = found.inside.back() + 1 == found.rows.size();
  if (open_below || open_above)
    text += fmt::format(" The scan ends inside the window at its {} end: no limit stops it there.",
                        open_below && open_above ? "low and its high"
                        : open_below             ? "low"
                                                 : "high");
  return text;
}

/// Of the limits that need more, the one that needs most; of those that need less, the least.
const SizingLimit* strictest(const SizingFindings& found, bool too_little) {
  const SizingLimit* worst = nullptr;
  const auto edge = [&](const SizingLimit& limit) -> const auto& {
    return !too_little && limit.side == Side::between ? limit.upper_edge : limit.edge;
  };
  for (const SizingLimit& limit : found.limits) {
    if (limit.side != Side::between &&
        limit.side != (too_little ? Side::too_little : Side::too_much))
      continue;
    if (!worst || (too_little ? edge(limit)->second > edge(*worst)->second
                              : edge(limit)->second < edge(*worst)->second))
      worst = &limit;
  }
  return worst;
}

std::string why_not(const SizingFindings& found) {
  std::string text = "Not reachable, because ";
  const auto never = std::ranges::find(found.limits, Side::never, &SizingLimit::side);
  if (never != found.limits.end()) {
    double best = 0.0;
    const auto l = static_cast<std::size_t>(never - found.limits.begin());
    for (const SizingRow& row : found.rows) best = std::max(best, row.kept[l]);
    return text + fmt::format(
                      "nowhere between {} and {} do {} of the parts keep \"{}\"; at best "
                      "{} do.",
                      in_words(found.knob, found.rows.front().knob),
                      in_words(found.knob, found.rows.back().knob), per_cent(never->share),
                      never->what, per_cent(best));
  }
  const SizingLimit *low = strictest(found, true), *high = strictest(found, false);
  if (!low || !high) return text + "the limits leave no common value.";
  const auto& upper = high->side == Side::between ? high->upper_edge : high->edge;
  return text + fmt::format("\"{}\" needs {} or more and \"{}\" allows {} at most.", low->what,
                            in_words(found.knob, low->edge->second), high->what,
                            in_words(found.knob, upper->second));
}

/// More force that no longer lowers the peak of an edge, or raises it.
void add_knee(SizingFindings& found) {
  constexpr double worth_saying = 0.02;
  std::vector<const SizingRow*> by_force;
  for (const SizingRow& row : found.rows)
    if (row.edge_peak_V) by_force.push_back(&row);
  if (by_force.size() < 3) return;
  std::ranges::sort(by_force, {}, [](const SizingRow* row) { return force_of(*row); });
  const auto least = std::ranges::min_element(
      by_force, {}, [](const SizingRow* row) { return row->edge_peak_V->mid; });
  const double at_most_force = by_force.back()->edge_peak_V->mid;
  const double lowest = (*least)->edge_peak_V->mid;
  if (at_most_force > lowest * (1.0 + worth_saying)) {
    const SizingRow& most = *by_force.back();
    const bool wears = (*least)->impedance_ohm && most.impedance_ohm &&
                       most.impedance_ohm->mid > (*least)->impedance_ohm->mid;
    found.remarks.push_back(fmt::format(
        "More force makes the edge worse from {} N/mm on: {}. Peak {} V there, {} V at {} N/mm.",
        print_number(force_of(**least), 3),
        wears ? "by the end of service it has worn more of its force away"
              : "the path's inductance lets it ring when less resistance damps it",
        print_number(lowest, 3), print_number(at_most_force, 3), print_number(force_of(most), 3)));
    return;
  }
  const auto knee = std::ranges::find_if(by_force, [&](const SizingRow* row) {
    return row->edge_peak_V->mid <= lowest * (1.0 + worth_saying);
  });
  if (knee == by_force.begin())
    found.remarks.push_back(fmt::format(
        "Force does not move the peak of an edge: {} V or {} more over the whole range.",
        print_number(lowest, 3), per_cent(worth_saying)));
  else if (knee + 1 < by_force.end())
    found.remarks.push_back(
        fmt::format("Beyond {} N/mm more force lowers the peak of an edge by no more than {}.",
                    print_number(force_of(**knee), 3), per_cent(worth_saying)));
}

/// Impedance that hardly follows the force.
void add_wrong_lever(SizingFindings& found) {
  constexpr double weak_exponent = 0.25;
  const auto [low, high] = std::ranges::minmax_element(found.rows, {}, force_of);
  if (!low->impedance_ohm || !high->impedance_ohm) return;
  const double forces = force_of(*high) / force_of(*low);
  const double fall = low->impedance_ohm->mid / high->impedance_ohm->mid;
  if (!(forces > 1.0)) return;
  if (std::isinf(high->impedance_ohm->mid) && std::isfinite(low->impedance_ohm->mid)) {
    found.remarks.push_back(fmt::format(
        "Force is the wrong lever: pressed with {} N/mm the contact is open by the end of its "
        "service, because it wears its force away. Change material or fibre count.",
        print_number(force_of(*high), 3)));
    return;
  }
  if (!std::isfinite(fall)) return;
  if (std::log(fall) / std::log(forces) >= weak_exponent) return;
  const std::string watts = low->net_W && high->net_W && low->net_W->mid > 0.0
                                ? fmt::format(" and takes {} times the watts",
                                              print_number(high->net_W->mid / low->net_W->mid, 2))
                                : "";
  const std::string times = print_number(forces, 2);
  found.remarks.push_back(
      fall < 1.0
          ? fmt::format("Force is the wrong lever: {} times the force raises the impedance at the "
                        "end of service {} times, because it wears its own force away{}. Change "
                        "material or fibre count.",
                        times, print_number(1.0 / fall, 2), watts.empty() ? "" : "," + watts)
          : fmt::format("Force is the wrong lever: {} times the force lowers the impedance at the "
                        "end of service only {} times{}. Change material or fibre count.",
                        times, print_number(fall, 2), watts));
}

void add_remarks(const Variant& sized, SizingFindings& found) {
  const auto nearest = std::ranges::min_element(found.rows, {}, [&](const SizingRow& row) {
    return std::abs(std::log(row.knob / found.stated));
  });
  found.remarks.push_back(fmt::format("The case has {}: {} of the parts keep all limits at once.",
                                      in_words(found.knob, found.stated),
                                      per_cent(nearest->inside)));
  if (found.part == SizedPart::grounding) {
    add_knee(found);
    if (sized.grounding->resistance || sized.grounding->impedance)
      found.remarks.emplace_back(
          "The variant states the resistance of its new contact, whatever the force: here force "
          "moves only how it ages. Size with the law of the element instead.");
    else
      add_wrong_lever(found);
  } else if (std::ranges::find(found.limits, "tightness", &SizingLimit::id) == found.limits.end()) {
    found.remarks.emplace_back(
        "No least force for tightness is given (least_line_force): a low edge of this scan is no "
        "proof that the lip seals. Never size a lip below it.");
  }
  found.remarks.push_back(fmt::format(
      "Weakest basis among the numbers of the element: {}; `trade` ranks all of the case.",
      to_word(basis_of(sized_element(sized, found.part)))));
  found.remarks.push_back(
      fmt::format("{} draws a value, shared by all values; what is unknown and what differs from "
                  "part to part are drawn together, but for limits that ask for a confidence.",
                  found.samples));
}

}  // namespace

std::string in_words(SizedBy knob, double value) {
  switch (knob) {
    case SizedBy::line_force:
      return print_number(value * 1e-3, 3) + " N/mm";
    case SizedBy::interference:
    case SizedBy::free_length:
      return print_number(value * 1e3, 3) + " mm";
    case SizedBy::total_radial_force:
      return print_number(value, 3) + " N";
    case SizedBy::fibre_count:
      break;
  }
  return print_number(value, 3);
}

void add_words(const Case& question, const Variant& sized, SizingFindings& found) {
  if (found.limits.empty())
    found.verdict =
        "Nothing bounds the window: the case has no requirement, and the element states no limit.";
  else
    found.verdict = found.inside.empty() ? why_not(found) : window_in_words(found);
  add_remarks(sized, found);
  found.cautions = cautions(question, Sections::all());
}

}  // namespace ohmdrag::study
