#pragma once

#include <span>

#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::bearing {

/// A share of the running time and the life the part would have if all of it were like that.
struct LifeShare {
  double share;  ///< q >= 0, share of time
  Time life;     ///< > 0, may be infinite
};

/// A share of the running time at one load and speed.
struct LoadShare {
  double share;           ///< q >= 0
  Force load;             ///< P >= 0
  AngularVelocity omega;  ///< its magnitude counts
};

/// Life under a mixture of duties (Palmgren and Miner).
///
///     1/L = sum(q/life) / sum(q)
///
/// Limits    shares without damage (infinite life) only dilute; all infinite: infinite.
/// Validity  damage adds up linearly whatever the order.
/// Source    A. Palmgren (1924), M. A. Miner (1945); as in M. Modarres, M. Amiri, C. Jackson,
///           Probabilistic Physics of Failure Approach to Reliability (2017).
///
/// \throws std::invalid_argument if the shares do not sum to more than 0 or a life is not positive.
Time mixed_life(std::span<const LifeShare> duty);

/// Consumed share of life, D = t/L; 1 is failure. Zero for an infinite life.
double damage(Time running, Time life);

/// Constant load with the same fatigue per revolution, at the same modified-life factor.
///
///     P_m = (sum P^p n q / sum n q)^(1/p)          [N]
///
/// Source  derived: mixed_life() with L = (C/P)^p/n.
///
/// \throws std::invalid_argument if nothing turns.
Force mean_equivalent_load(std::span<const LoadShare> duty, double exponent);
/// n_m = sum(n q) / sum(q).
AngularVelocity mean_speed(std::span<const LoadShare> duty);

}  // namespace ohmdrag::bearing
