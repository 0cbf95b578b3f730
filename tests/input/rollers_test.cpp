#include <string>

#include "input/support.hpp"

using namespace ohmdrag;
using test::complaint;
using test::load;
using test::replaced;
using test::smallest;
using Family = study::BearingType::Family;

namespace {

const std::string tapered = smallest + R"([[bearing]]
id = "drive-end"
type = "tapered-roller"
pitch_diameter = "60 mm"
dynamic_rating = "60 kN"
static_rating = "70 kN"
torque_factor = "2 … 6"
load_torque_factor = "0.0004 … 0.0005"
axial_factor = 1.6
radial = "2000 N"
axial = "1000 N"
)";

std::string cylindrical() {
  return replaced(replaced(tapered, "tapered-roller", "cylindrical-roller"), "axial_factor = 1.6",
                  "flange_factor = \"0.002 … 0.009\"");
}

bool has(const std::string& text, const std::string& words) {
  CAPTURE(text, words);
  return text.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("rollers need not state what only balls have", "[derived]") {
  for (const auto& [text, family] : {std::pair{tapered, Family::tapered_roller},
                                     std::pair{cylindrical(), Family::cylindrical_roller}}) {
    const study::Case c = load(text);
    const study::BearingType& type = c.bearings[0].type;
    CHECK(type.family == family);
    CHECK(type.axial_factor.has_value() == (family == Family::tapered_roller));
    CHECK(type.flange_factor.has_value() == (family == Family::cylindrical_roller));
    CHECK(has(type.conformity.source, "no part in what is computed of rollers"));
    // Whoever looks at the case sees a name for every number.
    for (const auto& value : input::all_values(c)) {
      CAPTURE(value.key);
      CHECK_FALSE(value.key.empty());
      CHECK_FALSE(value.source.empty());
    }
  }
}

TEST_CASE("a factor of another kind of bearing is refused", "[derived]") {
  CHECK(has(complaint(replaced(tapered, "axial_factor = 1.6\n", "")),
            "bearing.drive-end.axial_factor: missing; expected Y of the bearing's data sheet"));
  CHECK(has(complaint(replaced(tapered, "axial_factor = 1.6", "axial_factor = 0")),
            "physical range"));
  CHECK(has(complaint(replaced(tapered, "axial_factor", "flange_factor = 0.005\naxial_factor")),
            "only cylindrical rollers have one"));
  CHECK(
      has(complaint(replaced(cylindrical(), "flange_factor", "axial_factor = 1.6\nflange_factor")),
          "only tapered rollers have one"));
  CHECK(has(complaint(replaced(tapered, "pitch_diameter = \"60 mm\"\n", "")),
            "bearing.drive-end.pitch_diameter: missing"));
  CHECK(has(complaint(smallest + "[[bearing]]\nid = \"drive-end\"\nsize = \"6208\"\n"
                                 "radial = \"500 N\"\naxial_factor = 1.6\n"),
            "only tapered rollers have one"));
}

TEST_CASE("balls state everything still", "[derived]") {
  const auto problems = test::problems_of(replaced(
      replaced(tapered, "tapered-roller", "deep-groove-ball"), "axial_factor = 1.6\n", ""));
  CHECK(problems.size() == 6);
}
