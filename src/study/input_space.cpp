#include "study/input_space.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ohmdrag::study {

double share_of_score(double score) {
  // Quantiles want the open interval; eight deviations are farther than anybody looks.
  const double bounded = std::clamp(score, -8.0, 8.0);
  return 0.5 * std::erfc(-bounded / std::numbers::sqrt2);
}

InputSpace::InputSpace(std::span<const UncertainNumber* const> numbers) {
  for (const UncertainNumber* number : numbers) {
    InputAxis axis{number, {}};
    const auto add = [&](const Distribution& distribution, bool scatter) {
      if (distribution.shape == Shape::exact) return;
      axis.coordinates.push_back(owners_.size());
      owners_.push_back({inputs_.size(), scatter});
    };
    add(number->spread, false);
    add(number->scatter, true);
    inputs_.push_back(std::move(axis));
  }
}

Places InputSpace::at_shares(std::span<const double> shares) const {
  Places places(inputs_.size());
  for (std::size_t c = 0; c < owners_.size(); ++c) {
    NumberPlace& place = places[inputs_[owners_[c].input].number->key];
    (owners_[c].scatter ? place.scatter : place.spread) = shares[c];
  }
  return places;
}

Places InputSpace::at_scores(std::span<const double> scores) const {
  std::vector<double> shares;
  for (const double score : scores) shares.push_back(share_of_score(score));
  return at_shares(shares);
}

}  // namespace ohmdrag::study
