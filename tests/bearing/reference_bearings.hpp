#pragma once

#include "ohmdrag/bearing/elastic.hpp"
#include "ohmdrag/bearing/geometry.hpp"
#include "ohmdrag/quantity/literals.hpp"

/// Invented internals that several tests share.
namespace ohmdrag::test {

using namespace ohmdrag::literals;

/// Fits 40 x 80 x 18 mm with balls of 15/32 inch.
inline bearing::BallBearing bearing_6208(Length clearance = Length{}) {
  return {.balls = 9,
          .ball_diameter = 11.906_mm,
          .pitch_diameter = 60.0_mm,
          .conformity = 0.52,
          .clearance = clearance};
}

/// The same space with 12 mm balls: the ratio of diameters is 0.2 exactly.
inline bearing::BallBearing reference_b1() {
  return {.balls = 9, .ball_diameter = 12.0_mm, .pitch_diameter = 60.0_mm, .conformity = 0.52};
}

inline const bearing::Elastic steel{.young_modulus = 206.0_GPa, .poisson = 0.3};

}  // namespace ohmdrag::test
