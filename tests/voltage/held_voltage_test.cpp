#include "ohmdrag/voltage/held_voltage.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "support/march.hpp"
#include "support/near.hpp"
#include "voltage/carrier_lanes.hpp"
#include "voltage/reference.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::carrier;
using ohmdrag::test::near;
using ohmdrag::test::node;
using ohmdrag::test::within;

namespace {

/// The same figure by marching the staircase in time until it repeats.
double marched_V(const GroundingPath& path, double modulation, int periods) {
  double worst_V = 0.0;
  for (const double angle_rad : test::hold_places_rad(modulation)) {
    const Staircase stairs =
        carrier_staircase(carrier.dc_link, carrier.frequency, modulation, angle_rad);
    const auto edges = stairs.edges();
    test::NodeMarch march{path.resistance.value(), path.inductance.value(), node.total.value()};
    const double dt_max_s =
        0.05 * std::min(std::sqrt(march.l_H * march.c_F), march.l_H / march.r_ohm);
    for (int period = 0; period < periods; ++period)
      for (std::size_t i = 0; i < edges.size(); ++i) {
        march.v_V += 0.1 * edges[i].step.value();
        const double next_s =
            i + 1 < edges.size() ? edges[i + 1].time.value() : edges[0].time.value() + 100e-6;
        const double length_s = next_s - edges[i].time.value();
        const double steps = std::ceil(length_s / dt_max_s);
        for (int k = 0; k < static_cast<int>(steps); ++k)
          march.step(0.0, length_s / steps, [](double) { return 0.0; });
        if (period + 1 == periods && length_s >= rises_per_hold * carrier.rise.value())
          worst_V = std::max(worst_V, std::abs(march.v_V));
      }
  }
  return worst_V;
}

Voltage held(const MaybePath& path, double modulation) {
  Carrier at = carrier;
  at.modulation = modulation;
  return held_voltage(node, path, at);
}

}  // namespace

TEST_CASE("the periodic steady state agrees with a march in time", "[derived]") {
  struct Row {
    GroundingPath path;
    double modulation;
    int periods;
  };
  // Under-damped and slow, under-damped, over-damped.
  const auto row = GENERATE(Row{{2.0_ohm, Inductance::from_value(10e-6)}, 0.8, 4},
                            Row{{20.0_ohm, Inductance::from_value(10e-6)}, 0.3, 3},
                            Row{{1.0_kohm, Inductance::from_value(10e-6)}, 0.8, 3},
                            Row{{4.0_kohm, Inductance::from_value(100e-6)}, 1.1, 4});
  CAPTURE(row.path.resistance.value(), row.modulation);
  CHECK_THAT(held(row.path, row.modulation).value(),
             near(marched_V(row.path, row.modulation, row.periods), 1e-3));
}

TEST_CASE("held voltage in its limits", "[derived]") {
  CHECK_THAT(held_voltage(node, std::nullopt, carrier), near(40.0_V, 1e-12));
  CHECK_THAT(held(GroundingPath{Resistance::from_value(1e9), 50.0_nH}, 0.8), near(40.0_V, 1e-3));
  CHECK_THAT(held(GroundingPath{Resistance::from_value(1e9), 0.0_nH}, 0.8), near(40.0_V, 1e-3));
  CHECK(held(GroundingPath{0.0_ohm, 0.0_nH}, 0.8) == Voltage{});
  CHECK(held(GroundingPath{1.0_ohm, 50.0_nH}, 0.8) < 0.05_V);
  CHECK(held(GroundingPath{50.0_ohm, 50.0_nH}, 0.8) < 0.002_V);
}

TEST_CASE("what is held changes with the modulation without jumps but one", "[derived]") {
  Carrier at = carrier;
  const double jump = least_holding_modulation(carrier);
  const GroundingPath path{1.2_kohm, 20.0_nH};
  const auto held_V = [&](double modulation) {
    at.modulation = modulation;
    return held_after_discharge(node, path, at).value();
  };
  CHECK(held_V(jump * (1.0 - 1e-6)) < 0.01);
  double last_V = held_V(jump * (1.0 + 1e-6));
  CHECK(last_V > 10.0);
  for (double modulation = jump * 1.01; modulation < 1.0; modulation *= 1.01) {
    CAPTURE(modulation);
    const double now_V = held_V(modulation);
    CHECK_THAT(now_V, near(last_V, 0.02));
    last_V = now_V;
  }
}

TEST_CASE("standstill switches all legs together", "[derived]") {
  // Square wave of +-V/2 through a resistor: |v| before an edge is V exp(-x)/(1 + exp(-x)), with x
  // half a period over tau, V the whole swing.
  const double x = 50e-6 / 10e-6;
  const double expected_V = 80.0 * std::exp(-x) / (1.0 + std::exp(-x));
  CHECK_THAT(held(GroundingPath{10.0_kohm, 0.0_nH}, 0.0).value(), near(expected_V, 1e-9));
}

TEST_CASE("held voltage rises with resistance up to a kilo-ohm", "[derived]") {
  const double modulation = GENERATE(0.02, 0.1, 0.5, 0.8, 1.0);
  Voltage last;
  for (double r_ohm = 50.0; r_ohm < 1200.0; r_ohm *= 1.2) {
    const Voltage now = held(GroundingPath{r_ohm * 1.0_ohm, 50.0_nH}, modulation);
    CHECK(now >= last);
    last = now;
  }
}

TEST_CASE("a path that forgets between half-periods lets edges add up beyond the crest",
          "[derived]") {
  // All legs within 2 us: the three steps add up from nearly zero and the crest without a path is
  // exceeded.
  CHECK(held(GroundingPath{10.0_kohm, 50.0_nH}, 0.1) > 40.0_V);
  CHECK(held(GroundingPath{50.0_kohm, 50.0_nH}, 0.1) <
        held(GroundingPath{10.0_kohm, 50.0_nH}, 0.1));
}

TEST_CASE("what stands after a discharge rises with resistance throughout", "[derived]") {
  Carrier at = carrier;
  at.modulation = GENERATE(0.02, 0.1, 0.5, 0.8, 1.0);
  Voltage last;
  for (double r_ohm = 50.0; r_ohm < 1e9; r_ohm *= 1.5) {
    const Voltage now = held_after_discharge(node, GroundingPath{r_ohm * 1.0_ohm, 50.0_nH}, at);
    CHECK(now >= last);
    last = now;
  }
}

TEST_CASE("after a discharge twice the crest stands where nothing leaks", "[derived]") {
  CHECK_THAT(held_after_discharge(node, std::nullopt, carrier), near(80.0_V, 1e-12));
  CHECK_THAT(
      held_after_discharge(node, GroundingPath{Resistance::from_value(1e9), 50.0_nH}, carrier),
      near(80.0_V, 1e-2));
  for (double r_ohm = 1.0; r_ohm < 1e8; r_ohm *= 10.0) {
    const GroundingPath path{r_ohm * 1.0_ohm, 50.0_nH};
    CHECK(held_after_discharge(node, path, carrier) >= held_voltage(node, path, carrier));
    CHECK(held_after_discharge(node, path, carrier) <= rereferenced_voltage(node, carrier.dc_link));
  }
}

TEST_CASE("held voltage stays finite over the linear range", "[derived]") {
  for (double modulation = 0.0; modulation < 1.1547; modulation += 0.05)
    for (const MaybePath& path : {MaybePath{GroundingPath{10.0_kohm, 50.0_nH}},
                                  MaybePath{GroundingPath{3.0_ohm, 50.0_nH}}}) {
      const Voltage v = held(path, modulation);
      CHECK(std::isfinite(v.value()));
      CHECK(v <= rereferenced_voltage(node, carrier.dc_link));
    }
}

TEST_CASE("periods laid out once serve every node and path", "[derived]") {
  const CarrierPlaces places(carrier);
  for (const double r_ohm : {3.0, 300.0, 20e3})
    for (const double more : {1.0, 2.5}) {
      const ShaftNode heavier{node.winding_rotor, more * node.total};
      const GroundingPath path{r_ohm * 1.0_ohm, 50.0_nH};
      CHECK(held_after_discharge(heavier, path, places) ==
            held_after_discharge(heavier, path, carrier));
    }
  CHECK_THAT(held_after_discharge(node, std::nullopt, places), near(80.0_V, 1e-12));
}

TEST_CASE("what is held has the same bits at every width of vector", "[derived]") {
  Carrier at = carrier;
  at.modulation = GENERATE(0.1, 0.8, 1.15);
  const CarrierPlaces places(at);
  // Over-damped; swinging; two films, one of which swings.
  const GroundingPath still{1.2_kohm, 20.0_nH}, swinging{3.0_ohm, Inductance::from_value(10e-6)};
  GroundingPath films{20.0_ohm, Inductance::from_value(10e-6)};
  films.films = {{2.0_kohm, 300.0_pF}, {100.0_ohm, Capacitance::from_value(5e-9)}};
  for (const GroundingPath& path : {still, swinging, films}) {
    const StepModes modes(node, path);
    const double narrow_V = largest_held_V(modes, places, true, numerics::LaneWidth::two);
    CHECK(narrow_V > 0.0);
    for (const numerics::LaneWidth width : numerics::lane_widths()) {
      CAPTURE(numerics::name(width));
      CHECK(largest_held_V(modes, places, true, width) == narrow_V);
    }
  }
}

TEST_CASE("an undefined carrier is refused", "[derived]") {
  const GroundingPath path{1.0_kohm, 50.0_nH};
  Carrier slow_edges = carrier;
  slow_edges.rise = 5.0_us;
  CHECK_THROWS_AS(held_voltage(node, path, slow_edges), std::invalid_argument);
  Carrier over = carrier;
  over.modulation = 1.2;
  CHECK_THROWS_AS(held_voltage(node, path, over), std::invalid_argument);
  CHECK_THROWS_AS(held_voltage(node, GroundingPath{0.0_ohm, 50.0_nH}, carrier),
                  std::invalid_argument);
  CHECK_THROWS_AS(hold_duration(0.0_Hz), std::invalid_argument);
  CHECK_THAT(hold_duration(10.0_kHz), near(50.0_us, 1e-12));
}
