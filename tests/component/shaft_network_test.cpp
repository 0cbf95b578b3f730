#include "component/reference_shaft.hpp"

#include <cmath>

#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;
using namespace ohmdrag::component;

namespace {

constexpr TemperatureDifference nano = TemperatureDifference::from_value(1e-9);
constexpr TemperatureDifference micro = TemperatureDifference::from_value(1e-6);

Power made(const ShaftState& state) {
  Power sum;
  for (const auto& c : state.contacts) sum += c.power;
  return sum;
}
Power received(const ShaftState& state) {
  Power sum = state.into_oil_side + state.into_dry_side;
  for (const auto& c : state.contacts) sum += c.into_body;
  return sum;
}

ShaftSystem lip_and_ring(Length apart) {
  auto system = shaft({lip(0.12_N_mm, 0.0_mm), ring(10.0_N_m, apart)});
  system.oil_side_length = 30.0_mm;
  system.dry_side_length = apart + 40.0_mm;
  system.oil_side = contact::TurningCylinder{0.3, 20.0_K};
  system.dry_side = contact::TurningCylinder{1.0, 20.0_K};
  return system;
}

}  // namespace

TEST_CASE("every watt made by friction leaves the shaft", "[derived]") {
  const double n = GENERATE(-9000.0, 0.0, 1.0, 300.0, 3000.0, 15000.0);
  const double oil_degC = GENERATE(-30.0, 20.0, 90.0);
  for (const auto& system :
       {lip_and_ring(2.0_mm), lip_and_ring(25.0_mm), shaft({lip(0.12_N_mm, 3.0_mm)}),
        shaft({ring(10.0_N_m, -1.0 * 3.0_mm), lip(0.08_N_mm, 0.0_mm)}), shaft({})}) {
    const auto state = solve(system, from_rpm(n), {from_celsius(oil_degC), 30.0_degC});
    CHECK_THAT(received(state), within(made(state), Power::from_value(1e-9)));
    for (const auto& c : state.contacts) {
      CHECK_THAT(c.power, near(c.torque * from_rpm(n), 1e-14));
      CHECK_THAT(c.into_shaft + c.into_body, within(c.power, Power::from_value(1e-9)));
    }
  }
}

TEST_CASE("friction in the state is that of its contact temperature", "[derived]") {
  const double n = GENERATE(100.0, 3000.0, 15000.0);
  const auto system = lip_and_ring(2.0_mm);
  const auto state = solve(system, from_rpm(n), warm);
  const auto& c = state.contacts[0];
  CHECK(c.friction ==
        Approx(contact::friction_coefficient(
                   system.contacts[0].law, material::dynamic_viscosity(system.lubricant, c.contact),
                   rim_speed(from_rpm(n), 20.0_mm), 0.12_N_mm))
            .epsilon(1e-9));
}

TEST_CASE("a shaft at rest makes no heat and carries heat from the warm to the cold side",
          "[derived]") {
  const auto system = lip_and_ring(5.0_mm);
  const auto state = solve(system, 0.0_rpm, warm);
  CHECK(made(state) == 0.0_W);
  CHECK(state.into_oil_side < 0.0_W);
  CHECK(state.into_dry_side > 0.0_W);
  CHECK(state.contacts[0].contact < warm.oil);
  CHECK(state.contacts[1].contact > warm.dry);
  const auto level = solve(system, 0.0_rpm, {60.0_degC, 60.0_degC});
  CHECK_THAT(level.contacts[0].contact, within(60.0_degC, nano));
  CHECK_THAT(level.contacts[1].contact, within(60.0_degC, nano));
  CHECK_THAT(level.into_oil_side, within(0.0_W, Power::from_value(1e-9)));
}

TEST_CASE("reversed rotation reverses torque and nothing else", "[derived]") {
  const auto system = lip_and_ring(2.0_mm);
  const auto ahead = solve(system, 3000.0_rpm, warm);
  const auto back = solve(system, from_rpm(-3000.0), warm);
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(back.contacts[i].torque == -ahead.contacts[i].torque);
    CHECK(back.contacts[i].power == ahead.contacts[i].power);
    CHECK(back.contacts[i].contact == ahead.contacts[i].contact);
  }
}

TEST_CASE("a contact without force or body changes nothing, wherever it stands", "[derived]") {
  // The chain of two-ports is exact: a node more or less is the same shaft.
  const double at_mm = GENERATE(-12.0, -1e-7, 0.0, 1.0, 17.0);
  auto ghost = ring(0.0_N_m, Length::from_value(1e-3 * at_mm));
  ghost.to_body = std::nullopt;
  auto plain = lip_and_ring(8.0_mm);
  auto with = plain;
  std::size_t where = 0;
  while (where < 2 && with.contacts[where].position <= ghost.position) ++where;
  with.contacts.insert(with.contacts.begin() + static_cast<std::ptrdiff_t>(where), ghost);

  const auto a = solve(plain, 6000.0_rpm, warm);
  const auto b = solve(with, 6000.0_rpm, warm);
  const std::size_t lip_at = where == 0 ? 1 : 0;
  const std::size_t ring_at = where == 2 ? 1 : 2;
  CHECK_THAT(b.contacts[lip_at].contact, within(a.contacts[0].contact, micro));
  CHECK_THAT(b.contacts[ring_at].contact, within(a.contacts[1].contact, micro));
  CHECK_THAT(b.into_oil_side, near(a.into_oil_side, 1e-8));
  CHECK_THAT(b.contacts[where].shaft_under, within(b.contacts[where].contact, micro));
}

TEST_CASE("two contacts at one place heat the shaft like one with both heats", "[derived]") {
  auto twice = shaft({ring(5.0_N_m, 0.0_mm), ring(5.0_N_m, 0.0_mm)});
  auto once = shaft({ring(10.0_N_m, 0.0_mm)});
  for (auto* system : {&twice, &once})
    for (auto& c : system->contacts) c.to_body = std::nullopt;
  const auto a = solve(twice, 6000.0_rpm, warm);
  const auto b = solve(once, 6000.0_rpm, warm);
  CHECK_THAT(a.contacts[0].shaft_under, within(b.contacts[0].shaft_under, nano));
  CHECK_THAT(a.contacts[1].shaft_under, within(b.contacts[0].shaft_under, nano));
  CHECK_THAT(made(a), near(made(b), 1e-14));
  CHECK_THAT(a.into_oil_side, near(b.into_oil_side, 1e-12));
}

TEST_CASE("contacts far apart do not feel each other", "[derived]") {
  auto both = shaft({lip(0.12_N_mm, 0.0_mm), ring(10.0_N_m, 5.0_m)});
  const auto state = solve(both, 3000.0_rpm, warm);
  const auto alone = solve(shaft({lip(0.12_N_mm, 0.0_mm)}), 3000.0_rpm, warm);
  CHECK_THAT(state.contacts[0].contact, within(alone.contacts[0].contact, nano));
  // The ring alone on an endless dry shaft: both sides the dry fin, its felt beside them.
  const contact::ShaftFin dry{40.0_mm, 46.0_W_mK, 40.0_W_m2K};
  const auto& r = both.contacts[1];
  const double shaft_W_K = 1.0 / (contact::band_resistance(40.0_mm, 4.0_mm, 46.0_W_mK).value() +
                                  1.0 / (2.0 * contact::endless_fin(dry).value()));
  const double rise_K = state.contacts[1].power.value() / (shaft_W_K + 1.0 / r.to_body->value());
  CHECK_THAT(state.contacts[1].contact, within(from_celsius(40.0 + rise_K), micro));
}

TEST_CASE("a hollow shaft of no bore is the solid one, to the last digit", "[derived]") {
  const auto solid = lip_and_ring(4.0_mm);
  auto bored = solid;
  bored.bore = 0.0_mm;
  const auto a = solve(solid, 7000.0_rpm, warm);
  const auto b = solve(bored, 7000.0_rpm, warm);
  for (std::size_t i = 0; i < 2; ++i) CHECK(b.contacts[i].contact == a.contacts[i].contact);
  CHECK(b.into_oil_side == a.into_oil_side);
}

TEST_CASE("a hollow shaft sheds every watt, at rest, at 40 000 1/min and backwards", "[derived]") {
  const double bore_mm = GENERATE(1.0, 12.0, 24.0);
  const double n = GENERATE(-40000.0, 0.0, 1.0, 3000.0, 40000.0);
  auto system = lip_and_ring(2.0_mm);
  system.bore = Length::from_value(1e-3 * bore_mm);
  const auto state = solve(system, from_rpm(n), warm);
  CHECK_THAT(received(state), within(made(state), Power::from_value(1e-8)));
  const auto back = solve(system, from_rpm(-n), warm);
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(back.contacts[i].torque.value() ==
          (n == 0.0 ? 1.0 : -1.0) * state.contacts[i].torque.value());
    CHECK(back.contacts[i].contact == state.contacts[i].contact);
    CHECK((state.contacts[i].power.value() == 0.0) == (n == 0.0));
  }
}

TEST_CASE("a wider bore leaves less section to carry the heat away", "[derived]") {
  const double n = GENERATE(1000.0, 6000.0, 20000.0);
  auto system = shaft({lip(0.12_N_mm, 0.0_mm), ring(10.0_N_m, 3.0_mm)});
  Temperature last[] = {Temperature::from_value(0.0), Temperature::from_value(0.0)};
  for (const double bore_mm : {0.0, 1.0, 4.0, 8.0, 12.0, 20.0, 28.0}) {
    system.bore = Length::from_value(1e-3 * bore_mm);
    const auto state = solve(system, from_rpm(n), warm);
    for (std::size_t i = 0; i < 2; ++i) {
      CHECK(state.contacts[i].contact > last[i]);
      last[i] = state.contacts[i].contact;
    }
  }
}

TEST_CASE("contacts of a hollow shaft: far apart alone, at one place together", "[derived]") {
  const auto hollow = [](std::vector<ShaftContact> contacts) {
    auto system = shaft(std::move(contacts));
    system.bore = 24.0_mm;
    return system;
  };
  const auto state =
      solve(hollow({lip(0.12_N_mm, 0.0_mm), ring(10.0_N_m, 5.0_m)}), 3000.0_rpm, warm);
  const auto alone = solve(hollow({lip(0.12_N_mm, 0.0_mm)}), 3000.0_rpm, warm);
  CHECK_THAT(state.contacts[0].contact, within(alone.contacts[0].contact, nano));

  auto twice = hollow({ring(5.0_N_m, 0.0_mm), ring(5.0_N_m, 0.0_mm)});
  auto once = hollow({ring(10.0_N_m, 0.0_mm)});
  auto with_idle = hollow({ring(10.0_N_m, 0.0_mm), ring(0.0_N_m, 0.0_mm)});
  for (auto* system : {&twice, &once, &with_idle})
    for (auto& c : system->contacts) c.to_body = std::nullopt;
  const auto a = solve(twice, 6000.0_rpm, warm);
  const auto b = solve(once, 6000.0_rpm, warm);
  CHECK_THAT(a.contacts[0].shaft_under, within(b.contacts[0].shaft_under, nano));
  CHECK_THAT(a.contacts[1].shaft_under, within(b.contacts[0].shaft_under, nano));
  CHECK_THAT(made(a), near(made(b), 1e-14));
  // A contact without force makes nothing and changes nothing.
  const auto idle = solve(with_idle, 6000.0_rpm, warm);
  CHECK(idle.contacts[1].power == 0.0_W);
  CHECK_THAT(idle.contacts[0].contact, within(b.contacts[0].contact, nano));

  CHECK(flags(hollow({ring(5.0_N_m, 0.0_mm)}),
              solve(hollow({ring(5.0_N_m, 0.0_mm)}), 1000.0_rpm, warm))
            .at(0)
            .flag.quantity == "band width / shaft wall");
  auto too_wide = hollow({ring(5.0_N_m, 0.0_mm)});
  too_wide.bore = 36.0_mm;
  CHECK_THROWS_AS(solve(too_wide, 1000.0_rpm, warm), std::invalid_argument);
}

TEST_CASE("one contact warms another by the decay of the fin between them", "[derived]") {
  // Q exp(-m x) / (g_oil + g_dry) for a body without heat of its own: 0.245 K/W at 5 mm on the oil
  // side of a 40 mm steel shaft, 1000 and 40 W/m2K.
  auto front = ring(1.0_N_m, -1.0 * 5.0_mm);
  front.to_body = std::nullopt;
  auto back = ring(1.0_N_m, 0.0_mm);
  back.to_body = std::nullopt;
  const auto system = shaft({front, back});
  const ThermalNetwork network(system, 3000.0_rpm, warm);
  const double between = network.resistance(0, 1).value();
  CHECK(between == Approx(0.245).epsilon(2e-3));
  CHECK(network.resistance(1, 0).value() == Approx(between).epsilon(1e-12));
  const contact::ShaftFin oil{40.0_mm, 46.0_W_mK, 1000.0_W_m2K};
  const contact::ShaftFin dry{40.0_mm, 46.0_W_mK, 40.0_W_m2K};
  const double sum = contact::endless_fin(oil).value() + contact::endless_fin(dry).value();
  CHECK(between ==
        Approx(std::exp(-5e-3 / contact::decay_length(oil).value()) / sum).epsilon(1e-9));
}

TEST_CASE("a ring beside a lip warms it and thins its oil", "[derived]") {
  const auto alone = solve(shaft({lip(0.12_N_mm, 0.0_mm)}), 9000.0_rpm, warm);
  Temperature before = alone.contacts[0].contact;
  Power lip_before = alone.contacts[0].power;
  for (const double force_N_m : {5.0, 10.0, 20.0}) {
    auto felt = ring(LineForce::from_value(force_N_m), 2.0_mm);
    felt.to_body = std::nullopt;  // it would cool the shaft a little
    const auto state = solve(shaft({lip(0.12_N_mm, 0.0_mm), felt}), 9000.0_rpm, warm);
    CHECK(state.contacts[0].contact > before);
    CHECK(state.contacts[0].power < lip_before);
    before = state.contacts[0].contact;
    lip_before = state.contacts[0].power;
  }
}

TEST_CASE("power and temperature rise with speed and force", "[derived]") {
  Power last;
  for (double n = 100.0; n <= 20000.0; n *= 1.2) {
    const auto state = solve(lip_and_ring(2.0_mm), from_rpm(n), warm);
    CHECK(state.contacts[0].power > last);
    last = state.contacts[0].power;
  }
  last = {};
  for (double f = 0.02; f < 0.2; f += 0.01) {
    const auto state = solve(shaft({lip(f * 1.0_N_mm, 0.0_mm)}), 3000.0_rpm, warm);
    CHECK(state.contacts[0].power > last);
    last = state.contacts[0].power;
  }
}

TEST_CASE("a shorter free end runs hotter", "[derived]") {
  Temperature cooler = solve(shaft({lip(0.12_N_mm, 0.0_mm)}), 6000.0_rpm, warm).contacts[0].contact;
  for (const Length& free : {200.0_mm, 50.0_mm, 20.0_mm, 0.0_mm}) {
    auto system = shaft({lip(0.12_N_mm, 0.0_mm)});
    system.dry_side_length = free;
    const auto state = solve(system, 6000.0_rpm, warm);
    CHECK(state.contacts[0].contact > cooler);
    cooler = state.contacts[0].contact;
  }
  auto system = shaft({lip(0.12_N_mm, 0.0_mm)});
  system.dry_side_length = 0.0_mm;
  CHECK(solve(system, 6000.0_rpm, warm).into_dry_side == 0.0_W);
}

TEST_CASE("several lips settle together, whatever the order they are met in", "[derived]") {
  const auto system =
      shaft({lip(0.12_N_mm, -1.0 * 4.0_mm), lip(0.06_N_mm, 0.0_mm, 0.3_mm), lip(0.03_N_mm, 0.0_mm),
             ring(10.0_N_m, 2.0_mm), lip(0.02_N_mm, 3.0_mm), lip(0.02_N_mm, 30.0_mm)});
  const auto state = solve(system, 12000.0_rpm, warm);
  CHECK_THAT(received(state), within(made(state), Power::from_value(1e-8)));
  for (std::size_t i = 0; i < system.contacts.size(); ++i)
    CHECK(state.contacts[i].friction ==
          Approx(contact::friction_coefficient(
                     system.contacts[i].law,
                     material::dynamic_viscosity(system.lubricant, state.contacts[i].contact),
                     rim_speed(12000.0_rpm, 20.0_mm), system.contacts[i].line_force))
              .epsilon(1e-8));
}

TEST_CASE("a warm start changes the work, not the answer", "[derived]") {
  const auto system =
      shaft({lip(0.12_N_mm, 0.0_mm), ring(10.0_N_m, 2.0_mm), lip(0.03_N_mm, 2.5_mm)});
  const auto near_by = solve(system, 4000.0_rpm, warm);
  const auto cold = solve(system, 15000.0_rpm, warm);
  const auto warmed = solve(system, 15000.0_rpm, warm, &near_by);
  for (std::size_t i = 0; i < 3; ++i) {
    CHECK_THAT(warmed.contacts[i].contact, within(cold.contacts[i].contact, micro));
    CHECK_THAT(warmed.contacts[i].power, near(cold.contacts[i].power, 1e-9));
  }
}

TEST_CASE("oil heated from below the pour point to above 400 degC still has a root", "[derived]") {
  for (const double oil_degC : {-30.0, 0.0, 60.0, 150.0})
    for (const double n : {10.0, 1000.0, 20000.0, 60000.0}) {
      const auto state = solve(shaft({lip(0.3_N_mm, 0.0_mm)}), from_rpm(n),
                               {from_celsius(oil_degC), from_celsius(oil_degC)});
      CHECK(state.loop_gain < 0.1);
      CHECK(std::isfinite(state.contacts[0].power.value()));
    }
}

TEST_CASE("a contact that makes more heat the hotter it gets is flagged before it runs away",
          "[derived]") {
  // Thinning oil loads the solid contact, whose friction is far above the film's, on a shaft that
  // cools ever less: the cool state ends at a fold, beyond it only the hot one is left.
  auto steep = lip(0.12_N_mm, 0.0_mm);
  auto& law = std::get<contact::MixedFilm>(steep.law);
  law.boundary_friction = 1.5;
  law.film_coefficient = 3.0;
  law.transition_duty = 2e-4;
  law.load_share_exponent = 4.0;
  const auto cooled_by = [&](double h) {
    auto system = shaft({steep});
    system.oil_side = system.dry_side = contact::FixedFilm{HeatTransferCoefficient::from_value(h)};
    return system;
  };
  const auto flagged = [](const ShaftSystem& system, const ShaftState& state) {
    for (const auto& [where, flag] : flags(system, state))
      if (flag.formula == "heat balance of the contacts") return true;
    return false;
  };
  const auto cool = solve(cooled_by(60.0), 3000.0_rpm, warm);
  CHECK(cool.loop_gain < 0.0);
  CHECK_FALSE(flagged(cooled_by(60.0), cool));
  const auto near_fold = solve(cooled_by(31.2), 3000.0_rpm, warm);
  CHECK(near_fold.loop_gain > 0.5);
  CHECK(near_fold.loop_gain < 1.0);
  CHECK(flagged(cooled_by(31.2), near_fold));
  const auto hot = solve(cooled_by(29.0), 3000.0_rpm, warm);
  CHECK(hot.contacts[0].friction == Approx(1.5).epsilon(0.01));

  // Coming from the hot state the shaft stays there, and no start ever ends on a state that would
  // not hold.
  CHECK(solve(cooled_by(60.0), 3000.0_rpm, warm, &hot).contacts[0].friction > 1.4);
  for (double start_degC = 60.0; start_degC < 400.0; start_degC += 1.0) {
    ShaftState start = cool;
    start.contacts[0].contact = from_celsius(start_degC);
    try {
      CHECK(solve(cooled_by(45.0), 3000.0_rpm, warm, &start).loop_gain < 1.0);
    } catch (const std::domain_error& error) {
      CHECK(std::string(error.what()).starts_with("thermally unstable"));
    }
  }
}

TEST_CASE("validity is judged at the contact, not in the sump", "[derived]") {
  const auto system = shaft({lip(0.12_N_mm, 0.0_mm), ring(10.0_N_m, 2.0_mm)});
  const auto good = solve(system, 3000.0_rpm, warm);
  CHECK(flags(system, good).empty());
  CHECK(duty(system, good, 0)->contact < duty(system, good, 0)->bulk);
  CHECK_FALSE(duty(system, good, 1));

  const auto hot = solve(system, 20000.0_rpm, warm);
  const auto raised = flags(system, hot);
  REQUIRE_FALSE(raised.empty());
  CHECK(raised[0].contact == 0u);
  CHECK(raised[0].flag.formula == "oil viscosity over temperature");
  CHECK(flags(system, solve(system, 0.0_rpm, warm)).empty());
}

TEST_CASE("the oil receives its side of the shaft and the bodies that stand in it", "[derived]") {
  const auto system = shaft({lip(0.12_N_mm, 0.0_mm), ring(10.0_N_m, 2.0_mm)});
  const auto state = solve(system, 3000.0_rpm, warm);
  CHECK_THAT(into_oil(system, state),
             near(state.into_oil_side + state.contacts[0].into_body, 1e-14));
}

TEST_CASE("an impossible shaft is refused", "[derived]") {
  const auto refuse = [](const ShaftSystem& system) {
    CHECK_THROWS_AS(solve(system, 3000.0_rpm, warm), std::invalid_argument);
  };
  refuse(shaft({ring(10.0_N_m, 2.0_mm), lip(0.12_N_mm, 0.0_mm)}));
  auto system = shaft({lip(0.12_N_mm, 0.0_mm)});
  system.diameter = Length{};
  refuse(system);
  system = shaft({lip(0.12_N_mm, 0.0_mm)});
  system.oil_side_length = 0.0_mm;
  refuse(system);
  system = shaft({ring(10.0_N_m, 5.0_mm)});
  system.dry_side_length = 4.0_mm;
  refuse(system);
  system = shaft({lip(0.12_N_mm, 0.0_mm)});
  system.contacts[0].line_force = LineForce{};
  refuse(system);
  system.contacts[0] = lip(0.12_N_mm, 0.0_mm);
  system.contacts[0].load = Force::from_value(-1.0);
  refuse(system);
  system.contacts[0] = lip(0.12_N_mm, 0.0_mm);
  system.contacts[0].to_body = ThermalResistance{};
  refuse(system);
  CHECK_THROWS_AS(solve(shaft({}), 1.0_rpm, {Temperature::from_value(-1.0), 40.0_degC}),
                  std::invalid_argument);
}
