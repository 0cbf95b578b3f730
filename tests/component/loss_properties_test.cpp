// What must hold of face seals, rules, statements, measurements, gears and bearings whatever the
// numbers are: random inputs of a fixed seed.

#include <algorithm>
#include <cmath>
#include <numbers>

#include "ohmdrag/bearing/friction_torque.hpp"
#include "ohmdrag/component/gas_face_seal.hpp"
#include "ohmdrag/component/gear_mesh.hpp"
#include "ohmdrag/component/measured_torque.hpp"
#include "ohmdrag/component/published_rule.hpp"
#include "ohmdrag/component/stated_loss.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"
#include "support/random_input.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using namespace ohmdrag::component;

namespace {

constexpr int trials = 120;
constexpr unsigned seed = 20240518;

GasFaceSeal some_face(RandomInput& random) {
  const double inner_m = random.uniform(0.01, 0.05);
  return {.faces = {.inner_radius = Length::from_value(inner_m),
                    .outer_radius = Length::from_value(inner_m + random.uniform(1e-3, 1e-2))},
          .boundary_friction = random.uniform(0.05, 0.3),
          .contact_force = Force::from_value(random.uniform(0.0, 50.0)),
          .lift_off = from_rpm(random.over_decades(100.0, 3000.0)),
          .reference_film = Length::from_value(random.uniform(1e-6, 8e-6)),
          .film_speed = from_rpm(random.over_decades(1000.0, 20000.0)),
          .least_film = 0.5_um,
          .highest_film = 8.0_um};
}

}  // namespace

TEST_CASE("a face seal takes power at every speed and steps nowhere", "[derived]") {
  RandomInput random(seed + 5);
  for (int i = 0; i < trials; ++i) {
    const GasFaceSeal seal = some_face(random);
    const FaceGas gas = air_between_faces(from_celsius(random.uniform(-30.0, 250.0)),
                                          Pressure::from_value(random.over_decades(3e4, 3e6)));
    const auto at = [&](double rad_s) {
      return gas_face_seal_state(seal, gas, AngularVelocity::from_value(rad_s));
    };
    const double omega = from_rpm(random.over_decades(0.1, 40000.0)).value();
    const auto state = at(omega);
    CHECK(state.power.value() > 0.0);
    CHECK(state.contact_share >= 0.0);
    CHECK(state.contact_share <= 1.0);
    CHECK(state.film >= seal.least_film);
    CHECK(state.film <= seal.highest_film);
    CHECK(at(-omega).torque == -state.torque);
    check_continuous([&](double w) { return at(w).power.value(); }, omega);
    // Where the film meets its bounds, if it does.
    const double ratio = seal.reference_film.value();
    for (const double bound_m : {0.5e-6, 8e-6})
      check_continuous([&](double w) { return at(w).torque.value(); },
                       seal.film_speed.value() * (bound_m / ratio) * (bound_m / ratio));
  }
}

TEST_CASE("general rules take power in proportion to speed and grow with the shaft", "[derived]") {
  RandomInput random(seed + 6);
  for (int i = 0; i < trials; ++i) {
    const RuleOil oil{from_celsius(random.uniform(-30.0, 200.0)),
                      KinematicViscosity::from_value(1e-6 * random.over_decades(2.0, 700.0))};
    const double d_m = random.uniform(0.01, 0.2);
    const double rpm = random.over_decades(0.1, 40000.0);
    for (const PublishedRule& rule :
         {PublishedRule{TorqueByDiameter{3.737e-3}}, PublishedRule{PowerByDiameterSquared{7.69e-6}},
          PublishedRule{PowerByOilTemperature{.coefficient_W_min_per_mm2 = 1e-7}}}) {
      const auto watts = [&](double d, double n) {
        return rule_loss(rule, Length::from_value(d), from_rpm(n), oil).power.value();
      };
      CHECK(watts(d_m, rpm) > 0.0);
      CHECK(watts(1.1 * d_m, rpm) > watts(d_m, rpm));
      CHECK(watts(d_m, 2.0 * rpm) == Approx(2.0 * watts(d_m, rpm)).epsilon(1e-12));
      CHECK(watts(d_m, -rpm) == watts(d_m, rpm));
      // 80 mm is a flag, the floor of the bracket no step.
      check_continuous([&](double d) { return watts(d, rpm); }, 0.08);
    }
    const PowerByOilTemperature by_oil{.coefficient_W_min_per_mm2 = 1e-7};
    const double at_40 = oil.at_40.value();
    const double floor_K =
        (oil_temperature_bracket(by_oil, oil) - by_oil.bracket_floor) / by_oil.per_degC +
        oil.temperature.value();
    check_continuous(
        [&](double K) {
          return rule_loss(by_oil, 40.0_mm, 3000.0_rpm,
                           {Temperature::from_value(K), KinematicViscosity::from_value(at_40)})
              .power.value();
        },
        floor_K);
  }
}

TEST_CASE("a stated loss never turns negative and passes its statement", "[derived]") {
  RandomInput random(seed + 7);
  for (int i = 0; i < trials; ++i) {
    const StatedLoss loss{Power::from_value(random.over_decades(1e-3, 1e4)),
                          from_rpm(random.over_decades(10.0, 20000.0)), random.uniform(-1.0, 2.0)};
    const double omega = from_rpm(random.over_decades(0.01, 40000.0)).value();
    const auto watts = [&](double w) {
      return stated_drag(loss, AngularVelocity::from_value(w)).power.value();
    };
    CHECK(watts(omega) > 0.0);
    CHECK(watts(omega) == watts(-omega));
    CHECK(watts(1.5 * omega) >= watts(omega) * (1.0 - 1e-12));
    CHECK(watts(loss.at.value()) == Approx(loss.power.value()).epsilon(1e-12));
    check_continuous(watts, omega);
  }
}

TEST_CASE("a measured drag stays between its neighbours and steps nowhere", "[derived]") {
  RandomInput random(seed + 8);
  for (int i = 0; i < trials; ++i) {
    std::vector<MeasuredTorqueRow> rows;
    double rpm = random.uniform(0.0, 200.0);
    for (int row = 0; row < 6; ++row) {
      rows.push_back({from_rpm(rpm), Torque::from_value(random.uniform(0.0, 0.3)), std::nullopt});
      rpm += random.uniform(50.0, 5000.0);
    }
    const MeasuredTorque table(rows, BeyondTable::hold);
    const auto torque = [&](double w) {
      return table.drag(AngularVelocity::from_value(w), 80.0_degC).torque.value();
    };
    for (std::size_t row = 0; row + 1 < rows.size(); ++row) {
      const double share = random.uniform(0.0, 1.0);
      const double omega = ((1.0 - share) * rows[row].speed + share * rows[row + 1].speed).value();
      const auto [low, high] = std::minmax(rows[row].torque.value(), rows[row + 1].torque.value());
      CHECK(torque(omega) >= low - 1e-12);
      CHECK(torque(omega) <= high + 1e-12);
      CHECK(table.drag(AngularVelocity::from_value(-omega), 80.0_degC).power.value() >= 0.0);
    }
    for (const auto& row : rows)
      if (row.torque.value() > 1e-3 && row.speed.value() > 0.0)
        check_continuous(torque, row.speed.value());
  }
}

TEST_CASE("a gear mesh loses power at every load and steps nowhere", "[derived]") {
  RandomInput random(seed + 9);
  constexpr double degree = std::numbers::pi / 180.0;
  for (int i = 0; i < trials; ++i) {
    const int pinion = static_cast<int>(random.uniform(18.0, 40.0));
    const int wheel = pinion + static_cast<int>(random.uniform(0.0, 100.0));
    const GearPair pair =
        unshifted_pair(pinion, wheel, Length::from_value(random.uniform(1e-3, 5e-3)),
                       random.uniform(18.0, 25.0) * degree, random.uniform(-30.0, 30.0) * degree,
                       Length::from_value(random.uniform(0.01, 0.06)));
    const MeshLubrication oil{DynamicViscosity::from_value(random.over_decades(2e-3, 1.0)),
                              Length::from_value(random.over_decades(1e-7, 2e-6)),
                              random.uniform(0.6, 1.0)};
    const double torque_Nm = random.over_decades(0.01, 1000.0);
    const double omega = from_rpm(random.over_decades(1.0, 40000.0)).value();
    const auto watts = [&](double torque, double w) {
      return mesh_loss(pair, oil, Torque::from_value(torque), AngularVelocity::from_value(w))
          .power.value();
    };
    const double base = watts(torque_Nm, omega);
    CHECK(base > 0.0);
    CHECK(watts(-torque_Nm, omega) == base);
    CHECK(watts(torque_Nm, -omega) == base);
    CHECK(watts(1.5 * torque_Nm, omega) > base);
    CHECK(watts(torque_Nm, 1.5 * omega) > base);
    check_continuous([&](double t) { return watts(t, omega); }, torque_Nm);
    // The least tooth force of 150 N/mm begins without a step.
    const double least_Nm =
        0.5 * 150e3 * pair.face_width.value() * mesh_geometry(pair).pinion_base_diameter.value();
    check_continuous([&](double t) { return watts(t, omega); }, least_Nm);
  }
}

TEST_CASE("bearings drag more with load, speed and oil, but for the step of the method",
          "[derived]") {
  // Palmgren's viscous part falls by 0.79 % where nu n passes 2000: kept, it belongs to the
  // published method. Random points stay off it.
  RandomInput random(seed + 10);
  for (int i = 0; i < trials; ++i) {
    const bearing::PalmgrenConstants constants{
        .torque_factor = random.uniform(1.0, 4.0),
        .load_torque_factor = random.uniform(1e-4, 1e-3),
        .load_torque_exponent = random.uniform(0.0, 0.6),
        .pitch_diameter = Length::from_value(random.uniform(0.02, 0.15)),
        .static_rating = Force::from_value(random.over_decades(1e3, 1e5))};
    const double nu_mm2_s = random.over_decades(2.0, 1000.0);
    const double rpm = random.over_decades(1.0, 40000.0);
    const double load_N = random.uniform(0.0, 5000.0);
    const auto torque = [&](double nu, double n, double load) {
      return bearing::palmgren_torque(constants, KinematicViscosity::from_value(1e-6 * nu),
                                      from_rpm(n), Force::from_value(load), Force{})
          .total()
          .value();
    };
    const double base = torque(nu_mm2_s, rpm, load_N);
    CHECK(base > 0.0);
    CHECK(torque(nu_mm2_s, -rpm, load_N) == base);
    CHECK(torque(nu_mm2_s, rpm, load_N + 100.0) >= base);
    if (nu_mm2_s * rpm > 2000.0) {
      CHECK(torque(nu_mm2_s, 1.1 * rpm, load_N) > base);
      CHECK(torque(1.1 * nu_mm2_s, rpm, load_N) > base);
      check_continuous([&](double n) { return torque(nu_mm2_s, n, load_N); }, 1.01 * rpm);
    }
  }
}
