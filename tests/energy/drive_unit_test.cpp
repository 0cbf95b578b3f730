#include "ohmdrag/energy/drive_unit.hpp"

#include <array>

#include "energy/sample_unit.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

struct Point {
  std::array<AngularVelocity, 1> speed;
  std::array<Torque, 1> torque{};
  std::array<Temperature, 1> dry{from_celsius(60.0)};
  Temperature oil = from_celsius(70.0);

  energy::Running running() const { return {speed, torque, dry, oil}; }
};

Power sum(const std::vector<energy::PartLoss>& losses) {
  Power total{};
  for (const auto& loss : losses) total += loss.power;
  return total;
}

}  // namespace

TEST_CASE("torque times speed is power for every part", "[energy]") {
  const auto unit = sample_unit();
  for (const double rpm : {1.0, 300.0, 5000.0, 40000.0}) {
    const Point at{.speed = {from_rpm(rpm)}};
    for (const auto& loss : energy::losses_at(unit, at.running()))
      CHECK_THAT(loss.torque * at.speed[0], near(loss.power, 1e-12));
  }
}

TEST_CASE("a shaft at rest loses nothing and a reversed one loses the same", "[energy]") {
  const auto unit = sample_unit();
  const Point rest{.speed = {0.0_rpm}};
  CHECK(sum(energy::losses_at(unit, rest.running())) == Power{});
  const Point ahead{.speed = {3000.0_rpm}}, back{.speed = {-3000.0_rpm}};
  CHECK_THAT(sum(energy::losses_at(unit, back.running())),
             near(sum(energy::losses_at(unit, ahead.running())), 1e-12));
}

TEST_CASE("friction of the contacts leaves to the sump or to the dry side", "[energy]") {
  const auto unit = sample_unit();
  const Point at{.speed = {6000.0_rpm}};
  energy::LossModel model(unit);
  std::vector<energy::PartLoss> losses(unit.parts.size());
  const Power into_sump = model.at(at.running(), losses);
  const auto& shaft = model.shafts()[0];
  // Heat out = friction in, over the whole unit: what does not reach the sump leaves dry.
  Power dry = shaft.into_dry_side;
  for (std::size_t i = 0; i < unit.shafts[0].contacts.size(); ++i)
    if (!unit.shafts[0].contacts[i].body_in_oil) dry += shaft.contacts[i].into_body;
  CHECK_THAT(into_sump + dry, near(sum(losses), 1e-9));
}

TEST_CASE("own and net power differ only where a part warms a neighbour", "[energy]") {
  const auto unit = sample_unit();
  const Point at{.speed = {6000.0_rpm}};
  const auto losses = energy::losses_at(unit, at.running());
  // The ring warms the lip, whose oil thins: the pair costs less than both alone.
  const Power ring = energy::net_power(unit, at.running(), 1);
  CHECK(ring < losses[1].power);
  CHECK(ring > 0.5 * losses[1].power);
  for (const std::size_t part : {2u, 3u})
    CHECK_THAT(energy::net_power(unit, at.running(), part), near(losses[part].power, 1e-9));
}

TEST_CASE("taking a part away leaves the others at their places", "[energy]") {
  const auto unit = sample_unit();
  const auto rest = energy::without(unit, 0);
  REQUIRE(rest.parts.size() == 3);
  CHECK(rest.parts[0].id == "grounding");
  CHECK(std::get<energy::ContactPart>(rest.parts[0].form).contact == 0);
  CHECK(rest.shafts[0].contacts.size() == 1);
  CHECK(rest.shafts[0].contacts[0].id == "grounding");
}

TEST_CASE("bearing loads are linear between rows and say when they are held", "[energy]") {
  const energy::LoadCurve curve({-60.0_Nm, 0.0_Nm, 120.0_Nm}, {700.0_N, 150.0_N, 1300.0_N},
                                {200.0_N, 80.0_N, 350.0_N});
  CHECK_THAT(curve.at(60.0_Nm).radial, near(725.0_N, 1e-12));
  CHECK_THAT(curve.at(-30.0_Nm).axial, near(140.0_N, 1e-12));
  CHECK(!curve.at(120.0_Nm).held);
  CHECK(curve.at(121.0_Nm).held);
  CHECK_THAT(curve.at(121.0_Nm).radial, near(1300.0_N, 1e-12));
  CHECK_THROWS_AS(energy::LoadCurve({1.0_Nm, 1.0_Nm}, {1.0_N, 1.0_N}, {0.0_N, 0.0_N}),
                  std::invalid_argument);
  CHECK_THROWS_AS(energy::LoadCurve({}, {}, {}), std::invalid_argument);
}

TEST_CASE("a running state of another size is refused", "[energy]") {
  const auto unit = sample_unit();
  const Point at{.speed = {100.0_rpm}};
  energy::LossModel model(unit);
  std::vector<energy::PartLoss> too_few(2);
  CHECK_THROWS_AS(model.at(at.running(), too_few), std::invalid_argument);
}

TEST_CASE("a gas face seal takes its gas from the dry side and heats the sump", "[energy]") {
  const component::GasFaceSeal faces{.faces = {20.0_mm, 24.0_mm},
                                     .boundary_friction = 0.15,
                                     .contact_force = 15.0_N,
                                     .lift_off = 1000.0_rpm,
                                     .reference_film = 3.0_um,
                                     .film_speed = 15000.0_rpm,
                                     .least_film = 0.5_um,
                                     .highest_film = 8.0_um};
  const Pressure atmosphere = Pressure::from_value(101325.0);
  const energy::DriveUnit unit{{sample_shaft({})},
                               {{"seal", energy::FaceSealPart{0, faces, atmosphere}}}};
  const Point at{.speed = {15000.0_rpm}, .dry = {from_celsius(100.0)}};
  energy::LossModel model(unit);
  std::vector<energy::PartLoss> losses(1);
  const Power into_sump = model.at(at.running(), losses);
  // Gas film with slip, 20/24 mm, 3 um, air at 100 °C and 101 325 Pa: derived, Couette flow.
  CHECK_THAT(losses[0].power, near(4.556_W, 1e-3));
  CHECK_THAT(into_sump, near(losses[0].power, 1e-12));
  const Point rest{.speed = {0.0_rpm}};
  CHECK(energy::losses_at(unit, rest.running())[0].power == Power{});
}
