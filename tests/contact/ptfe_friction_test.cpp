#include "ohmdrag/contact/ptfe_friction.hpp"

#include <cmath>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;

namespace {

constexpr PtfeFriction unfilled{.slow_coefficient = 0.12,
                                .middle_coefficient = 0.35,
                                .fast_coefficient = 0.45,
                                .filled_factor = 1.0,
                                .least_pressure = 0.05_MPa};

double mu(Pressure p, Speed u, const PtfeFriction& law = unfilled) {
  return ptfe_friction(law, p, u).coefficient;
}

}  // namespace

TEST_CASE("PTFE rubs least when slow and has an end at either speed", "[derived]") {
  CHECK(mu(0.5_MPa, 0.0_m_s) == mu(0.5_MPa, 0.01_m_s));
  CHECK(mu(0.5_MPa, 40.0_m_s) == mu(0.5_MPa, 0.5_m_s));
  CHECK(mu(0.5_MPa, -0.2_m_s) == mu(0.5_MPa, 0.2_m_s));
  double before = 0.0;
  for (double u = 0.01; u < 0.5; u *= 1.1) {
    CHECK(mu(0.5_MPa, Speed::from_value(u)) > before);
    before = mu(0.5_MPa, Speed::from_value(u));
  }
}

TEST_CASE("PTFE friction is continuous in speed and half way in its logarithm", "[derived]") {
  for (const double u : {0.01, 0.05, 0.5}) {
    const double below = mu(0.5_MPa, Speed::from_value(u * (1.0 - 1e-9)));
    CHECK(mu(0.5_MPa, Speed::from_value(u * (1.0 + 1e-9))) == Approx(below).epsilon(1e-7));
  }
  const Speed middle = Speed::from_value(std::sqrt(0.05 * 0.5));
  CHECK(mu(0.5_MPa, middle) ==
        Approx(0.5 * (mu(0.5_MPa, 0.05_m_s) + mu(0.5_MPa, 0.5_m_s))).epsilon(1e-12));
}

TEST_CASE("PTFE friction falls with the fifth root of pressure", "[derived]") {
  CHECK(mu(3.2_MPa, 1.0_m_s) == Approx(0.5 * mu(0.1_MPa, 1.0_m_s)).epsilon(1e-12));
}

TEST_CASE("fillers multiply the friction", "[derived]") {
  PtfeFriction filled = unfilled;
  filled.filled_factor = 1.25;
  CHECK(mu(0.5_MPa, 1.0_m_s, filled) == Approx(1.25 * mu(0.5_MPa, 1.0_m_s)).epsilon(1e-14));
}

TEST_CASE("light contacts take the friction of the least pressure, flagged", "[derived]") {
  const auto light = ptfe_friction(unfilled, 0.01_MPa, 1.0_m_s);
  CHECK(light.coefficient == mu(0.05_MPa, 1.0_m_s));
  REQUIRE(light.flags.size() == 1);
  CHECK(light.flags[0].value == Approx(0.01));
  CHECK(light.flags[0].low == Approx(0.05));
  CHECK(mu(0.0_MPa, 1.0_m_s) == light.coefficient);
  CHECK(ptfe_friction(unfilled, 0.05_MPa, 1.0_m_s).flags.empty());
}

TEST_CASE("friction that PTFE was never seen to have is flagged", "[derived]") {
  PtfeFriction rough = unfilled;
  rough.fast_coefficient = 0.60;
  const auto point = ptfe_friction(rough, 0.05_MPa, 1.0_m_s);
  REQUIRE(point.flags.size() == 1);
  CHECK(point.flags[0].high == 0.36);
}

TEST_CASE("undefined PTFE contacts are refused", "[derived]") {
  PtfeFriction bad = unfilled;
  bad.least_pressure = 0.0_MPa;
  CHECK_THROWS_AS(mu(0.5_MPa, 1.0_m_s, bad), std::invalid_argument);
  bad = unfilled;
  bad.filled_factor = std::nan("");
  CHECK_THROWS_AS(mu(0.5_MPa, 1.0_m_s, bad), std::invalid_argument);
  CHECK_THROWS_AS(mu(-0.5_MPa, 1.0_m_s), std::invalid_argument);
  CHECK_THROWS_AS(mu(0.5_MPa, Speed::from_value(std::nan(""))), std::invalid_argument);
}
