#include <algorithm>

#include "input/support.hpp"
#include "ohmdrag/input/catalogue.hpp"
#include "ohmdrag/quantity/literals.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using Catch::Matchers::Contains;

namespace {

const std::string with_inverter = test::smallest +
                                  "[inverter]\nshaft = \"rotor\"\ndc_link = \"800 V\"\n"
                                  "switching_frequency = \"10 kHz\"\nrise_time_10_90 = \"40 ns\"\n";

}  // namespace

TEST_CASE("what is published on current density comes with a case that has an inverter",
          "[derived]") {
  CHECK(test::load(test::smallest).density_bands.empty());
  const auto bands = test::load(with_inverter).density_bands;
  REQUIRE_FALSE(bands.empty());
  for (const study::DensityBand& band : bands) {
    CAPTURE(band.statement);
    CHECK(band.up_to >= band.from);
    CHECK_FALSE(band.statement.empty());
    CHECK_FALSE(band.source.empty());
  }
  CHECK(std::ranges::is_sorted(bands, {}, &study::DensityBand::up_to));
  CHECK(bands.front().from == CurrentDensity{});
  CHECK(bands.front().up_to.value() == Approx(1e3));
  CHECK(bands.front().basis == Basis::paper);
}

TEST_CASE("a data folder adds to what is published on current density", "[derived]") {
  const test::Folder folder;
  folder.write("mine.toml",
               "[[current_density]]\nid = \"mine\"\ntitle = \"Own runs (invented)\"\nfrom = \"0.2 "
               "A/mm^2\"\nup_to = \"0.5 A/mm^2\"\nstatement = \"Fluting after 300 h.\"\nbasis = "
               "\"measured\"\nsource = \"invented run\"\n");
  const auto built_in = input::Catalogue{}.density_bands();
  const auto all = input::Catalogue{folder.path()}.density_bands();
  REQUIRE(all.size() == built_in.size() + 1);
  CHECK(all.back().statement == "Fluting after 300 h.");
  CHECK(all.back().basis == Basis::measured);
}

TEST_CASE("a range of current density that ends before it begins is complained of", "[derived]") {
  const test::Folder folder;
  folder.write("mine.toml",
               "[[current_density]]\nid = \"mine\"\nfrom = \"0.5 A/mm^2\"\nup_to = \"0.2 "
               "A/mm^2\"\nstatement = \"nothing\"\nbasis = \"assumed\"\nsource = \"invented\"\n");
  CHECK_THROWS_WITH(input::Catalogue{folder.path()}.density_bands(),
                    Contains("the range must not end below its start"));
}

// Manjunath, Hausner, Heine, De Baets, Fauconnier, Lubricants 2024 (abstract): line contacts
// measured 3 to 11 times the capacitance of their Hertz area.
TEST_CASE("the capacitance factor admits what line contacts measured", "[printed]") {
  const std::string factor = GENERATE(as<std::string>{}, "3", "11");
  const study::Case c = test::load(test::smallest + "[discharge]\ncapacitance_factor = " + factor);
  CHECK(c.discharge.capacitance_factor.mid() == Approx(std::stod(factor)));
}
