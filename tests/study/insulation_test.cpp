// A discharge takes the way whose film gives in first: where it goes when bearings are insulated,
// grounded or both, and what of the source it feels.
#include <algorithm>
#include <cmath>

#include "ohmdrag/study/evaluate.hpp"
#include "study/sample_case.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::study;
using namespace ohmdrag::test;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinRel;

namespace {

enum class Insulation { none, thin_coat, ceramic };

/// Two bearings, a pinion and one variant; one draw is the nominal case.
Case geared(Insulation insulation, const std::optional<Grounding>& grounding = {}) {
  Case c = sample_case();
  c.samples = 1;
  c.inverter->dc_link = known(400.0_V);
  c.discharge.line_capacitance_factor = known(5.7);
  c.discharge.unloaded_ball = known(3.0_pF);
  c.discharge.rings = known(20.0_pF);
  c.discharge.metallic_contact = known(10.0_ohm);
  c.paths_to_frame = {sample_mesh("mesh", 600.0_pF)};
  Bearing far = sample_bearing();
  far.id = "far-end";
  c.bearings.push_back(far);
  for (Bearing& bearing : c.bearings) {
    if (insulation == Insulation::thin_coat)
      bearing.insulation = Coating{known(100.0_um), known(9.0), known(80.0_mm), known(18.0_mm)};
    if (insulation == Insulation::ceramic)
      bearing.insulation = CeramicElements{known(15.0_pF), known(0.3_pF)};
  }
  c.points[0].torque = known(60.0_Nm);
  c.duties[0].torque = known(60.0_Nm);
  c.variants = {sample_variant("plain", grounding)};
  return c;
}

VoltageRow voltage_of(const Case& c) {
  const Findings findings = evaluate(c, {.voltage = true});
  return findings.variants.at(0).voltage.at(0);
}

const PathRow& row_of(const VoltageRow& row, const std::string& id) {
  const auto found = std::ranges::find(row.paths, id, &PathRow::id);
  REQUIRE(found != row.paths.end());
  return *found;
}

std::string verdict_of(const VoltageRow& row) {
  const auto found = std::ranges::find(row.verdicts, headline_credit_us, &CreditVerdict::t0_us);
  REQUIRE(found != row.verdicts.end());
  return found->held == "none" ? found->edge : found->held;
}

/// A machine without films of its own: what strikes is stated.
Case with_stated_path() {
  Case c = geared(Insulation::ceramic);
  PathToFrame encoder;
  encoder.id = "encoder";
  encoder.shaft = "rotor";
  encoder.kind = PathToFrame::Kind::stated;
  encoder.capacitance = known(20.0_pF);
  encoder.threshold = known(5.0_V);
  c.paths_to_frame = {encoder};
  return c;
}

}  // namespace

TEST_CASE("with both bearings insulated the voltage rises and the pinion is struck", "[derived]") {
  const VoltageRow plain = voltage_of(geared(Insulation::none));
  const VoltageRow ceramic = voltage_of(geared(Insulation::ceramic));
  CHECK(row_of(plain, plain.struck_path).kind == "bearing");
  CHECK(verdict_of(plain) == "expected");
  CHECK(ceramic.struck_path == "mesh");
  CHECK(verdict_of(ceramic) == "expected");
  CHECK(row_of(ceramic, "mesh").stress > row_of(plain, "mesh").stress);
  for (const char* bearing : {"drive-end", "far-end"}) {
    CHECK(row_of(ceramic, bearing).film_share < 0.05);
    CHECK(row_of(ceramic, bearing).stress < 0.1 * row_of(plain, bearing).stress);
  }
  CHECK_THAT(ceramic.paths_in_words, Contains("mesh gives way first") &&
                                         Contains("The voltage stays on the shaft") &&
                                         Contains("drive-end and far-end insulated"));
  CHECK_THAT(plain.paths_in_words, !Contains("insulate"));
}

TEST_CASE("the bearing voltage ratio is that of all ways side by side", "[derived]") {
  double before = 0.0;
  for (const Insulation insulation :
       {Insulation::none, Insulation::thin_coat, Insulation::ceramic}) {
    const VoltageRow row = voltage_of(geared(insulation));
    double total_pF = 110.0 + 600.0;  // winding to rotor, rotor to frame
    for (const PathRow& path : row.paths) total_pF += path.capacitance_pF.value();
    CHECK_THAT(row.bearing_voltage_ratio.mid, WithinRel(110.0 / total_pF, 1e-9));
    CHECK(row.bearing_voltage_ratio.mid > before);
    before = row.bearing_voltage_ratio.mid;
  }
}

TEST_CASE("a thin coat hardly lowers the voltage of the film behind it", "[derived]") {
  const VoltageRow plain = voltage_of(geared(Insulation::none));
  const VoltageRow coated = voltage_of(geared(Insulation::thin_coat));
  CHECK(coated.struck_path == plain.struck_path);
  // Capacitors in series: 3.605 nF of coat before the film, whose capacitance the bare case shows.
  constexpr double coat_pF = 3605.0;
  for (const char* bearing : {"drive-end", "far-end"}) {
    const double film_pF = row_of(plain, bearing).capacitance_pF.value();
    CHECK_THAT(row_of(coated, bearing).film_share, WithinRel(coat_pF / (coat_pF + film_pF), 1e-3));
    CHECK(row_of(coated, bearing).film_share > 0.9);
    CHECK(row_of(coated, bearing).stress > 0.9 * row_of(plain, bearing).stress);
  }
  CHECK_THAT(coated.paths_in_words, Contains("hardly lowers it"));
}

TEST_CASE("insulated and grounded nothing strikes any more", "[derived]") {
  const auto contact = sample_grounding(1.0_ohm, 0.015_N_mm);
  const VoltageRow both = voltage_of(geared(Insulation::ceramic, contact));
  CHECK(verdict_of(both) == "none");
  CHECK(both.regime == "holding");
  CHECK(both.held_V.mid < 1e-3);
  for (const PathRow& path : both.paths) CHECK(path.stress < 0.5);
}

TEST_CASE("slow teeth on a grounded wheel hold the shaft of insulated bearings", "[derived]") {
  Case c = geared(Insulation::ceramic);
  c.paths_to_frame[0].behind.reset();
  c.points[0].shaft_speed = known(60.0_rpm);
  const VoltageRow slow = voltage_of(c);
  CHECK(slow.regime == "conducting");
  CHECK(slow.struck_path.empty());
  CHECK_FALSE(slow.discharge);
  CHECK(row_of(slow, "mesh").conducting);
  CHECK_THAT(slow.paths_in_words, Contains("mesh conducts here and holds the shaft"));
  // Behind them the bearings of the wheel's shaft: then the teeth hold nothing.
  CHECK(voltage_of(geared(Insulation::ceramic)).regime == "striking");
}

TEST_CASE("over the duty, too, the struck way is the pinion", "[derived]") {
  const Findings findings = evaluate(geared(Insulation::ceramic), {.voltage = true, .life = true});
  const std::vector<LifeRow>& life = findings.variants.at(0).life;
  const auto mesh = std::ranges::find(life, "mesh", &LifeRow::bearing);
  REQUIRE(mesh != life.end());
  CHECK(mesh->kind == "gear-mesh");
  CHECK(mesh->striking_time_share.mid == 1.0);
  for (const char* bearing : {"drive-end", "far-end"}) {
    const auto row = std::ranges::find(life, bearing, &LifeRow::bearing);
    REQUIRE(row != life.end());
    CHECK(row->striking_time_share.mid == 0.0);
  }
}

TEST_CASE("a stated way is struck by its own threshold", "[derived]") {
  Case c = with_stated_path();
  const VoltageRow weak = voltage_of(c);
  CHECK(weak.struck_path == "encoder");
  CHECK(row_of(weak, "encoder").kind == "stated");
  CHECK(row_of(weak, "encoder").film_share == 1.0);
  CHECK_THAT(row_of(weak, "encoder").threshold_V->mid, WithinRel(5.0, 1e-6));
  CHECK(verdict_of(weak) == "expected");
  // Half of the voltage stands on what lies behind it, of the same capacitance.
  c.paths_to_frame[0].behind = known(20.0_pF);
  const VoltageRow halved = voltage_of(c);
  CHECK(row_of(halved, "encoder").film_share == 0.5);
  CHECK_THAT(row_of(halved, "encoder").threshold_V->mid, WithinRel(10.0, 1e-6));
  CHECK_THAT(row_of(halved, "encoder").capacitance_pF.value(), WithinRel(10.0, 1e-9));
  // Stronger than the films of steel bearings it holds longer than they do.
  c = geared(Insulation::none);
  c.paths_to_frame = with_stated_path().paths_to_frame;
  c.paths_to_frame[0].threshold = known(500.0_V);
  CHECK(voltage_of(c).struck_path != "encoder");
}

TEST_CASE("blocked gates at rest leave as many fewer edges", "[derived]") {
  Case c = with_stated_path();
  c.points[0].shaft_speed = known(0.0_rpm);
  const DischargeRow open = voltage_of(c).discharge.value();
  const auto edges = [](const DischargeRow& row) {
    return row.one_leg_edges_per_s + row.two_leg_edges_per_s + row.three_leg_edges_per_s;
  };
  REQUIRE(open.rate_per_s.mid > 0.0);
  for (const double blocked : {0.25, 1.0}) {
    c.inverter->blocked_at_standstill = known(blocked);
    const VoltageRow row = voltage_of(c);
    CHECK_THAT(edges(row.discharge.value()), WithinRel((1.0 - blocked) * edges(open), 1e-9));
    CHECK_THAT(row.discharge->rate_per_s.mid,
               WithinRel((1.0 - blocked) * open.rate_per_s.mid, 1e-9));
    CHECK(verdict_of(row) == "expected");  // once it switches
  }
  // Once the shaft turns the gates switch.
  c.points[0].shaft_speed = known(3000.0_rpm);
  c.inverter->blocked_at_standstill = known(1.0);
  CHECK(voltage_of(c).discharge->rate_per_s.mid > 0.0);
}

TEST_CASE("how the legs are modulated changes what is held, not the edge", "[derived]") {
  // A contact that forgets within half a carrier period. A faster one is at its worst where one
  // reference is zero, and there both ways of modulation are the same.
  Case c = geared(Insulation::none, sample_grounding(20000.0_ohm, 0.015_N_mm));
  const VoltageRow sine = voltage_of(c);
  c.inverter->modulation = voltage::ModulationKind::space_vector;
  const VoltageRow space = voltage_of(c);
  CHECK(space.edge_peak_V.mid == sine.edge_peak_V.mid);
  CHECK(space.bearing_voltage_ratio.mid == sine.bearing_voltage_ratio.mid);
  CHECK(space.held_V.mid != sine.held_V.mid);
  CHECK_THAT(space.held_V.mid, WithinRel(sine.held_V.mid, 0.1));
}

TEST_CASE("of rise and fall the faster one makes the edge peak", "[derived]") {
  Case c = geared(Insulation::none, sample_grounding(20.0_ohm, 0.015_N_mm));
  c.inverter->rise_time = known(60.0_ns);
  const double fast_V = voltage_of(c).edge_peak_V.mid;
  c.inverter->fall_time = known(300.0_ns);
  CHECK_THAT(voltage_of(c).edge_peak_V.mid, WithinRel(fast_V, 1e-9));
  c.inverter->rise_time = known(300.0_ns);
  const double slow_V = voltage_of(c).edge_peak_V.mid;
  c.inverter->fall_time = known(60.0_ns);
  CHECK_THAT(voltage_of(c).edge_peak_V.mid, WithinRel(fast_V, 1e-9));
  CHECK(slow_V < 0.9 * fast_V);
}

TEST_CASE("a contact of no conductance grounds nothing", "[derived]") {
  for (const Insulation insulation : {Insulation::none, Insulation::ceramic}) {
    const VoltageRow plain = voltage_of(geared(insulation));
    const VoltageRow open = voltage_of(geared(insulation, sample_grounding(1e15_ohm, 0.015_N_mm)));
    CHECK(open.struck_path == plain.struck_path);
    CHECK_THAT(open.edge_peak_V.mid, WithinRel(plain.edge_peak_V.mid, 1e-6));
    CHECK_THAT(open.held_V.mid, WithinRel(plain.held_V.mid, 1e-6));
    CHECK_THAT(open.discharge->rate_per_s.mid, WithinRel(plain.discharge->rate_per_s.mid, 1e-6));
  }
}

TEST_CASE("a capacitance beside the contact takes its share of the edge", "[derived]") {
  Grounding open = sample_grounding(1e15_ohm, 0.015_N_mm);
  const VoltageRow without = voltage_of(geared(Insulation::ceramic, open));
  open.parallel_capacitance = known(2.0_nF);
  const VoltageRow with = voltage_of(geared(Insulation::ceramic, open));
  // The divider of the winding over all that holds the shaft, 2 nF more.
  const double total_pF = 110.0 / without.bearing_voltage_ratio.mid;
  CHECK_THAT(with.edge_peak_V.mid / without.edge_peak_V.mid,
             WithinRel(total_pF / (total_pF + 2000.0), 1e-3));
  CHECK(with.held_V.mid < without.held_V.mid);
}
