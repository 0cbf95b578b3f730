// The march by tables against the march itself: derived, no source outside the project.
#include "ohmdrag/energy/quick_march.hpp"

#include "bench/march_case.hpp"
#include "energy/sample_unit.hpp"
#include "support/cycles.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

const std::vector<Temperature> dry{from_celsius(60.0)};

std::vector<energy::Stretch> driven() {
  const auto steps = duty::steps(table("WLTC_class3b.csv"), midsize_car());
  const std::vector<energy::Gearing> gearing{
      {9.0, duty::rolling_circumference(duty::tyre_from_code("235/45 R18"))}};
  auto stretches = energy::stretches(steps, gearing);
  for (energy::Stretch& stretch : stretches) stretch.phase = 0;
  return stretches;
}

energy::SumpDuty warming() {
  return {{12000.0_J_K, 12.0_W_K, from_celsius(23.0)}, 150.0_W, from_celsius(23.0)};
}

energy::DutyColumns columns_of(const energy::DriveUnit& unit, std::span<const energy::Stretch> duty,
                               std::span<const component::SpeedGrid> grids,
                               const energy::SumpDuty& sump) {
  std::vector<energy::DutyColumns::Bearing> bearings;
  for (const energy::Part& part : unit.parts)
    if (const auto* bearing = std::get_if<energy::BearingPart>(&part.form))
      bearings.push_back({std::make_shared<const energy::LoadTorques>(*bearing, duty), 1.0});
  return {std::make_shared<const energy::PlacedStretches>(duty, grids, sump), std::move(bearings)};
}

energy::Ledger quickly(const energy::DriveUnit& unit, std::span<const energy::Stretch> duty,
                       const energy::SumpDuty& sump, const std::vector<Temperature>& around,
                       std::vector<double>& oil_K,
                       numerics::LaneWidth width = numerics::widest_lanes()) {
  std::vector<component::SpeedRange> speeds(1);
  energy::add_speeds(duty, speeds);
  const auto grids = energy::speed_grids(unit, speeds);
  energy::QuickMarch march(unit, grids, around, width);
  const energy::DutyColumns columns = columns_of(unit, duty, grids, sump);
  return march(duty, columns, 1, sump, oil_K);
}

void check_same(const energy::DriveUnit& unit, std::span<const energy::Stretch> duty,
                const energy::SumpDuty& sump) {
  std::vector<double> oil_K, exact_K;
  const energy::Ledger quick = quickly(unit, duty, sump, dry, oil_K);
  const energy::Ledger exact =
      energy::march(unit, duty, 1, sump, dry,
                    [&](const energy::Moment& now) { exact_K.push_back(now.oil.value()); });
  double whole_J = 0.0;
  for (std::size_t p = 0; p < unit.parts.size(); ++p) whole_J += exact.whole().of_part(p).value();
  for (std::size_t p = 0; p < unit.parts.size(); ++p) {
    CAPTURE(unit.parts[p].id);
    CHECK(std::abs((quick.whole().of_part(p) - exact.whole().of_part(p)).value()) <=
          1e-5 * whole_J);
  }
  CHECK(std::abs((quick.oil_at_end - exact.oil_at_end).value()) <= 1e-4);
  CHECK(std::abs((quick.into_sump - exact.into_sump).value()) <= 1e-5 * whole_J);
  CHECK(quick.whole().time == exact.whole().time);
  REQUIRE(oil_K.size() == duty.size());
  std::size_t moment = 0;
  for (std::size_t i = 0; i < duty.size(); ++i)
    if (!duty[i].parked) CHECK(std::abs(oil_K[i] - exact_K.at(moment++)) <= 1e-4);
}

}  // namespace

TEST_CASE("a warm-up by tables is that of the march", "[energy]") {
  check_same(sample_unit(), driven(), warming());
}

TEST_CASE("tables follow lips and rings to a millionth over a cycle", "[energy]") {
  const auto duty = driven();
  for (const std::size_t i : {0, 1, 2, 3, 31, 32, 69}) {
    CAPTURE(i);
    const energy::WideSample sample = bench::sample_of(bench::inputs_of(i));
    const energy::DriveUnit unit{
        .shafts = {sample.shaft},
        .parts = {{"lip", energy::ContactPart{0, 0}}, {"ring", energy::ContactPart{0, 1}}}};
    const std::vector<Temperature> around{sample.dry};
    std::vector<double> oil_K;
    const auto quick = quickly(unit, duty, sample.sump, around, oil_K);
    const auto exact = energy::march(unit, duty, 1, sample.sump, around);
    for (std::size_t p = 0; p < 2; ++p)
      CHECK_THAT(quick.whole().of_part(p).value(),
                 Catch::Matchers::WithinRel(exact.whole().of_part(p).value(), 1e-6));
    CHECK_THAT(quick.oil_at_end.value(),
               Catch::Matchers::WithinRel(exact.oil_at_end.value(), 1e-7));
  }
}

TEST_CASE("held oil, a soak and an air stream go by tables as well", "[energy]") {
  energy::SumpDuty held = warming();
  held.held = true;
  held.start = from_celsius(80.0);
  check_same(sample_unit(), driven(), held);
  auto with_soak = driven();
  energy::Stretch rest = with_soak.front();
  rest.parked = true;
  rest.dt = Time::from_value(1800.0);
  with_soak.insert(with_soak.begin() + 900, rest);
  energy::SumpDuty aired = warming();
  aired.air = duty::AirStream{8.0_W_K, from_kmh(100.0), 0.7};
  check_same(sample_unit(), with_soak, aired);
}

TEST_CASE("stretches with a dry side or an oil of their own are marched too", "[energy]") {
  auto stretches = driven();
  stretches.resize(600);
  for (std::size_t i = 200; i < 300; ++i) stretches[i].dry = {from_celsius(100.0)};
  for (std::size_t i = 400; i < 500; ++i) stretches[i].oil = from_celsius(50.0 + 0.01 * double(i));
  check_same(sample_unit(), stretches, warming());
}

TEST_CASE("a march by tables has the same bits at every width of vector", "[energy]") {
  const auto duty = driven();
  energy::SumpDuty held = warming();
  held.held = true;
  held.start = from_celsius(80.0);
  const energy::DriveUnit unit = sample_unit();
  for (const energy::SumpDuty& sump : {warming(), held}) {
    std::vector<double> narrow_K, wide_K;
    const auto narrow = quickly(unit, duty, sump, dry, narrow_K, numerics::LaneWidth::two);
    for (const numerics::LaneWidth width : numerics::lane_widths()) {
      const auto wide = quickly(unit, duty, sump, dry, wide_K, width);
      CHECK(wide_K == narrow_K);
      for (std::size_t p = 0; p < unit.parts.size(); ++p)
        CHECK(wide.whole().by_part[p] == narrow.whole().by_part[p]);
    }
  }
}

TEST_CASE("duties side by side have the bits of each alone", "[energy]") {
  auto duty = driven();
  duty[300].dry = {from_celsius(90.0)};
  duty[301].oil = from_celsius(35.0);
  energy::Stretch rest = duty.front();
  rest.parked = true;
  rest.dt = Time::from_value(600.0);
  duty.insert(duty.begin() + 900, rest);
  // Seven lips, so that one walk has four of them and another three, one of them without its ring;
  // the last also has a loss that is computed stretch by stretch.
  std::vector<energy::DriveUnit> units(7, sample_unit());
  for (std::size_t u = 0; u < units.size(); ++u) {
    component::ShaftContact& lip = units[u].shafts[0].contacts[0];
    lip.line_force = (0.5 + 0.3 * double(u)) * lip.line_force;
    lip.load = (0.5 + 0.3 * double(u)) * lip.load;
    if (u + 1 < units.size()) units[u].parts.pop_back();
  }
  units[2].shafts[0].contacts.pop_back();
  units[2].parts.erase(units[2].parts.begin() + 1);
  const energy::SumpDuty sump = warming();
  std::vector<component::SpeedRange> speeds(1);
  energy::add_speeds(duty, speeds);
  const auto grids = energy::speed_grids(units[0], speeds);
  const energy::DutyColumns columns = columns_of(units[0], duty, grids, sump);
  for (const numerics::LaneWidth width : numerics::lane_widths()) {
    std::vector<energy::QuickMarch> marches;
    for (const energy::DriveUnit& unit : units) marches.emplace_back(unit, grids, dry, width);
    std::vector<energy::QuickMarch::Order> orders;
    for (energy::QuickMarch& march : marches) orders.push_back({&march, duty, &columns, 1, &sump});
    orders.push_back({&marches[0], duty, &columns, 0, &sump});  // no phase: refused
    const auto together = energy::QuickMarch::side_by_side(orders);
    REQUIRE(together.size() == 8);
    CHECK_THROWS_AS(std::rethrow_exception(together[7].failure), std::invalid_argument);
    for (std::size_t u = 0; u < units.size(); ++u) {
      CAPTURE(u, numerics::name(width));
      REQUIRE_FALSE(together[u].failure);
      std::vector<double> oil_K;
      const energy::Ledger alone = quickly(units[u], duty, sump, dry, oil_K);
      CHECK(together[u].oil_K == oil_K);
      CHECK(together[u].ledger.oil_at_end == alone.oil_at_end);
      for (std::size_t p = 0; p < units[u].parts.size(); ++p)
        CHECK(together[u].ledger.whole().by_part[p] == alone.whole().by_part[p]);
    }
    CHECK(together[0].ledger.oil_at_end < together[4].ledger.oil_at_end);
  }
}

TEST_CASE("a unit of bearings alone needs no tables", "[energy]") {
  energy::DriveUnit bearings = sample_unit();
  bearings.shafts[0].contacts.clear();
  std::erase_if(bearings.parts, [](const energy::Part& part) {
    return !std::holds_alternative<energy::BearingPart>(part.form);
  });
  REQUIRE_FALSE(bearings.parts.empty());
  check_same(bearings, driven(), warming());
  energy::SumpDuty held = warming();
  held.held = true;
  check_same(bearings, driven(), held);
}

TEST_CASE("load torques serve a bearing that differs in its factors alone", "[energy]") {
  const auto stretches = driven();
  energy::BearingPart part = std::get<energy::BearingPart>(sample_unit().parts[2].form);
  part.loads = {{-50.0_Nm, 100.0_Nm}, {300.0_N, 900.0_N}, {50.0_N, 200.0_N}};
  const energy::LoadTorques torques(part, stretches);
  energy::BearingPart other = part;
  other.constants.load_torque_factor *= 1.5;
  other.constants.torque_factor *= 0.5;
  CHECK_THAT(torques.scale_to(other).value(), Catch::Matchers::WithinRel(1.5, 1e-15));
  const energy::LoadTorques own(other, stretches);
  for (std::size_t i = 0; i < stretches.size(); i += 100)
    CHECK_THAT(own.torque_Nm[i], Catch::Matchers::WithinRel(1.5 * torques.torque_Nm[i], 1e-14));
  other.constants.static_rating = 2.0 * other.constants.static_rating;
  CHECK_FALSE(torques.scale_to(other));
  energy::BearingPart rollers = part;
  rollers.rolling = energy::CylindricalRolling{0.004};
  CHECK_FALSE(torques.scale_to(rollers));
}
