#pragma once

#include <span>
#include <string>
#include <unordered_map>
#include <vector>

#include "ohmdrag/quantity/uncertain.hpp"

namespace ohmdrag::study {

/// Where a number stands within its distributions, as shares of (0, 1).
struct NumberPlace {
  double spread = 0.5, scatter = 0.5;
};
/// Places by key; a number whose key is not there stands at its middle.
using Places = std::unordered_map<std::string, NumberPlace>;

/// The ensemble's coordinates: for every uncertain number of a case one position in (0, 1) a
/// sample, shared by all variants and points that share the number's key.
///
/// Latin hypercube: each key's column is a random permutation of the mid-points of `samples` equal
/// strata. A column depends on the seed and the key alone, so adding a number to a case moves
/// nobody else's draws, and the thread count moves nothing.
/// Source  M. D. McKay, R. J. Beckman, W. J. Conover, Technometrics 21 (1979) 239-245.
class Draws {
 public:
  /// \param numbers every uncertain number that may be asked for; certain ones are skipped
  Draws(std::span<const UncertainNumber* const> numbers, int samples, unsigned long long seed);

  /// Stated places in place of drawn ones, one sample each.
  Draws(std::span<const UncertainNumber* const> numbers, std::span<const Places> places);

  int samples() const { return samples_; }
  /// Keys in first-seen order, with the numbers they stand for.
  std::span<const UncertainNumber* const> drawn() const { return drawn_; }

  /// The value of a number in one sample (SI).
  double value(const UncertainNumber& number, int sample) const;
  /// The same in every sample, for ranking what moves a figure.
  std::vector<double> column(const UncertainNumber& number) const;

 private:
  struct Column {
    std::vector<double> spread;
    std::vector<double> scatter;
  };
  int samples_;
  std::vector<const UncertainNumber*> drawn_;
  std::unordered_map<std::string, Column> columns_;
};

/// One sample of an ensemble, or the nominal case: what turns an uncertain number into a value.
class Draw {
 public:
  /// Everything at its middle.
  Draw() = default;
  Draw(const Draws& draws, int sample) : draws_(&draws), sample_(sample) {}

  /// Everything at its middle but the number of this key, which stands at its quantile u: what one
  /// number alone moves.
  Draw(std::string key, double u) : key_(std::move(key)), u_(u) {}

  template <class Q>
  Q operator()(const Uncertain<Q>& number) const {
    return Uncertain<Q>::typed(si(number));
  }
  double si(const UncertainNumber& number) const {
    if (draws_) return draws_->value(number, sample_);
    const double u = !key_.empty() && number.key == key_ ? u_ : 0.5;
    return number.at(u, u);
  }

 private:
  std::string key_;
  double u_ = 0.5;
  const Draws* draws_ = nullptr;
  int sample_ = 0;
};

}  // namespace ohmdrag::study
