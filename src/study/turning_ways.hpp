#pragma once

#include <functional>
#include <initializer_list>
#include <optional>
#include <string>
#include <vector>

#include "study/choice.hpp"

/// The ways in which the recommendation of a trade study turns, and how far off each is.
namespace ohmdrag::study {

/// A way in which the recommendation turns.
struct Way {
  std::string words;
  /// Above zero: not yet. Natural logarithms of ratios, five at most: beyond a factor of 150 a
  /// slope says nothing more, and an infinite one has none.
  std::function<double(const DrawnVariants& drawn)> state;
  std::vector<bool> reads;  ///< by variant, whether the state reads it
};

/// The recommended variant misses a requirement or no longer helps, or another one may be chosen
/// and costs less; where none or the present design is recommended, another one may be chosen.
class Ways {
 public:
  /// \param rule  must outlive it
  Ways(const ChoiceRule& rule, std::optional<std::size_t> recommended);
  Ways(const Ways&) = delete;
  Ways& operator=(const Ways&) = delete;

  const std::vector<Way>& all() const { return ways_; }

 private:
  const VariantSample& baseline(const DrawnVariants& drawn) const;
  std::optional<double> kept(const Requirement& requirement, std::size_t v,
                             const DrawnVariants& drawn) const;
  double benefit(std::size_t v, const DrawnVariants& drawn) const;
  double cheaper(std::size_t v, const DrawnVariants& drawn) const;
  /// Of these and of the baseline.
  std::vector<bool> read(std::initializer_list<std::size_t> variants) const;
  void add_falls(std::size_t v);
  void add_overtaking(std::size_t v, bool displaces);

  const ChoiceRule& rule_;
  const Case& question_;
  std::optional<std::size_t> recommended_;
  std::vector<Way> ways_;
};

/// Whether a variant misses one requirement in every draw, and by more than any state tells.
bool is_out_of_reach(const Ensemble& ensemble, std::size_t variant);

}  // namespace ohmdrag::study
