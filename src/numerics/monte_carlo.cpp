#include "ohmdrag/numerics/monte_carlo.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>
#include <vector>

#include "numerics/mixed_bits.hpp"
#include "ohmdrag/numerics/quasi_random.hpp"

namespace ohmdrag::numerics {

namespace {

void require(bool met, const char* what) {
  if (!met) throw std::invalid_argument(what);
}

/// Number, mean and sum of squared deviations, joined without losing digits: T. F. Chan, G. H.
/// Golub, R. J. LeVeque, Am. Stat. 37 (1983) 242-247 (from memory).
struct Moments {
  double number = 0.0, mean = 0.0, squares = 0.0;

  double deviation() const { return std::sqrt(squares / (number - 1.0)); }
};

Moments moments_of(std::span<const double> values) {
  Moments moments{.number = static_cast<double>(values.size())};
  for (const double value : values) moments.mean += value;
  moments.mean /= moments.number;
  for (const double value : values)
    moments.squares += (value - moments.mean) * (value - moments.mean);
  return moments;
}

Moments joined(const Moments& a, const Moments& b) {
  const double number = a.number + b.number, step = b.mean - a.mean;
  return {number, a.mean + step * b.number / number,
          a.squares + b.squares + step * step * a.number * b.number / number};
}

/// Twice the standard deviation of the average of these figures, one a block.
double error_of(const std::vector<double>& figures) {
  return 2.0 * moments_of(figures).deviation() / std::sqrt(static_cast<double>(figures.size()));
}

std::vector<double> sorted(std::span<const double> values) {
  std::vector<double> rising(values.begin(), values.end());
  std::sort(rising.begin(), rising.end());
  return rising;
}

std::size_t block_size(const MonteCarloOptions& options) {
  require(options.coverage > 0.0 && options.coverage < 1.0,
          "Monte Carlo: the coverage lies between 0 and 1");
  require(options.tolerance_share > 0.0 && options.tolerance_share <= 1.0,
          "Monte Carlo: the share of the tolerance lies between 0 and 1");
  require(options.trials_a_block >= 2, "Monte Carlo: a block has at least two trials");
  require(options.fewest_blocks >= 2 && options.fewest_blocks <= options.most_blocks,
          "Monte Carlo: at least two blocks, and no more to begin with than at most");
  const double fewest = std::ceil(100.0 / (1.0 - options.coverage));
  return std::max(options.trials_a_block, static_cast<std::size_t>(fewest));
}

}  // namespace

void in_one_piece(std::size_t trials, const Piece& piece) { piece(0, trials); }

Trials trials_of(ModelOfShares model, std::size_t inputs, Points points, std::uint64_t seed) {
  require(inputs > 0, "Monte Carlo: a model needs inputs");
  require(points == Points::pseudo_random || inputs <= QuasiRandom::most_dimensions,
          "Monte Carlo: more inputs than the quasi-random points have dimensions");
  return [model = std::move(model), inputs, points, seed](std::size_t block, std::size_t first,
                                                          std::span<double> outcomes) {
    const std::uint64_t block_seed = mixed_bits(seed, block);
    std::vector<double> shares(inputs);
    const auto run = [&](const auto& share) {
      for (std::size_t i = 0; i < outcomes.size(); ++i) {
        for (std::size_t input = 0; input < inputs; ++input)
          shares[input] = share(first + i, input);
        outcomes[i] = model(shares);
      }
    };
    if (points == Points::quasi_random) {
      const QuasiRandom cube(inputs, block_seed);
      run([&](std::size_t trial, std::size_t input) { return cube.value(input, trial); });
    } else {
      run([&](std::size_t trial, std::size_t input) {
        return pseudo_random_share(mixed_bits(mixed_bits(block_seed, trial), input));
      });
    }
  };
}

double numerical_tolerance(double standard_uncertainty, int significant_digits) {
  require(standard_uncertainty >= 0.0 && std::isfinite(standard_uncertainty),
          "numerical tolerance: a standard uncertainty is finite and not negative");
  require(significant_digits >= 1 && significant_digits <= 15,
          "numerical tolerance: 1 to 15 digits count");
  if (standard_uncertainty == 0.0) return 0.0;
  int last =
      static_cast<int>(std::floor(std::log10(standard_uncertainty))) - significant_digits + 1;
  const double digits = std::round(standard_uncertainty * std::pow(10.0, -last));
  if (digits >= std::pow(10.0, significant_digits)) ++last;  // 0.0996 is 0.10, not 0.100
  return 0.5 * std::pow(10.0, last);
}

MonteCarloResult adaptive_monte_carlo(const Trials& trials, const MonteCarloOptions& options,
                                      const ShareOut& share_out) {
  const std::size_t size = block_size(options);
  std::vector<double> all;
  std::vector<double> estimates, uncertainties, lows, highs;
  Moments whole;
  MonteCarloResult result;
  while (!result.stabilised && result.blocks < options.most_blocks) {
    all.resize(all.size() + size);
    const auto block = std::span(all).last(size);
    share_out(size, [&](std::size_t first, std::size_t count) {
      trials(result.blocks, first, block.subspan(first, count));
    });
    require(std::all_of(block.begin(), block.end(), [](double y) { return std::isfinite(y); }),
            "Monte Carlo: an outcome is not finite");

    const Moments moments = moments_of(block);
    whole = result.blocks == 0 ? moments : joined(whole, moments);
    const auto interval = coverage_interval(sorted(block), options.coverage, options.interval);
    estimates.push_back(moments.mean);
    uncertainties.push_back(moments.deviation());
    lows.push_back(interval.low);
    highs.push_back(interval.high);
    if (++result.blocks < options.fewest_blocks) continue;

    result.tolerance = options.tolerance_share *
                       numerical_tolerance(whole.deviation(), options.significant_digits);
    result.estimate_error = error_of(estimates);
    result.uncertainty_error = error_of(uncertainties);
    result.low_error = error_of(lows);
    result.high_error = error_of(highs);
    result.stabilised = std::max({result.estimate_error, result.uncertainty_error, result.low_error,
                                  result.high_error}) <= result.tolerance;
  }
  result.trials = all.size();
  result.estimate = whole.mean;
  result.uncertainty = whole.deviation();
  std::sort(all.begin(), all.end());
  result.symmetric = coverage_interval(all, options.coverage, IntervalKind::symmetric);
  result.shortest = coverage_interval(all, options.coverage, IntervalKind::shortest);
  return result;
}

}  // namespace ohmdrag::numerics
