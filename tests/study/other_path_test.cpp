#include "study/other_path.hpp"

#include "ohmdrag/quantity/literals.hpp"
#include "study/model.hpp"
#include "study/sample_case.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::study;
using namespace ohmdrag::test;

namespace {

PathToFrame stated_path() {
  PathToFrame path;
  path.id = "pump";
  path.shaft = "rotor";
  path.kind = PathToFrame::Kind::driven_machine;
  path.capacitance = known(150.0_pF);
  path.threshold = times(10.0_V, 3.7, "path_to_frame.pump.threshold");
  path.behind = known(50.0_pF);
  return path;
}

Case with_paths() {
  Case c = sample_case();
  c.discharge.line_capacitance_factor = known(5.7);
  c.discharge.unloaded_ball = known(3.0_pF);
  c.discharge.rings = known(20.0_pF);
  c.paths_to_frame = {stated_path(), sample_mesh("first-stage", 200.0_pF)};
  return c;
}

voltage::DischargePath bearing_path(const Case& c, bool warm = true) {
  const WorldModel model(c, Draw{});
  const BearingModel& bearing = model.bearings.front();
  const DynamicViscosity eta = warm ? 0.01_Pa_s : 0.02_Pa_s;
  return bearing.path(bearing.film(6000.0_rpm, eta, 1.0, Torque{}), model.strength);
}

}  // namespace

TEST_CASE("a stated path is what the case says, at every speed", "[derived]") {
  const Case c = with_paths();
  const WorldModel model(c, Draw{});
  REQUIRE(model.other_paths.size() == 2);
  const OtherPath& pump = model.other_paths[0];
  CHECK(pump.shaft() == 0);
  for (const AngularVelocity& speed : {0.0_rpm, 9000.0_rpm}) {
    const auto path = pump.state(speed, 70.0_degC, Torque{});
    REQUIRE(path);
    CHECK(path->id == "pump");
    CHECK(path->kind == voltage::PathKind::driven_machine);
    CHECK_THAT(voltage::share_on_film(*path), near(0.25, 1e-12));
    CHECK_THAT(voltage::threshold_at_shaft(*path)->drawn, near(40.0_V, 1e-12));
    CHECK_THAT(path->threshold.band.at_50, near(10.0_V, 1e-9));
    CHECK(path->threshold.band.at_05 < 4.0_V);
    CHECK_FALSE(path->area);
  }
}

TEST_CASE("a gear mesh conducts when slow and has a film when fast", "[derived]") {
  const Case c = with_paths();
  const WorldModel model(c, Draw{});
  const OtherPath& mesh = model.other_paths[1];
  const auto slow = mesh.state(100.0_rpm, 70.0_degC, 100.0_Nm);
  REQUIRE(slow);
  CHECK(slow->conducting);
  CHECK_FALSE(voltage::ties_to_frame(*slow));  // the bearings of the wheel's shaft stand behind it
  CHECK(voltage::capacitance(*slow) == 200.0_pF);
  const auto fast = mesh.state(12000.0_rpm, 70.0_degC, 100.0_Nm);
  REQUIRE(fast);
  CHECK_FALSE(fast->conducting);
  CHECK(fast->film > 1.0_nF);
  CHECK(voltage::share_on_film(*fast) < 0.2);
  CHECK(fast->area.value() > Area{});
  CHECK_FALSE(mesh.state(12000.0_rpm, 70.0_degC, Torque{}));
}

TEST_CASE("rings and balls without load stand beside the films", "[derived]") {
  Case c = with_paths();
  const Capacitance with = bearing_path(c).film;
  c.discharge.unloaded_ball = known(0.0_pF);
  c.discharge.rings = known(0.0_pF);
  const Capacitance without = bearing_path(c).film;
  // Four or five of nine balls are loaded under 900/150 N, by the position of the cage.
  CHECK_THAT(Capacitance(with - without), near(33.5_pF, 1e-9));
  c.bearings.front().capacitance = known(120.0_pF);
  CHECK(bearing_path(c).film == 120.0_pF);
}

TEST_CASE("a coated ring takes its share, a conducting film behind it ties nothing", "[derived]") {
  Case c = with_paths();
  const auto bare = bearing_path(c);
  c.bearings.front().insulation =
      Coating{known(100.0_um), known(9.0), known(80.0_mm), known(18.0_mm)};
  const auto coated = bearing_path(c);
  CHECK_THAT(coated.in_series.value(), near(3.605_nF, 1e-3));
  CHECK(voltage::capacitance(coated) < voltage::capacitance(bare));
  CHECK(voltage::threshold_at_shaft(coated)->drawn > voltage::threshold_at_shaft(bare)->drawn);
  c.bearings.front().insulation = StatedInsulation{known(1.0_nF)};
  CHECK(bearing_path(c).in_series == 1.0_nF);
  const WorldModel model(c, Draw{});
  const BearingModel& bearing = model.bearings.front();
  const auto at_rest =
      bearing.path(bearing.film(0.0_rpm, 0.02_Pa_s, 1.0, Torque{}), model.strength);
  CHECK(at_rest.conducting);
  CHECK_FALSE(voltage::ties_to_frame(at_rest));
}

TEST_CASE("ceramic balls leave a bearing of a few picofarads", "[derived]") {
  Case c = with_paths();
  c.bearings.front().insulation = CeramicElements{known(15.0_pF), known(0.3_pF)};
  const auto path = bearing_path(c);
  CHECK_THAT(voltage::capacitance(path), near(15.0_pF, 1e-9));
  CHECK(voltage::share_on_film(path) < 0.02);
}

TEST_CASE("rollers have films where their length is stated", "[derived]") {
  Case c = with_paths();
  BearingType& type = c.bearings.front().type;
  type.family = BearingType::Family::cylindrical_roller;
  CHECK(WorldModel(c, Draw{}).bearings.front().films.empty());
  type.roller_length = known(11.0_mm);
  const auto path = bearing_path(c);
  CHECK(path.film > 100.0_pF);
  CHECK_FALSE(path.conducting);
  type.family = BearingType::Family::tapered_roller;
  type.axial_factor = known(1.6);
  CHECK_FALSE(bearing_path(c).conducting);
}
