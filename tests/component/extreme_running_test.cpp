// Standstill, crawling, 40 000 1/min and reverse for everything that can drag on a shaft: each has
// a defined answer.

#include <cmath>
#include <functional>

#include "component/reference_shaft.hpp"
#include "ohmdrag/bearing/friction_torque.hpp"
#include "ohmdrag/component/gas_face_seal.hpp"
#include "ohmdrag/component/gear_mesh.hpp"
#include "ohmdrag/component/measured_torque.hpp"
#include "ohmdrag/component/published_rule.hpp"
#include "ohmdrag/component/stated_loss.hpp"
#include "ohmdrag/contact/ptfe_friction.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;
using namespace ohmdrag::component;

namespace {

struct Drag {
  Torque torque;
  Power power;
};

struct Kind {
  std::string name;
  std::function<Drag(AngularVelocity)> drag;
};

ShaftContact wetted_ring() {
  auto wetted = lip(10.0_N_m, 0.0_mm, 4.0_mm);
  wetted.to_body = std::nullopt;
  std::get<contact::MixedFilm>(wetted.law).transition_duty = 2e-4;
  return wetted;
}
ShaftContact brush(Force force = 0.75_N) {
  auto pad = ring(0.0_N_m, 0.0_mm);
  pad.load = force;
  pad.contact_width = 5.0_mm;
  return pad;
}

/// On 40 mm with the product's own cooling, in 80 degC of oil and 40 degC of air.
Drag on_shaft(const ShaftContact& contact, AngularVelocity speed) {
  auto system = shaft({contact});
  system.oil_side = contact::TurningCylinder{0.3, 20.0_K};
  system.dry_side = contact::TurningCylinder{1.0, 20.0_K};
  const auto state = solve(system, speed, warm);
  const auto& c = state.contacts[0];
  CHECK(std::isfinite(c.contact.value()));
  CHECK(std::isfinite(c.shaft_under.value()));
  CHECK(std::isfinite(state.into_oil_side.value()));
  CHECK(std::isfinite(state.into_dry_side.value()));
  CHECK(std::isfinite(state.loop_gain));
  for (const auto& [where, flag] : flags(system, state)) CHECK(std::isfinite(flag.value));
  return {c.torque, c.power};
}

Kind rubbing(std::string name, ShaftContact contact) {
  return {std::move(name), [contact](AngularVelocity w) { return on_shaft(contact, w); }};
}

Kind rule(std::string name, PublishedRule law) {
  return {std::move(name), [law](AngularVelocity w) {
            const auto loss = rule_loss(law, 40.0_mm, w, {80.0_degC, 30.0_mm2_s});
            return Drag{loss.torque, loss.power};
          }};
}

Kind bearing_kind(std::string name, std::function<bearing::FrictionTorque(AngularVelocity)> law) {
  return {std::move(name), [law](AngularVelocity w) {
            const Torque t = law(w).total();  // a magnitude
            const Power p = t * AngularVelocity::from_value(std::abs(w.value()));
            return Drag{w.value() < 0.0 ? -t : t, p};
          }};
}

const GasFaceSeal face{.faces = {.inner_radius = 20.0_mm, .outer_radius = 24.0_mm},
                       .boundary_friction = 0.15,
                       .contact_force = 15.0_N,
                       .lift_off = 1000.0_rpm,
                       .reference_film = 3.0_um,
                       .film_speed = 15000.0_rpm,
                       .least_film = 0.5_um,
                       .highest_film = 8.0_um};

Drag face_seal(GasFaceSeal seal, AngularVelocity speed) {
  const auto state = gas_face_seal_state(seal, air_between_faces(100.0_degC, 101325.0_Pa), speed);
  return {state.torque, state.power};
}

const contact::PtfeFriction filled_ptfe{.slow_coefficient = 0.12,
                                        .middle_coefficient = 0.35,
                                        .fast_coefficient = 0.45,
                                        .filled_factor = 1.25,
                                        .least_pressure = 0.05_MPa};

ShaftContact ptfe_lip(LineForce force) {
  auto seal = ring(force, 0.0_mm);
  seal.id = "PTFE lip";
  seal.contact_width = 1.0_mm;
  seal.law = contact::PtfeContact{.friction = filled_ptfe, .contact_width = 1.0_mm};
  return seal;
}

MeasuredTorque measured() {
  return MeasuredTorque(std::vector<MeasuredTorqueRow>{{0.0_rpm, 0.05_Nm, std::nullopt},
                                                       {3000.0_rpm, 0.08_Nm, std::nullopt},
                                                       {15000.0_rpm, 0.11_Nm, std::nullopt}},
                        BeyondTable::hold);
}

GearPair gears() {
  constexpr double degree = std::numbers::pi / 180.0;
  return unshifted_pair(25, 80, 2.0_mm, 20.0 * degree, 20.0 * degree, 30.0_mm);
}
Drag mesh(Torque torque, AngularVelocity speed) {
  const auto loss = mesh_loss(gears(), {8.5_mPa_s, 0.5_um, 1.0}, torque, speed);
  const double per_speed = speed.value() == 0.0 ? 0.0 : loss.power.value() / speed.value();
  return {Torque::from_value(per_speed), loss.power};
}

const bearing::PalmgrenConstants bearing_60{.torque_factor = 2.0,
                                            .load_torque_factor = 0.0005,
                                            .load_torque_exponent = 0.55,
                                            .pitch_diameter = 60.0_mm,
                                            .static_rating = 18144.0_N};

std::vector<Kind> every_kind() {
  const auto constants = bearing_60;
  auto rollers = bearing_60;
  rollers.load_torque_factor = 0.0003;
  rollers.load_torque_exponent = 0.0;
  return {
      rubbing("lip in oil", lip(0.12_N_mm, 0.0_mm)),
      rubbing("dry ring", ring(10.0_N_m, 0.0_mm)),
      rubbing("oil-wetted ring", wetted_ring()),
      rubbing("brush", brush()),
      {"face seal", [](AngularVelocity w) { return face_seal(face, w); }},
      rubbing("PTFE lip, dry", ptfe_lip(30.0_N_m)),
      rule("torque by diameter", TorqueByDiameter{3.737e-3}),
      rule("power by diameter squared", PowerByDiameterSquared{7.69e-6}),
      rule("power by oil temperature", PowerByOilTemperature{.coefficient_W_min_per_mm2 = 1e-7}),
      {"stated loss",
       [](AngularVelocity w) {
         const auto d = stated_drag({6.0_W, 6000.0_rpm, 0.5}, w);
         return Drag{d.torque, d.power};
       }},
      {"measured torque",
       [table = measured()](AngularVelocity w) {
         const auto d = table.drag(w, 80.0_degC);
         return Drag{d.torque, d.power};
       }},
      {"gear mesh", [](AngularVelocity w) { return mesh(150.0_Nm, w); }},
      bearing_kind("ball bearing",
                   [constants](AngularVelocity w) {
                     return bearing::palmgren_torque(constants, 8.0_mm2_s, w, 900.0_N, 150.0_N);
                   }),
      bearing_kind("cylindrical rollers",
                   [rollers](AngularVelocity w) {
                     return bearing::cylindrical_roller_torque(rollers, 8.0_mm2_s, w, 900.0_N);
                   }),
      bearing_kind("tapered rollers", [rollers](AngularVelocity w) {
        return bearing::tapered_roller_torque(rollers, 1.6, 8.0_mm2_s, w, 900.0_N, 400.0_N);
      })};
}

}  // namespace

TEST_CASE("nothing that drags goes wrong from standstill to 40 000 1/min", "[derived]") {
  for (const Kind& kind : every_kind())
    for (const double rpm : {1e-9, 1e-3, 1.0, 100.0, 1000.0, 5000.0, 15000.0, 40000.0}) {
      CAPTURE(kind.name, rpm);
      const Drag drag = kind.drag(from_rpm(rpm));
      CHECK(std::isfinite(drag.torque.value()));
      CHECK(std::isfinite(drag.power.value()));
      CHECK(drag.torque.value() > 0.0);
      CHECK(drag.power.value() > 0.0);
      CHECK_THAT(drag.power, near(Power(drag.torque * from_rpm(rpm)), 1e-12));
      // More than any seal, bearing or mesh of this size: a wrong unit would show.
      CHECK(drag.power.value() < 10000.0);
    }
}

TEST_CASE("nothing that stands still takes power", "[derived]") {
  for (const Kind& kind : every_kind()) {
    CAPTURE(kind.name);
    const Drag drag = kind.drag(0.0_rpm);
    CHECK(drag.power.value() == 0.0);
    CHECK(std::isfinite(drag.torque.value()));
    CHECK(drag.torque.value() >= 0.0);
    // And no power waits just above it.
    CHECK(kind.drag(from_rpm(1e-9)).power.value() < 1e-6);
  }
}

TEST_CASE("everything drags backwards as it drags forwards", "[derived]") {
  for (const Kind& kind : every_kind())
    for (const double rpm : {1.0, 6000.0, 40000.0}) {
      CAPTURE(kind.name, rpm);
      const Drag forth = kind.drag(from_rpm(rpm));
      const Drag back = kind.drag(from_rpm(-rpm));
      CHECK(back.torque == -forth.torque);
      CHECK(back.power == forth.power);
    }
}

TEST_CASE("a contact without force drags nothing", "[derived]") {
  for (const double rpm : {0.0, 1.0, 6000.0, 40000.0, -6000.0}) {
    const AngularVelocity w = from_rpm(rpm);
    CHECK(on_shaft(ring(0.0_N_m, 0.0_mm), w).power.value() == 0.0);
    CHECK(on_shaft(brush(0.0_N), w).power.value() == 0.0);
    CHECK(on_shaft(ptfe_lip(0.0_N_m), w).power.value() == 0.0);
    CHECK(mesh(Torque{}, w).power.value() == 0.0);
    CHECK(stated_drag({0.0_W, 6000.0_rpm, 0.0}, w).power.value() == 0.0);
    // Faces that nothing presses keep the drag of their gas and no more.
    GasFaceSeal loose = face;
    loose.contact_force = 0.0_N;
    CHECK(face_seal(loose, w).power <= face_seal(face, w).power);
    if (rpm == 0.0) CHECK(face_seal(loose, w).torque == Torque{});
  }
}

TEST_CASE("a film has no friction coefficient without force, only a vanishing drag", "[derived]") {
  // f F' -> 0 as F'^(2/3); at no force at all the law is undefined and says so.
  CHECK_THROWS_AS(on_shaft(lip(0.0_N_m, 0.0_mm), 3000.0_rpm), std::invalid_argument);
  double before = on_shaft(lip(0.01_N_mm, 0.0_mm), 3000.0_rpm).power.value();
  for (double force_N_m = 1.0; force_N_m > 1e-6; force_N_m *= 0.1) {
    const double now =
        on_shaft(lip(LineForce::from_value(force_N_m), 0.0_mm), 3000.0_rpm).power.value();
    CHECK(now > 0.0);
    CHECK(now < before);
    before = now;
  }
  CHECK(before < 1e-3);
}

TEST_CASE("an unloaded bearing keeps its oil's drag", "[derived]") {
  const auto unloaded = [](AngularVelocity w) {
    return bearing::palmgren_torque(bearing_60, 8.0_mm2_s, w, Force{}, Force{});
  };
  CHECK(unloaded(40000.0_rpm).load == Torque{});
  CHECK(unloaded(40000.0_rpm).viscous.value() > 0.0);
  CHECK(unloaded(0.0_rpm).total() == Torque{});
}

TEST_CASE("a speed that is no number is refused by what solves for a temperature or a table",
          "[derived]") {
  const AngularVelocity none = AngularVelocity::from_value(std::nan(""));
  for (const Kind& kind : every_kind())
    for (const char* name : {"lip in oil", "dry ring", "oil-wetted ring", "brush", "PTFE lip, dry",
                             "measured torque", "gear mesh"})
      if (kind.name == name) CHECK_THROWS_AS(kind.drag(none), std::invalid_argument);
}
