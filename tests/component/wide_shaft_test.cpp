#include "ohmdrag/component/wide_shaft.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

#include "component/reference_shaft.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;
using namespace ohmdrag::component;
using numerics::lanes;

namespace {

/// Between 0 and 1, differently for every lane and purpose.
double share(std::size_t lane, double root) {
  const double turns = static_cast<double>(lane + 1) * std::sqrt(root);
  return turns - std::floor(turns);
}

Softening softens(double elastic_share) {
  return {.elastic_share = elastic_share,
          .modulus = {{from_celsius(-20.0), 2.5},
                      {from_celsius(20.0), 1.0},
                      {from_celsius(60.0), 0.75},
                      {from_celsius(100.0), 0.6}}};
}

ShaftContact ptfe_lip(LineForce line_force, Length position) {
  ShaftContact contact = ring(line_force, position);
  contact.id = "ptfe";
  contact.law = contact::PtfeContact{.friction = {.slow_coefficient = 0.12,
                                                  .middle_coefficient = 0.35,
                                                  .fast_coefficient = 0.45,
                                                  .filled_factor = 1.2,
                                                  .least_pressure = Pressure::from_value(5e4)},
                                     .contact_width = 4.0_mm};
  return contact;
}

ShaftContact brush(LineForce line_force, Length position) {
  ShaftContact contact = ring(line_force, position, 0.15);
  contact.to_body = std::nullopt;
  contact.current_heat = 0.3_W;
  return contact;
}

/// Shafts of many shapes; within a shape, numbers hang on the lane.
struct Shape {
  const char* name;
  ShaftSystem (*of)(std::size_t lane);
};

ShaftSystem lip_and_ring(std::size_t lane) {
  ShaftContact soft = lip((0.06 + 0.1 * share(lane, 2.0)) * 1.0_N_mm, 0.0_mm);
  soft.softening = softens(0.3 + 0.4 * share(lane, 3.0));
  ShaftSystem system = shaft({soft, ring((5.0 + 20.0 * share(lane, 5.0)) * 1.0_N_m,
                                         (3.0 + 10.0 * share(lane, 7.0)) * 1.0_mm)});
  system.oil_side_length = (20.0 + 30.0 * share(lane, 11.0)) * 1.0_mm;
  system.dry_side_length = 60.0_mm;
  system.oil_side = contact::TurningCylinder{0.1 + 0.8 * share(lane, 13.0), 20.0_K};
  system.dry_side = contact::TurningCylinder{1.0, 20.0_K};
  system.lubricant.density_15 = (820.0 + 40.0 * share(lane, 17.0)) * 1.0_kg_m3;
  return system;
}

ShaftSystem two_lips_endless(std::size_t lane) {
  return shaft({lip((0.05 + 0.1 * share(lane, 2.0)) * 1.0_N_mm, 0.0_mm - 4.0_mm),
                lip((0.05 + 0.1 * share(lane, 3.0)) * 1.0_N_mm, 2.0_mm), brush(20.0_N_m, 9.0_mm)});
}

ShaftSystem hollow_ptfe(std::size_t lane) {
  ShaftContact dry_lip = ptfe_lip((20.0 + 80.0 * share(lane, 2.0)) * 1.0_N_m, 6.0_mm);
  dry_lip.softening = softens(0.2);
  ShaftSystem system = shaft({lip(0.1_N_mm, 1.0_mm), dry_lip});
  system.bore = (10.0 + 15.0 * share(lane, 3.0)) * 1.0_mm;
  system.oil_side = contact::TurningCylinder{0.4, 30.0_K};
  return system;
}

ShaftSystem dry_ring_alone(std::size_t lane) {
  return shaft({ring((5.0 + 20.0 * share(lane, 2.0)) * 1.0_N_m, 0.0_mm)});
}

constexpr std::array shapes{
    Shape{"lip and ring", lip_and_ring}, Shape{"two lips and a brush", two_lips_endless},
    Shape{"hollow with PTFE", hollow_ptfe}, Shape{"ring alone", dry_ring_alone},
    Shape{"bare", [](std::size_t) { return shaft({}); }}};

std::vector<ShaftSystem> block(const Shape& shape, std::size_t count = lanes) {
  std::vector<ShaftSystem> systems;
  for (std::size_t lane = 0; lane < count; ++lane) systems.push_back(shape.of(lane));
  return systems;
}

struct Settled {
  WideShaft shafts;
  WideOilSide oil;
  WideDrySide dry;
  WideShaftState state;
  std::array<double, lanes> oil_K, dry_K;

  Settled(std::vector<ShaftSystem> systems, numerics::LaneWidth width)
      : shafts(std::move(systems), width),
        oil(shafts.oil_side()),
        dry(shafts.dry_side()),
        state(shafts.state()) {}

  void at(double speed_rpm, double oil_degC) {
    for (std::size_t i = 0; i < lanes; ++i) {
      oil_K[i] = 273.15 + oil_degC + 10.0 * share(i, 19.0);
      dry_K[i] = 273.15 + 20.0 + 30.0 * share(i, 23.0);
    }
    shafts.set_dry(dry_K.data());
    shafts.fill(oil, oil_K.data());
    shafts.fill(dry, from_rpm(speed_rpm));
    shafts.settle(oil, dry, state);
  }
};

}  // namespace

TEST_CASE("lanes settle where each shaft settles alone", "[derived]") {
  for (const Shape& shape : shapes) {
    INFO(shape.name);
    Settled block_of(block(shape), numerics::widest_lanes());
    for (const double oil_degC : {-25.0, 15.0, 55.0, 110.0})
      for (const double speed_rpm : {0.0, 1.0, 200.0, 3000.0, 15000.0, -6000.0}) {
        INFO("oil " << oil_degC << ", speed " << speed_rpm);
        block_of.at(speed_rpm, oil_degC);
        for (std::size_t i = 0; i < lanes; ++i) {
          const ShaftSystem& system = block_of.shafts.system(i);
          const Surroundings around{Temperature::from_value(block_of.oil_K[i]),
                                    Temperature::from_value(block_of.dry_K[i])};
          const ShaftState alone = solve(system, from_rpm(speed_rpm), around);
          double made_W = 0.1;  // flows through the shaft pass without any friction
          for (std::size_t c = 0; c < alone.contacts.size(); ++c) {
            const double power_W = alone.contacts[c].power.value();
            made_W += power_W;
            CHECK(block_of.state.power_W[c][i] == Approx(power_W).epsilon(1e-10).margin(1e-14));
            CHECK(block_of.state.contact_K[c][i] ==
                  Approx(alone.contacts[c].contact.value()).epsilon(1e-11).margin(0));
          }
          CHECK(block_of.state.into_oil_W[0][i] ==
                Approx(into_oil(system, alone).value()).epsilon(1e-10).margin(1e-10 * made_W));
          CHECK(block_of.state.loop_gain[0][i] ==
                Approx(std::max(0.0, alone.loop_gain)).epsilon(1e-6).margin(1e-9));
        }
      }
  }
}

TEST_CASE("lanes settle to the same bits at every width of vector", "[derived]") {
  for (const Shape& shape : shapes) {
    INFO(shape.name);
    Settled narrow(block(shape), numerics::LaneWidth::two);
    for (const numerics::LaneWidth width : numerics::lane_widths()) {
      INFO(numerics::name(width));
      Settled wide(block(shape), width);
      for (const double speed_rpm : {0.0, 700.0, 9000.0}) {
        narrow.at(speed_rpm, 40.0);
        wide.at(speed_rpm, 40.0);
        for (std::size_t i = 0; i < lanes; ++i) {
          CHECK(wide.state.into_oil_W[0][i] == narrow.state.into_oil_W[0][i]);
          for (std::size_t c = 0; c < wide.shafts.contacts(); ++c) {
            CHECK(wide.state.power_W[c][i] == narrow.state.power_W[c][i]);
            CHECK(wide.state.contact_K[c][i] == narrow.state.contact_K[c][i]);
          }
        }
      }
      narrow = Settled(block(shape), numerics::LaneWidth::two);
    }
  }
}

TEST_CASE("lanes may turn at speeds of their own", "[derived]") {
  Settled block_of(block(shapes[0], 1), numerics::widest_lanes());
  block_of.at(0.0, 40.0);
  std::array<double, lanes> omega_rad_s;
  for (std::size_t i = 0; i < lanes; ++i) omega_rad_s[i] = 1.0 + 40.0 * static_cast<double>(i);
  block_of.shafts.fill(block_of.dry, omega_rad_s.data());
  block_of.shafts.settle(block_of.oil, block_of.dry, block_of.state);
  for (std::size_t i = 0; i < lanes; ++i) {
    const ShaftState alone = solve(
        block_of.shafts.system(i), AngularVelocity::from_value(omega_rad_s[i]),
        {Temperature::from_value(block_of.oil_K[i]), Temperature::from_value(block_of.dry_K[i])});
    for (std::size_t c = 0; c < 2; ++c)
      CHECK(block_of.state.power_W[c][i] == Approx(alone.contacts[c].power.value()).epsilon(1e-10));
  }
}

TEST_CASE("a block that is not full repeats its last shaft", "[derived]") {
  Settled few(block(shapes[0], 3), numerics::widest_lanes());
  few.at(3000.0, 40.0);
  CHECK(few.shafts.shafts() == 3);
  for (const std::size_t lane : {std::size_t{3}, lanes - 1})
    CHECK(few.shafts.system(lane).lubricant.density_15 ==
          few.shafts.system(2).lubricant.density_15);
  CHECK(few.state.power_W[0][lanes - 1] > 0.0);
}

TEST_CASE("a lane that Newton does not settle is settled by its bracket", "[derived]") {
  // Near its fold (as in the test of a single shaft) a film that loses to solid friction sends
  // Newton astray; a shaft beyond the fold has only its hot state.
  const auto steep = [](double h) {
    ShaftContact contact = lip(0.12_N_mm, 0.0_mm);
    auto& law = std::get<contact::MixedFilm>(contact.law);
    law.boundary_friction = 1.5;
    law.film_coefficient = 3.0;
    law.transition_duty = 2e-4;
    law.load_share_exponent = 4.0;
    ShaftSystem system = shaft({contact});
    system.oil_side = system.dry_side = contact::FixedFilm{HeatTransferCoefficient::from_value(h)};
    return system;
  };
  WideShaft shafts({steep(60.0), steep(31.2), steep(29.0)});
  std::array<double, lanes> oil_K, dry_K;
  oil_K.fill(warm.oil.value());
  dry_K.fill(warm.dry.value());
  shafts.set_dry(dry_K.data());
  WideOilSide oil = shafts.oil_side();
  WideDrySide dry = shafts.dry_side();
  WideShaftState state = shafts.state();
  shafts.fill(oil, oil_K.data());
  shafts.fill(dry, 3000.0_rpm);
  shafts.settle(oil, dry, state);
  for (std::size_t lane = 0; lane < 3; ++lane)
    CHECK(state.power_W[0][lane] ==
          Approx(solve(shafts.system(lane), 3000.0_rpm, warm).contacts[0].power.value())
              .epsilon(1e-9));
  CHECK(state.power_W[0][2] > 5.0 * state.power_W[0][0]);
}

TEST_CASE("a block refuses what is no block", "[derived]") {
  CHECK_THROWS_AS(WideShaft({}), std::invalid_argument);
  CHECK_THROWS_AS(WideShaft(block(shapes[0], lanes + 1)), std::invalid_argument);
  CHECK_THROWS_AS(WideShaft({lip_and_ring(0), hollow_ptfe(0)}), std::invalid_argument);
  ShaftSystem no_body = lip_and_ring(1);
  no_body.contacts[1].body_in_oil = true;
  CHECK_THROWS_AS(WideShaft({lip_and_ring(0), no_body}), std::invalid_argument);
  ShaftSystem wrong = lip_and_ring(1);
  wrong.diameter = 0.0_mm;
  CHECK_THROWS_AS(WideShaft({lip_and_ring(0), wrong}), std::invalid_argument);
}
