// Reactance of a pair of parallel wires, table 311 of a handbook on electromagnetic compatibility
// (the document could not be identified): 1 ft of line, printed for 1 MHz, axes 25.4 mm apart.
#include <numbers>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/path_geometry.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;

TEST_CASE("wire pairs have the reactance of the handbook's table", "[printed]") {
  struct Row {
    Length radius;
    double reactance_ohm;
  };
  // Three printed digits. The values fit 0.30 m, the rounded foot; an exact foot is 1.6 % off.
  const auto row = GENERATE(Row{0.3219_mm, 3.29}, Row{0.6455_mm, 2.77}, Row{2.594_mm, 1.72});
  CAPTURE(row.reactance_ohm);
  const Inductance loop = wire_pair_inductance(300.0_mm, 25.4_mm, row.radius);
  CHECK_THAT(2.0 * std::numbers::pi * 1e6 * loop.value(), near(row.reactance_ohm, 5e-3));
}
