#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "ohmdrag/contact/force_loss.hpp"
#include "ohmdrag/contact/lip_wear.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/data_file.hpp"
#include "support/near.hpp"

// Wear by J. F. Archard, J. Appl. Phys. 24 (1953) 981, from memory: V = k F s. Values are our
// arithmetic.

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using test::near;
using test::within;

namespace {

constexpr double degree = std::numbers::pi / 180.0;
constexpr WearRate mm3_Nm = WearRate::from_value(1e-9);
constexpr LipEdge lip{
    .air_angle_rad = 25.0 * degree, .oil_angle_rad = 45.0 * degree, .new_width = 0.15_mm};
constexpr Length way = 10.0_m_s * 1000.0_h;

}  // namespace

TEST_CASE("brushes wear by pressure and speed", "[published][formula]") {
  struct Row {
    double wear_rate_mm3_Nm;
    Length depth;
    double tolerance;
  };
  // Carbon brush 2e-6 from memory; copper fibre brush without current 1.2e-5, as quoted in the
  // abstract of a paper on copper fibre brushes. 30 kPa, 12.57 m/s, 1000 h.
  const auto row = GENERATE(Row{2e-6, 2.72_mm, 3e-3}, Row{1.2e-5, 16.3_mm, 2e-3});
  const WearRate k = row.wear_rate_mm3_Nm * mm3_Nm;
  CHECK_THAT(wear_depth_rate(k, 30000.0_Pa, 12.57_m_s) * 1000.0_h, near(row.depth, row.tolerance));
  CHECK_THAT(wear_out_time(row.depth, k, 30000.0_Pa, 12.57_m_s), near(1000.0_h, row.tolerance));
}

TEST_CASE("a lip widens and shortens as it wears", "[published][derived]") {
  CHECK(width_per_depth(lip) == Approx(3.1445).epsilon(1e-5));
  const Length width = worn_width(lip, 1e-8 * mm3_Nm, 0.1_N_mm, way);
  CHECK_THAT(width, near(0.4989_mm, 1e-3));
  CHECK_THAT(worn_width(lip, 1e-9 * mm3_Nm, 0.1_N_mm, way), near(0.2125_mm, 1e-3));
  // From the new flat; a sharp edge would have lost width/K = 0.1587 mm.
  CHECK_THAT(radial_wear(lip, width), within(0.1110_mm, 0.0001_mm));
  CHECK_THAT(width / width_per_depth(lip), near(0.1587_mm, 1e-3));
}

TEST_CASE("remembered worn bands give the wear rates of a lip", "[published][derived]") {
  struct Row {
    double wear_rate_mm3_Nm;
    Length width;
  };
  // Bands of 0.3, 0.5 and 0.8 mm after 1000 h at 10 m/s and 0.1 N/mm, from memory; wear rates to
  // two digits.
  const auto row = GENERATE(Row{3.0e-9, 0.3_mm}, Row{1.0e-8, 0.5_mm}, Row{2.7e-8, 0.8_mm});
  CHECK_THAT(worn_width(lip, row.wear_rate_mm3_Nm * mm3_Nm, 0.1_N_mm, way), near(row.width, 0.01));
}

TEST_CASE("a hardened shaft is grooved by some 10 um in 1000 h", "[published][derived]") {
  // 0.6 MPa at 10 m/s, from memory: 5e-10 mm3/(N m) gives 10.8 um.
  CHECK_THAT(groove_depth(5e-10 * mm3_Nm, 0.12_N_mm, 0.2_mm, way), near(10.8_um, 1e-12));
}

TEST_CASE("an elastic ring keeps a third of its force over 150 000 km", "[published][derived]") {
  // 10 N/m, 1 mm, 5e-6 mm3/(N m), 4 mm, 9.37e7 m of sliding.
  const ElasticRing ring{.line_force = 10.0_N_m, .deflection = 1.0_mm, .width = 4.0_mm};
  const auto worn = ring_force(ring, 5e-6 * mm3_Nm, 9.37e7_m);
  const double left = (worn.line_force / ring.line_force).value();
  CHECK(left == Approx(0.31).margin(0.005));
  CHECK(std::pow(left, -0.75) == Approx(2.4).margin(0.05));  // contact resistance at exponent 0.75
  // In half a millimetre of width it is worn out: eight times the exponent, 9.4.
  ElasticRing narrow = ring;
  narrow.width = 0.5_mm;
  const auto out = ring_force(narrow, 5e-6 * mm3_Nm, 9.37e7_m);
  CHECK(-std::log((out.line_force / ring.line_force).value()) == Approx(9.4).margin(0.05));
}

TEST_CASE("the shipped wear rates of papers are the printed ones", "[published][printed]") {
  struct Row {
    const char* id;
    double low_mm3_Nm, high_mm3_Nm;
  };
  // PTFE: Zhen et al., Lubricants 11(8) (2023) 312. Fibre brushes: as quoted in abstracts of papers
  // on copper and on silver-carbon fibre brushes.
  const auto row =
      GENERATE(Row{"ptfe-unfilled-dry", 4.2e-4, 1.3e-3}, Row{"copper-fibre-brush", 1.2e-5, 1.2e-5},
               Row{"silver-carbon-fibre-brush", 4.4e-6, 4.4e-6});
  const toml::table file = test::data_file("seal_materials.toml");
  const toml::table& entry = *file["wear"][row.id].as_table();
  const auto rate = test::data_number(entry, "wear_rate", Dimension::wear_rate);
  CHECK(1e9 * (rate.mid - rate.half_width) == Approx(row.low_mm3_Nm).epsilon(1e-9));
  CHECK(1e9 * (rate.mid + rate.half_width) == Approx(row.high_mm3_Nm).epsilon(1e-9));
  CHECK(test::data_basis(entry, "wear_rate") == "paper");
}

TEST_CASE("every shipped wear rate can be read", "[published][derived]") {
  const toml::table file = test::data_file("seal_materials.toml");
  for (const auto& [id, node] : *file["wear"].as_table()) {
    CAPTURE(std::string(id.str()));
    CHECK(test::data_number(*node.as_table(), "wear_rate", Dimension::wear_rate).mid > 0.0);
  }
}

TEST_CASE("a remembered brush wear gives the wear rate of a carbon brush", "[published][derived]") {
  // 3 mm in 1000 h at 20 kPa and 20 m/s, from memory: about 2e-6 mm3/(N m).
  const Speed rate = wear_depth_rate(2e-6 * mm3_Nm, 20000.0_Pa, 20.0_m_s);
  CHECK_THAT(rate * 1000.0_h, near(3.0_mm, 0.05));
  const toml::table file = test::data_file("seal_materials.toml");
  const toml::table& entry = *file["wear"]["carbon-brush"].as_table();
  CHECK(1e9 * test::data_number(entry, "wear_rate", Dimension::wear_rate).mid ==
        Approx(2e-6).epsilon(1e-9));
}

TEST_CASE("what a ring slides and sheds over 150 000 km of a van", "[published][derived]") {
  // 4971 1/min at 60 km/h on 40 mm: 9.37e7 m. Debris rho k F s of 10 N/m, at 1800 kg/m3 from
  // memory: 589 mm3, 1.06 g, by hand.
  const Time driving = Length(150000.0_km) / Speed(60.0_kmh);
  const Length way = rim_speed(4971.0_rpm, 20.0_mm) * driving;
  CHECK_THAT(way, near(9.37e7_m, 1e-3));
  const Force load = 10.0_N_m * (std::numbers::pi * 40.0_mm);
  CHECK_THAT(debris_mass(1800.0_kg_m3, 5e-6 * mm3_Nm, load, way), near(1.06e-3_kg, 2e-3));
}

TEST_CASE("wear takes away what presses: each elastic contact at its own pace",
          "[published][derived]") {
  // A spring of constant force keeps a brush pressed until its length is used, an elastic ring
  // unloads itself: force and wear stay on the ring's own spring line.
  const ElasticRing ring{.line_force = 10.0_N_m, .deflection = 1.0_mm, .width = 4.0_mm};
  for (const Length& way : {1e6_m, 1e7_m, 9.37e7_m, 1e9_m}) {
    const auto worn = ring_force(ring, 5e-6 * mm3_Nm, way);
    CHECK((worn.line_force / ring.line_force).value() ==
          Approx(1.0 - (worn.wear / ring.deflection).value()).epsilon(1e-9).margin(1e-12));
  }
}
