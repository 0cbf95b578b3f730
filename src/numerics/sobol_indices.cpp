#include "ohmdrag/numerics/sobol_indices.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <stdexcept>

#include "numerics/mixed_bits.hpp"

namespace ohmdrag::numerics {

namespace {

void require(bool met, const char* what) {
  if (!met) throw std::invalid_argument(what);
}

double mean_of(std::span<const double> values) {
  double sum = 0.0;
  for (const double value : values) sum += value;
  return sum / static_cast<double>(values.size());
}

struct Ratio {
  double value = 0.0, error = 0.0;
};

/// Ratio of two means over the replicates with its standard error, from how far each replicate is
/// off the common ratio.
Ratio ratio_of(std::span<const double> above, std::span<const double> below) {
  const double scale = mean_of(below);
  if (scale == 0.0) return {};
  const double ratio = mean_of(above) / scale;
  double squares = 0.0;
  for (std::size_t r = 0; r < above.size(); ++r) {
    const double off = above[r] - ratio * below[r];
    squares += off * off;
  }
  const auto n = static_cast<double>(above.size());
  return {ratio, std::sqrt(squares / (n * (n - 1.0))) / scale};
}

}  // namespace

SobolDesign::SobolDesign(std::size_t inputs, std::vector<std::vector<std::size_t>> groups,
                         const SobolOptions& options)
    : inputs_(inputs), points_(options.points) {
  require(inputs > 0 && 2 * inputs <= QuasiRandom::most_dimensions,
          "Sobol' indices: between 1 and 1833 inputs");
  require(!groups.empty(), "Sobol' indices: no group of inputs");
  for (const std::vector<std::size_t>& group : groups) {
    require(!group.empty(), "Sobol' indices: a group without inputs");
    std::vector<bool>& members = groups_.emplace_back(inputs, false);
    for (const std::size_t input : group) {
      require(input < inputs, "Sobol' indices: a group has an input that is not there");
      require(!members[input], "Sobol' indices: an input stands twice in a group");
      members[input] = true;
    }
  }
  require(points_ >= 2 && std::has_single_bit(points_),
          "Sobol' indices: the number of points is a power of 2");
  require(options.replicates >= 2, "Sobol' indices: an error needs two replicates");
  for (std::size_t r = 0; r < options.replicates; ++r)
    replicates_.emplace_back(2 * inputs, mixed_bits(options.seed, r));
}

// Runs in the order: replicate, point, then A, B and A with one group after another from B.
std::size_t SobolDesign::runs() const {
  return replicates_.size() * points_ * (groups_.size() + 2);
}

void SobolDesign::write_shares(std::size_t run, std::span<double> shares) const {
  if (run >= runs() || shares.size() != inputs())
    throw std::out_of_range("Sobol' indices: no such run, or not a place for each input");
  const std::size_t sets = groups_.size() + 2, set = run % sets, row = run / sets;
  const QuasiRandom& cube = replicates_[row / points_];
  for (std::size_t input = 0; input < inputs(); ++input) {
    const bool from_b = set == 1 || (set >= 2 && groups_[set - 2][input]);
    shares[input] = cube.value(from_b ? inputs() + input : input, row % points_);
  }
}

SobolIndices SobolDesign::indices(std::span<const double> outcomes) const {
  require(outcomes.size() == runs(), "Sobol' indices: not as many outcomes as runs");
  require(std::all_of(outcomes.begin(), outcomes.end(), [](double y) { return std::isfinite(y); }),
          "Sobol' indices: an outcome is not finite");
  const std::size_t groups = groups_.size(), sets = groups + 2, replicates = replicates_.size();
  SobolIndices result;
  for (std::size_t row = 0; row < replicates * points_; ++row)
    result.mean += outcomes[row * sets] + outcomes[row * sets + 1];
  result.mean /= 2.0 * static_cast<double>(replicates * points_);

  // Sums by replicate; those of the groups one after another.
  std::vector<double> variance(replicates), first(groups * replicates), total(first);
  for (std::size_t row = 0; row < replicates * points_; ++row) {
    const std::size_t r = row / points_;
    const double a = outcomes[row * sets] - result.mean;
    const double b = outcomes[row * sets + 1] - result.mean;
    variance[r] += (a * a + b * b) / 2.0;
    for (std::size_t g = 0; g < groups; ++g) {
      const double mixed = outcomes[row * sets + 2 + g] - result.mean;
      first[g * replicates + r] += b * (mixed - a);
      total[g * replicates + r] += (a - mixed) * (a - mixed) / 2.0;
    }
  }
  result.variance = mean_of(variance) / static_cast<double>(points_);
  for (std::size_t g = 0; g < groups; ++g) {
    const auto of_group = [&](const std::vector<double>& sums) {
      return ratio_of(std::span(sums).subspan(g * replicates, replicates), variance);
    };
    const Ratio own = of_group(first), all = of_group(total);
    result.group.push_back({own.value, all.value, own.error, all.error});
  }
  return result;
}

std::vector<std::vector<std::size_t>> one_by_one(std::size_t inputs) {
  std::vector<std::vector<std::size_t>> groups;
  for (std::size_t input = 0; input < inputs; ++input) groups.push_back({input});
  return groups;
}

SobolIndices sobol_indices(const SobolDesign& design,
                           const std::function<double(std::span<const double>)>& model) {
  std::vector<double> outcomes(design.runs()), shares(design.inputs());
  for (std::size_t run = 0; run < outcomes.size(); ++run) {
    design.write_shares(run, shares);
    outcomes[run] = model(shares);
  }
  return design.indices(outcomes);
}

}  // namespace ohmdrag::numerics
