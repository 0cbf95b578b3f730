// Levels in decibels over a microvolt: 20 lg(V/1 uV), so that a volt is 120 dBuV. 54 and 34 dBuV
// are the peak and mean limit lines in the medium-wave band that a public comparison of a
// laboratory's table shows (CISPR 25, class 5, voltage method; read off to 0.25 dB). They belong to
// the supply lines of a receiver's test bench, not to a shaft: here they are arithmetic, no limit.
#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/path.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using test::within;

TEST_CASE("a voltage ratio in decibels", "[formula]") {
  struct Row {
    double level_dBuV;
    double microvolt;
  };
  const auto row = GENERATE(Row{54.0, 501.2}, Row{34.0, 50.12});
  // A path that leaves this much of a volt at 1 MHz: |a| = x/sqrt(1 + x^2), x = w R C_T.
  const ShaftNode node{.winding_rotor = 100.0_pF, .total = 1.0_nF};
  const double share = row.microvolt * 1e-6;
  const double x = share / std::sqrt(1.0 - share * share);
  const GroundingPath path{Resistance::from_value(x / (2.0 * std::numbers::pi * 1e6 * 1e-9)), {}};
  CHECK_THAT(attenuation_dB(node, path, 1.0_MHz), within(row.level_dBuV - 120.0, 1e-3));
}
