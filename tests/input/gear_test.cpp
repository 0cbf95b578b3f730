#include <string>

#include "input/support.hpp"

using namespace ohmdrag;
using test::complaint;
using test::load;
using test::problems_of;
using test::replaced;
using test::smallest;

namespace {

const std::string geared = smallest + R"([[variant]]
id = "bare"
[[gear]]
id = "first-stage"
pinion_teeth = 25
wheel_teeth = 80
normal_module = "2 mm"
helix_angle_deg = 20
face_width = "30 mm"
roughness = "0.5 um ± 30 %"
oil_factor = 1
basis = "drawing"
source = "gear drawing"
)";

const study::GearElement& mesh(const study::Variant& variant) {
  return std::get<study::GearElement>(variant.extras.back().element.form);
}

bool has(const std::string& text, const std::string& words) {
  CAPTURE(text, words);
  return text.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("a gear of the case turns in every variant, with one draw for all", "[derived]") {
  const study::Case c = load(geared);
  REQUIRE(c.variants.size() == 2);
  for (const study::Variant& variant : c.variants) {
    REQUIRE(variant.extras.size() == 1);
    CHECK(variant.extras[0].id == "first-stage");
    CHECK(variant.extras[0].shaft == "rotor");
    const study::GearElement& gear = mesh(variant);
    CHECK(gear.pinion_teeth == 25);
    CHECK(gear.wheel_teeth == 80);
    CHECK(gear.normal_module.nominal().value() == Approx(0.002));
    CHECK(gear.roughness.key == "gear.first-stage.roughness");
    CHECK(gear.roughness.basis == Basis::drawing);
    CHECK(gear.roughness.source == "gear drawing");
    CHECK_FALSE(gear.centre_distance);
  }
}

TEST_CASE("angles that a gear does not state follow the drawing's conventions, and say so",
          "[derived]") {
  const study::Case c = load(replaced(geared, "helix_angle_deg = 20\n", ""));
  const study::GearElement& gear = mesh(c.variants[0]);
  CHECK(gear.pressure_angle_deg.mid() == 20.0);
  CHECK(gear.pressure_angle_deg.basis == Basis::unverified);
  CHECK(has(gear.pressure_angle_deg.source, "ISO 53"));
  CHECK(gear.pressure_angle_deg.key == "gear.first-stage.pressure_angle_deg");
  CHECK(gear.helix_angle_deg.mid() == 0.0);
  CHECK(has(gear.helix_angle_deg.source, "spur"));
  const auto values = input::all_values(c);
  CHECK(std::ranges::count(values, "gear.first-stage.helix_angle_deg", &input::CheckedValue::key) ==
        1);
}

TEST_CASE("--set and change reach a gear", "[derived]") {
  const study::Case set = load(geared, {"gear.first-stage.face_width=35 mm"});
  CHECK(mesh(set.variants[1]).face_width.nominal().value() == Approx(0.035));
  const study::Case changed = load(geared + R"([[variant]]
id = "wide"
like = "plain"
change = { "gear.first-stage.face_width" = "40 mm" }
)");
  CHECK(mesh(test::variant(changed, "wide")).face_width.nominal().value() == Approx(0.040));
  CHECK(mesh(test::variant(changed, "plain")).face_width.nominal().value() == Approx(0.030));
}

TEST_CASE("an allocation may name a gear", "[derived]") {
  const study::Case c = load(geared +
                             "[[allocation]]\ncomponent = \"first-stage\"\npoint = \"fast\"\n"
                             "max = \"400 W\"\n");
  CHECK(c.allocations[0].component == "first-stage");
}

TEST_CASE("profile shift is stated whole or not at all", "[derived]") {
  const std::string two =
      "pinion_tip_diameter = \"57.6 mm\"\nwheel_tip_diameter = \"173.8 mm\"\nbasis = \"drawing\"";
  CHECK(has(complaint(replaced(geared, "basis = \"drawing\"", two)), "expected all three or none"));
  const study::Case c =
      load(replaced(geared, "basis = \"drawing\"", "centre_distance = \"112.2 mm\"\n" + two));
  CHECK(mesh(c.variants[0]).centre_distance->nominal().value() == Approx(0.1122));
}

TEST_CASE("what is no gear is refused where it stands", "[derived]") {
  struct Row {
    const char* what;
    const char* by;
    const char* key;
    const char* said;
  };
  const auto row = GENERATE(values<Row>({
      {"pinion_teeth = 25\n", "", "gear.first-stage.pinion_teeth", "missing; expected a number of"},
      {"pinion_teeth = 25", "pinion_teeth = 0", "gear.first-stage.pinion_teeth",
       "expected 1 to 10000 teeth"},
      {"pinion_teeth = 25", "pinion_teeth = 25.5", "gear.first-stage.pinion_teeth",
       "expected a whole number"},
      {"pinion_teeth = 25", "pinion_teeth = 81", "gear.first-stage", "as many teeth as the pinion"},
      {"\"2 mm\"", "\"2 N\"", "gear.first-stage.normal_module", "expected a length"},
      {"\"2 mm\"", "\"-2 mm\"", "gear.first-stage.normal_module", "physical range"},
      {"helix_angle_deg = 20", "helix_angle_deg = 60", "gear.first-stage.helix_angle_deg",
       "physical range"},
      {"roughness = \"0.5 um ± 30 %\"\n", "", "gear.first-stage.roughness", "missing"},
      {"oil_factor = 1\n", "", "gear.first-stage.oil_factor", "missing"},
      {"face_width", "shaft = \"wheel\"\nface_width", "gear.first-stage.shaft", "no such shaft"},
      {"face_width",
       "centre_distance = \"90 mm\"\npinion_tip_diameter = \"57 mm\"\n"
       "wheel_tip_diameter = \"174 mm\"\nface_width",
       "gear.first-stage", "centre distance"},
      {"oil_factor", "backlash = \"0.1 mm\"\noil_factor", "gear.first-stage.backlash",
       "no such key"},
  }));
  CAPTURE(row.what, row.by);
  const std::string said = complaint(replaced(geared, row.what, row.by));
  CHECK(has(said, row.key));
  CHECK(has(said, row.said));
}

TEST_CASE("a gear shares its name with no bearing and no other drag", "[derived]") {
  CHECK(has(complaint(geared + "[[bearing]]\nid = \"first-stage\"\nsize = \"6208\"\n"
                               "radial = \"500 N\"\n"),
            "a [[bearing]] has already"));
  const std::string extra =
      "[[variant.extra]]\nid = \"first-stage\"\npower = \"3 W\"\nat = \"3000 rpm\"\n"
      "torque_exponent = 0\n[[gear]]";
  const auto problems = problems_of(replaced(geared, "[[gear]]", extra));
  REQUIRE(problems.size() == 1);
  CHECK(has(problems[0].what, "a [[gear]] has already"));
}
