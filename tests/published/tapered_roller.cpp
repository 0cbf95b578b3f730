// ISO 281:2007, radial roller bearings with a contact angle: e = 1.5 tan(alpha), and for a single
// row X = 0.4, Y = 0.4 cot(alpha) beyond it; as quoted in public copies. The loads are ours.
// Palmgren's laws in newton metres (ISO/TR 14179-2) stand in palmgren.cpp.
#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/bearing/tapered_load.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using test::near;

TEST_CASE("equivalent load of tapered rollers over the contact angle", "[formula]") {
  const double alpha = GENERATE(10.0, 12.95, 15.0, 28.8) * std::numbers::pi / 180.0;
  const double share = GENERATE(0.1, 0.3, 0.5, 1.0, 3.0);
  CAPTURE(alpha, share);
  const double e = 1.5 * std::tan(alpha);
  const double y = 0.4 / std::tan(alpha);
  const Force radial = 2000.0_N;
  const Force axial = share * radial;
  const Force expected = share <= e ? radial : 0.4 * radial + y * axial;
  CHECK_THAT(bearing::tapered_roller_equivalent_load(radial, axial, y), near(expected, 1e-12));
}

TEST_CASE("rating life of tapered rollers goes with the power 10/3", "[formula]") {
  // 60 kN, 2 kN radial, 1 kN axial, Y 1.6: P = 2400 N, 25^(10/3) million revolutions; in Python
  // 45 687.78, at 6000 1/min 126 910.5 h.
  const Force load = bearing::tapered_roller_equivalent_load(2000.0_N, 1000.0_N, 1.6);
  const auto life = bearing::basic_life(60000.0_N, load, bearing::roller_life_exponent, 6000.0_rpm);
  CHECK_THAT(life, near(Time::from_value(126910.4921 * 3600.0), 1e-9));
}
