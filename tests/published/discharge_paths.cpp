// Paths from the shaft to the frame and what they are made of.
// A. A. Carey, A. J. Hayzen, Dielectric constant and oil analysis (trade article, read):
// permittivity over temperature. D. Dowson, G. R. Higginson, Elasto-hydrodynamic Lubrication, 1966
// (density under pressure, from memory) with the relation of Clausius and Mossotti. Lubricants
// 2024, 12, 1, table A1 (part read): first breakdowns. Insulated rings, gear mesh: circuit theory
// and plate capacitors; permittivity of sprayed aluminium oxide from memory.
#include <numbers>
#include <vector>

#include "ohmdrag/bearing/film.hpp"
#include "ohmdrag/material/permittivity.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/coupling.hpp"
#include "ohmdrag/voltage/discharge_path.hpp"
#include "ohmdrag/voltage/insulation.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using test::near;
using test::within;

namespace {

Capacitance pF(double value) { return Capacitance::from_value(value * 1e-12); }
ElectricField volt_per_um(double value) { return ElectricField::from_value(value * 1e6); }

}  // namespace

TEST_CASE("permittivity of hydrocarbon oils over temperature", "[printed]") {
  // "About 0.0013 … per degree Celsius"; 10 % for the spread of typical oils and for "about".
  const material::LubricantProperties oil{.viscosity = {25.0_mm2_s, 5.3_mm2_s, 0.7},
                                          .density_15 = 850.0_kg_m3,
                                          .conductivity = 0.135_W_mK,
                                          .specific_heat = SpecificHeat::from_value(2150.0),
                                          .permittivity = 2.25,
                                          .pressure_viscosity = PerPressure::from_value(1.6e-8)};
  const double per_K = 2.25 * (material::permittivity_share(oil, 20.0_degC) -
                               material::permittivity_share(oil, 21.0_degC));
  CHECK_THAT(per_K, near(0.0013, 0.1));
}

TEST_CASE("permittivity of oil at 1 GPa", "[formula]") {
  CHECK_THAT(material::compression(1.0_GPa), within(1.222, 5e-4));
  CHECK_THAT(material::permittivity_under_pressure(2.30, 1.0_GPa), near(2.758, 1e-3));
}

TEST_CASE("insulating coat of a ring", "[derived]") {
  struct Row {
    Length diameter, width;
    double coat_nF, film_share;
  };
  // Aluminium oxide, 9 from memory, 100 um; film of 200 pF.
  const Row row = GENERATE(Row{80.0_mm, 18.0_mm, 3.60, 0.947}, Row{170.0_mm, 39.0_mm, 16.6, 0.988});
  const Capacitance coat = coat_capacitance(100.0_um, 9.0, row.diameter, row.width);
  CHECK_THAT(coat, near(pF(row.coat_nF * 1e3), 2e-3));
  const DischargePath path{.id = "coated", .film = 200.0_pF, .in_series = coat};
  CHECK_THAT(share_on_film(path), within(row.film_share, 5e-4));
  // A coat three times as thick helps in proportion only.
  const DischargePath thick{.id = "thick",
                            .film = 200.0_pF,
                            .in_series = coat_capacitance(300.0_um, 9.0, row.diameter, row.width)};
  CHECK_THAT(1.0 - share_on_film(thick), near(3.0 * (1.0 - share_on_film(path)), 0.1));
}

TEST_CASE("the smaller coat at 2 MHz", "[derived]") {
  const Capacitance coat = coat_capacitance(100.0_um, 9.0, 80.0_mm, 18.0_mm);
  CHECK_THAT(1.0 / (2.0 * std::numbers::pi * 2e6 * coat.value()), within(22.0, 0.5));
}

TEST_CASE("ceramic balls keep the voltage off the film", "[derived]") {
  // One ball of 0.1 to 1 pF (from memory) behind films of 129 pF over five loaded balls.
  for (const double element_pF : {0.1, 0.3}) {
    const DischargePath path{.id = "hybrid", .film = 129.0_pF, .in_series = pF(5.0 * element_pF)};
    CHECK(share_on_film(path) < 0.012);
  }
}

TEST_CASE("insulating both bearings raises the voltage of the shaft", "[derived]") {
  const auto ratio = [](double bearings_pF) {
    return bearing_voltage_ratio(shaft_node(100.0_pF, 700.0_pF, pF(bearings_pF)));
  };
  CHECK_THAT(ratio(200.0), near(0.100, 1e-12));
  CHECK_THAT(ratio(20.0), within(0.122, 5e-4));
  CHECK_THAT(ratio(20.0) / ratio(200.0), within(1.22, 5e-3));
}

TEST_CASE("capacitance and threshold of a gear mesh", "[derived]") {
  // Half width 0.2 mm, 25 mm of line, 0.5 um of film, 2.3; contact ratio 1.6.
  const Area strip = 2.0 * 0.2_mm * 25.0_mm;
  CHECK_THAT(bearing::film_capacitance(2.3, strip, 0.5_um), within(407.0_pF, 0.5_pF));
  const auto mesh = [&](double capacitance_factor) {
    return 1.6 * bearing::film_capacitance(
                     bearing::contact_permittivity(2.3, capacitance_factor, Pressure{},
                                                   bearing::Dielectric::as_stated),
                     strip, 0.5_um);
  };
  CHECK_THAT(mesh(3.0), within(2.0_nF, 0.05_nF));
  CHECK_THAT(mesh(11.0), within(7.2_nF, 0.05_nF));
  CHECK_THAT(one_film_threshold(volt_per_um(10.0), 0.5_um, 5.0), near(5.0_V, 1e-12));
  CHECK_THAT(one_film_threshold(volt_per_um(15.0), 0.5_um, 5.0), near(7.5_V, 1e-12));
  CHECK_THAT(one_film_threshold(volt_per_um(30.0), 0.5_um, 5.0), near(15.0_V, 1e-12));
}

TEST_CASE("thresholds reach the measured first breakdowns", "[printed]") {
  // New, run-in bearings: 1.5 to 6 V. Fields of 3, 10 and 30 V/um (assumed) on the films that such
  // bearings run on, 0.1 to 0.5 um, full films.
  const BreakdownBand field{volt_per_um(3.0), volt_per_um(10.0), volt_per_um(30.0)};
  for (const double printed_V : {1.5, 2.0, 2.5, 3.0, 3.5, 4.5, 5.0, 6.0}) {
    CAPTURE(printed_V);
    CHECK(threshold_band(field, 0.1_um, 3.0).at_05.value() < printed_V);
    CHECK(threshold_band(field, 0.5_um, 3.0).at_50.value() > printed_V);
  }
}
