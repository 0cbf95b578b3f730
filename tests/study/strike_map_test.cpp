#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "ohmdrag/study/evaluate.hpp"
#include "study/sample_case.hpp"
#include "study/strike_grid.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using study::StrikeCell;
using study::StrikeMap;

namespace {

constexpr study::Sections voltage_and_life{.voltage = true, .life = true};

study::LoadStep step(const char* id, Time time, AngularVelocity speed,
                     std::optional<Torque> torque = {}) {
  study::LoadStep result{id, known(time), known(speed), {}, {}};
  if (torque) result.torque = known(*torque);
  return result;
}

/// A shift that warms the oil from -10 degC, from rest to 6000 rpm and at last to a crawl.
study::Duty warming(const char* id) {
  study::Duty duty;
  duty.id = duty.family = id;
  duty.shaft = "rotor";
  duty.hours_per_year = known(3000.0_h);
  duty.start_temperature = known(from_celsius(-10.0));
  duty.load_steps = {step("rest", 500.0_s, 0.0_rpm)};
  static const std::vector<const char*> ids{"a", "b", "c", "d", "e", "f", "g", "h", "i", "j"};
  for (std::size_t i = 0; i < ids.size(); ++i)
    duty.load_steps.push_back(
        step(ids[i], 700.0_s, from_rpm(600.0 * double(i + 1)), Torque::from_value(0.0)));
  duty.load_steps.push_back(step("crawl", 300.0_s, 20.0_rpm));
  return duty;
}

/// One draw is the nominal case: what the map shows.
study::Case nominal_case() {
  study::Case c = sample_case();
  c.samples = 1;
  return c;
}

study::Case warming_case() {
  study::Case c = nominal_case();
  c.duties = {warming("shift")};
  return c;
}

const StrikeMap& map_of(const study::Findings& findings, std::size_t v) {
  REQUIRE(findings.variants.at(v).strike_map);
  return *findings.variants[v].strike_map;
}

template <class Figure>
double sum_of(const StrikeMap& map, const Figure& figure) {
  double sum = 0.0;
  for (const auto& row : map.cells)
    for (const StrikeCell& cell : row) sum += figure(cell);
  return sum;
}

double time_in(const StrikeMap& map, const std::string& regime) {
  return sum_of(
      map, [&](const StrikeCell& cell) { return cell.regime == regime ? cell.time_share : 0.0; });
}

/// Time in cells beside one of another regime: there the cell's middle may be on the other side.
double time_at_borders(const StrikeMap& map) {
  double sum = 0.0;
  const auto rows = std::ssize(map.cells), columns = std::ssize(map.cells.front());
  for (std::ptrdiff_t r = 0; r < rows; ++r)
    for (std::ptrdiff_t c = 0; c < columns; ++c) {
      const auto at = [&](std::ptrdiff_t i, std::ptrdiff_t j) -> const StrikeCell& {
        return map.cells[std::size_t(std::clamp(i, std::ptrdiff_t{0}, rows - 1))]
                        [std::size_t(std::clamp(j, std::ptrdiff_t{0}, columns - 1))];
      };
      bool border = false;
      for (std::ptrdiff_t i = r - 1; i <= r + 1; ++i)
        for (std::ptrdiff_t j = c - 1; j <= c + 1; ++j)
          border = border || at(i, j).regime != at(r, c).regime;
      if (border) sum += at(r, c).time_share;
    }
  return sum;
}

double life_share(const study::VariantFindings& variant, Interval study::LifeRow::*share) {
  double sum = 0.0;
  for (const study::LifeRow& row : variant.life) sum += (row.*share).mid;
  return sum;
}

}  // namespace

TEST_CASE("an axis has round cells, few enough, over all it is asked for", "[derived]") {
  const study::Axis speed = study::axis(0.0, 12345.0, 24);
  CHECK(speed.from == 0.0);
  CHECK(speed.step == 600.0);
  CHECK(speed.cells == 21);
  CHECK(speed.middle(0) == 300.0);
  CHECK(speed.index(0.0) == 0);
  CHECK(speed.index(599.9) == 0);
  CHECK(speed.index(600.0) == 1);
  CHECK(speed.index(99999.0) == 20);
  CHECK(speed.index(-5.0) == 0);
  const study::Axis oil = study::axis(-13.0, 71.0, 12);
  CHECK(oil.from <= -13.0);
  CHECK(oil.from + double(oil.cells) * oil.step >= 71.0);
  CHECK(oil.cells <= 12);
  CHECK(oil.from == oil.step * std::round(oil.from / oil.step));
  for (const double high : {1.0, 3.0, 17.0, 240.0, 6000.0, 40000.0, 1e6}) {
    const study::Axis any = study::axis(0.0, high, 24);
    CHECK(any.cells >= 1);
    CHECK(any.cells <= 24);
    CHECK(double(any.cells) * any.step >= high);
  }
  CHECK_THROWS_AS(study::axis(1.0, 1.0, 24), std::invalid_argument);
  CHECK_THROWS_AS(study::axis(0.0, 1.0, 1), std::invalid_argument);
}

TEST_CASE("the shares of the map are those of the life section", "[derived]") {
  const study::Findings findings = study::evaluate(warming_case(), voltage_and_life);
  for (std::size_t v = 0; v < findings.variants.size(); ++v) {
    CAPTURE(findings.variants[v].id);
    const StrikeMap& map = map_of(findings, v);
    CHECK(map.striking_time_share ==
          Approx(life_share(findings.variants[v], &study::LifeRow::striking_time_share))
              .margin(1e-9));
    CHECK(map.conducting_time_share ==
          Approx(life_share(findings.variants[v], &study::LifeRow::conducting_time_share))
              .margin(1e-9));
    CHECK(map.standstill_time_share == Approx(500.0 / 7800.0));
    CHECK(map.standstill_time_share + map.conducting_time_share + map.holding_time_share +
              map.striking_time_share ==
          Approx(1.0));
  }
  CHECK(map_of(findings, 0).striking_time_share > 0.1);  // the case would show a difference
}

TEST_CASE("cell by cell the shares agree but for cells at a border", "[derived]") {
  const study::Findings findings = study::evaluate(warming_case(), voltage_and_life);
  for (std::size_t v = 0; v < findings.variants.size(); ++v) {
    CAPTURE(findings.variants[v].id);
    const StrikeMap& map = map_of(findings, v);
    const double within = time_at_borders(map) + 1e-9;
    CHECK(std::abs(time_in(map, "striking") - map.striking_time_share) <= within);
    CHECK(std::abs(time_in(map, "holding") - map.holding_time_share) <= within);
    CHECK(std::abs(time_in(map, "conducting") - map.conducting_time_share) <= within);
    CHECK(sum_of(map, [](const StrikeCell& cell) { return cell.time_share; }) ==
          Approx(1.0 - map.standstill_time_share));
  }
}

TEST_CASE("all variants lie on one grid, from rest to the top speed of the duties", "[derived]") {
  const study::Findings findings = study::evaluate(warming_case(), voltage_and_life);
  const StrikeMap& plain = map_of(findings, 0);
  CHECK(plain.shaft_speed_rpm.size() == 24);
  CHECK(plain.shaft_speed_rpm.front() == 125.0);
  CHECK(plain.shaft_speed_rpm.back() == 5875.0);
  CHECK(plain.oil_degC.size() <= 12);
  // The point's 70 degC are on the map though the shift does not come so far.
  CHECK(plain.oil_degC.front() < 10.0);
  CHECK(plain.oil_degC.back() > 60.0);
  for (std::size_t v = 1; v < findings.variants.size(); ++v) {
    CHECK(map_of(findings, v).shaft_speed_rpm == plain.shaft_speed_rpm);
    CHECK(map_of(findings, v).oil_degC == plain.oil_degC);
  }
  // A resistance can only take voltage away here; the film is the same.
  const StrikeMap& ohm = map_of(findings, 2);
  for (std::size_t r = 0; r < plain.cells.size(); ++r)
    for (std::size_t c = 0; c < plain.cells[r].size(); ++c) {
      CHECK(ohm.cells[r][c].held_V <= plain.cells[r][c].held_V);
      CHECK(ohm.cells[r][c].film_ratio == plain.cells[r][c].film_ratio);
    }
  CHECK(ohm.striking_time_share <= plain.striking_time_share);
}

TEST_CASE("without a warm-up the map spans a cold morning to hot oil", "[derived]") {
  const study::Findings findings = study::evaluate(nominal_case(), voltage_and_life);
  const StrikeMap& map = map_of(findings, 0);
  CHECK(map.oil_degC.front() - 0.5 * (map.oil_degC[1] - map.oil_degC[0]) <= -20.0);
  CHECK(map.oil_degC.back() + 0.5 * (map.oil_degC[1] - map.oil_degC[0]) >= 120.0);
  // 6000 rpm at 70 degC: all the time in one cell.
  CHECK(sum_of(map, [](const StrikeCell& cell) { return cell.time_share == 1.0 ? 1.0 : 0.0; }) ==
        1.0);
  study::Case no_duty = nominal_case();
  no_duty.duties.clear();
  no_duty.service = {};
  const study::Findings bare = study::evaluate(no_duty, {.voltage = true});
  const StrikeMap& points_only = map_of(bare, 0);
  CHECK(points_only.duties.empty());
  CHECK(sum_of(points_only, [](const StrikeCell& cell) { return cell.time_share; }) == 0.0);
}

TEST_CASE("a map needs a shaft that turns and an inverter", "[derived]") {
  study::Case still = nominal_case();
  still.points[0].shaft_speed = known(0.0_rpm);
  still.duties.clear();
  still.service = {};
  CHECK_FALSE(study::evaluate(still, {.voltage = true}).variants[0].strike_map);
  study::Case quiet = nominal_case();
  quiet.inverter.reset();
  quiet.coupling.reset();
  CHECK_FALSE(study::evaluate(quiet, voltage_and_life).variants[0].strike_map);
}

TEST_CASE("slower shafts and hotter oil conduct, and the speed of the change is named",
          "[derived]") {
  const study::Findings findings = study::evaluate(warming_case(), voltage_and_life);
  const StrikeMap& map = map_of(findings, 0);
  double cooler = 0.0;
  for (std::size_t r = 0; r < map.cells.size(); ++r) {
    CAPTURE(map.oil_degC[r]);
    REQUIRE(map.conducting_below_rpm[r]);
    const double change = *map.conducting_below_rpm[r];
    CHECK(change > cooler);
    cooler = change;
    for (std::size_t c = 0; c < map.cells[r].size(); ++c) {
      const StrikeCell& cell = map.cells[r][c];
      CHECK((cell.regime == "conducting") == (map.shaft_speed_rpm[c] < change));
      CHECK((cell.film_ratio <= 1.0) == (cell.regime == "conducting"));
      CHECK(cell.threshold_V.has_value() == (cell.regime != "conducting"));
    }
  }
  CHECK(time_in(map, "conducting") > 0.0);
}

TEST_CASE("the film decides where it insulates, the fixed band how much it holds", "[derived]") {
  study::Case c = warming_case();
  c.discharge.fixed_threshold = known(1000.0_V);
  const study::Findings findings = study::evaluate(c, voltage_and_life);
  const StrikeMap& map = map_of(findings, 0);
  CHECK(map.fixed_threshold_V.low == Approx(1000.0));
  CHECK(map.fixed_threshold_V.high == Approx(1000.0));
  std::set<std::string> by_film;
  for (const auto& row : map.cells)
    for (const StrikeCell& cell : row) {
      by_film.insert(cell.verdict);
      // Where the film is gone no threshold holds anything; elsewhere nothing reaches a kilovolt.
      CHECK(cell.by_fixed_threshold == (cell.regime == "conducting" ? "possible" : "none"));
    }
  CHECK(by_film.contains("expected"));

  c.discharge.fixed_threshold = times(10.0_V, 3.7, "discharge.fixed_threshold");
  const study::Findings spread = study::evaluate(c, voltage_and_life);
  // Log-normal with 95 % within a factor 3.7: 5 and 95 % points a factor 3.7^(1.645/1.960) off.
  const double factor = std::pow(3.7, 1.6449 / 1.9600);
  CHECK(map_of(spread, 0).fixed_threshold_V.low == Approx(10.0 / factor).epsilon(1e-3));
  CHECK(map_of(spread, 0).fixed_threshold_V.mid == Approx(10.0));
  CHECK(map_of(spread, 0).fixed_threshold_V.high == Approx(10.0 * factor).epsilon(1e-3));
}

TEST_CASE("an operating point and its cell say the same", "[derived]") {
  study::Case c = nominal_case();
  c.points[0].shaft_speed = known(5875.0_rpm);  // the middle of the last of 24 columns
  const study::Findings findings = study::evaluate(c, voltage_and_life);
  for (std::size_t v = 0; v < findings.variants.size(); ++v) {
    const StrikeMap& map = map_of(findings, v);
    const study::VoltageRow& point = findings.variants[v].voltage[0];
    const auto row = std::ranges::min_element(
        map.oil_degC, {}, [&](double degC) { return std::abs(degC - point.oil_degC); });
    const StrikeCell& cell = map.cells[std::size_t(row - map.oil_degC.begin())].back();
    CHECK(cell.regime == point.regime);
    // The middle of the row is up to half a row off the point's oil.
    CHECK(cell.held_V == Approx(point.held_V.mid).epsilon(0.05).margin(1e-3));
  }
}

TEST_CASE("the torque of a column is the mean while the duties drive", "[derived]") {
  study::Case c = nominal_case();
  study::Duty duty = warming("shift");
  duty.load_steps = {step("pull", 600.0_s, 3000.0_rpm, Torque::from_value(80.0)),
                     step("push", 600.0_s, 3000.0_rpm, Torque::from_value(-50.0)),
                     step("hard", 1200.0_s, 3010.0_rpm, Torque::from_value(110.0)),
                     step("idle", 600.0_s, 6000.0_rpm, Torque::from_value(0.0))};
  c.duties = {duty};
  const study::Findings findings = study::evaluate(c, voltage_and_life);
  const StrikeMap& map = map_of(findings, 0);
  for (std::size_t i = 0; i < map.torque_Nm.size(); ++i)
    CHECK(map.torque_Nm[i] == Approx(i == 12 ? 100.0 : 0.0).margin(1e-12));
}

TEST_CASE("duties add up by the service mix, each shown by itself", "[derived]") {
  study::Case c = nominal_case();
  study::Duty fast;
  fast.id = fast.family = "fast";
  fast.shaft = "rotor";
  fast.shaft_speed = known(5000.0_rpm);
  fast.oil_temperature = known(60.0_degC);
  fast.hours_per_year = known(1000.0_h);
  study::Duty slow = fast;
  slow.id = slow.family = "slow";
  slow.shaft_speed = known(1000.0_rpm);
  slow.hours_per_year = known(3000.0_h);
  c.duties = {fast, slow};
  const study::Findings findings = study::evaluate(c, voltage_and_life);
  const StrikeMap& map = map_of(findings, 0);
  REQUIRE(map.duties.size() == 2);
  CHECK(map.duties[1].duty == "slow");
  for (std::size_t r = 0; r < map.cells.size(); ++r)
    for (std::size_t i = 0; i < map.cells[r].size(); ++i)
      CHECK(map.cells[r][i].time_share ==
            Approx(0.25 * map.duties[0].time_share[r][i] + 0.75 * map.duties[1].time_share[r][i]));
  CHECK(
      map.striking_time_share ==
      Approx(life_share(findings.variants[0], &study::LifeRow::striking_time_share)).margin(1e-9));
}

TEST_CASE("a shaft that turns backwards has its place on the map", "[derived]") {
  study::Case c = warming_case();
  const study::Findings forwards = study::evaluate(c, voltage_and_life);
  for (study::LoadStep& one : c.duties[0].load_steps)
    one.shaft_speed = known(-one.shaft_speed.nominal());
  const study::Findings backwards = study::evaluate(c, voltage_and_life);
  const StrikeMap &a = map_of(forwards, 0), &b = map_of(backwards, 0);
  CHECK(b.striking_time_share == Approx(a.striking_time_share));
  for (std::size_t r = 0; r < a.cells.size(); ++r)
    for (std::size_t i = 0; i < a.cells[r].size(); ++i)
      CHECK(b.cells[r][i].time_share == Approx(a.cells[r][i].time_share).margin(1e-12));
}
