// F. E. Terman, Radio Engineers' Handbook, 1945, flat strap; as quoted and worked in the questions
// of an EMC teaching site: strap of 10 cm x 2 cm x 2 mm.
#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/path_geometry.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::within;

TEST_CASE("a flat strap has the inductance of the worked example", "[printed]") {
  // Printed 55.13 nH; tolerance two units of its last digit.
  CHECK_THAT(strap_inductance(100.0_mm, 20.0_mm, 2.0_mm), within(55.13_nH, 0.02_nH));
}

TEST_CASE("the simple form of a strap has the inductance of the worked example", "[printed]") {
  // Printed 46.05 nH from 0.002 l ln(2l/w).
  CHECK_THAT(strap_loop_share(100.0_mm, 20.0_mm), within(46.05_nH, 0.01_nH));
}
