#pragma once

#include <span>
#include <string>
#include <vector>

#include "ohmdrag/numerics/joint_normal.hpp"
#include "ohmdrag/study/draws.hpp"

/// The uncertain numbers of a case as coordinates: for methods that know vectors only. Coordinates
/// are independent of each other; of correlated numbers they are what lies behind: the first is its
/// own, each further one is what its number has beside those before it.
namespace ohmdrag::study {

/// An uncertain number and its coordinates: one for its spread, one for its scatter from part to
/// part, as far as it has them.
struct InputAxis {
  const UncertainNumber* number = nullptr;
  std::vector<std::size_t> coordinates;
};

class InputSpace {
 public:
  /// \param numbers       each key once, as Draws::drawn() has them
  /// \param correlations  among them, as Draws::correlations() has them
  explicit InputSpace(std::span<const UncertainNumber* const> numbers,
                      std::span<const Correlation> correlations = {});

  std::size_t coordinates() const { return owners_.size(); }
  const std::vector<InputAxis>& inputs() const { return inputs_; }
  /// Inputs that are correlated with each other, by correlation: places in inputs().
  std::vector<std::vector<std::size_t>> correlated() const;

  /// \param shares  one a coordinate, in (0, 1)
  Places at_shares(std::span<const double> shares) const;
  /// \param scores  one a coordinate: standard deviations of a normal distribution
  Places at_scores(std::span<const double> scores) const;

 private:
  struct Owner {
    std::size_t input;
    bool scatter;
  };
  struct Joint {
    numerics::JointNormal normal;
    std::vector<std::size_t> coordinates;
  };
  std::vector<InputAxis> inputs_;
  std::vector<Owner> owners_;
  std::vector<Joint> joints_;
};

/// Share of a normal distribution below so many standard deviations, kept off 0 and 1.
double share_of_score(double score);
double score_of_share(double share);

}  // namespace ohmdrag::study
