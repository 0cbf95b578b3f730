#include "study/input_space.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "ohmdrag/quantity/distribution.hpp"

namespace ohmdrag::study {

double share_of_score(double score) {
  // Quantiles want the open interval; eight deviations are farther than anybody looks.
  const double bounded = std::clamp(score, -8.0, 8.0);
  return 0.5 * std::erfc(-bounded / std::numbers::sqrt2);
}

double score_of_share(double share) { return share == 0.5 ? 0.0 : normal_quantile(share); }

InputSpace::InputSpace(std::span<const UncertainNumber* const> numbers,
                       std::span<const Correlation> correlations) {
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
  for (const Correlation& correlation : correlations) {
    Joint joint{numerics::JointNormal(correlation.matrix), {}};
    for (const std::string& key : correlation.keys)
      for (std::size_t c = 0; c < owners_.size(); ++c)
        if (owners_[c].scatter == correlation.of_scatter &&
            inputs_[owners_[c].input].number->key == key)
          joint.coordinates.push_back(c);
    joints_.push_back(std::move(joint));
  }
}

std::vector<std::vector<std::size_t>> InputSpace::correlated() const {
  std::vector<std::vector<std::size_t>> result;
  for (const Joint& joint : joints_) {
    std::vector<std::size_t>& inputs = result.emplace_back();
    for (const std::size_t c : joint.coordinates) inputs.push_back(owners_[c].input);
  }
  return result;
}

Places InputSpace::at_shares(std::span<const double> independent) const {
  std::vector<double> shares(independent.begin(), independent.end());
  for (const Joint& joint : joints_) {
    std::vector<double> together;
    for (const std::size_t c : joint.coordinates) together.push_back(shares[c]);
    joint.normal.correlate_shares(together);
    for (std::size_t i = 0; i < together.size(); ++i) shares[joint.coordinates[i]] = together[i];
  }
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
