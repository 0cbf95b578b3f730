#include "study/evidence_dial.hpp"

#include <fmt/format.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <set>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/visit.hpp"
#include "study/decision.hpp"
#include "study/decisive_part.hpp"
#include "study/sensitivity_effort.hpp"

namespace ohmdrag::study {
namespace {

// Common practice, no source: what an engineer grants a number that he was given without a spread.
constexpr double granted_K = 10.0, granted_geometry = 0.1, granted_other = 0.3,
                 granted_factor = 3.0;

constexpr std::array rungs{Basis::common_practice, Basis::paper, Basis::handbook};

/// What the case asks is no evidence.
bool belongs_to_question(std::string_view key) {
  constexpr std::array<std::string_view, 9> asked{"requirement.", "allocation.",      "target.",
                                                  "split.",       "operating_point.", "duty.",
                                                  "service.",     "damage.",          "prices."};
  return std::ranges::any_of(asked, [&](std::string_view word) { return key.starts_with(word); });
}

/// "…points.3.ratio": its neighbours would have to move with it.
bool point_of_a_table(std::string_view key) {
  while (!key.empty()) {
    const std::size_t dot = key.find('.');
    const std::string_view word = key.substr(0, dot);
    if (!word.empty() && std::ranges::all_of(word, [](char c) { return c >= '0' && c <= '9'; }))
      return true;
    key = dot == std::string_view::npos ? std::string_view{} : key.substr(dot + 1);
  }
  return false;
}

Distribution even(double low, double high, const Distribution& within) {
  Distribution result = within;
  result.shape = Shape::uniform;
  const double from = std::max(low, within.floor), to = std::min(high, within.ceiling);
  result.mid = 0.5 * (from + to);
  result.half_width = 0.5 * (to - from);
  return result;
}

std::optional<FullRange> granted(const UncertainNumber& number) {
  const Distribution& stated = number.spread;
  const double mid = stated.mid, size = std::abs(mid);
  const auto share = [&](double part) {
    return FullRange{even(mid - part * size, mid + part * size, stated),
                     fmt::format("± {} %, common practice, no source", std::lround(100.0 * part))};
  };
  if (number.dimension == Dimension::temperature)
    return FullRange{even(mid - granted_K, mid + granted_K, stated),
                     "± 10 K, common practice, no source"};
  if (!(size > 0.0)) return std::nullopt;
  if (number.dimension == Dimension::length || number.dimension == Dimension::ratio)
    return share(granted_geometry);
  if (mid > 0.0 && (number.basis == Basis::assumed || number.basis == Basis::single_claim)) {
    Distribution factor = stated;
    factor.shape = Shape::log_normal;
    factor.half_width = std::log(granted_factor);
    return FullRange{factor, "×/÷ 3, common practice, no source"};
  }
  return share(granted_other);
}

/// What is left of the answer in a trade.
void fill_step(const Case& question, const Trade& found, std::size_t variant, DialStep& step) {
  const ExchangeRow& row = found.exchange[variant];
  step.chosen = found.chosen;
  if (!question.points.empty()) step.net_W = row.point_net_W;
  step.battery_Wh_per_km = row.battery_Wh_per_km;
  step.kWh_per_year = row.kWh_per_year;
  step.dose_factor = row.dose_factor;
  step.probability_best = row.probability_best;
  step.verdict = row.verdict;
}

/// Whether a variant misses a requirement at the operating points in every draw.
bool is_ruled_out(const Ensemble& at_points, std::size_t variant) {
  return std::ranges::any_of(at_points.question->requirements, [&](const Requirement& requirement) {
    for (std::size_t i = 0; i < at_points.samples[variant].size(); ++i) {
      const auto value = requirement_value(at_points, requirement, variant, i);
      if (!value || holds(requirement, *value)) return false;
    }
    return requirement.share_of_parts > 0.0;
  });
}

/// A trade, and the place in it of the variant whose figures are shown.
struct Weighed {
  Trade trade;
  std::size_t variant;
};

/// What the operating points rule out is never chosen and need not be marched, unless nothing that
/// is left helps: whether anything does is a matter of all variants.
Weighed weighed_rung(const Case& opened, std::size_t variant) {
  std::vector<VariantFindings> findings;
  const auto of_all = [&] {
    return Weighed{weighed(Ensemble(opened, decisive_sections(opened)), findings), variant};
  };
  if (has_to_be_evaluated_whole(opened)) return of_all();
  const Ensemble at_points(opened, Sections{});
  std::vector<bool> kept;
  for (std::size_t v = 0; v < opened.variants.size(); ++v)
    kept.push_back(v == at_points.baseline || v == variant || !is_ruled_out(at_points, v));
  const Case part = with_variants(opened, kept);
  Ensemble marched =
      ensemble_of_part(at_points, part, decisive_sections(part), Draws(*at_points.draws));
  marched.take(0, static_cast<std::size_t>(marched.draws->samples()));
  Trade trade = weighed(marched, findings);
  if (trade.chosen == opened.baseline && part.variants.size() < opened.variants.size())
    return of_all();
  const auto here = kept.begin() + static_cast<std::ptrdiff_t>(variant);
  return {std::move(trade), static_cast<std::size_t>(std::count(kept.begin(), here, true))};
}

/// Enough draws to see an answer fall, however many the study takes until its figures stand still.
void draw_for_dial(Case& question) {
  const int stated = question.samples > 0 ? question.samples : default_samples;
  question.samples = question.adaptive ? most_dial_samples : std::min(stated, most_dial_samples);
  question.adaptive.reset();
}

}  // namespace

std::optional<FullRange> full_range(const UncertainNumber& number, const TradeRange* trade) {
  if (number.key.empty() || belongs_to_question(number.key) || point_of_a_table(number.key))
    return std::nullopt;
  const Distribution& stated = number.spread;
  if (trade && !number.unknown) {
    const Interval own = stated.interval(), of_trade = trade->range.interval();
    // Of an even range the ends are meant, not its 95 %.
    const double half = trade->range.half_width, mid = trade->range.mid;
    const bool is_even = trade->range.shape == Shape::uniform;
    return FullRange{even(std::min(own.low, is_even ? mid - half : of_trade.low),
                          std::max(own.high, is_even ? mid + half : of_trade.high), stated),
                     "range of the trade: " + trade->source};
  }
  switch (stated.shape) {
    case Shape::uniform:
      return std::nullopt;
    case Shape::exact:
      if (number.key.starts_with("bearing_type.")) return std::nullopt;
      return granted(number);
    case Shape::log_normal: {
      Distribution wider = stated;
      wider.half_width *= normal_95 / std::numbers::sqrt3;
      return FullRange{wider, "its stated factor, as wide as an even one"};
    }
    default: {
      const Interval own = stated.interval();
      return FullRange{even(own.low, own.high, stated), "its stated range, evenly"};
    }
  }
}

OpenedCase with_opened(const Case& question, Basis weakest_kept) {
  OpenedCase result{question, {}};
  std::set<std::string> seen;
  const auto open = [&](UncertainNumber& number) {
    if (number.basis <= weakest_kept) return;
    const auto trade = question.trade_ranges.find(number.key);
    const auto range =
        full_range(number, trade == question.trade_ranges.end() ? nullptr : &trade->second);
    if (!range) return;
    if (seen.insert(number.key).second)
      result.opened.push_back(
          {number.key, number.basis, print_interval(number.spread.interval(), number.dimension),
           print_interval(range->spread.interval(), number.dimension), range->how});
    number.spread = range->spread;
  };
  for_each_number(result.question, open);
  for (Variant& variant : result.question.variants)
    if (variant.world) {
      auto world = std::make_shared<Case>(*variant.world);
      for_each_number(*world, open);
      variant.world = std::move(world);
    }
  return result;
}

std::vector<DialStep> evidence_dial(const Case& question, const Trade& stated, std::size_t variant,
                                    std::vector<OpenedNumber>& opened) {
  std::vector<DialStep> dial(1);
  dial.front().kept = "all numbers as stated";
  fill_step(question, stated, variant, dial.front());
  Case decisive = decisive_part(question, HeadlinePoint::kept);
  draw_for_dial(decisive);
  std::vector<OpenedCase> cases;
  for (const Basis weakest_kept : rungs) {
    OpenedCase at = with_opened(decisive, weakest_kept);
    if (at.opened.size() == dial.back().opened) continue;
    dial.emplace_back().kept = std::string(to_word(weakest_kept)) + " or better";
    dial.back().opened = at.opened.size();
    cases.push_back(std::move(at));
  }
  oneapi::tbb::parallel_for(std::size_t{0}, cases.size(), [&](std::size_t i) {
    DialStep& step = dial[i + 1];
    try {
      const Weighed found = weighed_rung(cases[i].question, variant);
      fill_step(cases[i].question, found.trade, found.variant, step);
    } catch (const std::invalid_argument& refused) {
      step.why = refused.what();
    } catch (const std::domain_error& refused) {
      step.why = refused.what();
    }
  });
  if (!cases.empty()) opened = std::move(cases.back().opened);
  return dial;
}

std::string stands_down(const std::vector<DialStep>& dial) {
  const std::string& answer = dial.front().chosen;
  const auto name = [](const std::string& id) { return id.empty() ? "no variant" : id; };
  if (dial.size() == 1)
    return "No number of the case rests on weaker evidence than a handbook: the dial opens none.";
  for (const DialStep& step : dial) {
    if (!step.why.empty())
      return fmt::format("With only what is {} kept, some draws have no answer: {}.", step.kept,
                         step.why);
    if (step.chosen != answer)
      return fmt::format(
          "With only what is {} kept and {} numbers at their full range, the answer stands down "
          "from {} to {}.",
          step.kept, step.opened, name(answer), name(step.chosen));
  }
  return fmt::format("The answer stays {} down to {} ({} numbers at their full range).",
                     name(answer), dial.back().kept, dial.back().opened);
}

}  // namespace ohmdrag::study
