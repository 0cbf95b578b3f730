#include "study/parts_share.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/numerics/sample_size.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "study/decisive_part.hpp"
#include "study/sections.hpp"

namespace ohmdrag::study {
namespace {

constexpr int states_drawn = 64;
/// A share of 99 % is looked for among parts of which two would fail.
constexpr double failures_looked_for = 2.0;
constexpr int fewest_parts = 50, most_parts = 500, most_independent_parts = 5000;
/// Failures that the independent parts may have and still show the share.
constexpr int failures_allowed = 10;

/// What has to be computed for a measure beyond the points.
Sections sections_of(Measure measure) {
  switch (measure) {
    case Measure::impedance_magnitude:
    case Measure::net_power:
    case Measure::contact_temperature:
      return {};
    case Measure::edge_peak:
    case Measure::held_voltage:
      return {.voltage = true};
    case Measure::battery_energy_per_distance:
      return {.energy = true};
    case Measure::striking_time_share:
    case Measure::dose_factor:
    case Measure::mechanical_life:
    case Measure::modified_life:
      break;
  }
  return {.life = true};
}

bool over_duties(const Sections& sections) { return sections.energy || sections.life; }

bool asks(const Requirement& requirement) { return requirement.confidence > 0.0; }

double binomial_error(double share, int number) {
  return 2.0 * std::sqrt(share * (1.0 - share) / number);
}

/// How many of the parts of a state meet a requirement.
struct Count {
  int asked = 0, met = 0;
  double share() const { return double(met) / double(asked); }
};
using Counts = std::vector<std::vector<std::vector<Count>>>;  ///< [variant][requirement][state]

Counts counted(const Ensemble& ensemble, const std::vector<bool>& wanted, const Sections& sections,
               Draws draws, int states, int parts) {
  const auto& requirements = ensemble.question->requirements;
  Counts counts(ensemble.question->variants.size(),
                std::vector(requirements.size(), std::vector<Count>()));
  Case asked = *ensemble.question;
  asked.requirements.clear();
  for (std::size_t r = 0; r < requirements.size(); ++r)
    if (wanted[r]) asked.requirements.push_back(requirements[r]);
  const Case part = decisive_part(asked, HeadlinePoint::left_out);
  Ensemble drawn = ensemble_of_part(ensemble, part, sections, std::move(draws));
  for (int state = 0; state < states; ++state) {
    // One state in memory at a time.
    drawn.samples.clear();
    drawn.take(static_cast<std::size_t>(state) * static_cast<std::size_t>(parts),
               static_cast<std::size_t>(parts));
    for (std::size_t v = 0; v < counts.size(); ++v)
      for (std::size_t r = 0; r < requirements.size(); ++r) {
        if (!wanted[r]) continue;
        Count count;
        for (std::size_t i = 0; i < static_cast<std::size_t>(parts); ++i)
          if (const auto value = requirement_value(drawn, requirements[r], v, i)) {
            ++count.asked;
            count.met += holds(requirements[r], *value) ? 1 : 0;
          }
        if (count.asked > 0) counts[v][r].push_back(count);
      }
  }
  return counts;
}

ShareOfParts head_of(const Requirement& requirement) {
  ShareOfParts out;
  out.share_asked = requirement.share_of_parts;
  out.confidence_asked = requirement.confidence;
  return out;
}

ShareOfParts nested(const Requirement& requirement, const std::vector<Count>& by_state, int parts) {
  ShareOfParts out = head_of(requirement);
  out.way = parts > 1 ? ShareOfParts::Way::nested : ShareOfParts::Way::alike;
  out.states = static_cast<int>(by_state.size());
  out.parts = parts;
  std::vector<double> shares;
  for (const Count& count : by_state) shares.push_back(count.share());
  out.share = interval_of(shares);
  std::ranges::sort(shares, std::greater<>());
  const double states = double(shares.size());
  // The share that the best so many states reach.
  const auto needed = static_cast<std::size_t>(std::ceil(requirement.confidence * states - 1e-9));
  out.share_at_confidence = shares[std::max<std::size_t>(needed, 1) - 1];
  const auto reach = std::ranges::count_if(
      shares, [&](double share) { return share >= requirement.share_of_parts; });
  out.confidence_of_share = double(reach) / states;
  if (parts > 1) out.share_known_to = binomial_error(requirement.share_of_parts, parts);
  out.confidence_known_to = binomial_error(requirement.confidence, out.states);
  if (parts > 1 && parts * (1.0 - requirement.share_of_parts) < 1.0)
    out.remark = fmt::format(
        "{} parts cannot show {} %: one of them that fails is too much, and a share of {} % would "
        "hardly be told from it",
        parts, print_number(100.0 * requirement.share_of_parts, 4),
        print_number(100.0 * (1.0 - 1.0 / parts), 4));
  else if (std::abs(out.confidence_of_share - requirement.confidence) < out.confidence_known_to)
    out.remark = fmt::format("close call: {} states do not settle it", out.states);
  return out;
}

ShareOfParts by_order_statistics(const Requirement& requirement, const Count& count) {
  ShareOfParts out = head_of(requirement);
  out.way = ShareOfParts::Way::order_statistics;
  out.states = 1;
  out.parts = count.asked;
  out.share = {count.share(), count.share(), count.share()};
  out.share_at_confidence =
      numerics::share_at_least(count.met, count.asked, requirement.confidence);
  out.share_known_to = binomial_error(requirement.share_of_parts, count.asked);
  // The confidence at which the bound is the share asked for; the bound falls as it rises.
  double low = 0.0, high = 1.0;
  for (int i = 0; i < 40; ++i) {
    const double middle = 0.5 * (low + high);
    (numerics::share_at_least(count.met, count.asked, middle) >= requirement.share_of_parts
         ? low
         : high) = middle;
  }
  out.confidence_of_share = low;
  if (std::pow(requirement.share_of_parts, count.asked) > 1.0 - requirement.confidence)
    out.remark = fmt::format("{} parts are too few to show {} %, even if none fails", count.asked,
                             print_number(100.0 * requirement.share_of_parts, 4));
  return out;
}

/// Parts of which so many may fail.
int parts_for(double share) {
  return std::clamp(static_cast<int>(std::ceil(failures_looked_for / (1.0 - share) - 1e-9)),
                    fewest_parts, most_parts);
}

int independent_parts_for(const Requirement& requirement) {
  constexpr double share_worth_counting = 0.999;
  if (requirement.share_of_parts > share_worth_counting) return most_independent_parts;
  return std::min(most_independent_parts,
                  numerics::specimens_needed(requirement.share_of_parts, requirement.confidence,
                                             failures_allowed));
}

}  // namespace

std::vector<std::vector<std::optional<ShareOfParts>>> shares_of_parts(const Ensemble& ensemble) {
  const Case& question = *ensemble.question;
  const auto& requirements = question.requirements;
  if (std::ranges::none_of(requirements, asks) || ensemble.draws->samples() == 1) return {};
  std::vector<std::vector<std::optional<ShareOfParts>>> out(
      question.variants.size(), std::vector<std::optional<ShareOfParts>>(requirements.size()));

  const bool trips =
      std::ranges::any_of(question.duties, [](const Duty& duty) { return !duty.trips.empty(); });
  Sections sections;
  std::vector<bool> wanted(requirements.size());
  int parts = fewest_parts, independent = fewest_parts;
  for (std::size_t r = 0; r < requirements.size(); ++r) {
    if (!asks(requirements[r])) continue;
    const Sections own = sections_of(requirements[r].measure);
    // What this command does not compute is not asked of parts either.
    if ((own.energy && !ensemble.sections.energy) || (own.voltage && !ensemble.sections.voltage) ||
        (own.life && !ensemble.sections.life))
      continue;
    if (trips && over_duties(own)) {
      ShareOfParts none = head_of(requirements[r]);
      none.way = ShareOfParts::Way::none;
      none.remark = "measured trips are not driven again for every part";
      for (auto& variant : out) variant[r] = none;
      continue;
    }
    wanted[r] = true;
    sections.energy = sections.energy || own.energy;
    sections.voltage = sections.voltage || own.voltage;
    sections.life = sections.life || own.life;
    parts = std::max(parts, parts_for(requirements[r].share_of_parts));
    independent = std::max(independent, independent_parts_for(requirements[r]));
  }
  if (std::ranges::none_of(wanted, std::identity{})) return out;

  const auto inputs = ensemble.draws->inputs();
  const bool spread = std::ranges::any_of(inputs, [](const auto& input) { return !input.scatter; });
  const bool scatter = std::ranges::any_of(inputs, &Draws::Input::scatter);
  const auto numbers = numbers_of(question);
  if (!scatter) parts = 1;
  const bool is_nested = spread || !scatter;
  const int states = is_nested ? states_drawn : 1;
  const Counts counts = counted(
      ensemble, wanted, sections,
      is_nested
          ? Draws::parts_of_states(numbers, states, parts, question.seed, question.correlations)
          : Draws::independent_parts(numbers, independent, question.seed, question.correlations),
      states, is_nested ? parts : independent);
  for (std::size_t v = 0; v < out.size(); ++v)
    for (std::size_t r = 0; r < requirements.size(); ++r) {
      const std::vector<Count>& by_state = counts[v][r];
      if (by_state.empty()) continue;
      out[v][r] = is_nested ? nested(requirements[r], by_state, parts)
                            : by_order_statistics(requirements[r], by_state.front());
    }
  return out;
}

}  // namespace ohmdrag::study
