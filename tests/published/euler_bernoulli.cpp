#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "ohmdrag/contact/element_design.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

// Bending, buckling and vibration of a slender bar: formulas of Euler and Bernoulli as every
// textbook of strength of materials has them; coefficients from memory.

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;

namespace {

// A steel wire, so that all values can be retyped: E I = 210e9 pi 1e-12/64 = 0.0103084 N m2.
constexpr Fibre wire{.diameter = 1.0_mm,
                     .free_length = 100.0_mm,
                     .young_modulus = 210.0_GPa,
                     .density = 7850.0_kg_m3};
constexpr LeaningFibre sideways{.lean_rad = std::numbers::pi / 2.0};

}  // namespace

TEST_CASE("a cantilever bends by F L^3/(3 E I)", "[published][formula]") {
  CHECK(bending_stiffness(wire).value() == Approx(0.0103084).epsilon(1e-5));
  CHECK_THAT(fibre_force(wire, sideways, 10.0_mm).radial, near(0.309251_N, 1e-5));
}

TEST_CASE("a column clamped at one end buckles at pi^2 E I/(4 L^2)", "[published][formula]") {
  const FibreAttitude free_tip = BuckledFibre{.end_factor = 2.0};
  CHECK_THAT(fibre_force(wire, free_tip, 1e-6_mm).radial, near(2.54348_N, 1e-5));
}

TEST_CASE("a cantilever vibrates at 3.516 sqrt(E I/(rho A L^4))", "[published][formula]") {
  // 3.516 sqrt(0.0103084/(7850 * 7.85398e-7 * 1e-4)) = 454.6 rad/s.
  CHECK(fibre_frequency(wire).value() == Approx(454.64).epsilon(1e-4));
}

TEST_CASE("the small deflections of a leaning fibre end at a fifth of its length",
          "[published][formula]") {
  struct Row {
    double load;        // F L^2/(E I)
    double deflection;  // of the tip over L, large-deflection theory
    double below;       // share by which the linear force is too low
  };
  // K. Mattiasson, Int. J. Num. Meth. Eng. 17 (1981) 145, elliptic integrals, from memory, and
  // integrated by us: 0.06636, 0.13098, 0.30172; the row at 0.62 is ours.
  const auto row = GENERATE(Row{0.2, 0.06636, 0.005}, Row{0.4, 0.13098, 0.018},
                            Row{0.62, 0.19827, 0.041}, Row{1.0, 0.30172, 0.095});
  const Force exact = row.load * bending_stiffness(wire) / (wire.free_length * wire.free_length);
  const auto linear = fibre_force(wire, sideways, row.deflection * wire.free_length);
  CHECK(1.0 - (linear.radial / exact).value() == Approx(row.below).margin(6e-4));
  CHECK(linear.flags.empty() == (row.deflection < 0.2));
}

TEST_CASE("a buckled column carries a little more as it bows out", "[published][derived]") {
  struct Row {
    double shortening, over_euler;
  };
  // Elastica clamped at the root, integrated by us.
  const auto row = GENERATE(Row{0.03912, 1.02}, Row{0.09466, 1.05}, Row{0.17970, 1.10});
  const FibreAttitude free_tip = BuckledFibre{.end_factor = 2.0};
  const Force euler = fibre_force(wire, free_tip, 1e-9_mm).radial;
  const Force bowed = fibre_force(wire, free_tip, row.shortening * wire.free_length).radial;
  CHECK((bowed / euler).value() == Approx(row.over_euler).epsilon(0.01));
}
