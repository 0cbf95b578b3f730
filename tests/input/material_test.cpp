#include "input/material_reader.hpp"

#include "input/document.hpp"
#include "input/support.hpp"
#include "input/tables.hpp"
#include "ohmdrag/input/catalogue.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;

namespace {

/// The built-in entry, read; any complaint fails the test.
template <class Read>
auto built_in(Read read, std::string_view section, std::string_view id) {
  const input::Catalogue catalogue;
  const input::Node* node = catalogue.tables().entry(section, id);
  REQUIRE(node);
  input::Problems problems;
  std::vector<std::string> warnings;
  input::ReadContext context{problems, warnings, {}, {}};
  auto out = read(context, *node, nullptr);
  CHECK_NOTHROW(problems.throw_if_any());
  return out;
}

const std::string lip_of_its_own = R"toml([contact.my-lip]
kind = "lip"
basis = "assumed"
source = "invented"
line_force = "0.1 N/mm"
contact_width = "0.2 mm"
boundary_friction = 0.5
film_coefficient = 5.5
transition_duty = 2e-5
load_share_exponent = 0.5
body_conductivity = "0.25 W/(m*K)"
body_reach = "1 mm"
[contact.my-lip.service]
form = "spring-loaded"
relaxation = "nbr"
modulus = "elastomer"
wear = "lip-flooded"
)toml";

std::string case_of_my_lip() { return replaced(smallest, "\"light-lip\"", "\"my-lip\""); }

study::LipService service_of(const study::Case& question) {
  const auto& lip = std::get<study::LipElement>(question.variants.front().seal->element.form);
  return std::get<study::LipService>(lip.service);
}

}  // namespace

TEST_CASE("a number of a material keeps key, basis and source", "[derived]") {
  const study::Relaxation law = built_in(input::read_relaxation, "relaxation", "fkm");
  CHECK(law.chemical_time.key == "relaxation.fkm.chemical_time");
  CHECK(law.chemical_time.basis == Basis::unverified);
  CHECK(law.chemical_time.source ==
        "from memory: 5 to 20 times the time of nitrile rubber; not confirmed");
  CHECK(law.chemical_time.mid() == Approx(30000.0 * 3600.0));
  CHECK(law.chemical_time.spread.shape == Shape::log_normal);
  CHECK(law.activation_temperature.source == "from memory: 80 to 110 kJ/mol");

  const study::SealLimits nbr = built_in(input::read_seal_limits, "seal_material", "nbr");
  REQUIRE(nbr.continuous_high);
  CHECK(in_celsius(nbr.continuous_high->nominal()) == Approx(100.0));
  CHECK(nbr.continuous_high->basis == Basis::handbook);
  CHECK(nbr.surface_speed->basis == Basis::unverified);
  CHECK_FALSE(built_in(input::read_seal_limits, "seal_material", "hnbr").continuous_low);
}

TEST_CASE("the points of a modulus each have a key of their own", "[derived]") {
  const study::ModulusCurve curve =
      built_in(input::read_modulus, "modulus_over_temperature", "elastomer");
  REQUIRE(curve.points.size() == 6);
  CHECK(curve.points[4].ratio.key == "modulus_over_temperature.elastomer.points.5.ratio");
  CHECK(in_celsius(curve.points[4].temperature.nominal()) == Approx(100.0));
  CHECK(curve.points[4].ratio.mid() == 0.6);
}

TEST_CASE("a wear rate is one, not a pressure coefficient", "[derived]") {
  const study::Wear wear = built_in(input::read_wear, "wear", "carbon-brush");
  CHECK(wear.wear_rate.dimension == Dimension::wear_rate);
  CHECK(wear.wear_rate.nominal().value() == Approx(2e-15));  // 1 mm3/(N m) = 1e-9 m2/N
  CHECK(wear.wear_rate.key == "wear.carbon-brush.wear_rate");
}

TEST_CASE("a band of a fit may be known less well than its class", "[derived]") {
  const study::Fit h11 = built_in(input::read_fit, "fit", "h11");
  REQUIRE(h11.bands.size() == 7);
  CHECK(h11.id == "h11");
  CHECK(h11.basis == Basis::handbook);
  CHECK(h11.bands[0].basis == Basis::unverified);
  CHECK(h11.bands[4].basis == Basis::handbook);
  CHECK(h11.bands[4].above.value() == Approx(0.030));
  CHECK(h11.bands[4].up_to.value() == Approx(0.050));
  CHECK(h11.bands[4].lower_deviation.value() == Approx(-160e-6));
  CHECK(h11.bands[4].upper_deviation.value() == 0.0);
}

TEST_CASE("form, chart and transition are read", "[derived]") {
  const study::LipForm form = built_in(input::read_lip_form, "lip_form", "spring-loaded");
  CHECK(form.air_angle_deg.mid() == 25.0);
  CHECK(form.pressure_length.basis == Basis::assumed);
  const study::LipSpeedChart chart =
      built_in(input::read_lip_speed_chart, "lip_speed_chart", "conventional-rubber");
  CHECK(in_rpm(chart.small_speed.nominal()) == Approx(8000.0));
  CHECK(chart.pressure_beyond.mid() == Approx(0.3e5));
  const study::GraphiteTransition air =
      built_in(input::read_graphite_transition, "graphite_transition", "air");
  CHECK(in_celsius(air.begin.nominal()) == Approx(150.0));
}

TEST_CASE("a case overrides a material key by key", "[derived]") {
  const std::string text = case_of_my_lip() + lip_of_its_own;
  CHECK(service_of(load(text)).relaxation.chemical_time.mid() == Approx(3000.0 * 3600.0));
  const study::Relaxation own =
      service_of(load(text + "[relaxation.nbr]\nchemical_time = { value = \"9000 h\", basis = "
                             "\"measured\", source = \"invented run\" }\n"))
          .relaxation;
  CHECK(own.chemical_time.mid() == Approx(9000.0 * 3600.0));
  CHECK(own.chemical_time.basis == Basis::measured);
  CHECK(own.stretch.mid() == 0.6);
  CHECK(own.stretch.basis == Basis::unverified);
  const study::Relaxation set =
      service_of(load(text, {"relaxation.nbr.chemical_time=8000 h"})).relaxation;
  CHECK(set.chemical_time.mid() == Approx(8000.0 * 3600.0));
}

TEST_CASE("points of a case take the place of the built-in ones", "[derived]") {
  const study::ModulusCurve own =
      service_of(load(case_of_my_lip() + lip_of_its_own +
                      "[modulus_over_temperature.elastomer]\nbasis = \"measured\"\nsource = "
                      "\"invented run\"\npoints = [{ temperature = \"20 degC\", ratio = 1 }, { "
                      "temperature = \"90 degC\", ratio = 0.7 }]\n"))
          .modulus;
  REQUIRE(own.points.size() == 2);
  CHECK(own.points[1].ratio.mid() == 0.7);
  CHECK(own.points[1].ratio.basis == Basis::measured);
}

TEST_CASE("a case may bring materials and fits of its own", "[derived]") {
  const std::string mine = replaced(lip_of_its_own, "\"nbr\"", "\"mine\"") + R"toml(
[relaxation.mine]
basis = "measured"
source = "invented run"
per_decade = 0.03
log_time = "1 min"
chemical_time = "5000 h"
at = "100 degC"
activation_temperature = "11000 K"
stretch = 0.5
)toml";
  CHECK(service_of(load(case_of_my_lip() + mine)).relaxation.per_decade.mid() == 0.03);
  const std::string fit = R"toml([fit.mine]
basis = "drawing"
source = "invented"
bands = [{ above = "40 mm", up_to = "50 mm", lower_deviation = "-8 um", upper_deviation = "-2 um" }]
)toml";
  const study::Case c = load(
      replaced(smallest, "diameter = \"45 mm\"", "diameter = \"45 mm\"\nfit = \"mine\"") + fit);
  REQUIRE(c.shafts.front().deviation);
  CHECK(c.shafts.front().deviation->mid() == Approx(-5e-6));
  CHECK(c.shafts.front().deviation->basis == Basis::drawing);
}

TEST_CASE("a data folder overrides a material whole entry by whole entry", "[derived]") {
  const Folder folder;
  folder.write("mine.toml",
               "[wear.lip-dry]\nwear_rate = \"5e-5 mm^3/(N*m)\"\nbasis = \"measured\"\nsource = "
               "\"invented run\"\n");
  const input::Catalogue catalogue{folder.path()};
  const auto value_of = [](const input::Catalogue& all, const std::string& key) {
    for (const input::ListedEntry& entry : all.entries("materials"))
      for (const input::ListedValue& value : entry.values)
        if (value.key == key) return value.number.value();
    FAIL("not listed: " << key);
    return input::CheckedValue{};
  };
  CHECK(value_of(catalogue, "wear.lip-dry.wear_rate").mid == Approx(5e-14));
  CHECK(value_of(catalogue, "wear.lip-dry.wear_rate").basis == Basis::measured);
  CHECK(value_of(catalogue, "wear.lip-flooded.wear_rate").mid ==
        value_of(input::Catalogue{}, "wear.lip-flooded.wear_rate").mid);
  CHECK_THROWS_AS(catalogue.fit("h99"), std::invalid_argument);
  CHECK(catalogue.fit("h6").bands.size() == 7);
}

TEST_CASE("materials that cannot be are refused in words", "[derived]") {
  struct Row {
    std::string text, key, what;
  };
  const auto row = GENERATE(values<Row>({
      {"[relaxation.fkm]\nstretch = 1.5\n", "relaxation.fkm.stretch", "1.5"},
      {"[relaxation.fkm]\nchemical_tme = \"1 h\"\n", "relaxation.fkm.chemical_tme", "no such key"},
      {"[relaxation.mine]\nper_decade = 0.1\n", "relaxation.mine.log_time", "missing"},
      {"[wear.lip-dry]\nwear_rate = \"1 1/GPa\"\n", "wear.lip-dry.wear_rate", "wear rate"},
      {"[wear.mine]\ntitle = \"nothing\"\n", "wear.mine.wear_rate", "missing"},
      {"[lip_form.spring-loaded]\nair_angle_deg = 95\n", "lip_form.spring-loaded.air_angle_deg",
       "95"},
      {"[graphite_transition.air]\nend = \"140 degC\"\n", "graphite_transition.air.end",
       "above begin"},
      {"[lip_speed_chart.conventional-rubber]\nlarge_diameter = \"20 mm\"\n",
       "lip_speed_chart.conventional-rubber.large_diameter", "above small_diameter"},
      {"[seal_material.nbr]\ncontinuous_high = \"-60 degC\"\n", "seal_material.nbr.continuous_high",
       "above continuous_low"},
      {"[modulus_over_temperature.mine]\npoints = [{ temperature = \"50 degC\", ratio = 1 }, { "
       "temperature = \"20 degC\", ratio = 1 }]\n",
       "modulus_over_temperature.mine.points.2.temperature", "must rise"},
      {"[modulus_over_temperature.mine]\npoints = [{ temperature = \"50 degC ± 1 K\", ratio = 1 "
       "}]\n",
       "modulus_over_temperature.mine.points.1.temperature", "without spread"},
      {"[modulus_over_temperature.mine]\ntitle = \"empty\"\n",
       "modulus_over_temperature.mine.points", "missing"},
      {"[fit.mine]\nbands = [{ above = \"50 mm\", up_to = \"40 mm\", lower_deviation = \"0 um\", "
       "upper_deviation = \"1 um\" }]\n",
       "fit.mine.bands.1.up_to", "end above its start"},
      {"[fit.mine]\nbands = [{ above = \"30 mm\", up_to = \"40 mm\", lower_deviation = \"2 um\", "
       "upper_deviation = \"1 um\" }]\n",
       "fit.mine.bands.1.upper_deviation", "below lower_deviation"},
      {"[fit.mine]\nbands = [{ above = \"30 mm\", up_to = \"50 mm\", lower_deviation = \"0 um\", "
       "upper_deviation = \"1 um\" }, { above = \"40 mm\", up_to = \"60 mm\", lower_deviation = "
       "\"0 um\", upper_deviation = \"1 um\" }]\n",
       "fit.mine.bands.2.above", "rising diameter"},
  }));
  CAPTURE(row.text);
  const auto problems = problems_of(smallest + row.text);
  CAPTURE(problems.empty() ? std::string{} : input::in_words(problems.front()));
  CHECK(std::ranges::any_of(problems, [&](const input::Problem& problem) {
    return problem.key == row.key && problem.what.find(row.what) != std::string::npos;
  }));
}
