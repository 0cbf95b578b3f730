#include "ohmdrag/energy/march.hpp"

#include "energy/sample_unit.hpp"
#include "support/cycles.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

const duty::BatteryPath path{.mean_efficiency = 0.9,
                             .load_independent_share = 0.4,
                             .recuperation_efficiency = 0.78,
                             .recuperation_share = 0.9,
                             .gear_efficiency = 0.97};

energy::SumpDuty held(Temperature oil) {
  return {{12000.0_J_K, 12.0_W_K, from_celsius(23.0)}, 0.0_W, oil, true};
}

struct Drive {
  duty::Cycle cycle;
  std::vector<duty::Step> steps;
  std::vector<energy::Stretch> stretches;
};

Drive driven(const duty::Cycle& cycle, double ratio = 9.0) {
  Drive drive{cycle, duty::steps(cycle, midsize_car()), {}};
  const std::vector<energy::Gearing> gearing{
      {ratio, duty::rolling_circumference(duty::tyre_from_code("235/45 R18"))}};
  drive.stretches = energy::stretches(drive.steps, gearing);
  return drive;
}

energy::Ledger run(const energy::DriveUnit& unit, const Drive& drive,
                   const energy::SumpDuty& sump) {
  const std::vector<Temperature> dry{from_celsius(60.0)};
  return energy::march(unit, drive.stretches, drive.cycle.phases.size(), sump, dry);
}

double Wh_per_km(Energy e, Length d) { return in_Wh_per_km(e / d); }

}  // namespace

TEST_CASE("a constant torque costs the same per kilometre on every cycle", "[energy]") {
  const energy::DriveUnit unit{{sample_shaft({})}, {constant_torque("only", 0.02_Nm)}};
  // e = T i / (3.6 r) in Wh/km, whatever the speed. derived: energy is torque times angle.
  const double expected = 0.02 * 9.0 / (2.040 / (2.0 * std::numbers::pi)) / 3.6;
  for (const char* id : {"WLTC_class3b.csv", "UDDS.csv", "HWFET.csv", "NEDC_breakpoints.csv"}) {
    CAPTURE(id);
    const Drive drive = driven(table(id));
    const auto whole = run(unit, drive, held(from_celsius(80.0))).whole();
    CHECK_THAT(Wh_per_km(whole.of_part(0), whole.distance),
               Catch::Matchers::WithinRel(expected, 1e-9));
  }
}

TEST_CASE("a law without memory gives the same by march and by speed histogram", "[energy]") {
  energy::DriveUnit unit{{sample_shaft({sample_lip(45.0_mm)})},
                         {{"seal", energy::ContactPart{0, 0}}}};
  const Drive drive = driven(wltc_3b());
  const auto whole = run(unit, drive, held(from_celsius(80.0))).whole();
  Energy by_histogram{};
  const std::vector<Temperature> dry{from_celsius(60.0)};
  const Length circumference = duty::rolling_circumference(duty::tyre_from_code("235/45 R18"));
  for (const auto& bin : duty::speed_histogram(drive.steps)) {
    const std::vector<AngularVelocity> speed{duty::shaft_speed(bin.mean_speed, 9.0, circumference)};
    const std::vector<Torque> torque(1);
    by_histogram +=
        energy::losses_at(unit, {speed, torque, dry, from_celsius(80.0)})[0].power * bin.time;
  }
  // The march starts each root from the last one: agreement to the tolerance of the root.
  CHECK_THAT(whole.of_part(0), near(by_histogram, 1e-8));
}

TEST_CASE("phases, parts and states of the drive add up", "[energy]") {
  const auto unit = sample_unit();
  const Drive drive = driven(wltc_3b());
  const auto ledger =
      run(unit, drive,
          {{12000.0_J_K, 12.0_W_K, from_celsius(23.0)}, 150.0_W, from_celsius(23.0), false});
  const auto whole = ledger.whole();
  CHECK_THAT(whole.distance, within(Length::from_value(23266.278), 0.01_m));
  CHECK_THAT(whole.time, near(1800.0_s, 1e-12));
  for (std::size_t p = 0; p < unit.parts.size(); ++p) {
    Energy sum{};
    for (const auto& phase : ledger.phases) sum += phase.of_part(p);
    CHECK_THAT(whole.of_part(p), near(sum, 1e-12));
    CHECK(whole.by_part[p][static_cast<std::size_t>(duty::Drive::standstill)] == Energy{});
  }
}

TEST_CASE("without loss to the surroundings the sump keeps every joule", "[energy]") {
  const auto unit = sample_unit();
  const Drive drive = driven(wltc_3b());
  const energy::SumpDuty closed{
      {12000.0_J_K, 0.0_W_K, from_celsius(23.0)}, 150.0_W, from_celsius(23.0), false};
  const auto ledger = run(unit, drive, closed);
  const Energy kept = 12000.0_J_K * (ledger.oil_at_end - closed.start);
  CHECK_THAT(kept, near(Energy(ledger.into_sump + 150.0_W * 1800.0_s), 1e-9));
}

TEST_CASE("a cold start costs more than hot oil", "[energy]") {
  const auto unit = sample_unit();
  const Drive drive = driven(wltc_3b());
  const auto cold =
      run(unit, drive,
          {{12000.0_J_K, 12.0_W_K, from_celsius(23.0)}, 150.0_W, from_celsius(23.0), false});
  const auto hot = run(unit, drive, held(from_celsius(80.0)));
  CHECK(cold.whole().of_part(0) > hot.whole().of_part(0));
  CHECK(cold.whole().of_part(2) > hot.whole().of_part(2));
  CHECK(cold.oil_at_end > from_celsius(23.0));
}

TEST_CASE("loss at the battery weighs traction and recuperation apart", "[energy]") {
  const energy::DriveUnit unit{{sample_shaft({})}, {constant_torque("only", 0.02_Nm)}};
  const Drive drive = driven(wltc_3b());
  const auto whole = run(unit, drive, held(from_celsius(80.0))).whole();
  const Energy expected =
      whole.by_part[0][1] *
          duty::battery_factor(path, duty::Drive::traction, duty::ShaftSide::rotor) +
      whole.by_part[0][2] *
          duty::battery_factor(path, duty::Drive::recuperation, duty::ShaftSide::rotor);
  CHECK_THAT(whole.at_battery(0, path, duty::ShaftSide::rotor), near(expected, 1e-12));
  CHECK(whole.at_battery(0, path, duty::ShaftSide::rotor) < whole.of_part(0) * (1.0 / 0.9));
}

TEST_CASE("halving the step changes the energy of a warm-up by less than 0.1 %", "[energy]") {
  const auto unit = sample_unit();
  const energy::SumpDuty cold{
      {12000.0_J_K, 12.0_W_K, from_celsius(23.0)}, 150.0_W, from_celsius(23.0), false};
  const Drive once = driven(wltc_3b());
  const Drive twice = driven(duty::refined(wltc_3b(), 0.5_s));
  const auto a = run(unit, once, cold).whole(), b = run(unit, twice, cold).whole();
  for (std::size_t p = 0; p < unit.parts.size(); ++p)
    CHECK_THAT(b.of_part(p), near(a.of_part(p), 1e-3));
}
