#include <algorithm>
#include <string>

#include "input/support.hpp"

using namespace ohmdrag;
using test::load;
using test::replaced;
using test::smallest;

namespace {

study::Case with_diameter(const std::string& value) {
  return load(replaced(smallest, "diameter = \"45 mm\"", "diameter = " + value));
}

const std::string coupled = smallest + R"([coupling]
winding_rotor = "unknown"
rotor_frame = "600 pF"
)";

}  // namespace

TEST_CASE("a number in a table carries spread, scatter, basis and source", "[derived]") {
  const auto d = with_diameter(R"({ value = "45 mm", spread = "± 0.1 mm", )"
                               R"(scatter = "± 0.02 mm", basis = "measured", source = "sheet 3" })")
                     .shafts[0]
                     .diameter;
  CHECK(d.mid() == Approx(0.045));
  CHECK(d.spread.half_width == Approx(1e-4));
  CHECK(d.scatter.half_width == Approx(2e-5));
  CHECK(d.scatter.mid == 0.0);
  CHECK(d.basis == Basis::measured);
  CHECK(d.source == "sheet 3");
  CHECK(d.at(0.5, 0.5) == Approx(0.045));
}

TEST_CASE("a factor as scatter multiplies", "[derived]") {
  const auto d = with_diameter(R"({ value = "45 mm", scatter = "×/÷ 1.1" })").shafts[0].diameter;
  CHECK(d.scatter.shape == Shape::log_normal);
  CHECK(d.scatter.mid == 1.0);
  CHECK(d.at(0.5, 0.5) == Approx(0.045));
}

TEST_CASE("without a basis a value is assumed and says why", "[derived]") {
  const auto d = with_diameter("\"45 mm\"").shafts[0].diameter;
  CHECK(d.basis == Basis::assumed);
  CHECK(d.source == "no basis given");
  CHECK(d.key == "shaft.rotor.diameter");
  CHECK(d.read_as == "45 mm");
}

TEST_CASE("basis and source of a table hold for what is in it until overridden", "[derived]") {
  const study::Case c = load(smallest + R"([inverter]
dc_link = "800 V"
switching_frequency = { value = "12 kHz", basis = "measured", source = "log 4" }
rise_time_10_90 = "50 ns"
basis = "data-sheet"
source = "sheet 7"
ringing = { frequency = "2 MHz", share_of_step = 0.3, quality = 10 }
)");
  CHECK(c.inverter->dc_link.basis == Basis::data_sheet);
  CHECK(c.inverter->dc_link.source == "sheet 7");
  CHECK(c.inverter->ringing->quality.basis == Basis::data_sheet);
  CHECK(c.inverter->switching_frequency.basis == Basis::measured);
  CHECK(c.inverter->switching_frequency.source == "log 4");
  CHECK(test::complaint(smallest + "[evidence]\nbasis = \"messured\"\n").find("measured") !=
        std::string::npos);
}

TEST_CASE("unknown takes the range of the trade and is flagged", "[derived]") {
  const study::Case c = load(coupled);
  const auto& winding = c.coupling->winding_rotor;
  CHECK(winding.unknown);
  CHECK(winding.basis == Basis::unverified);
  CHECK(winding.spread.shape == Shape::uniform);
  CHECK(winding.key == "coupling.winding_rotor");
  CHECK_FALSE(c.coupling->rotor_frame.unknown);
  const auto values = input::all_values(c);
  CHECK(std::ranges::any_of(values, [](const input::CheckedValue& value) {
    return value.key == "coupling.winding_rotor" && value.unknown;
  }));
}

TEST_CASE("a default stands in where it is unknown and no range is listed", "[derived]") {
  const study::Case c = load(replaced(smallest, "diameter = \"45 mm\"",
                                      "diameter = \"45 mm\"\nconductivity = \"unknown\""));
  CHECK(c.shafts[0].conductivity.unknown);
  CHECK(c.shafts[0].conductivity.mid() == 46.0);
}

TEST_CASE("a rise time may be given either way", "[derived]") {
  const std::string inverter =
      smallest + "[inverter]\ndc_link = \"800 V\"\nswitching_frequency = \"12 kHz\"\n";
  const study::Case a = load(inverter + "rise_time_10_90 = \"50 ± 10 ns\"\n");
  const study::Case b = load(inverter + "rise_time_0_100 = \"62.5 ± 12.5 ns\"\n");
  CHECK(a.inverter->rise_time.mid() == Approx(b.inverter->rise_time.mid()));
  CHECK(a.inverter->rise_time.spread.half_width == Approx(b.inverter->rise_time.spread.half_width));
  CHECK_FALSE(b.inverter->rise_time_given_10_90);
  CHECK(test::problems_of(inverter).size() == 1);
  CHECK(test::problems_of(inverter + "rise_time_10_90 = \"1 ns\"\nrise_time_0_100 = \"1 ns\"\n")
            .size() == 1);
}

TEST_CASE("without a modulation index the assumed one is flagged", "[derived]") {
  const study::Case c = load(smallest +
                             "[inverter]\ndc_link = \"800 V\"\nswitching_frequency = \"12 kHz\"\n"
                             "rise_time_10_90 = \"50 ns\"\n");
  CHECK(c.inverter->modulation_assumed);
  CHECK(c.inverter->modulation_at.size() == c.inverter->modulation_index.size());
  CHECK(c.inverter->modulation_index.front() == Approx(0.02 * 1.1547));
  CHECK(c.inverter->modulation_index.back() == Approx(1.1547));
}

TEST_CASE("a road load may come in pounds and miles", "[derived]") {
  const std::string vehicle = R"([vehicle]
test_mass = "1800 kg"
tyre = "215/65 R16"
road_load_us = { a = "34.98 lbf", b = "0.0865 lbf/mph", c = "0.01758 lbf/mph^2" }
[vehicle.path]
mean_efficiency = 0.9
recuperation_efficiency = 0.8
)";
  const study::Case c = load(replaced(smallest, "diameter =", "ratio = 9\ndiameter =") + vehicle);
  // 1 lbf = 4.4482216152605 N, 1 mph = 0.44704 m/s, both exact (NIST SP 811, Appendix B).
  CHECK(c.vehicle->f0.mid() == Approx(34.98 * 4.4482216152605));
  CHECK(c.vehicle->f2.mid() == Approx(0.01758 * 4.4482216152605 / (0.44704 * 0.44704)));
  // With a vehicle the ratio is needed.
  CHECK(test::complaint(smallest + vehicle).find("shaft.rotor.ratio: missing") !=
        std::string::npos);
}

TEST_CASE("requirements take the dimension of their quantity", "[derived]") {
  const auto requirement = [](const std::string& rest) {
    return smallest + "[[requirement]]\nid = \"r\"\n" + rest;
  };
  const study::Case c = load(
      requirement("quantity = \"contact-temperature\"\nmax = \"150 degC\"\npoint = \"fast\"\n"));
  CHECK(c.requirements[0].max->dimension == Dimension::temperature);
  CHECK(c.requirements[0].max->mid() == Approx(423.15));
  CHECK_FALSE(c.requirements[0].end_of_service);
  CHECK(test::problems_of(requirement("quantity = \"net-power\"\nmax = \"5 ohm\"\n")).size() == 1);
  CHECK(test::problems_of(requirement("quantity = \"net-power\"\n")).size() == 1);
  CHECK(
      test::complaint(requirement("quantity = \"net-powr\"\nmax = \"5 W\"\n")).find("net-power") !=
      std::string::npos);
}

TEST_CASE("the shares of the service mix add up", "[derived]") {
  const std::string duty = smallest + R"([[duty]]
id = "steady"
shaft_speed = "6000 rpm"
hours_per_year = "4000 h"
oil_temperature = "60 degC"
[service]
years = 10
)";
  CHECK(load(duty + "mix = { steady = 1 }\n").service.mix.at("steady") == 1.0);
  CHECK(test::complaint(duty + "mix = { steady = 0.6 }\n").find("add up to 0.6") !=
        std::string::npos);
  CHECK(test::problems_of(duty + "mix = { stedy = 1 }\n").size() == 1);
}

TEST_CASE("damage laws are named, calibrated and listed once", "[derived]") {
  const std::string law = smallest + "[damage]\n";
  const study::Case c = load(law +
                             "law = [\"current-density\", \"relative\"]\nrelative = { "
                             "baseline_life = \"9000 h\", power = 1 }\ncurrent_density = { "
                             "floor_A_mm2 = 0.2 }\n");
  REQUIRE(c.laws.size() == 2);
  CHECK(c.laws[0].floor_A_mm2.mid() == 0.2);
  CHECK(c.laws[0].life_constant_h.key == "law.current-density.life_constant_h");
  CHECK(test::complaint(law + "law = \"dose\"\n").find("one observation of your own") !=
        std::string::npos);
  CHECK(test::complaint(law + "law = \"doze\"\n").find("did you mean dose?") != std::string::npos);
}

TEST_CASE("bearings take a size from the catalogue and what the case says instead", "[derived]") {
  const std::string bearing = smallest + R"([[bearing]]
id = "de"
size = "6208"
pitch_diameter = "61 mm"
radial = "1 kN"
)";
  const study::Case c = load(bearing);
  CHECK(c.bearings[0].type.pitch_diameter.mid() == Approx(0.061));
  CHECK(c.bearings[0].type.pitch_diameter.key == "bearing.de.pitch_diameter");
  CHECK(c.bearings[0].type.element_diameter.key == "bearing_type.6208.element_diameter");
  CHECK(c.bearings[0].axial.at(0).mid() == 0.0);
  CHECK(c.bearings[0].young_modulus.mid() == Approx(206e9));
  CHECK(test::complaint(replaced(bearing, "6208", "62088")).find("did you mean 6208?") !=
        std::string::npos);
}
