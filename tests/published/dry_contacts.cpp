// Dry contact elements: friction of PTFE, worked watts at 40 mm and heat of a brush's current.
// Sources stand beside each check.
#include "ohmdrag/contact/brush_heat.hpp"
#include "ohmdrag/contact/friction.hpp"
#include "ohmdrag/contact/ptfe_friction.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::contact;
using namespace ohmdrag::literals;
using test::within;

namespace {

// R. B. Lewis, as quoted on a trade page: mu = C p^(-0.2), p in lbf/in2, C 0.12 up to 0.01 m/s,
// 0.35 at 0.05 m/s, 0.45 from 0.5 m/s.
constexpr PtfeFriction unfilled{.slow_coefficient = 0.12,
                                .middle_coefficient = 0.35,
                                .fast_coefficient = 0.45,
                                .filled_factor = 1.0,
                                .least_pressure = 0.05_MPa};

}  // namespace

TEST_CASE("unfilled PTFE over pressure and speed", "[published][formula]") {
  struct Row {
    Pressure pressure;
    Speed speed;
    double friction, half_digit;
  };
  const auto row =
      GENERATE(Row{0.5_MPa, 0.01_m_s, 0.0509, 6e-5}, Row{0.5_MPa, 0.05_m_s, 0.149, 6e-4},
               Row{0.5_MPa, 0.5_m_s, 0.191, 6e-4}, Row{0.5_MPa, 0.001_m_s, 0.0509, 6e-5},
               Row{0.5_MPa, 30.0_m_s, 0.191, 6e-4}, Row{0.1_MPa, 0.01_m_s, 0.070, 6e-4},
               Row{0.1_MPa, 0.05_m_s, 0.205, 6e-4}, Row{0.1_MPa, 0.5_m_s, 0.264, 6e-4},
               // At 1 MPa the coefficient for MPa itself: C times 0.3696.
               Row{1.0_MPa, 0.01_m_s, 0.0444, 6e-5}, Row{1.0_MPa, 0.05_m_s, 0.1294, 6e-5},
               Row{1.0_MPa, 0.5_m_s, 0.1663, 6e-5});
  CAPTURE(row.pressure, row.speed);
  const auto point = ptfe_friction(unfilled, row.pressure, row.speed);
  CHECK(point.coefficient == Approx(row.friction).margin(row.half_digit));
  CHECK(point.flags.empty());
}

// 0.016 to 0.36 depending on pressure and speed, as quoted in a public text.
TEST_CASE("unfilled PTFE stays within the friction seen of it", "[published][printed]") {
  for (double p_MPa = 0.05; p_MPa < 100.0; p_MPa *= 1.5)
    for (double u_m_s = 0.001; u_m_s < 40.0; u_m_s *= 2.0) {
      const double friction =
          ptfe_friction(unfilled, Pressure::from_value(1e6 * p_MPa), Speed::from_value(u_m_s))
              .coefficient;
      CHECK(friction > 0.016);
      CHECK(friction < 0.36);
    }
}

// T = mu F d/2 at 15 000 1/min; line forces and friction from memory, watts our arithmetic.
TEST_CASE("watts of dry contacts and PTFE lips on 40 mm", "[published][derived]") {
  const Length d = 40.0_mm;
  const AngularVelocity speed = 15000.0_rpm;
  struct Row {
    const char* contact;
    double friction;
    Force load;
    Power power, half_digit;
  };
  const auto row = GENERATE_COPY(
      Row{"PTFE lip in oil, new", 0.12, radial_load(80.0_N_m, d), 37.9_W, 0.06_W},
      Row{"PTFE lip in oil, aged", 0.10, radial_load(30.0_N_m, d), 11.8_W, 0.06_W},
      Row{"conductive PTFE lip, dry", 0.20, radial_load(30.0_N_m, d), 23.7_W, 0.06_W},
      Row{"nonwoven ring", 0.20, radial_load(10.0_N_m, d), 7.9_W, 0.06_W},
      Row{"fibre brush", 0.25, 0.5_N, 3.93_W, 0.006_W},
      // 25 mm2 at 30 kPa.
      Row{"carbon brush", 0.20, Pressure(30000.0_Pa) * Area(25.0_mm2), 4.71_W, 0.006_W});
  CAPTURE(row.contact);
  CHECK_THAT(friction_torque(row.friction, row.load, d) * speed, within(row.power, row.half_digit));
}

// Sawa, Shobert, abstract of a book chapter on carbon brushes: drop of an electrographite brush
// about 1 V +- 0.2 V. The watts are our arithmetic.
TEST_CASE("a carbon brush makes about a watt an ampere", "[published][formula]") {
  CHECK_THAT(contact_drop_heat(1.0_V, 1.0_A), within(1.0_W, 1e-12_W));
}
