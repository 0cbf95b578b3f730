#include "ohmdrag/quantity/print.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>
#include <stdexcept>

#include "ohmdrag/quantity/read.hpp"

using namespace ohmdrag;
using D = Dimension;

namespace {
constexpr double infinity = std::numeric_limits<double>::infinity();
const double nan_value = std::numeric_limits<double>::quiet_NaN();
}  // namespace

TEST_CASE("a number is rounded half away from zero and carries no noise", "[quantity][derived]") {
  struct Row {
    double value;
    int digits;
    const char* text;
  };
  const Row row = GENERATE(
      Row{0.0150, 2, "0.015"}, Row{47374, 2, "47000"}, Row{0.0, 4, "0"}, Row{-0.0, 4, "0"},
      Row{40, 4, "40"}, Row{2.675, 3, "2.68"}, Row{0.125, 2, "0.13"}, Row{-0.125, 2, "-0.13"},
      Row{1.005, 3, "1.01"}, Row{0.1 + 0.2, 4, "0.3"}, Row{9.996, 3, "10"}, Row{99.96, 3, "100"},
      Row{9999, 2, "10000"}, Row{1234.5, 17, "1234.5"}, Row{1e-4, 3, "0.0001"},
      Row{9.9e-5, 3, "9.9e-5"}, Row{9.9996e-5, 3, "0.0001"}, Row{1e7, 3, "1e7"},
      Row{9999999, 7, "9999999"}, Row{9999999, 3, "1e7"}, Row{1.234e9, 2, "1.2e9"},
      Row{-1.6e-8, 2, "-1.6e-8"}, Row{1e300, 4, "1e300"}, Row{5e-324, 2, "5e-324"},
      Row{3.7, 1, "4"}, Row{0.96, 1, "1"}, Row{1e22, 4, "1e22"});
  CAPTURE(row.value, row.digits);
  CHECK(print_number(row.value, row.digits) == row.text);
}

TEST_CASE("what is not a finite number says so", "[quantity][derived]") {
  CHECK(print_number(nan_value, 3) == "n/a");
  CHECK(print_number(infinity, 3) == "infinite");
  CHECK(print_number(-infinity, 3) == "-infinite");
  CHECK(print_quantity(nan_value, D::power) == "n/a");
  CHECK_THROWS_AS(print_number(1.0, 0), std::invalid_argument);
}

TEST_CASE("a quantity is printed in the unit an engineer expects", "[quantity][derived]") {
  struct Row {
    double si;
    Dimension dimension;
    const char* text;
  };
  const Row row = GENERATE(
      Row{0.04, D::length, "40 mm"}, Row{0.99, D::length, "990 mm"}, Row{1.2, D::length, "1.2 m"},
      Row{3e-7, D::length, "0.3 um"}, Row{9e-5, D::length, "90 um"}, Row{1e-4, D::length, "0.1 mm"},
      Row{2.8e8, D::length, "280000 km"}, Row{3e-9, D::length, "3 nm"}, Row{0, D::length, "0 m"},
      Row{-0.04, D::length, "-40 mm"}, Row{1e-6, D::area, "1 mm^2"},
      Row{343.15, D::temperature, "70 degC"}, Row{233.15, D::temperature, "-40 degC"},
      Row{5, D::temperature_difference, "5 K"},
      Row{314.1592653589793, D::rotational_speed, "3000 rpm"}, Row{12e3, D::frequency, "12 kHz"},
      Row{5e6, D::frequency, "5 MHz"}, Row{37, D::power, "37 W"}, Row{0.02, D::power, "20 mW"},
      Row{150e3, D::power, "150 kW"}, Row{0.035, D::torque, "35 mN*m"},
      Row{120, D::torque, "120 N*m"}, Row{15, D::line_force, "0.015 N/mm"},
      Row{9, D::line_force, "9 N/m"}, Row{60, D::resistance, "60 ohm"},
      Row{0.05, D::resistance, "50 mohm"}, Row{4700, D::resistance, "4.7 kohm"},
      Row{2e6, D::resistance, "2 Mohm"}, Row{110e-12, D::capacitance, "110 pF"},
      Row{1.5e-9, D::capacitance, "1.5 nF"}, Row{50e-9, D::inductance, "50 nH"},
      Row{800, D::voltage, "800 V"}, Row{0.01, D::voltage, "10 mV"},
      Row{0.72, D::energy_per_distance, "0.2 Wh/km"},
      Row{3.96, D::road_load_linear, "1.1 N/(km/h)"}, Row{101325, D::pressure, "101.3 kPa"},
      Row{1.2e9, D::pressure, "1.2 GPa"}, Row{1.6e-8, D::per_pressure, "16 1/GPa"},
      Row{25e-6, D::kinematic_viscosity, "25 mm^2/s"}, Row{0.02, D::dynamic_viscosity, "20 mPa*s"},
      Row{12e3, D::heat_capacity, "12 kJ/K"}, Row{3e6, D::electric_field, "3 V/um"},
      Row{0.3, D::ratio, "0.3"}, Row{50e-9, D::time, "50 ns"}, Row{1800, D::time, "1800 s"},
      Row{3.6e6, D::time, "1000 h"}, Row{2e-7, D::energy, "200 nJ"},
      Row{62 * 3.6e6, D::energy, "62 kWh"}, Row{1e-15, D::wear_rate, "1e-6 mm^3/(N*m)"});
  CAPTURE(row.si);
  CHECK(print_quantity(row.si, row.dimension) == row.text);
}

TEST_CASE("the digits of an interval follow its width", "[quantity][derived]") {
  struct Row {
    Interval interval;
    const char* text;
  };
  const Row row = GENERATE(
      Row{{2.4, 3.1, 3.9}, "3.1 (2.4 … 3.9)"}, Row{{2.45, 3.1, 3.9}, "3.10 (2.45 … 3.90)"},
      Row{{65, 70, 75}, "70 (65 … 75)"}, Row{{44.975, 45, 45.025}, "45.000 (44.975 … 45.025)"},
      Row{{45010, 47374, 49049}, "47400 (45000 … 49000)"},
      Row{{-1.2, -0.3, 0.6}, "-0.3 (-1.2 … 0.6)"}, Row{{-0.004, 0.4, 0.81}, "0.40 (0.00 … 0.81)"},
      Row{{9.0, 10.0, 10.98}, "10.00 (9.00 … 10.98)"}, Row{{3, 3, 3}, "3"},
      Row{{3, 3 + 1e-14, 3 + 2e-14}, "3"}, Row{{0, 0, 0}, "0"},
      // a factor of ten or more
      Row{{3.24, 20, 90}, "3.2 … 90"}, Row{{0, 0.5, 1}, "0 … 1"}, Row{{-90, -20, -3}, "-90 … -3"},
      Row{{12, 2000, 1.26e9}, "12 … 1.3e9"}, Row{{1, 3, 9.9}, "3.0 (1.0 … 9.9)"},
      // exponents
      Row{{1.23e9, 1.5e9, 1.8e9}, "1.50e9 (1.23e9 … 1.80e9)"},
      Row{{-1e-9, 0, 2e-9}, "0 (-1.0e-9 … 2.0e-9)"},
      // no bound
      Row{{12.3, 100, infinity}, "> 12"}, Row{{12.3, infinity, infinity}, "> 12"},
      Row{{-infinity, 1, 5.04}, "< 5"}, Row{{infinity, infinity, infinity}, "infinite"},
      Row{{-infinity, 0, infinity}, "n/a"}, Row{{1, nan_value, 2}, "n/a"});
  CHECK(print_interval(row.interval) == row.text);
}

TEST_CASE("an interval of a dimension carries its unit once", "[quantity][derived]") {
  CHECK(print_interval({12, 15, 18}, D::line_force) == "0.015 (0.012 … 0.018) N/mm");
  CHECK(print_interval({10, 30, 90}, D::resistance) == "30 (10 … 90) ohm");
  CHECK(print_interval({3, 30, 300}, D::resistance) == "3 … 300 ohm");
  CHECK(print_interval({4.32e6, infinity, infinity}, D::time) == "> 1200 h");
  CHECK(print_interval({0.15, 0.2, 0.25}, D::ratio) == "0.20 (0.15 … 0.25)");
  CHECK(print_interval({0.15, 0.2, 0.25}, D::ratio, "%") == "20 (15 … 25) %");
  CHECK(print_interval({10, 15, 20}, D::speed, "km/h") == "54 (36 … 72) km/h");
  CHECK(print_interval({0, 0, 0.002}, D::length) == "0 … 2 mm");
  CHECK(print_interval({nan_value, nan_value, nan_value}, D::power) == "n/a");
  // 5 degC to 60 degC is no factor of twelve.
  CHECK(print_interval({278.15, 303.15, 333.15}, D::temperature) == "30 (5 … 60) degC");
  CHECK_THROWS_AS(print_interval({1, 2, 3}, D::length, "N"), std::invalid_argument);
}

TEST_CASE("what is printed reads back as the same quantity", "[quantity][derived]") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> exponent(-13.0, 10.0);
  for (const DimensionRow& row : dimension_table()) {
    CAPTURE(row.name);
    for (int i = 0; i < 500; ++i) {
      double si = std::pow(10.0, exponent(random));
      if (row.dimension != D::temperature && i % 2 == 1) si = -si;
      const std::string text = print_quantity(si, row.dimension, 17);
      CAPTURE(text);
      const auto read = read_quantity(text, row.dimension);
      REQUIRE(std::holds_alternative<Distribution>(read));
      // Near 0 K a temperature in degC has lost the digits below 273.15.
      const double lost = row.dimension == D::temperature ? 1e-12 : 0.0;
      REQUIRE(std::get<Distribution>(read).mid == Approx(si).epsilon(1e-14).margin(lost));

      const auto rounded = read_quantity(print_quantity(si, row.dimension, 4), row.dimension);
      REQUIRE(std::holds_alternative<Distribution>(rounded));
      const double error = std::abs(std::get<Distribution>(rounded).mid - si);
      // Half a unit of the fourth digit is at most 5e-4 of the number.
      const double size = row.dimension == D::temperature ? std::abs(si - 273.15) : std::abs(si);
      REQUIRE(error <= 5.001e-4 * size + lost);
    }
  }
}

TEST_CASE("the engineering unit belongs to the dimension at every size", "[quantity][derived]") {
  for (const DimensionRow& row : dimension_table())
    for (const double size : {0.0, 1e-300, 1e-12, 1e-6, 1.0, 1e6, 1e12, 1e300, infinity, nan_value})
      CHECK(find_unit(row.dimension, engineering_unit(size, row.dimension)) != nullptr);
}

TEST_CASE("a table names the unit apart", "[quantity][derived]") {
  const InUnit length = in_engineering_unit({0.040, 0.045, 0.050}, D::length);
  CHECK(length.unit == "mm");
  CHECK(length.value.low == Approx(40.0));
  CHECK(length.value.high == Approx(50.0));
  const InUnit oil = in_engineering_unit({338.15, 343.15, 348.15}, D::temperature);
  CHECK(oil.unit == "degC");
  CHECK(oil.value.mid == Approx(70.0));
  CHECK(in_engineering_unit({0.1, 0.2, 0.3}, D::ratio).unit.empty());
}
