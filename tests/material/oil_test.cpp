#include <cmath>

#include "ohmdrag/material/lubricant.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using material::Walther;
using test::near;
using test::within;

namespace {

const Walther oil{25.0_mm2_s, 5.3_mm2_s, 0.7};

}  // namespace

TEST_CASE("viscosity passes through its anchors", "[derived]") {
  CHECK_THAT(oil.at(40.0_degC), near(25.0_mm2_s, 1e-12));
  CHECK_THAT(oil.at(100.0_degC), near(5.3_mm2_s, 1e-12));
  const auto other =
      Walther::through(0.0_degC, oil.at(0.0_degC), 80.0_degC, oil.at(80.0_degC), 0.7);
  CHECK(other.a() == Approx(oil.a()).epsilon(1e-12));
  CHECK(other.b() == Approx(oil.b()).epsilon(1e-12));
}

TEST_CASE("viscosity falls with temperature and can be inverted", "[derived]") {
  for (double degC = -30.0; degC <= 300.0; degC += 7.0) {
    const Temperature t = from_celsius(degC);
    CHECK(oil.at(from_celsius(degC + 1.0)) < oil.at(t));
    CHECK_THAT(oil.temperature_at(oil.at(t)), within(t, TemperatureDifference::from_value(1e-7)));
  }
}

TEST_CASE("viscosity tends to 1 - c for hot oil", "[derived]") {
  CHECK_THAT(oil.at(Temperature::from_value(1e9)), near(0.3_mm2_s, 1e-6));
}

TEST_CASE("the slope of viscosity is that of its values", "[derived]") {
  const double t_K = GENERATE(250.0, 313.15, 353.15, 450.0);
  const double h_K = 1e-3;
  const double up = oil.point(t_K + h_K).viscosity_mm2_s;
  const double down = oil.point(t_K - h_K).viscosity_mm2_s;
  CHECK(oil.point(t_K).log_slope_per_K ==
        Approx(-(std::log(up) - std::log(down)) / (2.0 * h_K)).epsilon(1e-6));
}

TEST_CASE("impossible viscosity anchors are refused", "[derived]") {
  CHECK_THROWS_AS(Walther(5.3_mm2_s, 25.0_mm2_s, 0.7), std::invalid_argument);
  CHECK_THROWS_AS(Walther(25.0_mm2_s, 0.3_mm2_s, 0.7), std::invalid_argument);
  CHECK_THROWS_AS(Walther(25.0_mm2_s, 5.3_mm2_s, 1.0), std::invalid_argument);
  CHECK_THROWS_AS(Walther(25.0_mm2_s, 5.3_mm2_s, std::nan("")), std::invalid_argument);
  CHECK_THROWS_AS(Walther::through(40.0_degC, 25.0_mm2_s, 40.0_degC, 5.0_mm2_s, 0.7),
                  std::invalid_argument);
  CHECK_THROWS_AS(oil.at(Temperature::from_value(0.0)), std::invalid_argument);
  CHECK_THROWS_AS(oil.temperature_at(0.3_mm2_s), std::invalid_argument);
}

TEST_CASE("viscosity outside its range is flagged by name", "[derived]") {
  CHECK_FALSE(material::outside_walther(oil, 80.0_degC));
  const auto cold = material::outside_walther(oil, from_celsius(-31.0));
  REQUIRE(cold);
  CHECK(cold->quantity == "temperature, degC");
  CHECK(cold->value == Approx(-31.0));
  CHECK(material::outside_walther(oil, 151.0_degC)->quantity == "temperature, degC");
  const Walther thin{8.0_mm2_s, 2.3_mm2_s, 0.7};
  CHECK(material::outside_walther(thin, 140.0_degC)->quantity == "viscosity, mm2/s");
}

TEST_CASE("oil density is its stated value at 15 degC and falls with temperature", "[derived]") {
  CHECK_THAT(material::oil_density(835.0_kg_m3, 15.0_degC), near(835.0_kg_m3, 1e-15));
  CHECK(material::oil_density(835.0_kg_m3, 80.0_degC) <
        material::oil_density(835.0_kg_m3, 79.0_degC));
  CHECK_THROWS_AS(material::oil_density(0.0_kg_m3, 15.0_degC), std::invalid_argument);
}

TEST_CASE("oil expansion is the slope of its density", "[derived]") {
  const auto ln_rho = [](double degC) {
    return std::log(material::oil_density(835.0_kg_m3, from_celsius(degC)).value());
  };
  CHECK(material::oil_expansion_per_K(835.0_kg_m3, 80.0_degC) ==
        Approx(-(ln_rho(80.01) - ln_rho(79.99)) / 0.02).epsilon(1e-7));
}

TEST_CASE("dynamic viscosity and Prandtl number follow from the others", "[derived]") {
  const material::LubricantProperties p{.viscosity = oil,
                                        .density_15 = 835.0_kg_m3,
                                        .conductivity = 0.135_W_mK,
                                        .specific_heat = SpecificHeat::from_value(2150.0),
                                        .permittivity = 2.3,
                                        .pressure_viscosity = PerPressure::from_value(1.6e-8)};
  // nu rho by hand from four-digit tables: 7.969 mm2/s * 793.66 kg/m3, 5.3 mm2/s * 780.75 kg/m3.
  CHECK_THAT(material::dynamic_viscosity(p, 80.0_degC), near(6.3247_mPa_s, 2e-4));
  CHECK_THAT(material::dynamic_viscosity(p, 100.0_degC), near(4.1380_mPa_s, 1e-4));
  // eta c / k
  CHECK(material::prandtl_number(p, 80.0_degC) == Approx(6.3247e-3 * 2150.0 / 0.135).epsilon(2e-4));
}
