#include <catch2/catch.hpp>

#include "ohmdrag/material/seal_limits.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/data_file.hpp"
#include "support/near.hpp"

// Lip seals in the handbook: M. J. Neale, The Tribology Handbook, 2nd ed., p. B23.2 (speed of
// conventional rubber lips) and p. B23.3 (temperature ranges of the rubbers).

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::material;
using test::near;
using test::within;

namespace {

LipSpeedChart conventional_rubber() {
  const toml::table file = test::data_file("seal_materials.toml");
  const toml::table& entry = *file["lip_speed_chart"]["conventional-rubber"].as_table();
  const auto length = [&](const char* key) {
    return Length::from_value(test::data_number(entry, key, Dimension::length).mid);
  };
  const auto turning = [&](const char* key) {
    return AngularVelocity::from_value(
        test::data_number(entry, key, Dimension::rotational_speed).mid);
  };
  return {.small_diameter = length("small_diameter"),
          .small_speed = turning("small_speed"),
          .large_diameter = length("large_diameter"),
          .large_speed = turning("large_speed"),
          .beyond = Speed::from_value(test::data_number(entry, "beyond", Dimension::speed).mid)};
}

}  // namespace

TEST_CASE("15 m/s is about 8000 1/min at 35 mm and 4000 1/min at 75 mm", "[published][printed]") {
  // p. B23.2 prints all three "about": n = 60 v/(pi d) must bring them together within 5 %.
  CHECK_THAT(speed_limit(15.0_m_s, 35.0_mm), near(8000.0_rpm, 0.05));
  CHECK_THAT(speed_limit(15.0_m_s, 75.0_mm), near(4000.0_rpm, 0.05));
}

TEST_CASE("the lip speed chart returns the speeds it was printed with", "[published][printed]") {
  const auto chart = conventional_rubber();
  struct Row {
    Length diameter;
    AngularVelocity speed;
  };
  const auto row = GENERATE(Row{35.0_mm, 8000.0_rpm}, Row{75.0_mm, 4000.0_rpm});
  const Speed allowed = chart_surface_speed(chart, row.diameter);
  CHECK_THAT(speed_limit(allowed, row.diameter), near(row.speed, 1e-12));
  CHECK(chart_surface_speed(chart, 100.0_mm) == 15.0_m_s);
}

TEST_CASE("surface speeds of the lip speed chart", "[published][derived]") {
  const auto chart = conventional_rubber();
  CHECK_THAT(chart_surface_speed(chart, 35.0_mm), near(14.66_m_s, 1e-3));
  CHECK_THAT(chart_surface_speed(chart, 75.0_mm), near(15.71_m_s, 1e-3));
  // 16 m/s is beyond the chart at every diameter.
  for (double d_mm = 10.0; d_mm < 200.0; d_mm += 5.0)
    CHECK_FALSE(below(chart_surface_speed(chart, d_mm * 1.0_mm), 16.0_m_s).kept());
}

TEST_CASE("continuous temperature ranges of sealing materials", "[published][printed]") {
  struct Row {
    const char* id;
    Temperature low, high;
  };
  // p. B23.3; its selection page prints 130 degC for nitrile and -40 degC for fluorocarbon rubber.
  const auto row = GENERATE(
      Row{"nbr", from_celsius(-40.0), 100.0_degC}, Row{"acm", from_celsius(-20.0), 130.0_degC},
      Row{"vmq", from_celsius(-70.0), 200.0_degC}, Row{"fkm", from_celsius(-30.0), 200.0_degC},
      Row{"ptfe", from_celsius(-100.0), 280.0_degC});
  CAPTURE(row.id);
  const toml::table file = test::data_file("seal_materials.toml");
  const toml::table& entry = *file["seal_material"][row.id].as_table();
  const auto low = test::data_number(entry, "continuous_low", Dimension::temperature);
  const auto high = test::data_number(entry, "continuous_high", Dimension::temperature);
  CHECK_THAT(Temperature::from_value(low.mid), within(row.low, 1e-9_K));
  CHECK_THAT(Temperature::from_value(high.mid), within(row.high, 1e-9_K));
  CHECK(test::data_basis(entry, "continuous_high") == "handbook");
}

TEST_CASE("what is remembered of sealing materials is marked so", "[published][derived]") {
  const toml::table file = test::data_file("seal_materials.toml");
  for (const auto& [id, node] : *file["seal_material"].as_table()) {
    CAPTURE(std::string(id.str()));
    const toml::table& entry = *node.as_table();
    const auto sump = test::data_number(entry, "sump_high", Dimension::temperature);
    const auto brief = test::data_number(entry, "short_term", Dimension::temperature);
    const auto speed = test::data_number(entry, "surface_speed", Dimension::speed);
    CHECK(test::data_basis(entry, "sump_high") == "unverified");
    CHECK(test::data_basis(entry, "short_term") == "unverified");
    CHECK(test::data_basis(entry, "surface_speed") == "unverified");
    CHECK(sump.mid < brief.mid);
    CHECK(speed.mid > 10.0);
  }
}

TEST_CASE("allowed speed of a surface-speed limit over the diameter", "[published][formula]") {
  // n = 60 v/(pi d), kinematics; the surface speeds are remembered.
  struct Row {
    Speed limit;
    double at_20, at_30, at_40, at_50, at_80;
  };
  const auto row = GENERATE(Row{12.0_m_s, 11459, 7639, 5730, 4584, 2865},
                            Row{16.0_m_s, 15279, 10186, 7639, 6112, 3820},
                            Row{35.0_m_s, 33423, 22282, 16711, 13369, 8356},
                            Row{40.0_m_s, 38197, 25465, 19099, 15279, 9549});
  CHECK(in_rpm(speed_limit(row.limit, 20.0_mm)) == Approx(row.at_20).margin(0.51));
  CHECK(in_rpm(speed_limit(row.limit, 30.0_mm)) == Approx(row.at_30).margin(0.51));
  CHECK(in_rpm(speed_limit(row.limit, 40.0_mm)) == Approx(row.at_40).margin(0.51));
  CHECK(in_rpm(speed_limit(row.limit, 50.0_mm)) == Approx(row.at_50).margin(0.51));
  CHECK(in_rpm(speed_limit(row.limit, 80.0_mm)) == Approx(row.at_80).margin(0.51));
}

TEST_CASE("fluid pressure over a conventional rubber lip", "[published][printed]") {
  // p. B23.2: about 0.6 bar up to 75 mm, 0.3 bar above.
  const toml::table file = test::data_file("seal_materials.toml");
  const toml::table& entry = *file["lip_speed_chart"]["conventional-rubber"].as_table();
  CHECK(test::data_number(entry, "pressure_up_to_large_diameter", Dimension::pressure).mid ==
        Approx(0.6e5).epsilon(1e-12));
  CHECK(test::data_number(entry, "pressure_beyond", Dimension::pressure).mid ==
        Approx(0.3e5).epsilon(1e-12));
  CHECK(test::data_basis(entry, "pressure_beyond") == "handbook");
}
