#include "ohmdrag/component/mesh_film.hpp"

#include <cmath>
#include <numbers>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::component;
using test::near;

namespace {

constexpr double deg = std::numbers::pi / 180.0;

const GearPair pair = unshifted_pair(25, 80, 2.0_mm, 20.0 * deg, 20.0 * deg, 30.0_mm);
const MeshGeometry geometry = mesh_geometry(pair);
const bearing::FilmMaterial film_material{.steel = {206.0_GPa, 0.3},
                                          .alpha_p = PerPressure::from_value(1.6e-8),
                                          .film_factor = 1.0,
                                          .roughness = 0.1_um,
                                          .permittivity = 2.3,
                                          .capacitance_factor = 5.7};

std::optional<MeshFilm> film(double torque_Nm, double rpm) {
  return mesh_film(pair, geometry, film_material, 8.5_mPa_s, Torque::from_value(torque_Nm),
                   from_rpm(rpm));
}

}  // namespace

TEST_CASE("film and capacitance of a mesh", "[derived]") {
  // Own arithmetic in another language: 25/80 teeth of 2 mm, 20 degrees, 150 N m at 6000 1/min.
  const auto mesh = film(150.0, 6000.0);
  REQUIRE(mesh);
  CHECK_THAT(mesh_entrainment(pair, geometry, 6000.0_rpm), near(Speed::from_value(6.037549), 1e-6));
  CHECK_THAT(mesh->minimum, near(Length::from_value(2.3572406e-7), 1e-6));
  CHECK_THAT(mesh->central, near(Length::from_value(3.1133290e-7), 1e-6));
  CHECK_THAT(mesh->half_width, near(Length::from_value(1.3239452e-4), 1e-6));
  CHECK_THAT(mesh->area.value(), near(1.2483144e-5, 1e-6));
  CHECK_THAT(mesh->capacitance, near(Capacitance::from_value(4.6542573e-9), 1e-6));
  CHECK_THAT(mesh->film_ratio, near(2.3572406, 1e-6));
  CHECK_FALSE(mesh->conducting);
}

TEST_CASE("neither direction matters to the film of a mesh", "[derived]") {
  const auto forth = film(150.0, 6000.0), back = film(-150.0, -6000.0);
  CHECK(forth->minimum == back->minimum);
  CHECK(forth->capacitance == back->capacitance);
}

TEST_CASE("a slow mesh conducts, one without torque touches nowhere", "[derived]") {
  CHECK(film(150.0, 0.0)->conducting);
  CHECK(film(150.0, 0.0)->capacitance == Capacitance{});
  CHECK(film(150.0, 300.0)->conducting);
  CHECK_FALSE(film(0.0, 6000.0));
  // Little torque, hardly more film.
  CHECK_THAT(film(15.0, 6000.0)->minimum,
             near(std::pow(10.0, 0.13) * film(150.0, 6000.0)->minimum, 1e-9));
}
