#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/component/published_rule.hpp"
#include "ohmdrag/contact/friction.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

// How friction of a lip in oil scales, and how its film coefficient was set. Cube root of the duty
// parameter after E. T. Jagger, Proc. IMechE 171 (1957) 597, exponent from memory. No printed film
// coefficient was found: it is set on general loss rules whose constants are from memory.

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;

namespace {

// 40 mm, 3000 1/min, 120 N/m, 0.2 mm; oil 25/5.3 mm2/s.
const Speed surface = rim_speed(3000.0_rpm, 20.0_mm);
constexpr DynamicViscosity at_80_degC = 6.317_mPa_s;
constexpr DynamicViscosity at_100_degC = 4.133_mPa_s;

MixedFilm film_alone(Length width = 0.2_mm) {
  return {.boundary_friction = 0.5,
          .film_coefficient = 5.5,
          .transition_duty = 1e-30,
          .load_share_exponent = 0.5,
          .contact_width = width};
}

/// Watts of a lip whose friction is the film's alone, or one coefficient.
struct Lip {
  FrictionLaw law = film_alone();
  double viscosity_Pa_s = at_80_degC.value();
  double rpm = 3000.0;
  double line_force_N_m = 120.0;
  double diameter_m = 0.04;

  double watts() const {
    const Length d = Length::from_value(diameter_m);
    const LineForce f = LineForce::from_value(line_force_N_m);
    const Speed u = rim_speed(from_rpm(rpm), 0.5 * d);
    const double mu = friction_coefficient(law, DynamicViscosity::from_value(viscosity_Pa_s), u, f);
    return Power(friction_torque(mu, radial_load(f, d), d) * from_rpm(rpm)).value();
  }
};

/// d ln P / d ln x for a change of one member.
template <class Change>
double exponent(Lip lip, Change&& scale) {
  const double h = 1e-4;
  Lip more = lip;
  scale(more, std::exp(h));
  scale(lip, std::exp(-h));
  return std::log(more.watts() / lip.watts()) / (2.0 * h);
}

}  // namespace

TEST_CASE("the film coefficient that makes a lip follow a general rule", "[published][derived]") {
  struct Row {
    component::PublishedRule rule;
    double watts, friction, at_80, at_100, on_total_force;
  };
  const auto row =
      GENERATE(Row{component::PowerByDiameterSquared{7.69e-6}, 36.9, 0.390, 5.63, 6.49, 48.0},
               Row{component::TorqueByDiameter{3.737e-3}, 47.0, 0.496, 7.17, 8.26, 61.0},
               Row{component::TorqueByDiameter{2.429e-3}, 30.5, 0.322, 4.66, 5.37, 40.0});
  const auto loss = component::rule_loss(row.rule, 40.0_mm, 3000.0_rpm, {80.0_degC, 25.0_mm2_s});
  CHECK(loss.power.value() == Approx(row.watts).margin(0.06));
  const double asked =
      (loss.torque / friction_torque(1.0, radial_load(120.0_N_m, 40.0_mm), 40.0_mm)).value();
  CHECK(asked == Approx(row.friction).margin(6e-4));
  const auto coefficient = [&](DynamicViscosity eta) {
    return 5.5 * asked / friction_coefficient(film_alone(), eta, surface, 120.0_N_m);
  };
  CHECK(coefficient(at_80_degC) == Approx(row.at_80).margin(6e-3));
  CHECK(coefficient(at_100_degC) == Approx(row.at_100).margin(6e-3));
  // On the total force and the width, phi (pi d/b)^(1/3) = 8.565 phi: three definitions of the duty
  // parameter are in use.
  const double per_total = std::cbrt(std::numbers::pi * 40.0 / 0.2);
  CHECK(per_total == Approx(8.565).margin(6e-4));
  CHECK(std::cbrt(40.0 / (2.0 * 0.2)) == Approx(4.642).margin(6e-4));
  CHECK(coefficient(at_80_degC) * per_total == Approx(row.on_total_force).margin(0.51));
  // A range of 3 to 8 holds all of them at 80 degC; the entries of the shipped lips lie in it.
  CHECK(coefficient(at_80_degC) > 3.0);
  CHECK(coefficient(at_80_degC) < 8.0);
}

TEST_CASE("what watts of constant friction depend on", "[published][derived]") {
  // ln P: friction 1, force 1, speed 1, diameter 2.
  const Lip dry{.law = ConstantFriction{0.3}};
  CHECK(exponent(dry, [](Lip& l, double x) {
          std::get<ConstantFriction>(l.law).coefficient *= x;
        }) == Approx(1.0).epsilon(1e-6));
  CHECK(exponent(dry, [](Lip& l, double x) { l.line_force_N_m *= x; }) ==
        Approx(1.0).epsilon(1e-6));
  CHECK(exponent(dry, [](Lip& l, double x) { l.rpm *= x; }) == Approx(1.0).epsilon(1e-6));
  CHECK(exponent(dry, [](Lip& l, double x) { l.diameter_m *= x; }) == Approx(2.0).epsilon(1e-6));
}

TEST_CASE("what watts of a film depend on", "[published][derived]") {
  // ln P: viscosity 1/3, speed 4/3, force 2/3, width 1/3, diameter 7/3.
  const Lip lip;
  CHECK(exponent(lip, [](Lip& l, double x) { l.viscosity_Pa_s *= x; }) ==
        Approx(1.0 / 3.0).epsilon(1e-6));
  CHECK(exponent(lip, [](Lip& l, double x) { l.rpm *= x; }) == Approx(4.0 / 3.0).epsilon(1e-6));
  CHECK(exponent(lip, [](Lip& l, double x) { l.line_force_N_m *= x; }) ==
        Approx(2.0 / 3.0).epsilon(1e-6));
  CHECK(exponent(lip, [](Lip& l, double x) { std::get<MixedFilm>(l.law).contact_width *= x; }) ==
        Approx(1.0 / 3.0).epsilon(1e-6));
  CHECK(exponent(lip, [](Lip& l, double x) { l.diameter_m *= x; }) ==
        Approx(7.0 / 3.0).epsilon(1e-6));
  // Half the force saves 37 %.
  Lip half = lip;
  half.line_force_N_m *= 0.5;
  CHECK(half.watts() / lip.watts() == Approx(0.63).margin(0.005));
}

TEST_CASE("a batch of oil of +-5 % moves a lip's watts by 1.7 %", "[published][derived]") {
  Lip thick;
  thick.viscosity_Pa_s *= 1.05;
  CHECK(thick.watts() / Lip{}.watts() == Approx(1.017).margin(1e-3));
}
