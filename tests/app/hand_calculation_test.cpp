// The hand calculation of the verification page, step by step from its printed inputs: one rating
// life and one discharge dose, against what the program prints for the same case.
//
// ISO 281:2007 (load factors as quoted in public copies; contamination constants from memory), ASTM
// D341 as quoted in public texts; discharges by the energy of a capacitor. Every number below can
// be put into a pocket calculator.

#include <catch2/catch.hpp>
#include <cctype>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>
#include <sstream>

#include "program.hpp"

using namespace ohmdrag;
using nlohmann::json;

namespace {

/// INVENTED: drive-end bearing, oil and inverter of the parcel van, held at one speed.
constexpr char hand_case[] = R"([study]
title = "One life and one dose by hand"
question = "Does a pocket calculator find what the program prints?"
invented = true
baseline = "plain"
samples = 1

[service]
hours = "5000 h"

[sump]
lubricant = "thin-axle-oil"
cleanliness = "slight"

[[shaft]]
id = "rotor"
diameter = "45 mm"

[inverter]
dc_link = "800 V"
switching_frequency = "12 kHz"
rise_time_10_90 = "50 ns"
modulation_index = { at = ["0 rpm", "9000 rpm"], value = [0.02, 0.95] }

[coupling]
winding_rotor = "110 pF"
rotor_frame = "600 pF"

[[bearing]]
id = "drive-end"
shaft = "rotor"
type = "deep-groove-ball"
size = "6209"
loads = { torque = ["0 N*m"], radial = ["1300 N"], axial = ["350 N"] }

[[operating_point]]
id = "held"
shaft_speed = "6000 rpm"
oil_temperature = "70 degC"

[[duty]]
id = "held"
shaft_speed = "6000 rpm"
shaft = "rotor"
oil_temperature = "70 degC"
hours_per_year = "1000 h"

[[variant]]
id = "plain"
grounding = "none"
[variant.seal]
element = "light-lip"
shaft = "rotor"
position = "12 mm"
)";

struct Answers {
  json life, ground;
  std::string life_page, ground_page;
};

const Answers& answers() {
  static const Answers once = [] {
    const test::Folder folder;
    const std::string file = folder.write("hand.toml", hand_case).string();
    const auto out = [&](const test::Arguments& arguments) {
      const test::Ran ran = test::ohmdrag(arguments);
      CAPTURE(ran.err);
      REQUIRE(ran.status == 0);
      return ran.out;
    };
    const auto first_variant = [&](const char* command, const char* section) {
      return json::parse(out({command, file, "--json", "--quiet"}))
          .at("variants")
          .at(0)
          .at(section)
          .at(0);
    };
    return Answers{first_variant("life", "life"), first_variant("ground", "voltage"),
                   out({"life", file, "--quiet"}), out({"ground", file, "--quiet"})};
  }();
  return once;
}

double mid(const json& row, const char* figure) { return row.at(figure).at("mid").get<double>(); }

/// The first number behind a head on a page.
double printed(const std::string& page, const std::string& head) {
  for (const std::string& line : test::lines_of(page)) {
    if (!line.starts_with(head + "  ")) continue;
    std::istringstream words(line.substr(head.size()));
    for (std::string word; words >> word;)
      if (std::isdigit(static_cast<unsigned char>(word.front()))) return std::stod(word);
  }
  FAIL("no number behind " << head);
  return 0.0;
}

/// Four digits stand on the page.
constexpr double of_the_page = 5.1e-4;

}  // namespace

TEST_CASE("a pocket calculator finds the rating life of the page", "[formula]") {
  // 1. Equivalent load: f0 F_a/C0 between two columns of ISO 281 table 3, F_a/F_r beyond e.
  const double relative = 14.1 * 350.0 / 20468.0;
  const double share = (relative - 0.172) / (0.345 - 0.172);
  CHECK(relative == Approx(0.24111).epsilon(1e-4));
  CHECK(350.0 / 1300.0 > 0.19 + share * (0.22 - 0.19));
  const double y = 2.30 + share * (1.99 - 2.30);
  const double load_N = 0.56 * 1300.0 + y * 350.0;
  CHECK(load_N == Approx(1489.66).epsilon(1e-5));

  // 2. Basic rating life at 6000 1/min.
  const double basic_h = std::pow(32687.0 / load_N, 3.0) * 1e6 / (60.0 * 6000.0);
  CHECK(basic_h == Approx(29347.0).epsilon(1e-4));

  // 3. Viscosity at 70 degC of an oil of 25 and 5.3 mm2/s at 40 and 100 degC.
  const auto z = [](double nu) { return std::log10(std::log10(nu + 0.7)); };
  const double slope = (z(25.0) - z(5.3)) / (std::log10(373.15) - std::log10(313.15));
  const double z70 = z(25.0) - slope * (std::log10(343.15) - std::log10(313.15));
  const double nu_mm2_s = std::pow(10.0, std::pow(10.0, z70)) - 0.7;
  CHECK(nu_mm2_s == Approx(10.112).epsilon(1e-4));

  // 4. Viscosity ratio, pitch diameter 65 mm.
  const double kappa = nu_mm2_s / (4500.0 / std::sqrt(6000.0 * 65.0));
  CHECK(kappa == Approx(1.4033).epsilon(1e-4));

  // 5. Contamination, class "slight": k 0.0133, b 1.670.
  const double contamination =
      0.0133 * std::pow(kappa, 0.68) * std::pow(65.0, 0.55) * (1.0 - 1.670 / std::cbrt(65.0));
  CHECK(contamination == Approx(0.097257).epsilon(1e-4));
  const double x = contamination * (20468.0 / 22.0) / load_N;
  CHECK(x == Approx(0.060742).epsilon(1e-4));

  // 6. Life modification factor of balls, kappa between 1 and 4.
  const double bracket =
      1.0 - std::pow(2.5671 - 1.9987 / std::pow(kappa, 0.071739), 0.83) * std::cbrt(x);
  const double factor = 0.1 * std::pow(bracket, -9.3);
  CHECK(factor == Approx(1.7099).epsilon(1e-4));
  const double modified_h = factor * basic_h;

  const Answers& program = answers();
  CHECK(program.life.at("mechanical_basic_h").get<double>() == Approx(basic_h).epsilon(1e-9));
  CHECK(mid(program.life, "viscosity_ratio") == Approx(kappa).epsilon(1e-9));
  CHECK(program.life.at("mechanical_modified_h").get<double>() == Approx(modified_h).epsilon(1e-9));
  CHECK(printed(program.life_page, "basic rating life") == Approx(basic_h).epsilon(of_the_page));
  CHECK(printed(program.life_page, "modified rating life") ==
        Approx(modified_h).epsilon(of_the_page));
}

TEST_CASE("a pocket calculator finds the discharge dose of the page", "[derived]") {
  const Answers& program = answers();
  const auto on_page = [&](const char* head) { return printed(program.ground_page, head); };
  // Taken from the page, as they need the film of every ball: what the bearing holds and stores,
  // and the area under its contacts, as the current over its density.
  const json& path = program.ground.at("paths").at(0);
  const double threshold_V = on_page("threshold of the film");
  const double bearing_pF = path.at("capacitance_pF").get<double>();
  const json& discharge = program.ground.at("discharge");
  const double area_mm2 =
      mid(discharge, "peak_current_A") / mid(discharge, "apparent_density_A_per_mm2");

  // 1. The shaft: what each step of the common mode, a third of 800 V, leaves on it.
  const double shaft_pF = 110.0 + 600.0 + bearing_pF;
  const double step_V = 800.0 / 3.0 * 110.0 / shaft_pF;
  CHECK(on_page("step at an edge, one leg, without path") == Approx(step_V).epsilon(of_the_page));
  // Nine times the threshold: every edge discharges, at the threshold.
  CHECK(step_V > 8.0 * threshold_V);

  // 2. One discharge.
  const double energy_J = 0.5 * shaft_pF * 1e-12 * threshold_V * threshold_V;
  CHECK(1e9 * energy_J == Approx(on_page("energy")).epsilon(3e-3));

  // 3. Edges a second: six a period of 12 kHz, of which some meet; 62.5 ns from 0 to 100 %,
  // modulation 0.02 at rest and 0.95 at 9000 1/min.
  const double modulation = 0.02 + 6000.0 / 9000.0 * (0.95 - 0.02);
  const double pairs =
      6.0 / std::numbers::pi * std::asin(4.0 * 62.5e-9 * 12e3 / (std::sqrt(3.0) * modulation));
  const double edges_per_s = (6.0 - 2.0 * pairs) * 12e3;
  CHECK(on_page("discharges") == Approx(edges_per_s).epsilon(of_the_page));

  // 4. Dose of 1000 h over the area.
  const double dose = edges_per_s * energy_J / area_mm2 * 3.6e6;
  const double exact_V = mid(program.ground, "threshold_V");
  const double of_rounding = exact_V / threshold_V;
  CHECK(mid(program.life, "dose_J_per_mm2_per_1000h") ==
        Approx(dose * of_rounding * of_rounding).epsilon(1e-9));
  CHECK(printed(program.life_page, "dose per 1000 h") == Approx(dose).epsilon(2e-3));
}
