#include "study/variance_moves.hpp"

#include <fmt/format.h>
#include <oneapi/tbb/parallel_for.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "ohmdrag/numerics/gum.hpp"
#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::study {
namespace {

constexpr std::size_t screen_points = 4;  // a power of 2: evenly laid
constexpr char never_moves[] = "no uncertain number moves it";
constexpr double most_left_over =
    0.1;  // of the variance, in inputs that have no index of their own
constexpr char left_over[] =
    "the other inputs together move much of it: the list is not complete, and their ranks are open";
constexpr char not_everywhere[] = "it has no finite value for some of the inputs";

std::vector<double> in_parallel(std::size_t count, const std::function<double(std::size_t)>& of) {
  std::vector<double> values(count);
  oneapi::tbb::parallel_for(std::size_t{0}, count, [&](std::size_t i) { values[i] = of(i); });
  return values;
}

bool all_finite(const std::vector<double>& values) {
  return std::ranges::all_of(values, [](double value) { return std::isfinite(value); });
}

/// Squared half swings of the coordinates, all others at their middle.
std::vector<double> squared_swings(const FigureOfShares& figure, std::size_t coordinates) {
  const std::vector<double> ends = in_parallel(2 * coordinates, [&](std::size_t i) {
    std::vector<double> shares(coordinates, 0.5);
    shares[i / 2] = i % 2 == 0 ? 0.025 : 0.975;
    return figure(shares);
  });
  std::vector<double> squared(coordinates);
  for (std::size_t c = 0; c < coordinates; ++c)
    squared[c] = std::pow(0.5 * (ends[2 * c + 1] - ends[2 * c]), 2);
  return squared;
}

/// Squared changes of the figure as a coordinate jumps, from some points far from the middle: what
/// does nothing there may do much elsewhere.
std::vector<double> squared_jumps(const FigureOfShares& figure, std::size_t coordinates,
                                  std::uint64_t seed) {
  const std::size_t steps = coordinates + 1;
  const numerics::QuasiRandom cube(2 * coordinates, seed);
  const std::vector<double> values = in_parallel(screen_points * steps, [&](std::size_t i) {
    const std::size_t point = i / steps, moved = i % steps;
    std::vector<double> shares(coordinates);
    for (std::size_t c = 0; c < coordinates; ++c)
      shares[c] = cube.value(c + 1 == moved ? coordinates + c : c, point);
    return figure(shares);
  });
  std::vector<double> squared(coordinates);
  for (std::size_t point = 0; point < screen_points; ++point)
    for (std::size_t c = 0; c < coordinates; ++c)
      squared[c] += std::pow(values[point * steps + c + 1] - values[point * steps], 2);
  return squared;
}

/// Scaled so that they add up to one; all 0 where there is nothing.
void share_out(std::vector<double>& parts) {
  const double all = std::accumulate(parts.begin(), parts.end(), 0.0);
  for (double& part : parts) part = all > 0.0 ? part / all : 0.0;
}

/// What each input does in both screens, as shares of what all do.
std::vector<double> screened(std::span<const MovingInput> inputs, std::vector<double> swings,
                             std::vector<double> jumps) {
  share_out(swings);
  share_out(jumps);
  std::vector<double> shares(inputs.size());
  for (std::size_t i = 0; i < inputs.size(); ++i)
    for (const std::size_t c : inputs[i].coordinates) shares[i] += swings[c] + jumps[c];
  share_out(shares);
  return shares;
}

/// Of the groups that get an index: inputs one by one, the others together, and all together that
/// rest on something.
struct Grouping {
  std::vector<std::vector<std::size_t>> groups;  ///< of coordinates
  std::vector<std::size_t> singles;              ///< inputs
  std::vector<std::size_t> others;               ///< inputs
  std::vector<std::size_t> founded;              ///< inputs that rest on no assumption
};

Grouping grouping(std::span<const MovingInput> inputs, const std::vector<double>& screened,
                  const MovesEffort& effort) {
  Grouping result;
  std::vector<std::size_t> order(inputs.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::ranges::stable_sort(order, std::greater{}, [&](std::size_t i) { return screened[i]; });
  for (const std::size_t i : order) {
    const bool matters = screened[i] >= effort.least_share && screened[i] > 0.0;
    (matters && result.singles.size() < effort.most_inputs ? result.singles : result.others)
        .push_back(i);
  }
  for (std::size_t i = 0; i < inputs.size(); ++i)
    if (!rests_on_assumption(inputs[i].basis)) result.founded.push_back(i);
  const auto together = [&](const std::vector<std::size_t>& members) {
    std::vector<std::size_t> all;
    for (const std::size_t i : members)
      all.insert(all.end(), inputs[i].coordinates.begin(), inputs[i].coordinates.end());
    if (!all.empty()) result.groups.push_back(std::move(all));
  };
  for (const std::size_t i : result.singles) together({i});
  together(result.others);
  if (result.founded.size() < inputs.size()) together(result.founded);
  return result;
}

/// How far indices may be off.
struct Doubt {
  double factor = 1.0;       ///< on standard errors
  double unexplained = 0.0;  ///< share of the variance that may be anybody's
};

VarianceShare share_of(double value, double error, const Doubt& doubt) {
  const double explained = value * (1.0 - doubt.unexplained);
  return {value, explained - doubt.factor * error,
          explained + doubt.unexplained + doubt.factor * error};
}

Basis weakest_of(std::span<const MovingInput> inputs, const std::vector<std::size_t>& members) {
  Basis basis = Basis::measured;
  for (const std::size_t i : members) basis = weakest(basis, inputs[i].basis);
  return basis;
}

/// Rows out of the indices of the groups.
void fill(const numerics::SobolIndices& indices, const Grouping& grouped,
          std::span<const MovingInput> inputs, const Doubt& doubt, FigureMoves& moves) {
  moves.mean = indices.mean;
  moves.deviation = std::sqrt(indices.variance);
  const auto row = [&](std::size_t group, std::string name, std::size_t count, Basis basis) {
    const numerics::SobolIndex& index = indices.group[group];
    return InputMoves{std::move(name), count, basis,
                      share_of(index.first, index.first_error, doubt),
                      share_of(index.total, index.total_error, doubt)};
  };
  std::size_t group = 0;
  for (const std::size_t i : grouped.singles)
    moves.inputs.push_back(row(group++, inputs[i].name, 1, inputs[i].basis));
  std::ranges::stable_sort(moves.inputs, std::greater{},
                           [](const InputMoves& input) { return input.total.value; });
  if (!grouped.others.empty()) {
    moves.inputs.push_back(
        row(group++, "all others", grouped.others.size(), weakest_of(inputs, grouped.others)));
    if (moves.inputs.back().total.value > most_left_over) moves.remark = left_over;
  }
  if (grouped.founded.size() < inputs.size()) {
    // What the others do not touch at all; of a large share far more exact than its own estimate.
    const VarianceShare touched =
        grouped.founded.empty()
            ? VarianceShare{}
            : share_of(indices.group[group].total, indices.group[group].total_error, doubt);
    moves.assumed = VarianceShare{1.0 - touched.value, 1.0 - touched.high, 1.0 - touched.low};
  }
}

/// Nothing where the draws are too few, the figure is not finite in all of them or never moves.
std::optional<numerics::SparsePolynomial> polynomial_of(
    const numerics::PolynomialInputs& coordinates, std::span<const double> drawn) {
  if (drawn.size() < numerics::SparsePolynomial::fewest_rows || coordinates.inputs() == 0 ||
      !std::ranges::all_of(drawn, [](double value) { return std::isfinite(value); }))
    return std::nullopt;
  numerics::SparsePolynomial polynomial(coordinates, drawn);
  if (polynomial.terms() == 0) return std::nullopt;
  return polynomial;
}

/// Total index of each input.
std::vector<double> totals(const numerics::SparsePolynomial& polynomial,
                           std::span<const MovingInput> inputs) {
  std::vector<std::vector<std::size_t>> alone;
  for (const MovingInput& input : inputs) alone.push_back(input.coordinates);
  std::vector<double> result;
  for (const numerics::SobolIndex& index : polynomial.indices(alone).group)
    result.push_back(index.total);
  return result;
}

}  // namespace

VarianceMoves variance_moves(const FigureOfShares& figure, std::size_t coordinates,
                             std::span<const MovingInput> inputs, const MovesEffort& effort,
                             std::span<const double> seen) {
  VarianceMoves result;
  result.screened.assign(inputs.size(), 0.0);
  const std::vector<double> swings = squared_swings(figure, coordinates);
  const std::vector<double> jumps = squared_jumps(figure, coordinates, effort.sobol.seed);
  result.moves.evaluations = 2 * coordinates + screen_points * (coordinates + 1);
  if (!all_finite(swings) || !all_finite(jumps)) {
    result.moves.remark = not_everywhere;
    return result;
  }
  result.screened = screened(inputs, swings, jumps);
  const auto moves = [](double share) { return share > 0.0; };
  if (std::ranges::none_of(result.screened, moves)) {
    result.moves.remark = never_moves;
    return result;
  }

  std::vector<double> matters = result.screened;
  for (std::size_t i = 0; i < seen.size(); ++i) matters[i] = std::max(matters[i], seen[i]);
  const Grouping grouped = grouping(inputs, matters, effort);
  const numerics::SobolDesign design(coordinates, grouped.groups, effort.sobol);
  const std::vector<double> outcomes = in_parallel(design.runs(), [&](std::size_t run) {
    std::vector<double> shares(coordinates);
    design.write_shares(run, shares);
    return figure(shares);
  });
  result.moves.evaluations += design.runs();
  if (!all_finite(outcomes)) {
    result.moves.remark = not_everywhere;
    return result;
  }
  fill(design.indices(outcomes), grouped, inputs,
       {numerics::coverage_factor(0.95, static_cast<double>(effort.sobol.replicates) - 1.0), 0.0},
       result.moves);
  return result;
}

std::optional<VarianceMoves> moves_of_draws(const numerics::PolynomialInputs& coordinates,
                                            std::span<const double> drawn,
                                            std::span<const MovingInput> inputs,
                                            const MovesEffort& effort) {
  using numerics::SparsePolynomial;
  VarianceMoves result;
  const bool still = std::ranges::all_of(drawn, [&](double one) { return one == drawn.front(); });
  if (still && drawn.size() >= SparsePolynomial::fewest_rows && std::isfinite(drawn.front())) {
    result.screened.assign(inputs.size(), 0.0);
    result.moves.remark = never_moves;
    result.moves.evaluations = drawn.size();
    return result;
  }
  const std::optional<SparsePolynomial> fitted = polynomial_of(coordinates, drawn);
  if (!fitted || fitted->unexplained() > effort.most_unexplained) return std::nullopt;
  const SparsePolynomial& polynomial = *fitted;
  result.screened = totals(polynomial, inputs);
  const Grouping grouped = grouping(inputs, result.screened, effort);
  fill(polynomial.indices(grouped.groups), grouped, inputs,
       {numerics::coverage_factor(0.95, SparsePolynomial::blocks - 1.0), polynomial.unexplained()},
       result.moves);
  result.moves.evaluations = drawn.size();
  const std::string how = fmt::format(
      "the indices are those of a polynomial of {} terms through the draws; it leaves {} % of the "
      "variance unexplained, by which the intervals are wider",
      polynomial.terms(), print_number(100.0 * polynomial.unexplained(), 2));
  std::string& remark = result.moves.remark;
  remark = remark.empty() ? how : how + "; " + remark;
  return result;
}

std::vector<double> seen_in_draws(const numerics::PolynomialInputs& coordinates,
                                  std::span<const double> drawn,
                                  std::span<const MovingInput> inputs) {
  const auto polynomial = polynomial_of(coordinates, drawn);
  return polynomial ? totals(*polynomial, inputs) : std::vector<double>{};
}

}  // namespace ohmdrag::study
