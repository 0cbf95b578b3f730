#include "ohmdrag/contact/lip_wear.hpp"

#include <cmath>
#include <limits>
#include <numbers>

#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;

namespace {

constexpr double degree = std::numbers::pi / 180.0;
constexpr WearRate mm3_Nm = WearRate::from_value(1e-9);
constexpr LipEdge edge{
    .air_angle_rad = 25.0 * degree, .oil_angle_rad = 45.0 * degree, .new_width = 0.15_mm};
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

}  // namespace

TEST_CASE("without load, way or wear rate nothing wears", "[derived]") {
  CHECK(worn_volume(1e-8 * mm3_Nm, 0.0_N, 1000.0_km) == Volume{});
  CHECK(worn_volume(1e-8 * mm3_Nm, 10.0_N, 0.0_km) == Volume{});
  CHECK(worn_volume(0.0 * mm3_Nm, 10.0_N, 1000.0_km) == Volume{});
  CHECK(wear_depth_rate(1e-8 * mm3_Nm, 0.0_Pa, 10.0_m_s) == Speed{});
  CHECK(wear_depth_rate(1e-8 * mm3_Nm, 1.0_MPa, 0.0_m_s) == Speed{});
}

TEST_CASE("worn volume is the product of wear rate, load and way", "[derived]") {
  // 1e-6 mm3/(N m) * 2 N * 1e6 m = 2 mm3; at 1800 kg/m3 3.6 mg.
  CHECK_THAT(worn_volume(1e-6 * mm3_Nm, 2.0_N, 1000.0_km), near(Volume::from_value(2e-9), 1e-12));
  CHECK_THAT(debris_mass(1800.0_kg_m3, 1e-6 * mm3_Nm, 2.0_N, 1000.0_km), near(3.6e-6_kg, 1e-12));
}

TEST_CASE("wear does not ask for the direction of turning", "[derived]") {
  CHECK(wear_depth_rate(1e-8 * mm3_Nm, 1.0_MPa, -10.0_m_s) ==
        wear_depth_rate(1e-8 * mm3_Nm, 1.0_MPa, 10.0_m_s));
}

TEST_CASE("a brush at rest or without pressure never wears out", "[derived]") {
  CHECK(std::isinf(wear_out_time(5.0_mm, 2e-6 * mm3_Nm, 30000.0_Pa, 0.0_m_s).value()));
  CHECK(std::isinf(wear_out_time(5.0_mm, 2e-6 * mm3_Nm, 0.0_Pa, 10.0_m_s).value()));
  CHECK(std::isinf(wear_out_time(0.0_mm, 2e-6 * mm3_Nm, 0.0_Pa, 10.0_m_s).value()));
  CHECK(wear_out_time(0.0_mm, 2e-6 * mm3_Nm, 30000.0_Pa, 10.0_m_s) == Time{});
}

TEST_CASE("a brush wears its length in its wear-out time", "[derived]") {
  const Time life = wear_out_time(5.0_mm, 2e-6 * mm3_Nm, 30000.0_Pa, 12.57_m_s);
  CHECK_THAT(life * wear_depth_rate(2e-6 * mm3_Nm, 30000.0_Pa, 12.57_m_s), near(5.0_mm, 1e-14));
}

TEST_CASE("a new lip has its new flat and no wear", "[derived]") {
  CHECK_THAT(worn_width(edge, 1e-8 * mm3_Nm, 0.1_N_mm, 0.0_km), near(0.15_mm, 1e-15));
  CHECK(radial_wear(edge, 0.15_mm) == Length{});
}

TEST_CASE("a long-worn lip widens as the root of its way", "[derived]") {
  const Length once = worn_width(edge, 1e-8 * mm3_Nm, 0.1_N_mm, 1e8_m);
  const Length four_times = worn_width(edge, 1e-8 * mm3_Nm, 0.1_N_mm, 4e8_m);
  CHECK((four_times / once).value() == Approx(2.0).epsilon(0.02));
}

TEST_CASE("a lip wears the same in two legs as in one", "[derived]") {
  LipEdge later = edge;
  later.new_width = worn_width(edge, 1e-8 * mm3_Nm, 0.1_N_mm, 1e7_m);
  CHECK_THAT(worn_width(later, 1e-8 * mm3_Nm, 0.1_N_mm, 2e7_m),
             near(worn_width(edge, 1e-8 * mm3_Nm, 0.1_N_mm, 3e7_m), 1e-14));
}

TEST_CASE("the section worn off the edge is the volume worn off per length", "[derived]") {
  // Trapezium between the new and the worn flat, against k F' s.
  const Length way = 3.6e7_m;
  const Length width = worn_width(edge, 1e-8 * mm3_Nm, 0.1_N_mm, way);
  const Area section = 0.5 * (width + edge.new_width) * radial_wear(edge, width);
  CHECK_THAT(section, near(Area::from_value(1e-17 * 100.0 * 3.6e7), 1e-12));
}

TEST_CASE("the groove under a lip is its wear times the ratio of wear rates", "[derived]") {
  const Length way = 3.6e7_m;
  const Length width = worn_width(edge, 1e-8 * mm3_Nm, 0.1_N_mm, way);
  CHECK_THAT(groove_depth(5e-10 * mm3_Nm, edge, 1e-8 * mm3_Nm, 0.1_N_mm, way),
             near(0.05 * radial_wear(edge, width), 1e-12));
}

TEST_CASE("a lip that does not wear grinds under its new flat", "[derived]") {
  CHECK_THAT(groove_depth(5e-10 * mm3_Nm, edge, 0.0 * mm3_Nm, 0.1_N_mm, 1e7_m),
             near(groove_depth(5e-10 * mm3_Nm, 0.1_N_mm, 0.15_mm, 1e7_m), 1e-14));
}

TEST_CASE("undefined wear is refused", "[derived]") {
  CHECK_THROWS_AS(worn_volume(-1.0 * mm3_Nm, 1.0_N, 1.0_m), std::invalid_argument);
  CHECK_THROWS_AS(worn_volume(1.0 * mm3_Nm, -1.0_N, 1.0_m), std::invalid_argument);
  CHECK_THROWS_AS(worn_volume(1.0 * mm3_Nm, 1.0_N, not_a_number * 1.0_m), std::invalid_argument);
  CHECK_THROWS_AS(debris_mass(0.0_kg_m3, 1.0 * mm3_Nm, 1.0_N, 1.0_m), std::invalid_argument);
  CHECK_THROWS_AS(wear_depth_rate(1.0 * mm3_Nm, not_a_number * 1.0_Pa, 1.0_m_s),
                  std::invalid_argument);
  CHECK_THROWS_AS(wear_depth_rate(1.0 * mm3_Nm, 1.0_Pa, not_a_number * 1.0_m_s),
                  std::invalid_argument);
  CHECK_THROWS_AS(wear_out_time(-1.0_mm, 1.0 * mm3_Nm, 1.0_Pa, 1.0_m_s), std::invalid_argument);
  CHECK_THROWS_AS(radial_wear(edge, 0.1_mm), std::invalid_argument);
  CHECK_THROWS_AS(groove_depth(1.0 * mm3_Nm, 1.0_N_m, 0.0_mm, 1.0_m), std::invalid_argument);
  LipEdge flat = edge;
  flat.oil_angle_rad = 0.0;
  CHECK_THROWS_AS(width_per_depth(flat), std::invalid_argument);
  flat = edge;
  flat.air_angle_rad = 2.0;
  CHECK_THROWS_AS(width_per_depth(flat), std::invalid_argument);
  flat = edge;
  flat.new_width = 0.0_mm;
  CHECK_THROWS_AS(groove_depth(1.0 * mm3_Nm, flat, 0.0 * mm3_Nm, 1.0_N_m, 1.0_m),
                  std::invalid_argument);
}
