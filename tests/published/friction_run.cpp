// Friction that was published, as torque on a rig, and told again by the fit of a run.
//
// Dry PTFE: R. B. Lewis, as quoted on a trade page that was read: mu = C p^-0.2, p in lbf/in2, C
// 0.12 to 0.01 m/s, 0.35 at 0.05 m/s, 0.45 from 0.5 m/s. Torque of a ring T = mu F' pi d^2/2:
// elementary.
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "rig/friction_log.hpp"

using namespace ohmdrag;

namespace {

constexpr double diameter_m = 0.040, line_force_N_m = 300.0, width_m = 1e-3;
constexpr double psi_Pa = 6894.757293168;  // lbf/in2: NIST SP 811, appendix B.8 (from memory)

/// The published law, written down again.
double torque_Nm(double coefficient) {
  const double pressure_psi = line_force_N_m / width_m / psi_Pa;
  const double friction = coefficient * std::pow(pressure_psi, -0.2);
  return friction * line_force_N_m * std::numbers::pi * diameter_m * diameter_m / 2.0;
}

rig::FrictionPoint reading(double speed_m_s, double coefficient) {
  rig::FrictionPoint point;
  point.speed = AngularVelocity::from_value(speed_m_s / (diameter_m / 2.0));
  point.torque = Torque::from_value(torque_Nm(coefficient));
  return point;
}

}  // namespace

TEST_CASE("a run tells the published coefficients of dry PTFE", "[published][formula]") {
  rig::FrictionRun run = test::ptfe_run(test::ptfe_truth(), 1);
  run.points.clear();
  for (const double slow : {0.006, 0.008, 0.010}) run.points.push_back(reading(slow, 0.12));
  run.points.push_back(reading(0.05, 0.35));
  for (const double fast : {0.5, 1.0, 2.0, 4.0}) run.points.push_back(reading(fast, 0.45));
  const auto fit = rig::fit_friction(run);
  REQUIRE(fit.parameters.size() == 3);
  // 8 digits: psi_Pa is that of the definition, to 13.
  CHECK(fit.parameters[0].value->value == Approx(0.12).epsilon(1e-8));
  CHECK(fit.parameters[1].value->value == Approx(0.35).epsilon(1e-8));
  CHECK(fit.parameters[2].value->value == Approx(0.45).epsilon(1e-8));
}
