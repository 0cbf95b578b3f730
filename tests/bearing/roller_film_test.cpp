#include <cmath>
#include <numbers>
#include <numeric>

#include "bearing/reference_bearings.hpp"
#include "ohmdrag/bearing/film.hpp"
#include "ohmdrag/bearing/roller_load.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::bearing;
using namespace ohmdrag::test;

namespace {

Length um(double value) { return Length::from_value(value * 1e-6); }

/// Fits 40 x 80 x 18 mm: 13 rollers of 11 x 11 mm.
RollerBearing rollers(double contact_angle = 0.0, int count = 13) {
  return {.rollers = count,
          .roller_diameter = 11.0_mm,
          .pitch_diameter = 60.0_mm,
          .roller_length = 11.0_mm,
          .contact_angle = contact_angle};
}

FilmMaterial film_material() {
  return {.steel = steel,
          .alpha_p = PerPressure::from_value(2e-8),
          .film_factor = 1.0,
          .roughness = 0.1_um,
          .permittivity = 2.3,
          .capacitance_factor = 5.7};
}

FilmModel film_of(const RollerBearing& bearing, Force radial, Force axial) {
  const std::vector<std::vector<Force>> loads{roller_loads(bearing, radial, axial)};
  return FilmModel(bearing, film_material(), loads);
}

}  // namespace

TEST_CASE("the worst of many rollers carries 4.08 F_r/Z", "[derived]") {
  const RollerBearing many = rollers(0.0, 1000);
  const auto loads = roller_loads(many, 1000.0_N, Force{});
  CHECK_THAT(loads.front(), near(stribeck_roller_load(many, 1000.0_N), 2e-3));
}

TEST_CASE("roller loads are in balance at every cage position", "[derived]") {
  const double angle = GENERATE(0.0, 0.25);
  const double phase = GENERATE(0.0, 0.3, 0.5);
  const RollerBearing bearing = rollers(angle);
  const Force axial = GENERATE(0.0_N, 200.0_N, 2000.0_N);
  const auto loads = roller_loads(bearing, 1500.0_N, axial, phase);
  double radial_N = 0.0, axial_N = 0.0;
  for (int i = 0; i < bearing.rollers; ++i) {
    const double load_N = loads[static_cast<std::size_t>(i)].value();
    radial_N +=
        load_N * std::cos(angle) * std::cos(2.0 * std::numbers::pi * (i + phase) / bearing.rollers);
    axial_N += load_N * std::sin(angle);
  }
  CHECK_THAT(radial_N, near(1500.0, 1e-9));
  // Up to what the radial load pushes by the cones alone, the partner holds.
  if (angle > 0.0 && axial > 1000.0_N) CHECK_THAT(axial_N, near(2000.0, 1e-9));
}

TEST_CASE("a pure axial load is shared evenly by tapered rollers", "[derived]") {
  for (const Force& load : roller_loads(rollers(0.25), Force{}, 1000.0_N))
    CHECK_THAT(load, near(Force::from_value(1000.0 / (13.0 * std::sin(0.25))), 1e-12));
  CHECK_THROWS_AS(roller_loads(rollers(), Force{}, 1000.0_N), std::invalid_argument);
  CHECK_THROWS_AS(roller_loads(rollers(0.25), Force{}, Force{}), std::invalid_argument);
}

TEST_CASE("the prepared model of rollers agrees with the formulas", "[derived]") {
  const RollerBearing bearing = rollers();
  const auto loads = roller_loads(bearing, 2000.0_N, Force{});
  const Speed u = entrainment_speed(bearing, 3000.0_rpm);
  const Pressure modulus = reduced_modulus(steel, steel);
  double capacitance_F = 0.0, area_m2 = 0.0;
  int unloaded = 0;
  for (const Force& load : loads) {
    if (!(load > Force{})) {
      ++unloaded;
      continue;
    }
    double per_ring_F[2];
    const Length radii[] = {inner_radius(bearing), outer_radius(bearing)};
    for (int ring = 0; ring < 2; ++ring) {
      const LineContact contact{.rolling_radius = radii[ring],
                                .line = 11.0_mm,
                                .reduced_modulus = modulus,
                                .alpha_p = PerPressure::from_value(2e-8),
                                .load = load};
      const auto strip = contact_strip(radii[ring], 11.0_mm, modulus, load);
      const Area area = 2.0 * strip.half_width * contact.line;
      per_ring_F[ring] =
          film_capacitance(5.7 * 2.3, area, central_film(contact, 0.02_Pa_s, u)).value();
      if (ring == 0) area_m2 += area.value();
    }
    capacitance_F += per_ring_F[0] * per_ring_F[1] / (per_ring_F[0] + per_ring_F[1]);
  }
  const auto state = film_of(bearing, 2000.0_N, Force{}).at(3000.0_rpm, 0.02_Pa_s);
  CHECK_THAT(state.capacitance.value(), near(capacitance_F, 1e-9));
  CHECK_THAT(state.area_inner.value(), near(area_m2, 1e-9));
  CHECK(state.unloaded == unloaded);
  const LineContact worst{.rolling_radius = inner_radius(bearing),
                          .line = 11.0_mm,
                          .reduced_modulus = modulus,
                          .alpha_p = PerPressure::from_value(2e-8),
                          .load = loads.front()};
  CHECK_THAT(state.minimum_inner, near(minimum_film(worst, 0.02_Pa_s, u), 1e-9));
  CHECK_THAT(state.central_inner, near(central_film(worst, 0.02_Pa_s, u), 1e-9));
  CHECK_FALSE(state.conducting);
}

TEST_CASE("films of rollers behave as films do", "[derived]") {
  const FilmModel model = film_of(rollers(), 2000.0_N, Force{});
  CHECK(model.at(AngularVelocity{}, 0.02_Pa_s).conducting);
  CHECK(model.at(5.0_rpm, 0.02_Pa_s).conducting);
  const auto slow = model.at(3000.0_rpm, 0.02_Pa_s), fast = model.at(9000.0_rpm, 0.02_Pa_s);
  CHECK_THAT(fast.minimum_inner, near(std::pow(3.0, 0.70) * slow.minimum_inner, 1e-9));
  CHECK_THAT(fast.capacitance, near(std::pow(3.0, -0.69) * slow.capacitance, 1e-9));
  CHECK_THAT(model.entrainment(-3000.0_rpm), near(entrainment_speed(rollers(), 3000.0_rpm), 1e-12));
  CHECK(film_of(rollers(), 4000.0_N, Force{}).at(3000.0_rpm, 0.02_Pa_s).minimum_inner <
        slow.minimum_inner);
  CHECK(slow.minimum_inner > um(0.1));
}

TEST_CASE("a roller bearing without its parts is refused", "[derived]") {
  RollerBearing bearing = rollers();
  bearing.roller_length = Length{};
  CHECK_THROWS_AS(roller_loads(bearing, 1000.0_N, Force{}), std::invalid_argument);
  bearing = rollers();
  bearing.pitch_diameter = 10.0_mm;
  CHECK_THROWS_AS(roller_loads(bearing, 1000.0_N, Force{}), std::invalid_argument);
  CHECK_THROWS_AS(roller_loads_over_phase(rollers(), 1000.0_N, Force{}, 0), std::invalid_argument);
}
