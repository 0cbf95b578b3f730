#include "ohmdrag/study/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>
#include <utility>

#include "ohmdrag/study/evaluate.hpp"

namespace ohmdrag::study {
namespace {

const VariantHeadlines* variant_of(const Headlines& side, const std::string& id) {
  const auto found = std::ranges::find(side.variants, id, &VariantHeadlines::variant);
  return found == side.variants.end() ? nullptr : &*found;
}

/// The middle of a figure; none where it does not exist or is infinite.
std::optional<double> middle(const Headlines& side, const std::string& variant,
                             const std::string& figure) {
  const VariantHeadlines* row = variant_of(side, variant);
  if (!row) return std::nullopt;
  const auto found = std::ranges::find(row->figures, figure, &HeadlineFigure::name);
  if (found == row->figures.end() || !found->value || !std::isfinite(found->value->mid))
    return std::nullopt;
  return found->value->mid;
}

std::string why_none(const Headlines& side, const std::string& variant, const std::string& figure) {
  const VariantHeadlines* row = variant_of(side, variant);
  if (!row) return "no such variant";
  const auto found = std::ranges::find(row->figures, figure, &HeadlineFigure::name);
  if (found == row->figures.end()) return "no such figure";
  return found->value ? "infinite in the middle of the draws" : found->why;
}

/// Rounds to a binary grid on which sums of some thousand figures are exact.
class Grid {
 public:
  Grid(double a, double b) {
    const double larger = std::max(std::abs(a), std::abs(b));
    if (larger > 0.0) step_ = std::exp2(std::ilogb(larger) - 40);
  }
  double operator()(double value) const {
    return step_ > 0.0 ? std::round(value / step_) * step_ : value;
  }

 private:
  double step_ = 0.0;
};

/// Both ends and, for every part, each end with that part as on the other side.
struct Evaluated {
  Headlines before, after;
  std::vector<Headlines> before_with, after_with;  ///< by part
};

void split(const Evaluated& all, FigureMove& move) {
  const Grid grid(*move.before, *move.after);
  const double before = grid(*move.before), after = grid(*move.after);
  move.move = after - before;
  double sum = 0.0;
  for (std::size_t p = 0; p < all.before_with.size(); ++p) {
    const auto there = middle(all.before_with[p], move.variant, move.figure);
    const auto back = middle(all.after_with[p], move.variant, move.figure);
    if (!there || !back) {
      move.shares.clear();
      move.remark = "not split: no value with one of the changes alone";
      return;
    }
    move.shares.push_back(0.5 * ((grid(*there) - before) + (after - grid(*back))));
    sum += move.shares.back();
  }
  move.rest = *move.move - sum;
}

bool moves_at_all(const FigureMove& move) {
  const auto is_zero = [](double share) { return share == 0.0; };
  if (!move.move) return move.before.has_value() != move.after.has_value();
  return *move.move != 0.0 || !std::ranges::all_of(move.shares, is_zero);
}

void add_moves(const Evaluated& all, Comparison& result) {
  for (const VariantHeadlines& variant : all.before.variants) {
    if (!variant_of(all.after, variant.variant)) continue;
    for (const HeadlineFigure& figure : variant.figures) {
      FigureMove move{variant.variant,
                      figure.name,
                      middle(all.before, variant.variant, figure.name),
                      middle(all.after, variant.variant, figure.name),
                      {},
                      {},
                      0.0,
                      {}};
      if (move.before && move.after)
        split(all, move);
      else if (move.before || move.after)
        move.remark = fmt::format(
            "{}: {}", move.before ? "after" : "before",
            why_none(move.before ? all.after : all.before, variant.variant, figure.name));
      if (moves_at_all(move))
        result.moves.push_back(std::move(move));
      else
        ++result.figures_alike;
    }
  }
}

std::string chosen_in(const Headlines& side) {
  for (const VariantHeadlines& variant : side.variants)
    if (variant.chosen) return variant.variant;
  return {};
}

bool missed(const VariantHeadlines& variant, const std::string& requirement) {
  return std::ranges::find(variant.requirements_missed, requirement) !=
         variant.requirements_missed.end();
}

void add_turns(const Headlines& before, const Headlines& after, Comparison& result) {
  for (const VariantHeadlines& was : before.variants) {
    const VariantHeadlines* is = variant_of(after, was.variant);
    if (!is) continue;
    std::vector<std::string> named = was.requirements_missed;
    for (const std::string& id : is->requirements_missed)
      if (!missed(was, id)) named.push_back(id);
    for (const std::string& id : named)
      if (missed(was, id) != missed(*is, id))
        result.turned.push_back({was.variant, id, !missed(was, id), !missed(*is, id)});
  }
}

/// Variants and figures of one side alone.
void add_differences(const Headlines& before, const Headlines& after, Comparison& result) {
  const auto one_way = [&](const Headlines& here, const Headlines& there, const char* side) {
    for (const VariantHeadlines& variant : here.variants)
      if (!variant_of(there, variant.variant))
        result.differences.push_back(fmt::format(
            "only {}: variant {}; its figures move from nothing", side, variant.variant));
    if (here.variants.empty() || there.variants.empty()) return;
    // Which figures there are follows from the case, never from a variant.
    for (const HeadlineFigure& figure : here.variants.front().figures) {
      const auto& others = there.variants.front().figures;
      if (std::ranges::find(others, figure.name, &HeadlineFigure::name) == others.end())
        result.differences.push_back(fmt::format("only {}: the figure {}", side, figure.name));
    }
  };
  one_way(before, after, "before");
  one_way(after, before, "after");
}

ComparedSide side_of(const Case& question) {
  return {question.title,
          question.provenance.file,
          question.provenance.sha256,
          {},
          question.seed,
          question.samples > 0 ? question.samples : default_samples,
          question.provenance.changes};
}

void fill(const Evaluated& all, Comparison& result) {
  add_moves(all, result);
  add_turns(all.before, all.after, result);
  add_differences(all.before, all.after, result);
  result.chosen_before = chosen_in(all.before);
  result.chosen_after = chosen_in(all.after);
  for (const Headlines& with : all.before_with)
    result.chosen_with_part_alone.push_back(chosen_in(with));
  result.cautions = all.after.cautions;
}

/// A case between that is refused, by the reader or by a model, has no figures.
std::optional<Headlines> figures_between(const CaseBetween& between, Side of,
                                         const std::vector<std::size_t>& changes) {
  try {
    if (const auto question = between(of, changes)) return headlines(*question);
  } catch (const std::invalid_argument&) {
  } catch (const std::domain_error&) {
  }
  return std::nullopt;
}

/// Evaluates one part; false where one of the two cases is refused.
bool add_part(const CaseBetween& between, const std::vector<std::size_t>& part, Evaluated& all,
              Comparison& result) {
  auto there = figures_between(between, Side::before, part);
  if (!there) return false;
  auto back = figures_between(between, Side::after, part);
  if (!back) return false;
  all.before_with.push_back(std::move(*there));
  all.after_with.push_back(std::move(*back));
  result.parts.push_back(part);
  return true;
}

/// Everything in one part: its share is the whole move.
void take_as_one(std::vector<std::size_t> changes, Evaluated& all, Comparison& result) {
  all.before_with = {all.after};
  all.after_with = {all.before};
  result.parts = {std::move(changes)};
}

}  // namespace

Comparison compare_cases(const Case& before, const Case& after, std::vector<InputChange> changes,
                         const CaseBetween& between, const CompareProgress& progress) {
  Comparison result;
  result.before = side_of(before);
  result.after = side_of(after);
  result.changes = std::move(changes);
  std::vector<std::size_t> active;
  for (std::size_t i = 0; i < result.changes.size(); ++i)
    if (!result.changes[i].words_only) active.push_back(i);

  std::size_t done = 0;
  const auto tick = [&] {
    if (progress) progress(++done, active.size() + 1);
  };
  Evaluated all{headlines(before), headlines(after), {}, {}};
  tick();
  if (active.size() == 1) {
    take_as_one(active, all, result);
  } else {
    std::vector<std::size_t> only_together;
    for (const std::size_t i : active) {
      if (!add_part(between, {i}, all, result)) only_together.push_back(i);
      tick();
    }
    if (!only_together.empty() && !add_part(between, only_together, all, result))
      take_as_one(active, all, result);
  }
  fill(all, result);
  return result;
}

Comparison compare_results(ComparedSide before, const Headlines& figures_before, ComparedSide after,
                           const Headlines& figures_after, std::vector<InputChange> changes) {
  Comparison result;
  result.version_changed = before.version != after.version;
  const bool same_inputs = changes.empty() && before.sha256 == after.sha256 &&
                           before.sets == after.sets && before.seed == after.seed &&
                           before.samples == after.samples;
  if (!same_inputs && before.sha256 != after.sha256)
    result.differences.emplace_back("the files of the two cases are not the same");
  result.before = std::move(before);
  result.after = std::move(after);
  result.changes = std::move(changes);
  Evaluated all{figures_before, figures_after, {}, {}};
  if (same_inputs && result.version_changed) take_as_one({}, all, result);
  fill(all, result);
  if (!same_inputs)
    for (FigureMove& move : result.moves) {
      move.rest = 0.0;
      if (move.remark.empty()) move.remark = "not split: results hold no case to evaluate between";
    }
  return result;
}

}  // namespace ohmdrag::study
