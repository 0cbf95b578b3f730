#include <algorithm>
#include <string>

#include "input/support.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/study/evaluate.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using test::complaint;
using test::load;
using test::problems_of;
using test::smallest;

namespace {

const std::string machine = smallest + R"([inverter]
dc_link = "800 V"
switching_frequency = "12 kHz"
rise_time_10_90 = "50 ns"
[coupling]
winding_rotor = "110 pF"
rotor_frame = "600 pF"
[[bearing]]
id = "drive-end"
size = "6208"
radial = "900 N"
[[gear]]
id = "first-stage"
pinion_teeth = 25
wheel_teeth = 80
normal_module = "2 mm"
face_width = "30 mm"
roughness = "0.4 um"
oil_factor = 1.0
)";

const std::string mesh = R"([[path_to_frame]]
id = "mesh"
kind = "gear-mesh"
gear = "first-stage"
behind = "200 pF"
)";

bool has(const std::string& text, const std::string& words) {
  CAPTURE(text, words);
  return text.find(words) != std::string::npos;
}

bool warns(const study::Case& c, const std::string& words) {
  return std::ranges::any_of(
      c.warnings, [&](const std::string& text) { return text.find(words) != std::string::npos; });
}

const study::Bearing& bearing(const study::Case& c) { return c.bearings.front(); }

}  // namespace

TEST_CASE("a bearing is not insulated unless the case says so", "[derived]") {
  CHECK(std::holds_alternative<std::monostate>(bearing(load(machine)).insulation));
}

TEST_CASE("insulation by a coat, by its capacitance or by ceramic balls", "[derived]") {
  const study::Case coated = load(
      machine, {R"(bearing.drive-end.insulation={ coating = "100 um", seat_diameter = "80 mm", )"
                R"(seat_width = "18 mm" })"});
  const auto& coat = std::get<study::Coating>(bearing(coated).insulation);
  CHECK(coat.coating.nominal() == 100.0_um);
  CHECK(coat.relative_permittivity.nominal() == 9.0);
  CHECK(coat.relative_permittivity.basis == Basis::unverified);

  const study::Case stated = load(machine, {"bearing.drive-end.insulation.capacitance=3.6 nF"});
  CHECK(std::get<study::StatedInsulation>(bearing(stated).insulation).capacitance.nominal() ==
        3.6_nF);

  const study::Case hybrid = load(machine, {"bearing.drive-end.hybrid={}"});
  const auto& ceramic = std::get<study::CeramicElements>(bearing(hybrid).insulation);
  CHECK(ceramic.capacitance.basis == Basis::assumed);
  CHECK(ceramic.element_capacitance.mid() < ceramic.capacitance.mid());
  const study::Case own = load(machine, {"bearing.drive-end.hybrid.capacitance=15 pF"});
  CHECK(std::get<study::CeramicElements>(bearing(own).insulation).capacitance.nominal() == 15.0_pF);
}

TEST_CASE("a variant may insulate the bearings or take insulation away", "[derived]") {
  const std::string variant = R"([[variant]]
id = "insulated"
like = "plain"
change = { "bearing.drive-end.insulation" = { capacitance = "3.6 nF" } }
[[variant]]
id = "hybrid"
like = "plain"
change = { "bearing.drive-end.hybrid.capacitance" = "15 pF" }
[[variant]]
id = "bare"
like = "plain"
change = { "bearing.drive-end.insulation" = "none" }
)";
  const study::Case c = load(machine + variant);
  REQUIRE(c.variants.size() == 4);
  CHECK(std::holds_alternative<study::StatedInsulation>(bearing(*c.variants[1].world).insulation));
  CHECK(std::holds_alternative<study::CeramicElements>(bearing(*c.variants[2].world).insulation));
  CHECK(std::holds_alternative<std::monostate>(bearing(*c.variants[3].world).insulation));
  // What one variant writes in another form replaces what the case had.
  const study::Case coated =
      load(machine + variant, {"bearing.drive-end.insulation.capacitance=1 nF"});
  CHECK(std::holds_alternative<study::CeramicElements>(
      bearing(*coated.variants[2].world).insulation));
}

TEST_CASE("half a description of insulation is refused", "[derived]") {
  CHECK(has(complaint(machine, {R"(bearing.drive-end.insulation={ coating = "100 um", )"
                                R"(seat_diameter = "80 mm" })"}),
            "seat_width"));
  CHECK(has(complaint(machine,
                      {R"(bearing.drive-end.insulation={ capacitance = "1 nF", )"
                       R"(coating = "100 um", seat_diameter = "80 mm", seat_width = "18 mm" })"}),
            "capacitance"));
  CHECK(has(complaint(machine, {"bearing.drive-end.insulation={}"}), "coating"));
}

TEST_CASE("paths to the frame beside the bearings", "[derived]") {
  const study::Case c = load(machine + mesh + R"([[path_to_frame]]
id = "pump"
kind = "driven-machine"
capacitance = "150 pF"
behind = "50 pF"
[[path_to_frame]]
id = "encoder"
kind = "stated"
capacitance = "20 pF"
threshold = "5 V"
)");
  REQUIRE(c.paths_to_frame.size() == 3);
  const study::PathToFrame& teeth = c.paths_to_frame[0];
  CHECK(teeth.kind == study::PathToFrame::Kind::gear_mesh);
  CHECK(teeth.shaft == "rotor");
  CHECK(teeth.gear->wheel_teeth == 80);
  CHECK(teeth.roughness->key == c.discharge.roughness.key);
  CHECK(teeth.behind->nominal() == 200.0_pF);
  const study::PathToFrame& pump = c.paths_to_frame[1];
  CHECK(pump.capacitance->nominal() == 150.0_pF);
  CHECK(pump.threshold->key == c.discharge.fixed_threshold.key);
  CHECK(c.paths_to_frame[2].threshold->nominal() == 5.0_V);
  CHECK_FALSE(c.paths_to_frame[2].behind);
  for (const auto& value : input::all_values(c)) {
    CAPTURE(value.key);
    CHECK_FALSE(value.key.empty());
    CHECK_FALSE(value.source.empty());
  }
}

TEST_CASE("a path that cannot be is refused", "[derived]") {
  CHECK(has(complaint(machine + mesh, {"path_to_frame.mesh.gear=\"second\""}), "no such gear"));
  CHECK(has(complaint(machine + mesh, {"path_to_frame.mesh.capacitance=20 pF"}),
            "a path of kind gear-mesh has none"));
  CHECK(has(complaint(machine + mesh, {"path_to_frame.mesh.id=\"drive-end\""}),
            "which a [[bearing]] has already"));
  CHECK_FALSE(problems_of(machine + mesh, {"path_to_frame.mesh.kind=\"seal\""}).empty());
}

TEST_CASE("what is left out of a path is said", "[derived]") {
  const std::string open = mesh.substr(0, mesh.find("behind"));
  CHECK(warns(load(machine + open), "the shaft of the wheel counts as frame"));
  CHECK_FALSE(warns(load(machine + mesh), "counts as frame"));
}

TEST_CASE("rollers have films by their length, and it is said where they have none", "[derived]") {
  const std::string rollers = R"([[bearing]]
id = "other-end"
type = "cylindrical-roller"
pitch_diameter = "60 mm"
dynamic_rating = "60 kN"
static_rating = "70 kN"
torque_factor = "2 … 6"
load_torque_factor = "0.0004 … 0.0005"
radial = "2000 N"
)";
  CHECK(warns(load(machine + rollers), "bearing.other-end: rollers without roller_length"));
  // With a length their number and diameter are asked for.
  CHECK(problems_of(machine + rollers, {"bearing.other-end.roller_length=11 mm"}).size() == 2);
  const study::Case c = load(machine + rollers, {"bearing.other-end.roller_length=11 mm",
                                                 "bearing.other-end.rolling_elements=13",
                                                 "bearing.other-end.element_diameter=11 mm"});
  CHECK(c.bearings[1].type.roller_length->nominal() == 11.0_mm);
  CHECK_FALSE(warns(c, "roller_length"));
  CHECK(
      has(complaint(machine, {"bearing.drive-end.roller_length=11 mm"}), "only rollers have one"));
}

TEST_CASE("line contacts take capacitance factors from 3 to 11", "[derived]") {
  // Range measured in line contacts: Lubricants 2024 (abstract).
  const study::Case c = load(machine);
  const auto interval = c.discharge.line_capacitance_factor.spread.interval();
  CHECK(interval.low < 3.05);
  CHECK(interval.high > 10.8);
  for (const char* factor : {"3", "11"})
    CHECK(
        problems_of(machine, {std::string{"discharge.line_capacitance_factor="} + factor}).empty());
}

TEST_CASE("circulating current is named with the reason that applies", "[derived]") {
  const auto said = [](const std::vector<std::string>& sets) {
    study::Case c = load(machine, sets);
    c.samples = 2;
    std::string all;
    for (const std::string& caution : study::evaluate(c, {.voltage = true}).cautions)
      if (caution.starts_with("Circulating")) all += caution;
    return all;
  };
  CHECK(has(said({}), "the power of the machine is not stated"));
  CHECK(has(said({"machine.rated_power=150 kW"}), "the machine is above about 100 kW"));
  CHECK(has(said({"machine.rated_power=40 kW"}), "small as a rule"));
}

TEST_CASE("a band of the user's own stands beside those that ship", "[derived]") {
  const std::string own = "[[band]]\nid = \"plant\"\ntitle = \"Receiver of the plant\"\n";
  const auto bands = load(machine + own + "from = \"100 kHz\"\nto = \"160 kHz\"\n").bands;
  const std::size_t shipped = load(machine).bands.size();
  REQUIRE(bands.size() == shipped + 1);
  const auto plant = std::ranges::find(bands, "Receiver of the plant", &study::NamedBand::name);
  REQUIRE(plant != bands.end());
  CHECK(plant->from.value() == Approx(1e5));
  CHECK(plant->to.value() == Approx(1.6e5));
  CHECK(
      has(complaint(machine + own + "from = \"2 MHz\"\nto = \"1 MHz\"\n"), "ends above its start"));
}

TEST_CASE("circulating current: the ratio that theory bounds is in the caution", "[derived]") {
  // A. Muetze, A. Binder, IEEE Trans. Ind. Electron. 54(2), 2007, 932 (abstract): at most 0.35.
  const auto cautions = study::evaluate(load(machine), {.voltage = true}).cautions;
  CHECK(std::ranges::any_of(cautions, [](const std::string& text) {
    return text.find("up to about 0.35") != text.npos;
  }));
}
