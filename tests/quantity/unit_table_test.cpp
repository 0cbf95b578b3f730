#include <catch2/catch.hpp>
#include <cmath>
#include <set>
#include <string>

#include "ohmdrag/quantity/dimension.hpp"

using namespace ohmdrag;

TEST_CASE("every row stands at its enumerator, starts with SI and repeats no spelling",
          "[quantity][derived]") {
  std::set<std::string_view> names;
  for (const DimensionRow& row : dimension_table()) {
    CAPTURE(row.name);
    CHECK(&row_of(row.dimension) == &row);
    CHECK(names.insert(row.name).second);
    CHECK((row.with_article == "a " + std::string(row.name) ||
           row.with_article == "an " + std::string(row.name)));
    REQUIRE_FALSE(row.units.empty());
    CHECK(row.units.front().factor == 1.0);
    CHECK(row.units.front().offset == 0.0);

    std::set<std::string_view> spellings;
    bool any_size_can_be_printed = false;
    for (const UnitSpelling& unit : row.units) {
      CAPTURE(unit.text);
      CHECK(spellings.insert(unit.text).second);
      CHECK(unit.factor > 0.0);
      CHECK(std::isfinite(unit.factor));
      if (row.dimension != Dimension::temperature) CHECK(unit.offset == 0.0);
      CHECK(canonical_unit(unit.text) == unit.text);
      CHECK(find_unit(row.dimension, unit.text) == &unit);
      any_size_can_be_printed = any_size_can_be_printed || unit.print_from == 0.0;
    }
    CHECK(any_size_can_be_printed);
  }
  CHECK(names.size() == 42);
}

TEST_CASE("a unit as typed has one canonical spelling", "[quantity][derived]") {
  struct Row {
    const char* typed;
    const char* canonical;
  };
  const Row row = GENERATE(
      Row{"µm", "um"}, Row{"μm", "um"}, Row{"Ω", "ohm"}, Row{"Ω", "ohm"}, Row{"kΩ", "kohm"},
      Row{"°C", "degC"}, Row{"° C", "degC"}, Row{"deg C", "degC"}, Row{"℃", "degC"},
      Row{"°F", "degF"}, Row{"N·m", "N*m"}, Row{"N⋅m", "N*m"}, Row{"N×m", "N*m"}, Row{"N m", "N*m"},
      Row{"N  m", "N*m"}, Row{"N * m", "N*m"}, Row{"Nm", "N*m"}, Row{"kNm", "kN*m"},
      Row{"m²", "m^2"}, Row{"m2", "m^2"}, Row{"m^2", "m^2"}, Row{"kg/m³", "kg/m^3"},
      Row{" mm ", "mm"}, Row{"\tmm", "mm"}, Row{"N / mm", "N/mm"}, Row{"Ohm", "ohm"},
      Row{"kOhm", "kohm"}, Row{"min-1", "rpm"}, Row{"min^-1", "rpm"}, Row{"min⁻¹", "rpm"},
      Row{"1/min", "rpm"}, Row{"1 / min", "rpm"}, Row{"r/min", "rpm"}, Row{"s-1", "1/s"},
      Row{"W/(m²K)", "W/(m^2*K)"}, Row{"W/(m² K)", "W/(m^2*K)"}, Row{"W/(m2·K)", "W/(m^2*K)"},
      Row{"N/(km/h)²", "N/(km/h)^2"}, Row{"N/(km/h)2", "N/(km/h)^2"}, Row{"lbf/mph²", "lbf/mph^2"},
      Row{"kWh/100 km", "kWh/100km"}, Row{"mm³/(N m)", "mm^3/(N*m)"}, Row{"mm3/(Nm)", "mm^3/(N*m)"},
      Row{"Pa s", "Pa*s"}, Row{"Ω·m", "ohm*m"}, Row{"Ohm m", "ohm*m"}, Row{"% / K", "%/K"},
      Row{"K^-1", "1/K"}, Row{"N/\u00a0mm", "N/mm"}, Row{"", ""}, Row{"furlong", "furlong"},
      Row{"^", "^"}, Row{"\xff\xc2", "\xff\xc2"});
  CAPTURE(row.typed);
  CHECK(canonical_unit(row.typed) == row.canonical);
}

TEST_CASE("a unit is found in its own dimensions only", "[quantity][derived]") {
  CHECK(find_unit(Dimension::line_force, "N / mm")->factor == 1e3);
  CHECK(find_unit(Dimension::length, "N/mm") == nullptr);
  CHECK(find_unit(Dimension::energy, "N*m") == nullptr);  // a torque is no energy
  CHECK(find_unit(Dimension::ratio, "dB") == nullptr);    // a level is no ratio
  CHECK(find_unit(Dimension::frequency, "rpm") == nullptr);
  CHECK(find_unit(Dimension::temperature_difference, "degC") == nullptr);

  CHECK(dimensions_of_unit("mm") == std::vector{Dimension::length});
  CHECK(dimensions_of_unit("K") ==
        std::vector{Dimension::temperature, Dimension::temperature_difference});
  CHECK(dimensions_of_unit("1/s") ==
        std::vector{Dimension::frequency, Dimension::rotational_speed});
  CHECK(dimensions_of_unit("furlong").empty());
  CHECK(dimensions_of_unit("").empty());
}

TEST_CASE("factors within a dimension agree with each other", "[quantity][derived]") {
  const auto in_si = [](Dimension d, const char* unit) {
    const UnitSpelling* found = find_unit(d, unit);
    REQUIRE(found);
    return found->factor;
  };
  using D = Dimension;
  // 1 lbf/mph^2 * (1 mph) is a lbf/mph, and so on through the road loads.
  const double mph = in_si(D::speed, "mph");
  const double lbf = in_si(D::force, "lbf");
  CHECK(in_si(D::road_load_linear, "lbf/mph") * mph == Approx(lbf).epsilon(1e-15));
  CHECK(in_si(D::road_load_quadratic, "lbf/mph^2") * mph * mph == Approx(lbf).epsilon(1e-15));
  const double kmh = in_si(D::speed, "km/h");
  CHECK(in_si(D::road_load_linear, "N/(km/h)") * kmh == Approx(1.0).epsilon(1e-15));
  CHECK(in_si(D::road_load_quadratic, "N/(km/h)^2") * kmh * kmh == Approx(1.0).epsilon(1e-15));
  CHECK(in_si(D::energy_per_distance, "Wh/km") * in_si(D::length, "km") ==
        Approx(in_si(D::energy, "Wh")));
  CHECK(in_si(D::energy_per_distance, "kWh/100km") * 100.0 * in_si(D::length, "km") ==
        Approx(in_si(D::energy, "kWh")));
  CHECK(in_si(D::rotational_speed, "1/s") == Approx(60.0 * in_si(D::rotational_speed, "rpm")));
  CHECK(in_si(D::time, "a") == Approx(8760.0 * in_si(D::time, "h")));
  CHECK(in_si(D::wear_rate, "mm^3/(N*m)") == Approx(1e-9));
  CHECK(in_si(D::electric_field, "V/um") == in_si(D::electric_field, "kV/mm"));
}
