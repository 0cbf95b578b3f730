#include <string>

#include "input/support.hpp"

using namespace ohmdrag;
using test::load;
using test::smallest;
using test::variant;

namespace {

const std::string ring = R"([variant.grounding]
element = "textile-ring-dense"
line_force = "0.015 N/mm"
position = "14 mm"
path = "none"
)";

std::string added(const std::string& id, const std::string& rest) {
  return "[[variant]]\nid = \"" + id + "\"\n" + rest;
}

}  // namespace

TEST_CASE("like takes over all that is not said anew", "[derived]") {
  const study::Case c =
      load(smallest + added("ring", "like = \"plain\"\n" + ring) +
           added("nearer", "like = \"ring\"\n[variant.grounding]\nposition = \"10 mm\"\n") +
           added("bare", "like = \"ring\"\ngrounding = \"none\"\n"));
  const auto& nearer = variant(c, "nearer");
  CHECK(nearer.title == "nearer");
  CHECK(nearer.grounding->position.mid() == Approx(0.01));
  CHECK(nearer.grounding->line_force->mid() == Approx(15.0));
  // What is shared keeps the name of where it was written: one draw for all who share it.
  CHECK(nearer.grounding->line_force->key == "variant.ring.grounding.line_force");
  CHECK(nearer.grounding->position.key == "variant.nearer.grounding.position");
  CHECK(nearer.seal->position.key == "variant.plain.seal.position");
  CHECK_FALSE(variant(c, "bare").grounding);
  CHECK(variant(c, "bare").seal);
}

TEST_CASE("like may name a variant further down", "[derived]") {
  const study::Case c = load(smallest + added("first", "like = \"second\"\n") +
                             added("second", "like = \"plain\"\n" + ring));
  CHECK(variant(c, "first").grounding);
}

TEST_CASE("another way to say it replaces the inherited one", "[derived]") {
  const study::Case c = load(
      smallest + added("ring", "like = \"plain\"\n" + ring) +
      added("pressed", "like = \"ring\"\n[variant.grounding]\nsplit_shaft_reading = \"1 N\"\n"));
  CHECK_FALSE(variant(c, "pressed").grounding->line_force);
  CHECK(variant(c, "pressed").grounding->split_shaft_reading->mid() == 1.0);
}

TEST_CASE("like that leads nowhere or in a circle is refused", "[derived]") {
  CHECK(test::complaint(smallest + added("a", "like = \"plane\"\n")).find("did you mean plain?") !=
        std::string::npos);
  const auto circle =
      test::problems_of(smallest + added("a", "like = \"b\"\n") + added("b", "like = \"a\"\n"));
  REQUIRE(circle.size() == 1);
  CHECK(circle[0].what == "runs in a circle: a -> b -> a");
  CHECK(test::complaint(smallest + added("a", "like = \"a\"\n")).find("circle") !=
        std::string::npos);
}

TEST_CASE("override replaces members of the element", "[derived]") {
  const study::Case c =
      load(smallest + "[variant.seal.override]\nboundary_friction = \"0.2 ± 10 %\"\n");
  const auto& lip = std::get<study::LipElement>(c.variants[0].seal->element.form);
  const auto& law = std::get<study::MixedFilmEntry>(lip.law);
  CHECK(law.boundary_friction.mid() == Approx(0.2));
  CHECK(law.boundary_friction.key == "variant.plain.seal.override.boundary_friction");
  CHECK(lip.contact_width.key == "contact.light-lip.contact_width");
  CHECK(test::complaint(smallest + "[variant.seal.override]\nboundary_frction = 0.2\n")
            .find("did you mean boundary_friction?") != std::string::npos);
}

TEST_CASE("change makes a world of its own", "[derived]") {
  const study::Case c =
      load(smallest + "[sump]\nlubricant = \"thin-axle-oil\"\n" +
           added("thick",
                 "like = \"plain\"\nchange = { \"sump.lubricant\" = \"axle-oil\", "
                 "\"shaft.rotor.diameter\" = \"50 mm\" }\n"));
  const auto& thick = variant(c, "thick");
  REQUIRE(thick.world);
  CHECK(thick.world->sump.lubricant.id == "axle-oil");
  CHECK(thick.world->shafts[0].diameter.mid() == Approx(0.05));
  CHECK(thick.world->shafts[0].diameter.key == "variant.thick.change.shaft.rotor.diameter");
  CHECK(thick.world->shafts[0].conductivity.key == c.shafts[0].conductivity.key);
  CHECK(thick.seal);
  CHECK(c.sump.lubricant.id == "thin-axle-oil");
  CHECK(c.shafts[0].diameter.mid() == Approx(0.045));
  CHECK_FALSE(variant(c, "plain").world);
  // The register shows the changed value beside the plain one.
  int found = 0;
  for (const auto& value : input::all_values(c))
    found += value.key == "shaft.rotor.diameter" ||
             value.key == "variant.thick.change.shaft.rotor.diameter";
  CHECK(found == 2);
}

TEST_CASE("change may be written with dots and is checked", "[derived]") {
  const study::Case c = load(smallest +
                             added("warm",
                                   "like = \"plain\"\nchange = { sump.lubricant = \"axle-oil\", "
                                   "sump.ambient = \"30 degC\" }\n") +
                             "[sump]\nlubricant = \"thin-axle-oil\"\n");
  CHECK(variant(c, "warm").world->sump.ambient.mid() == Approx(303.15));
  const std::string wrong =
      test::complaint(smallest + added("odd",
                                       "like = \"plain\"\nchange = { "
                                       "\"shaft.rotor.diameter\" = \"5 N\" }\n"));
  CHECK(wrong.find("variant.odd.change.shaft.rotor.diameter: read \"5 N\"") != std::string::npos);
  CHECK_THAT(wrong, Catch::Contains("case.toml:18:"));
}

TEST_CASE("extra drag is stated or by a rule", "[derived]") {
  const study::Case c = load(smallest + R"([[variant.extra]]
id = "pump"
power = "20 W"
at = "9000 rpm"
torque_exponent = 1
[[variant.extra]]
id = "rear-seal"
element = "lip-torque-by-diameter"
)");
  REQUIRE(c.variants[0].extras.size() == 2);
  CHECK(std::get<study::StatedElement>(c.variants[0].extras[0].element.form).power.mid() == 20.0);
  CHECK(c.variants[0].extras[0].element.id == "pump");
  CHECK(std::holds_alternative<study::RuleElement>(c.variants[0].extras[1].element.form));
  // A contact stands somewhere on the shaft.
  CHECK(test::complaint(smallest + "[[variant.extra]]\nid = \"x\"\nelement = \"light-lip\"\n")
            .find("position") != std::string::npos);
}

TEST_CASE("a contact of the case's own stands beside and over the catalogue", "[derived]") {
  const study::Case c = load(smallest + "[contact.light-lip]\nline_force = \"0.05 N/mm\"\n" +
                             added("brush", R"(like = "plain"
[variant.grounding]
element = "metal-fibre-brush"
position = "14 mm"
path = { wire = "40 mm x 1 mm" }
)"));
  const auto& lip = std::get<study::LipElement>(c.variants[0].seal->element.form);
  CHECK(lip.line_force.mid() == Approx(50.0));
  CHECK(lip.contact_width.mid() == Approx(2e-4));
  CHECK(std::get<study::Wire>(variant(c, "brush").grounding->path).diameter.value() ==
        Approx(1e-3));
}

TEST_CASE("impedance counts as measured only if every contact's is", "[derived]") {
  const std::string grounded = smallest + ring;
  CHECK_FALSE(load(grounded).evidence.impedance_measured);
  CHECK(load(grounded + "resistance = { value = \"30 ohm\", basis = \"measured\" }\n")
            .evidence.impedance_measured);
  CHECK_FALSE(load(smallest).evidence.impedance_measured);
}
