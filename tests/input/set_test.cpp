#include <string>

#include "input/support.hpp"

using namespace ohmdrag;
using test::load;
using test::smallest;

namespace {

const std::string two = smallest + R"([[variant]]
id = "dense-ring"
like = "plain"
[variant.grounding]
element = "textile-ring-dense"
line_force = "0.015 N/mm"
position = "14 mm"
path = { strap = "18 mm x 8 mm x 0.4 mm" }
)";

std::string refusal(const std::string& set) { return test::complaint(two, {set}); }

}  // namespace

TEST_CASE("--set reaches any key by its path with ids", "[derived]") {
  CHECK(load(two, {"shaft.rotor.diameter=46 mm"}).shafts[0].diameter.mid() == Approx(0.046));
  CHECK(load(two, {"shaft.rotor.diameter=\"46 mm\""}).shafts[0].diameter.mid() == Approx(0.046));
  CHECK(load(two, {" study.seed = 3 "}).seed == 3);
  CHECK(load(two, {"study.invented=true"}).invented);
  CHECK(load(two, {"study.title=A quiet shaft"}).title == "A quiet shaft");
  CHECK(load(two, {"contact.light-lip.boundary_friction=0.25"}).variants[0].seal->element.id ==
        "light-lip");

  const study::Case forced = load(two, {"variant.dense-ring.grounding.line_force=0.02 N/mm"});
  CHECK(test::variant(forced, "dense-ring").grounding->line_force->mid() == Approx(20.0));
  CHECK(forced.provenance.changes.size() == 1);

  const study::Case table =
      load(two, {"variant.dense-ring.grounding.path={ inductance = \"40 nH\" }"});
  CHECK(std::get<study::StatedPath>(test::variant(table, "dense-ring").grounding->path)
            .inductance.mid() == Approx(40e-9));
}

TEST_CASE("--set of one way to say it takes the place of another", "[derived]") {
  const study::Case c = load(two, {"variant.dense-ring.grounding.total_radial_force=2 N"});
  const auto& grounding = *test::variant(c, "dense-ring").grounding;
  CHECK(grounding.total_radial_force->mid() == 2.0);
  CHECK_FALSE(grounding.line_force);
}

TEST_CASE("the later --set wins, and a shared value moves for all", "[derived]") {
  const study::Case c =
      load(two, {"variant.plain.seal.position=20 mm", "variant.plain.seal.position=30 mm"});
  CHECK(test::variant(c, "dense-ring").seal->position.mid() == Approx(0.03));
  CHECK(test::variant(c, "dense-ring").seal->position.source == "--set");
}

TEST_CASE("a --set that goes nowhere is named by its number", "[derived]") {
  CHECK(refusal("no equals sign").starts_with("--set 1: error: "));
  CHECK(refusal("shaft.roter.diameter=46 mm").find("did you mean rotor?") != std::string::npos);
  CHECK(refusal("shaft.rotor.diametre=46 mm").find("did you mean diameter?") != std::string::npos);
  CHECK(refusal("shaft.rotor.diameter=46 N")
            .starts_with(
                "--set 1: error: shaft.rotor.diameter: read \"46 N\", a force; expected a length"));
  CHECK(refusal("study.title.x=1").find("not a table") != std::string::npos);
  try {
    load(two, {"study.seed=1", "study.seed=-1"});
    FAIL("a negative seed was accepted");
  } catch (const input::InputError& error) {
    CHECK(std::string{error.what()}.starts_with("--set 2: error: study.seed"));
  }
}

TEST_CASE("a --set is shown with a caret under its value", "[derived]") {
  CHECK(refusal("shaft.rotor.diameter=46 N")
            .find("shaft.rotor.diameter=46 N\n   | " + std::string(21, ' ') + "^~~~") !=
        std::string::npos);
}
