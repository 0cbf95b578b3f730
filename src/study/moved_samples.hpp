#pragma once

#include <optional>
#include <span>
#include <string>
#include <unordered_map>
#include <vector>

#include "study/choice.hpp"

/// Variants with a few numbers off their middles: for whoever moves one number after another.
namespace ohmdrag::study {

/// All variants in one draw. Those that were not asked for are null.
struct MovedVariants {
  MovedVariants() = default;
  MovedVariants(MovedVariants&&) = default;
  MovedVariants& operator=(MovedVariants&&) = default;

  std::vector<VariantSample> computed;  ///< those that the moved numbers reach
  DrawnVariants all;                    ///< into these, or the middle
};

/// The variants of an ensemble at their middle, and what each of them hangs on.
///
/// Method    a variant hangs on its own numbers and on those of its world, and on nothing else. One
///           that no moved number reaches is what it is at the middle, to the last bit, and is not
///           computed again.
/// Validity  draws of the numbers that the ensemble's draws have.
/// Limits    where the model refuses the middle, every variant is computed.
class MovedSamples {
 public:
  /// \param of  must outlive it
  explicit MovedSamples(const Ensemble& of);
  MovedSamples(const MovedSamples&) = delete;
  MovedSamples& operator=(const MovedSamples&) = delete;

  /// \param moved  keys of all numbers that stand off their middle in this draw
  /// \param asked  by variant; empty: all
  /// \throws std::invalid_argument, std::domain_error where the model refuses the numbers
  MovedVariants in(const Draw& draw, std::span<const std::string> moved,
                   const std::vector<bool>& asked = {}) const;

  /// The same at stated places, in parallel over these; nothing where the model refuses them.
  std::vector<std::optional<MovedVariants>> at(std::span<const Places> places,
                                               const std::vector<bool>& asked = {}) const;

 private:
  bool reach(std::span<const std::string> moved, std::size_t variant) const;

  const Ensemble& of_;
  std::vector<VariantSample> middle_;  ///< empty where the model refuses it
  std::unordered_map<std::string, std::vector<bool>> reached_;  ///< variants by key
};

}  // namespace ohmdrag::study
