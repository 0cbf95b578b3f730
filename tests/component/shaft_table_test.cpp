// Tables of settled contacts against the solve itself: derived, no source outside the project.
#include "ohmdrag/component/shaft_table.hpp"

#include "component/reference_shaft.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

const Temperature dry = from_celsius(80.0);

component::ShaftSystem lip_and_ring() {
  component::ShaftSystem system =
      shaft({lip(0.08_N_mm, 0.0_mm, 0.15_mm), ring(0.015_N_mm, 4.0_mm)});
  system.oil_side = contact::TurningCylinder{0.3, 30.0_K};
  system.dry_side = contact::TurningCylinder{1.0, 30.0_K};
  return system;
}

/// More speeds than are solved one by one.
component::SpeedRange up_to(double top_rpm) {
  component::SpeedRange speeds;
  for (int n = 1; n <= 100; ++n) speeds.add(from_rpm(1e-4 * top_rpm * n * n));
  return speeds;
}

/// Largest difference of a power or of the heat into the oil, over the largest power.
double worst_difference(const component::ShaftSystem& system, double from_degC, double to_degC,
                        bool held) {
  const component::SpeedGrid grid(system, up_to(10000.0));
  component::ShaftTable table(system, grid, dry);
  std::vector<double> torque_Nm(system.contacts.size());
  double worst_W = 0.0, largest_W = 0.0;
  for (int t = 0; t <= 6; ++t)
    for (int n = 0; n <= 200; ++n) {
      const Temperature oil = from_celsius(std::lerp(from_degC, to_degC, t / 6.0));
      const AngularVelocity speed = from_rpm(49.9 * n);
      const auto into_oil_W = table.at(grid.place(speed), oil, held, torque_Nm);
      REQUIRE(into_oil_W);
      const auto exact = component::solve(system, speed, {oil, dry});
      worst_W =
          std::max(worst_W, std::abs(*into_oil_W - component::into_oil(system, exact).value()));
      for (std::size_t c = 0; c < torque_Nm.size(); ++c) {
        const double power_W = exact.contacts[c].power.value();
        worst_W = std::max(worst_W, std::abs(torque_Nm[c] * speed.value() - power_W));
        largest_W = std::max(largest_W, power_W);
      }
    }
  return worst_W / largest_W;
}

}  // namespace

TEST_CASE("a table follows the solve over speed and oil", "[component]") {
  CHECK(worst_difference(lip_and_ring(), 20.0, 100.0, false) < 1e-4);
}

TEST_CASE("at held temperatures only the speed is between points", "[component]") {
  CHECK(worst_difference(lip_and_ring(), 35.0, 90.0, true) < 1e-4);
}

TEST_CASE("bends of a modulus and of a friction law do not blur a table", "[component]") {
  component::ShaftSystem soft = lip_and_ring();
  soft.contacts[0].softening = component::Softening{
      0.7, {{from_celsius(20.0), 1.0}, {from_celsius(57.0), 0.75}, {from_celsius(100.0), 0.6}}};
  CHECK(worst_difference(soft, 21.0, 99.0, false) < 1e-4);
  component::ShaftSystem ptfe = lip_and_ring();
  ptfe.contacts[1].law = contact::PtfeContact{{0.12, 0.35, 0.45, 1.2, Pressure::from_value(5e4)},
                                              ptfe.contacts[1].contact_width};
  CHECK(worst_difference(ptfe, 21.0, 99.0, false) < 1e-4);
}

TEST_CASE("a few speeds are solved at those", "[component]") {
  component::SpeedRange speeds;
  for (const double rpm : {0.0, 3000.0, -500.0, 3000.0, 8000.0}) speeds.add(from_rpm(rpm));
  CHECK(speeds.distinct_rad_s().size() == 3);
  const component::ShaftSystem system = lip_and_ring();
  const component::SpeedGrid grid(system, speeds);
  component::ShaftTable table(system, grid, dry);
  const component::Surroundings around{from_celsius(47.0), dry};
  std::vector<double> torque_Nm(2);
  for (const double rpm : {0.0, 500.0, 3000.0, 8000.0}) {
    CAPTURE(rpm);
    const auto exact = component::solve(system, from_rpm(rpm), around);
    const auto into_oil_W = table.at(grid.place(from_rpm(rpm)), around.oil, true, torque_Nm);
    REQUIRE(into_oil_W);
    CHECK(*into_oil_W == Approx(component::into_oil(system, exact).value()).epsilon(1e-7));
    for (std::size_t c = 0; c < 2 && rpm > 0.0; ++c)
      CHECK(torque_Nm[c] == Approx(exact.contacts[c].torque.value()).epsilon(1e-7));
  }
  CHECK_FALSE(table.at(grid.place(from_rpm(4000.0)), around.oil, true, torque_Nm));
}

TEST_CASE("more contacts than a row holds have to be solved", "[component]") {
  std::vector<component::ShaftContact> many;
  for (int c = 0; c < 8; ++c) many.push_back(ring(0.01_N_mm, (2.0 * c) * 1.0_mm));
  const component::ShaftSystem system = shaft(std::move(many));
  const component::SpeedGrid grid(system, up_to(3000.0));
  component::ShaftTable table(system, grid, dry);
  CHECK_FALSE(table.panel(from_celsius(40.0), false).tabulated);
  // Seven fill a row of two steps.
  component::ShaftSystem fewer = system;
  fewer.contacts.pop_back();
  CHECK(worst_difference(fewer, 21.0, 99.0, false) < 1e-4);
}

TEST_CASE("a panel ends where the modulus of a body in oil bends", "[component]") {
  component::ShaftSystem soft = lip_and_ring();
  soft.contacts[0].softening = component::Softening{
      0.7, {{from_celsius(0.0), 1.2}, {from_celsius(50.0), 0.8}, {from_celsius(60.0), 0.7}}};
  const component::SpeedGrid grid(soft, up_to(3000.0));
  component::ShaftTable table(soft, grid, dry);
  const auto ends = [&](double degC) {
    const auto& panel = table.panel(from_celsius(degC), false);
    return std::pair{panel.low_K - 273.15, panel.high_K - 273.15};
  };
  // Two of 25 K between bends 50 K apart; 40 K beyond the last, up to the first.
  CHECK(ends(30.0).first == Approx(25.0));
  CHECK(ends(30.0).second == Approx(50.0));
  CHECK(ends(55.0).first == Approx(50.0));
  CHECK(ends(55.0).second == Approx(60.0));
  CHECK(ends(101.0).first == Approx(100.0));
  CHECK(ends(-1.0).second == Approx(0.0).margin(1e-9));
}

TEST_CASE("a speed beyond the grid has to be solved", "[component]") {
  const component::ShaftSystem system = lip_and_ring();
  const component::SpeedGrid grid(system, up_to(3000.0));
  component::ShaftTable table(system, grid, dry);
  std::vector<double> torque_Nm(2);
  CHECK(table.at(grid.place(from_rpm(-2999.0)), from_celsius(40.0), false, torque_Nm));
  CHECK_FALSE(table.at(grid.place(from_rpm(3001.0)), from_celsius(40.0), false, torque_Nm));
}

TEST_CASE("what may run away is not tabulated", "[component]") {
  // Thinning oil loads a solid contact whose friction is far above the film's: near the fold beyond
  // which only the hot state is left, the loop gain passes one half.
  auto steep = lip(0.12_N_mm, 0.0_mm);
  auto& law = std::get<contact::MixedFilm>(steep.law);
  law.boundary_friction = 1.5;
  law.film_coefficient = 3.0;
  law.transition_duty = 2e-4;
  law.load_share_exponent = 4.0;
  component::ShaftSystem system = shaft({steep});
  system.oil_side = system.dry_side = contact::FixedFilm{31.2_W_m2K};
  REQUIRE(component::solve(system, from_rpm(3000.0), warm).loop_gain > 0.5);
  const component::SpeedGrid grid(system, up_to(3000.0));
  component::ShaftTable table(system, grid, warm.dry);
  std::vector<double> torque_Nm(1);
  CHECK_FALSE(table.at(grid.place(from_rpm(2000.0)), warm.oil, true, torque_Nm));
  CHECK_FALSE(table.at(grid.place(from_rpm(2000.0)), warm.oil, false, torque_Nm));
}
