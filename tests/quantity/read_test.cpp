#include "ohmdrag/quantity/read.hpp"

#include <catch2/catch.hpp>
#include <clocale>
#include <cmath>
#include <limits>

using namespace ohmdrag;
using D = Dimension;

namespace {

Distribution good(const std::string& text, Dimension dimension) {
  const auto read = read_quantity(text, dimension);
  if (const auto* problem = std::get_if<ReadProblem>(&read)) FAIL(problem->what);
  return std::get<Distribution>(read);
}

ReadProblem bad(const std::string& text, Dimension dimension) {
  const auto read = read_quantity(text, dimension);
  if (!std::holds_alternative<ReadProblem>(read)) FAIL("accepted " + text);
  return std::get<ReadProblem>(read);
}

}  // namespace

TEST_CASE("each form of a quantity is read into SI", "[quantity][derived]") {
  struct Row {
    const char* text;
    Dimension dimension;
    Shape shape;
    double mid;
    double half_width;
  };
  const double ln3 = std::log(3.0);
  const auto row = GENERATE_COPY(
      // a
      Row{"40 mm", D::length, Shape::exact, 0.04, 0}, Row{"40mm", D::length, Shape::exact, 0.04, 0},
      Row{"  -0.3  mm ", D::length, Shape::exact, -3e-4, 0},
      Row{"+4.0e1 mm", D::length, Shape::exact, 0.04, 0},
      Row{"−3 N", D::force, Shape::exact, -3, 0}, Row{".5 W", D::power, Shape::exact, 0.5, 0},
      Row{"5. W", D::power, Shape::exact, 5, 0}, Row{"12 kHz", D::frequency, Shape::exact, 12e3, 0},
      Row{"280000 km", D::length, Shape::exact, 2.8e8, 0},
      Row{"60 1/min", D::rotational_speed, Shape::exact, 6.283185307179586, 0},
      Row{"1 1/s", D::rotational_speed, Shape::exact, 6.283185307179586, 0},
      Row{"12 kJ/K", D::heat_capacity, Shape::exact, 12e3, 0},
      Row{"1.1 N/(km/h)", D::road_load_linear, Shape::exact, 3.96, 0},
      Row{"0.047 N/(km/h)²", D::road_load_quadratic, Shape::exact, 0.047 * 12.96, 0},
      // ratio
      Row{"0.3", D::ratio, Shape::exact, 0.3, 0}, Row{"20 %", D::ratio, Shape::exact, 0.2, 0},
      Row{"20%", D::ratio, Shape::exact, 0.2, 0}, Row{"0", D::ratio, Shape::exact, 0, 0},
      // temperature
      Row{"23 degC", D::temperature, Shape::exact, 296.15, 0},
      Row{"-40 °F", D::temperature, Shape::exact, 233.15, 0},
      Row{"300 K", D::temperature, Shape::exact, 300, 0},
      Row{"70 ± 5 degC", D::temperature, Shape::normal, 343.15, 5},
      Row{"70 degC ± 5 K", D::temperature, Shape::normal, 343.15, 5},
      Row{"212 ± 9 degF", D::temperature, Shape::normal, 373.15, 5},
      Row{"60 … 80 degC", D::temperature, Shape::uniform, 343.15, 10},
      Row{"5 ± 1 K", D::temperature_difference, Shape::normal, 5, 1},
      // a ± b
      Row{"45 ± 0.2 mm", D::length, Shape::normal, 0.045, 2e-4},
      Row{"45 mm +/- 0.2 mm", D::length, Shape::normal, 0.045, 2e-4},
      Row{"45 mm +- 200 um", D::length, Shape::normal, 0.045, 2e-4},
      Row{"-3±1N", D::force, Shape::normal, -3, 1},
      Row{"5 ± 0 mm", D::length, Shape::exact, 5e-3, 0},
      Row{"0.5 ± 0.1", D::ratio, Shape::normal, 0.5, 0.1},
      // a ± p %
      Row{"0.015 N/mm ± 20 %", D::line_force, Shape::normal, 15, 3},
      Row{"110 pF +/- 30%", D::capacitance, Shape::normal, 110e-12, 33e-12},
      Row{"-10 N ± 10 %", D::force, Shape::normal, -10, 1},
      Row{"0.3 ± 20 %", D::ratio, Shape::normal, 0.3, 0.06},
      Row{"14 ± 10 %", D::ratio, Shape::normal, 14, 1.4},
      Row{"20 % ± 5 %", D::ratio, Shape::normal, 0.2, 0.05},
      Row{"0.1 %/K ± 20 %", D::per_temperature, Shape::normal, 1e-3, 2e-4},
      // a … b
      Row{"10 … 40 ohm", D::resistance, Shape::uniform, 25, 15},
      Row{"10..40 Ω", D::resistance, Shape::uniform, 25, 15},
      Row{"10 ohm ... 0.04 kohm", D::resistance, Shape::uniform, 25, 15},
      Row{"-3 … -1 N", D::force, Shape::uniform, -2, 1},
      Row{"10 … 20 %", D::ratio, Shape::uniform, 0.15, 0.05},
      Row{"0.1 … 0.2", D::ratio, Shape::uniform, 0.15, 0.05},
      Row{"7 … 7 m", D::length, Shape::exact, 7, 0},
      // a ×/÷ f
      Row{"30 ohm ×/÷ 3", D::resistance, Shape::log_normal, 30, ln3},
      Row{"30 ohm x/÷ 3", D::resistance, Shape::log_normal, 30, ln3},
      Row{"30 ohm x/: 3", D::resistance, Shape::log_normal, 30, ln3},
      Row{"30 ohm */: 3", D::resistance, Shape::log_normal, 30, ln3},
      Row{"30 ohm */÷ 3", D::resistance, Shape::log_normal, 30, ln3},
      Row{"1e-6×/÷3", D::ratio, Shape::log_normal, 1e-6, ln3},
      Row{"20 % ×/÷ 3", D::ratio, Shape::log_normal, 0.2, ln3},
      Row{"30 ohm ×/÷ 1", D::resistance, Shape::exact, 30, 0});
  CAPTURE(row.text);
  const Distribution d = good(row.text, row.dimension);
  CHECK(d.shape == row.shape);
  CHECK(d.mid == Approx(row.mid).epsilon(1e-14));
  CHECK(d.half_width == Approx(row.half_width).epsilon(1e-12));
  CHECK(d.floor == -1e300);
  CHECK(d.ceiling == 1e300);
}

TEST_CASE("each refusal says what was read and what was expected", "[quantity][derived]") {
  struct Row {
    const char* text;
    Dimension dimension;
    const char* what;
  };
  const Row row = GENERATE(
      Row{"12 mm", D::line_force, R"(read "12 mm", a length; expected a force per length)"},
      Row{"5 1/s", D::length,
          R"(read "5 1/s", a frequency or a rotational speed; expected a length)"},
      Row{"12 %", D::length, R"(read "12 %", a ratio; expected a length)"},
      Row{"12 mm", D::ratio, R"(read "12 mm", a length; expected a ratio)"},
      Row{"5 degC", D::temperature_difference,
          R"(read "5 degC", a temperature; expected a temperature difference)"},
      Row{"12 furlong", D::length,
          R"(read "12 furlong": "furlong" is not a unit I know; expected a length)"},
      Row{"3 dB", D::ratio, R"(read "3 dB": "dB" is not a unit I know; expected a ratio)"},
      Row{"12", D::length, R"(read "12": a length needs a unit)"},
      Row{"12 ± 5 %", D::length, R"(read "12 ± 5 %": a length needs a unit)"},
      Row{"12 ×/÷ 2", D::length, R"(read "12 ×/÷ 2": a length needs a unit)"},
      Row{"", D::length, R"(read "": no number; expected a length)"},
      Row{"   ", D::area, R"(read "   ": no number; expected an area)"},
      Row{"mm", D::length, R"(read "mm": no number; expected a length)"},
      Row{"± 3 mm", D::length, R"(read "± 3 mm": no number; expected a length)"},
      Row{"+ -3 mm", D::length, R"(read "+ -3 mm": no number; expected a length)"},
      Row{"--3 mm", D::length, R"(read "--3 mm": no number; expected a length)"},
      Row{"0x10 mm", D::length,
          R"(read "0x10 mm": "x10 mm" is not a unit I know; expected a length)"},
      Row{"nan", D::ratio, R"(read "nan": not a finite number)"},
      Row{"-NaN mm", D::length, R"(read "-NaN mm": not a finite number)"},
      Row{"inf mm", D::length, R"(read "inf mm": not a finite number)"},
      Row{"5 ± Infinity mm", D::length, R"(read "5 ± Infinity mm": not a finite number)"},
      Row{"1e999 m", D::length, R"(read "1e999 m": the number is too large or too small)"},
      Row{"1e-999 m", D::length, R"(read "1e-999 m": the number is too large or too small)"},
      Row{"1e308 km", D::length, R"(read "1e308 km": the number is too large)"},
      Row{"1e300", D::ratio, R"(read "1e300": the number is too large)"},
      Row{"-1e307 … 1e307", D::ratio, R"(read "-1e307 … 1e307": the number is too large)"},
      Row{"1 ×/÷ 1e301 m", D::length,
          R"(read "1 ×/÷ 1e301 m": the factor after ×/÷ is a bare number)"},
      Row{"0,5 mm", D::length, R"(read "0,5 mm": a comma in a number)"},
      Row{"1,000 mm", D::length, R"(read "1,000 mm": a comma in a number)"},
      Row{"10 000 rpm", D::rotational_speed,
          R"(read "10 000 rpm": a second number follows the first)"},
      Row{"10-40 ohm", D::resistance, R"(read "10-40 ohm": a second number follows the first)"},
      Row{"10 – 40 ohm", D::resistance, R"(read "10 – 40 ohm": a second number follows the first)"},
      Row{"1.2.3 mm", D::length, R"(read "1.2.3 mm": a second number follows the first)"},
      Row{"5 ± -1 mm", D::length, R"(read "5 ± -1 mm": the number after ± must not be negative)"},
      Row{"5 mm ± -1 %", D::length,
          R"(read "5 mm ± -1 %": the number after ± must not be negative)"},
      Row{"5 N/mm ± 3", D::line_force, R"(read "5 N/mm ± 3": the last number needs its unit too)"},
      Row{"20 % ± 0.05", D::ratio, R"(read "20 % ± 0.05": the last number needs its unit too)"},
      Row{"10 ohm … 40", D::resistance,
          R"(read "10 ohm … 40": the last number needs its unit too)"},
      Row{"5 mm ± 3 N", D::length, R"(read "5 mm ± 3 N", a force; expected a length)"},
      Row{"5 N ± 3 mm", D::length, R"(read "5 N ± 3 mm", a force; expected a length)"},
      Row{"5 N ± 3", D::length, R"(read "5 N ± 3", a force; expected a length)"},
      Row{"9 … 3 m", D::length, R"(read "9 … 3 m": the limits stand in the wrong order)"},
      Row{"1 m … 90 mm", D::length, R"(read "1 m … 90 mm": the limits stand in the wrong order)"},
      Row{"30 ohm ×/÷ 0.5", D::resistance,
          R"(read "30 ohm ×/÷ 0.5": the factor after ×/÷ must be at least 1)"},
      Row{"30 ohm ×/÷ -2", D::resistance,
          R"(read "30 ohm ×/÷ -2": the factor after ×/÷ must be at least 1)"},
      Row{"30 ×/÷ 3 ohm", D::resistance,
          R"(read "30 ×/÷ 3 ohm": the factor after ×/÷ is a bare number)"},
      Row{"0 ohm ×/÷ 3", D::resistance, R"(read "0 ohm ×/÷ 3": a value with ×/÷ must be positive)"},
      Row{"-1 ohm ×/÷ 3", D::resistance,
          R"(read "-1 ohm ×/÷ 3": a value with ×/÷ must be positive)"},
      Row{"0 mm ± 5 %", D::length, R"(read "0 mm ± 5 %": a percentage of zero is no spread)"},
      Row{"5 mm ±", D::length, R"(read "5 mm ±": nothing stands after the ±, … or ×/÷)"},
      Row{"1 ± 1 ± 1 mm", D::length, R"(read "1 ± 1 ± 1 mm": only one ±, … or ×/÷ is possible)"},
      Row{"70 degC ± 10 %", D::temperature,
          R"(read "70 degC ± 10 %": a percentage of a temperature has no meaning, )"
          "as its zero is a convention"},
      Row{"70 degC ×/÷ 2", D::temperature,
          R"(read "70 degC ×/÷ 2": a factor on a temperature has no meaning, )"
          "as its zero is a convention"},
      Row{"-300 degC", D::temperature, R"(read "-300 degC": below absolute zero)"},
      Row{"-300 … 20 degC", D::temperature, R"(read "-300 … 20 degC": below absolute zero)"});
  CAPTURE(row.text);
  const ReadProblem problem = bad(row.text, row.dimension);
  CHECK(problem.what == row.what);
  CHECK_FALSE(problem.hint.empty());
  CHECK(problem.what.back() != '.');
}

TEST_CASE("the hint names what would have been accepted", "[quantity][derived]") {
  CHECK(bad("12 mm", D::line_force).hint == "accepted units: N/m, N/mm, N/cm");
  CHECK(accepted_units(D::ratio) == "accepted units: %, or a bare number");
  CHECK(accepted_units(D::temperature) == "accepted units: K, degC, degF");
  CHECK(bad("0,5 mm", D::length).hint.find("point") != std::string::npos);

  struct Row {
    const char* text;
    Dimension dimension;
    const char* nearest;
  };
  const Row row =
      GENERATE(Row{"3 n/mm", D::line_force, "N/mm"}, Row{"60 mn", D::length, "mm"},
               Row{"25 C", D::temperature, "degC"},
               Row{"5 W/m2K", D::heat_transfer_coefficient, "W/(m^2*K)"},
               Row{"5 W/mK", D::thermal_conductivity, "W/(m*K)"},
               Row{"2 J/kgK", D::specific_heat, "J/(kg*K)"},
               Row{"3 RPM", D::rotational_speed, "rpm"}, Row{"3 ohms", D::resistance, "ohm"},
               Row{"2 hz", D::frequency, "Hz"}, Row{"1 mm^3/Nm", D::wear_rate, "mm^3/(N*m)"});
  CAPTURE(row.text);
  CHECK(bad(row.text, row.dimension)
            .hint.starts_with("did you mean " + std::string(row.nearest) + "? accepted units: "));
}

TEST_CASE("nothing is suggested for a unit that is like none", "[quantity][derived]") {
  CHECK(bad("12 furlong", D::length).hint.starts_with("accepted units: "));
  CHECK(bad("12 q", D::length).hint.starts_with("accepted units: "));
  CHECK(bad("12 " + std::string(10000, 'm'), D::length).hint.starts_with("accepted units: "));
}

TEST_CASE("a message stays on one line and short whatever was read", "[quantity][derived]") {
  const std::string what = bad("12 \n\x07" + std::string(5000, 'q'), D::length).what;
  CHECK(what.size() < 250);
  for (const char c : what) CHECK((c < 0 || c >= ' '));
  // Cut between two characters, never inside one.
  std::string signs;
  for (int i = 0; i < 50; ++i) signs += "Ω";
  const std::string shortened = bad("1" + signs, D::length).what;
  CHECK(shortened.find("Ω…") != std::string::npos);
}

TEST_CASE("a separate spread stands around its value", "[quantity][derived]") {
  const auto spread = [](const char* text, Dimension d, double mid) {
    return std::get<Distribution>(read_spread(text, d, mid));
  };
  const Distribution percent = spread("± 20 %", D::line_force, 15.0);
  CHECK(percent.shape == Shape::normal);
  CHECK(percent.mid == 15.0);
  CHECK(percent.half_width == Approx(3.0));
  CHECK(spread("+/- 20 %", D::ratio, 0.3).half_width == Approx(0.06));
  CHECK(spread("± 3 ohm", D::resistance, 30.0).half_width == Approx(3.0));
  CHECK(spread("± 9 degF", D::temperature, 343.15).half_width == Approx(5.0));
  CHECK(spread("±0.1", D::ratio, 0.3).half_width == Approx(0.1));
  CHECK(spread("×/÷ 3", D::resistance, 30.0).half_width == Approx(std::log(3.0)));
  const Distribution range = spread("10 … 40 ohm", D::resistance, 25.0);
  CHECK(range.shape == Shape::uniform);
  CHECK(range.mid == 25.0);
  CHECK(range.half_width == Approx(15.0));

  struct Row {
    const char* text;
    Dimension dimension;
    double mid;
  };
  const Row row =
      GENERATE(Row{"20 %", D::resistance, 30}, Row{"", D::resistance, 30},
               Row{"30 ± 3 ohm", D::resistance, 30}, Row{"30 ohm ×/÷ 3", D::resistance, 30},
               Row{"± 3", D::resistance, 30}, Row{"± 3 mm", D::resistance, 30},
               Row{"± 10 %", D::temperature, 300}, Row{"×/÷ 2", D::temperature, 300},
               Row{"± 10 %", D::resistance, 0}, Row{"×/÷ 2", D::resistance, -1},
               Row{"… 40 ohm", D::resistance, 30},
               Row{"10 … 40 ohm", D::resistance, 30},  // a uniform distribution cannot lean
               Row{"±", D::resistance, 30}, Row{"± ± 3 ohm", D::resistance, 30});
  CAPTURE(row.text);
  CHECK(std::holds_alternative<ReadProblem>(read_spread(row.text, row.dimension, row.mid)));
}

TEST_CASE("three numbers are a triangle, the middle one its mode", "[quantity][derived]") {
  const Distribution t = good("10 … 12 … 20 ohm", D::resistance);
  CHECK(t.shape == Shape::triangular);
  CHECK(t.quantile(1e-12) == Approx(10.0).epsilon(1e-5));
  CHECK(t.quantile(1.0 - 1e-12) == Approx(20.0).epsilon(1e-5));
  CHECK(t.mode() == Approx(12.0));
  CHECK(t.mid == Approx(t.quantile(0.5)));
  const Distribution mixed = good("0.01 .. 12 mm ... 2 cm", D::length);
  CHECK(mixed.mode() == Approx(0.012));
  CHECK(good("5 … 5 … 5 mm", D::length).shape == Shape::exact);
  const auto spread = read_spread("10 … 12 … 20 ohm", D::resistance, 12.0);
  REQUIRE(std::holds_alternative<Distribution>(spread));
  CHECK(std::get<Distribution>(spread).mode() == Approx(12.0));
}

TEST_CASE("limits behind a spread cut it there", "[quantity][derived]") {
  const Distribution normal = good("0.3 ± 0.1 within 0.25 … 0.45", D::ratio);
  CHECK(normal.shape == Shape::normal);
  CHECK(normal.quantile(1e-9) == Approx(0.25).epsilon(1e-6));
  CHECK(normal.quantile(1.0 - 1e-9) == Approx(0.45).epsilon(1e-6));
  // A scaled distribution keeps its cut.
  Distribution twice = normal;
  twice.mid *= 2.0;
  twice.half_width *= 2.0;
  CHECK(twice.quantile(0.1) == Approx(2.0 * normal.quantile(0.1)));
  const Distribution factor = good("30 ohm ×/÷ 3 within 20 … 60 ohm", D::resistance);
  CHECK(factor.quantile(1e-9) == Approx(20.0).epsilon(1e-6));
  CHECK(factor.quantile(1.0 - 1e-9) == Approx(60.0).epsilon(1e-6));
  const auto apart = read_within("20 … 60 ohm", D::resistance, good("30 ohm ×/÷ 3", D::resistance));
  REQUIRE(std::holds_alternative<Distribution>(apart));
  CHECK(std::get<Distribution>(apart).quantile(0.2) == factor.quantile(0.2));
}

TEST_CASE("triangles and limits that make no sense are refused", "[quantity][derived]") {
  struct Row {
    const char* text;
    Dimension dimension;
    const char* what;
  };
  const Row row = GENERATE(
      Row{"10 … 30 … 20 ohm", D::resistance, "the most frequent value lies outside the limits"},
      Row{"20 … 12 … 10 ohm", D::resistance, "the limits stand in the wrong order"},
      Row{"10 … 12 … 20", D::resistance, "a resistance needs a unit"},
      Row{"10 ohm … 12 … 20", D::resistance, "the last number needs its unit too"},
      Row{"1 … 2 … 3 … 4 mm", D::length, "only one ±, … or ×/÷ is possible"},
      Row{"1 … … 3 mm", D::length, "a triangle needs three numbers, low … most frequent … high"},
      Row{"5 mm ± 1 mm within 6 … 8 mm", D::length,
          "the value lies outside its limits, which leave nothing of it"},
      Row{"5 mm ± 1 mm within 8 … 6 mm", D::length, "the limits stand in the wrong order"},
      Row{"5 mm ± 1 mm within 4 mm", D::length, "the limits after \"within\" are a range"},
      Row{"5 mm within 4 … 6 mm", D::length, "limits after \"within\" need a ± or ×/÷ before them"},
      Row{"4 … 6 mm within 4 … 5 mm", D::length,
          "limits after \"within\" need a ± or ×/÷ before them"},
      Row{"30 ohm ×/÷ 3 within 0 … 60 ohm", D::resistance,
          "the lower limit of a value with ×/÷ must be positive"},
      Row{"5 mm ± 1 mm within 4 N … 6 N", D::length, "a force; expected a length"});
  CAPTURE(row.text);
  const ReadProblem problem = bad(row.text, row.dimension);
  CHECK_THAT(problem.what, Catch::Contains(row.what));
  CHECK_FALSE(problem.hint.empty());
}

TEST_CASE("a decimal comma in the locale changes nothing", "[quantity][derived]") {
  const std::string before = std::setlocale(LC_ALL, nullptr);
  const bool comma = std::setlocale(LC_ALL, "de_DE.UTF-8") != nullptr;
  CAPTURE(comma);
  CHECK(good("0.5 mm", D::length).mid == Approx(5e-4));
  CHECK(bad("0,5 mm", D::length).what == R"(read "0,5 mm": a comma in a number)");
  std::setlocale(LC_ALL, before.c_str());
}
