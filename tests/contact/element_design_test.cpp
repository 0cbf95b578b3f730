#include "ohmdrag/contact/element_design.hpp"

#include <cmath>
#include <limits>
#include <numbers>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using std::numbers::pi;
using test::near;

namespace {

// An invented carbon fibre of 7 um.
constexpr Fibre fibre{
    .diameter = 7.0_um, .free_length = 5.0_mm, .young_modulus = 230.0_GPa, .density = 1800.0_kg_m3};
constexpr LeaningFibre tangential{.lean_rad = pi / 2.0};
constexpr BuckledFibre free_tip{.end_factor = 2.0};
constexpr RunOut run_out{
    .total_indicator_reading = 0.04_mm, .static_eccentricity = 0.03_mm, .dynamic_stiffening = 2.0};
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

}  // namespace

TEST_CASE("a leaning fibre is a cantilever", "[derived]") {
  // 3 * 230e9 * pi (7e-6)^4/64 * 0.5e-3 / (5e-3)^3 = 0.325 uN.
  const auto force = fibre_force(fibre, tangential, 0.5_mm);
  CHECK_THAT(force.radial, near(Force::from_value(3.2529e-7), 1e-4));
  CHECK(force.flags.empty());
  CHECK(fibre_force(fibre, tangential, 0.0_mm).radial == Force{});
}

TEST_CASE("a fibre that stands steeper is stiffer", "[derived]") {
  const Force flat = fibre_force(fibre, tangential, 0.1_mm).radial;
  CHECK_THAT((fibre_force(fibre, LeaningFibre{pi / 6.0}, 0.1_mm).radial), near(4.0 * flat, 1e-12));
}

TEST_CASE("a steep or far deflected fibre is flagged", "[derived]") {
  REQUIRE(fibre_force(fibre, tangential, 1.1_mm).flags.size() == 1);
  // N cos(psi) of 3 E I delta/(L^3 sin^2 psi) against pi^2 E I/(4 L^2).
  const auto steep = fibre_force(fibre, LeaningFibre{pi / 6.0}, 0.2_mm);
  REQUIRE(steep.flags.size() == 1);
  CHECK(steep.flags[0].value ==
        Approx(12.0 * 0.04 * 4.0 / (pi * pi) * std::cos(pi / 6.0)).epsilon(1e-12));
}

TEST_CASE("a buckled fibre pushes with its Euler load, whatever the interference", "[derived]") {
  const Force euler = pi * pi * bending_stiffness(fibre) / (4.0 * 25.0_mm2);
  CHECK_THAT(fibre_force(fibre, free_tip, 1e-6_mm).radial, near(euler, 1e-6));
  CHECK_THAT(fibre_force(fibre, free_tip, 0.5_mm).radial, near(1.05 * euler, 1e-12));
  CHECK(fibre_force(fibre, free_tip, 0.0_mm).radial == Force{});
  CHECK(fibre_force(fibre, free_tip, 1.1_mm).flags.size() == 1);
  // A tip held by friction carries (2/0.7)^2 as much.
  CHECK_THAT((fibre_force(fibre, BuckledFibre{0.7}, 0.5_mm).radial),
             near(1.05 * euler * 4.0 / 0.49, 1e-12));
}

TEST_CASE("the root of a leaning fibre strains with its tip", "[derived]") {
  // Moment 3 E I v/L^2 over E I, at half the diameter.
  CHECK(root_strain(fibre, tangential, 0.5_mm) == Approx(1.5 * 0.1 * 0.0014).epsilon(1e-12));
}

TEST_CASE("a ring adds its fibres up around the shaft", "[derived]") {
  const FibreRing ring{.fibre = fibre,
                       .attitude = tangential,
                       .density = FibreDensity::from_value(2e9),
                       .width = 3.0_mm,
                       .share_in_contact = 0.5};
  const auto design = ring_design(ring, 40.0_mm, 0.5_mm);
  const Force one = fibre_force(fibre, tangential, 0.5_mm).radial;
  CHECK(design.fibres == Approx(0.5 * 2e9 * 3e-3 * pi * 0.04).epsilon(1e-12));
  CHECK_THAT(design.line_force * (pi * 40.0_mm), near(design.fibres * one, 1e-12));
  CHECK_THAT(design.mean_pressure * ring.width, near(design.line_force, 1e-12));
  // The line force does not ask for the diameter.
  CHECK_THAT(ring_design(ring, 80.0_mm, 0.5_mm).line_force, near(design.line_force, 1e-12));
  CHECK(ring_design(ring, 40.0_mm, 2.0_mm).flags.size() == 1);
}

TEST_CASE("a brush adds its fibres up", "[derived]") {
  const FibreBrush brush{
      .fibre = fibre, .attitude = tangential, .count = 1e5, .share_in_contact = 0.8};
  CHECK_THAT(brush_design(brush, 0.5_mm).radial,
             near(8e4 * fibre_force(fibre, tangential, 0.5_mm).radial, 1e-12));
}

TEST_CASE("eccentricity is half the indicator reading and the static part", "[derived]") {
  CHECK_THAT(eccentricity(run_out), near(0.05_mm, 1e-12));
}

TEST_CASE("run-out takes its share of the least force", "[derived]") {
  const auto least = least_line_force(10.0_N_m, 0.5_mm, run_out);  // 1 - 2 * 0.05/0.5
  CHECK_THAT(least.least, near(8.0_N_m, 1e-12));
  CHECK_FALSE(least.opens_each_turn);
  CHECK(least.flags.empty());
  CHECK((least_line_force(10.0_N_m, 0.5_mm, {0.0_mm, 0.0_mm, 2.0}).least == 10.0_N_m));
}

TEST_CASE("large run-out is flagged, larger opens the contact once a turn", "[derived]") {
  const auto large = least_line_force(10.0_N_m, 0.16_mm, run_out);
  CHECK_FALSE(large.opens_each_turn);
  CHECK(large.flags.size() == 1);
  const auto open = least_line_force(10.0_N_m, 0.08_mm, run_out);
  CHECK(open.opens_each_turn);
  CHECK(open.least == LineForce{});
  REQUIRE(open.flags.size() == 1);
  CHECK(open.flags[0].formula == "contact opens once a turn");
  CHECK(open.flags[0].value == Approx(1.25));
}

TEST_CASE("the slow tip is a spring, at the first bending frequency it follows by itself",
          "[derived]") {
  const AngularVelocity first = fibre_frequency(fibre);
  CHECK(tip_stiffness_ratio(fibre, 0.0_rpm) == 1.0);
  CHECK(tip_stiffness_ratio(fibre, first) == Approx(0.0).margin(1e-8));
  CHECK(tip_stiffness_ratio(fibre, 2.0 * first) < -1.0);
  CHECK(tip_stiffness_ratio(fibre, -0.3 * first) == tip_stiffness_ratio(fibre, 0.3 * first));
}

TEST_CASE("slow motion carries 33/140 of the fibre's mass", "[derived]") {
  // Static shape: 1 - (33/140) m omega^2 / k, with k = 3 E I/L^3.
  const AngularVelocity slow = 0.05 * fibre_frequency(fibre);
  const double mass_kg = 1800.0 * pi / 4.0 * 49e-12 * 5e-3;
  const double stiffness_N_m = 3.0 * bending_stiffness(fibre).value() / 125e-9;
  const double loss = 33.0 / 140.0 * mass_kg * slow.value() * slow.value() / stiffness_N_m;
  CHECK(1.0 - tip_stiffness_ratio(fibre, slow) == Approx(loss).epsilon(1e-3));
}

TEST_CASE("series and closed form of the tip meet", "[derived]") {
  const auto at = [](double x) {
    const double r = x / 1.8751040687;
    return tip_stiffness_ratio(fibre, r * r * fibre_frequency(fibre));
  };
  CHECK(at(0.0499999) - at(0.0500001) == Approx(0.0).margin(1e-10));
}

TEST_CASE("the tip stiffness falls all the way to the held resonance", "[derived]") {
  double last = 1.0;
  for (double r = 0.01; r < 4.38; r += 0.05) {
    const double now = tip_stiffness_ratio(fibre, r * fibre_frequency(fibre));
    CHECK(now < last);
    last = now;
  }
}

TEST_CASE("least interference: run-out when slow, inertia when fast", "[derived]") {
  const AngularVelocity first = fibre_frequency(fibre);
  const auto slow = least_interference(fibre, run_out, 0.5 * first);
  CHECK_THAT(slow.interference, near(0.1_mm, 1e-12));
  CHECK(slow.flags.empty());
  const auto fast = least_interference(fibre, run_out, 2.5 * first);
  CHECK_THAT(fast.interference, near(0.05_mm * -tip_stiffness_ratio(fibre, 2.5 * first), 1e-12));
  CHECK(fast.interference > slow.interference);
  CHECK(fast.follows);
  CHECK(fast.flags.size() == 1);
  // It is what the least force asks for at low speed.
  CHECK_THAT(least_line_force(10.0_N_m, 1.0000001 * slow.interference, run_out).least,
             test::within(0.0_N_m, 1e-5_N_m));
}

TEST_CASE("beyond the held resonance no interference keeps contact", "[derived]") {
  const auto lost = least_interference(fibre, run_out, 5.0 * fibre_frequency(fibre));
  CHECK_FALSE(lost.follows);
  CHECK(std::isinf(lost.interference.value()));
  CHECK(lost.flags.size() == 1);
  // A true shaft asks for none.
  const auto round = least_interference(fibre, {0.0_mm, 0.0_mm, 2.0}, 5.0 * fibre_frequency(fibre));
  CHECK(round.follows);
  CHECK(round.interference == Length{});
}

TEST_CASE("an undefined element is refused", "[derived]") {
  Fibre bad = fibre;
  bad.diameter = 0.0_um;
  CHECK_THROWS_AS(bending_stiffness(bad), std::invalid_argument);
  bad = fibre;
  bad.density = not_a_number * 1.0_kg_m3;
  CHECK_THROWS_AS(fibre_frequency(bad), std::invalid_argument);
  CHECK_THROWS_AS((fibre_force(fibre, LeaningFibre{0.0}, 0.1_mm)), std::invalid_argument);
  CHECK_THROWS_AS((fibre_force(fibre, LeaningFibre{1.6}, 0.1_mm)), std::invalid_argument);
  CHECK_THROWS_AS((fibre_force(fibre, BuckledFibre{0.0}, 0.1_mm)), std::invalid_argument);
  CHECK_THROWS_AS(fibre_force(fibre, tangential, -0.1_mm), std::invalid_argument);
  CHECK_THROWS_AS((root_strain(fibre, LeaningFibre{not_a_number}, 0.1_mm)), std::invalid_argument);
  const FibreRing ring{fibre, tangential, FibreDensity::from_value(2e9), 3.0_mm, 0.0};
  CHECK_THROWS_AS(ring_design(ring, 40.0_mm, 0.1_mm), std::invalid_argument);
  const FibreBrush brush{fibre, tangential, 0.0, 1.0};
  CHECK_THROWS_AS(brush_design(brush, 0.1_mm), std::invalid_argument);
  CHECK_THROWS_AS((eccentricity({0.1_mm, 0.0_mm, 0.9})), std::invalid_argument);
  CHECK_THROWS_AS((eccentricity({-0.1_mm, 0.0_mm, 2.0})), std::invalid_argument);
  CHECK_THROWS_AS(least_line_force(10.0_N_m, 0.0_mm, run_out), std::invalid_argument);
  CHECK_THROWS_AS(tip_stiffness_ratio(fibre, 4.4 * fibre_frequency(fibre)), std::invalid_argument);
  CHECK_THROWS_AS(least_interference(fibre, run_out, not_a_number * 1.0_rpm),
                  std::invalid_argument);
}
