#pragma once

#include <optional>
#include <vector>

#include "study/service_means.hpp"

/// Fatigue and erosion by discharges as causes that end a bearing, and a unit with its first one.
namespace ohmdrag::study {

struct LifeSlopes {
  double fatigue = 0.0;
  double erosion = 0.0;
};
LifeSlopes life_slopes(const Case& world);

/// Ages that 90 % of such bearings survive each cause, h; infinite: it never ends one.
struct BearingLives {
  double fatigue_h = 0.0;
  double erosion_h = 0.0;
};

/// Whether fatigue is counted by the modified rating life: where the case says how clean the oil
/// is. Else by the basic one.
bool starts_at_modified(const Case& world);

/// Share of the rating life at a survival of 90 % that a bearing's fatigue takes. A modified life
/// that the case states for another survival is taken back to 90 %: the life that erosion is
/// stated for.
double fatigue_share(const Case& world, const BearingSample& sum);
/// Rating life at a survival of 90 % of a bearing with these sums per second, h.
double fatigue_hours(const Case& world, const BearingSample& per_second);

/// One bearing that both causes damage together, damage rates added (slope 1).
double linear_life_h(const BearingLives& lives);
/// All bearings with the causes independent; a single bearing is a list of one.
double competing_life_h(const std::vector<BearingLives>& bearings, const LifeSlopes& slopes);
/// All bearings, linear damage within each of them and the slope of fatigue between them.
double linear_life_h(const std::vector<BearingLives>& bearings, const LifeSlopes& slopes);
/// Probability that one of the causes has ended the bearing by an age, causes independent.
double event_probability(const BearingLives& lives, const LifeSlopes& slopes, double age_h);

/// Interval of lives, or of their middle alone where they differ by less than a thousandth: no life
/// is known to that, and the digits would only show the arithmetic.
Interval interval_of_lives(std::vector<double> hours);

/// All bearings of a variant in one draw under a law; none if the law says nothing of one of them.
std::optional<std::vector<BearingLives>> lives_of(const ServiceMeans& means, const DamageLaw& law,
                                                  std::size_t variant, std::size_t draw);

}  // namespace ohmdrag::study
