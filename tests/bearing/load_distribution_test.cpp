#include "ohmdrag/bearing/load_distribution.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "bearing/reference_bearings.hpp"
#include "bearing/ring_shift.hpp"
#include "ohmdrag/bearing/load_distributions.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::bearing;
using namespace ohmdrag::test;

namespace {

double degrees(double rad) { return rad * 180.0 / std::numbers::pi; }

}  // namespace

TEST_CASE("load distribution of the 6208 geometry", "[derived]") {
  // Own solve in another language; digits as kept there.
  struct Row {
    Force radial, axial;
    Length clearance;
    double q_max_N, q_tolerance_N;
    int loaded;
    double angle_deg;
  };
  // The first row was kept as 487.3; the closed form of the next test gives 487.245.
  const Row row = GENERATE(Row{1000.0_N, 0.0_N, 0.0_um, 487.3, 0.06, 5, 0.0},
                           Row{900.0_N, 150.0_N, 10.0_um, 446.2, 0.05, 5, 7.87},
                           Row{900.0_N, 300.0_N, 10.0_um, 398.3, 0.05, 7, 11.66},
                           Row{600.0_N, 900.0_N, 10.0_um, 539.3, 0.05, 9, 14.50});
  const auto loads = load_distribution(bearing_6208(row.clearance), steel, row.radial, row.axial);
  CHECK_THAT(loads.q_max.value(), within(row.q_max_N, row.q_tolerance_N));
  CHECK(loads.loaded == row.loaded);
  CHECK_THAT(degrees(loads.angle_at_q_max), within(row.angle_deg, 0.006));
}

TEST_CASE("ball stiffness of the 6208 geometry", "[derived]") {
  // 3.569e5 N/mm^1.5, own arithmetic in another language.
  CHECK_THAT(ball_stiffness_N_per_m15(bearing_6208(), steel) * std::pow(1e-3, 1.5),
             near(3.569e5, 2e-4));
}

TEST_CASE("radial load without play has a closed form", "[derived]") {
  // Squeeze proportional to cos(psi): Q_max = F_r/sum cos^2.5 over the loaded half.
  double sum = 0.0;
  for (int i = 0; i < 9; ++i)
    if (const double c = std::cos(2.0 * std::numbers::pi * i / 9.0); c > 0.0)
      sum += std::pow(c, 2.5);
  const auto loads = load_distribution(bearing_6208(), steel, 1000.0_N, Force{});
  CHECK_THAT(loads.q_max, near(Force::from_value(1000.0 / sum), 1e-9));
  CHECK(loads.axial_shift == Length{});
}

TEST_CASE("many balls approach Stribeck's number", "[derived]") {
  auto bearing = bearing_6208();
  bearing.balls = 400;
  const auto loads = load_distribution(bearing, steel, 1000.0_N, Force{});
  CHECK_THAT(loads.q_max, near(stribeck_ball_load(bearing, 1000.0_N), 5e-4));
}

TEST_CASE("pure axial load is shared evenly", "[derived]") {
  const auto loads = load_distribution(bearing_6208(10.0_um), steel, Force{}, 900.0_N);
  CHECK(loads.loaded == 9);
  for (const auto& ball : loads.balls)
    CHECK_THAT(ball.load, near(Force::from_value(100.0 / std::sin(ball.contact_angle)), 1e-9));
}

TEST_CASE("the balls balance the load on the shaft", "[derived]") {
  const double radial_N = GENERATE(0.0, 1.0, 300.0, 900.0, 12000.0);
  const double axial_N = GENERATE(0.0, 1.0, 90.0, 900.0, 6000.0);
  const double clearance_um = GENERATE(0.0, 10.0, 20.0, 60.0);
  const double phase = GENERATE(0.0, 0.25, 0.5);
  if (radial_N + axial_N == 0.0) return;
  CAPTURE(radial_N, axial_N, clearance_um, phase);
  const auto loads =
      load_distribution(bearing_6208(Length::from_value(clearance_um * 1e-6)), steel,
                        Force::from_value(radial_N), Force::from_value(axial_N), phase);
  double along = 0.0, across = 0.0, axial = 0.0;
  for (const auto& ball : loads.balls) {
    along += ball.load.value() * std::cos(ball.contact_angle) * std::cos(ball.position);
    across += ball.load.value() * std::cos(ball.contact_angle) * std::sin(ball.position);
    axial += ball.load.value() * std::sin(ball.contact_angle);
  }
  const double tolerance = 1e-9 * std::hypot(radial_N, axial_N);
  CHECK_THAT(along, within(radial_N, tolerance));
  CHECK_THAT(axial, within(axial_N, tolerance));
  // Symmetric positions only: otherwise the shaft would also move sideways, by less than matters.
  if (phase != 0.25) CHECK_THAT(across, within(0.0, tolerance));
  CHECK(loads.residual < 1e-10);
}

TEST_CASE("play concentrates the load, direction does not matter", "[derived]") {
  const auto tight = load_distribution(bearing_6208(), steel, 900.0_N, Force{});
  const auto loose = load_distribution(bearing_6208(20.0_um), steel, 900.0_N, Force{});
  CHECK(loose.q_max > tight.q_max);
  CHECK(loose.loaded <= tight.loaded);
  const auto forth = load_distribution(bearing_6208(10.0_um), steel, 900.0_N, 300.0_N);
  const auto back = load_distribution(bearing_6208(10.0_um), steel, -900.0_N, -300.0_N);
  CHECK(forth.q_max == back.q_max);
}

TEST_CASE("a contact angle stands for the play that makes it", "[derived]") {
  const double angle = 0.2;
  auto by_angle = bearing_6208();
  by_angle.contact_angle = angle;
  // cos(alpha_0) = 1 - P_d/(2 A_0); the ball stiffness uses the nominal angle, hence the tolerance.
  const auto by_play =
      bearing_6208(2.0 * groove_centre_distance(by_angle) * (1.0 - std::cos(angle)));
  const auto a = load_distribution(by_angle, steel, 900.0_N, 900.0_N);
  const auto b = load_distribution(by_play, steel, 900.0_N, 900.0_N);
  CHECK_THAT(a.q_max, near(b.q_max, 2e-3));
  auto both = by_play;
  both.contact_angle = angle;
  CHECK_THROWS_AS(load_distribution(both, steel, 900.0_N, 900.0_N), std::invalid_argument);
}

TEST_CASE("cage positions cover half a ball pitch", "[derived]") {
  const auto phases = load_distribution_over_phase(bearing_6208(), steel, 900.0_N, Force{}, 4);
  REQUIRE(phases.size() == 4);
  CHECK_THAT(phases.front().balls.front().position, near(std::numbers::pi / 72.0, 1e-12));
  CHECK_THAT(phases.back().balls.front().position, near(7.0 * std::numbers::pi / 72.0, 1e-12));
  CHECK_THROWS_AS(load_distribution_over_phase(bearing_6208(), steel, 900.0_N, Force{}, 0),
                  std::invalid_argument);
}

TEST_CASE("loads side by side are those of each alone", "[derived]") {
  const auto bearing = bearing_6208(15.0_um);
  // More than fit side by side, of different kinds: radial, thrust, both.
  std::vector<AppliedLoad> loads;
  for (const double share : {0.0, 0.03, 0.3, 1.0, 4.0}) loads.push_back({900.0_N, share * 900.0_N});
  loads.push_back({Force{}, 500.0_N});
  const auto together = load_distributions_over_phase(bearing, steel, loads, 3);
  REQUIRE(together.size() == 3 * loads.size());
  for (std::size_t i = 0; i < together.size(); ++i) {
    CAPTURE(i);
    const AppliedLoad& load = loads[i / 3];
    const auto alone =
        load_distribution(bearing, steel, load.radial, load.axial, (double(i % 3) + 0.5) / 6.0);
    REQUIRE(together[i].balls.size() == alone.balls.size());
    for (std::size_t ball = 0; ball < alone.balls.size(); ++ball)
      CHECK_THAT(together[i].balls[ball].load, within(alone.balls[ball].load, 1e-8 * alone.q_max));
  }
  CHECK_THROWS_AS(load_distributions_over_phase(bearing, steel, loads, 0), std::invalid_argument);
}

TEST_CASE("the balance of a bearing has the same bits at every width of vector", "[derived]") {
  LoadedRings rings{.stiffness_N_per_m15 = 5e9,
                    .distance_m = 0.5e-3,
                    .radial_m = 0.49e-3,
                    .radial_N = {},
                    .axial_N = {},
                    .cosines = std::vector<RingLanes>(9)};
  for (std::size_t l = 0; l < ring_lanes; ++l) {
    rings.radial_N[l] = 100.0 * double(l);
    rings.axial_N[l] = 700.0 - 80.0 * double(l);
    for (std::size_t i = 0; i < rings.cosines.size(); ++i)
      rings.cosines[i][l] = std::cos(2.0 * std::numbers::pi * (double(i) + 0.1 * double(l)) / 9.0);
  }
  const RingShift narrow = balanced_shift(rings, numerics::LaneWidth::two);
  for (const numerics::LaneWidth width : numerics::lane_widths()) {
    CAPTURE(numerics::name(width));
    const RingShift wide = balanced_shift(rings, width);
    CHECK(wide.axial_m == narrow.axial_m);
    CHECK(wide.radial_m == narrow.radial_m);
  }
}

TEST_CASE("a bearing without load has no distribution", "[derived]") {
  CHECK_THROWS_AS(load_distribution(bearing_6208(), steel, Force{}, Force{}),
                  std::invalid_argument);
}

TEST_CASE("worst roller", "[derived]") {
  const RollerBearing rollers{.rollers = 12, .roller_diameter = 10.0_mm, .pitch_diameter = 60.0_mm};
  CHECK_THAT(stribeck_roller_load(rollers, 1200.0_N), near(408.0_N, 1e-12));
}
