#include <algorithm>
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "ohmdrag/duty/cycle.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/cycles.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using Catch::Matchers::Contains;
using test::near;
using test::within;

namespace {

/// 2 s of rest, 4 s up to 36 km/h, 3 s held, 5 s down; corner points only.
duty::Cycle trapezium() {
  return {.id = "trapezium",
          .title = "",
          .source = "invented",
          .time = {0.0_s, 2.0_s, 6.0_s, 9.0_s, 14.0_s},
          .speed = {0.0_m_s, 0.0_m_s, 10.0_m_s, 10.0_m_s, 0.0_m_s},
          .phases = {{"up", 0, 2}, {"rest", 2, 4}}};
}

}  // namespace

TEST_CASE("totals of a trapezium by hand", "[duty][derived]") {
  const auto sum = duty::totals(trapezium());
  CHECK(sum.duration == 14.0_s);
  CHECK_THAT(sum.distance, within(75.0_m, 1e-12_m));  // 20 + 30 + 25
  CHECK_THAT(sum.rectangle_distance, within(75.0_m, 1e-12_m));
  CHECK_THAT(sum.checksum, within(75.0_m_s, 1e-12_m_s));
  CHECK(sum.max == 10.0_m_s);
  CHECK_THAT(sum.mean, near(Speed::from_value(75.0 / 14.0), 1e-15));
  CHECK(sum.zero_samples == 4);  // 0, 1, 2 and 14 s
  CHECK(sum.stop_share == Approx(2.0 / 14.0).epsilon(1e-15));
}

TEST_CASE("phases add up to the whole", "[duty][derived]") {
  const auto cycle = trapezium();
  const auto up = duty::totals(cycle, cycle.phases[0]);
  const auto rest = duty::totals(cycle, cycle.phases[1]);
  CHECK(up.duration == 6.0_s);
  CHECK_THAT(up.distance, within(20.0_m, 1e-12_m));
  CHECK_THAT(rest.distance, within(55.0_m, 1e-12_m));
  CHECK_THAT(rest.checksum, within(60.0_m_s, 1e-12_m_s));  // both ends: 10 10 10 10 8 6 4 2 0
}

TEST_CASE("refining keeps way, corners and phases", "[duty][derived]") {
  const auto coarse = trapezium();
  const auto fine = duty::refined(coarse, 1.0_s);
  CHECK(fine.time.size() == 15);
  for (std::size_t i = 0; i < fine.time.size(); ++i)
    CHECK_THAT(fine.time[i], within(Time::from_value(static_cast<double>(i)), 1e-12_s));
  CHECK_THAT(fine.speed[3], within(2.5_m_s, 1e-12_m_s));
  CHECK(fine.phases[0].last == 6);
  CHECK(fine.phases[1].first == 6);
  CHECK(fine.phases[1].last == 14);
  CHECK_THAT(duty::totals(fine).distance, near(duty::totals(coarse).distance, 1e-14));
  CHECK(duty::refined(fine, 1.0_s).time.size() == 15);
  CHECK(duty::refined(coarse, 100.0_s).time.size() == 5);
  CHECK(duty::refined(coarse, 4.0_s).time.size() == 6);  // only the last stretch is longer
  CHECK_THROWS_AS(duty::refined(coarse, 0.0_s), std::invalid_argument);
}

TEST_CASE("cycles one after another", "[duty][derived]") {
  const std::vector one{trapezium()};
  CHECK(duty::sequence(one).phases[0].id == "up");

  auto later = trapezium();
  for (auto& t : later.time) t += 100.0_s;  // only differences count
  const std::vector three{trapezium(), later, trapezium()};
  const auto joined = duty::sequence(three);
  CHECK(joined.time.size() == 13);
  CHECK(joined.time.back() == 42.0_s);
  CHECK_THAT(duty::totals(joined).distance, within(225.0_m, 1e-11_m));
  REQUIRE(joined.phases.size() == 6);
  CHECK(joined.phases[0].id == "trapezium/up");
  CHECK(joined.phases[2].id == "trapezium#2/up");
  CHECK(joined.phases[5].id == "trapezium#3/rest");
  CHECK(joined.phases[2].first == 4);
  CHECK(joined.phases[5].last == 12);
  CHECK(joined.source == "invented");

  auto moving = trapezium();
  moving.speed.front() = 1.0_m_s;
  CHECK_THROWS_WITH(duty::sequence(std::vector{trapezium(), moving}), Contains("trapezium starts"));
  CHECK_THROWS_AS(duty::sequence({}), std::invalid_argument);
}

TEST_CASE("a trace without two samples or with a foreign phase is refused", "[duty][derived]") {
  CHECK_THROWS_AS(duty::totals(duty::Cycle{}), std::invalid_argument);
  CHECK_THROWS_AS(duty::totals(trapezium(), {"beyond", 2, 5}), std::invalid_argument);
  CHECK_THROWS_AS(duty::totals(trapezium(), {"nothing", 2, 2}), std::invalid_argument);
}

TEST_CASE("a wrong digit in a table misses its published totals", "[duty][derived]") {
  const std::string good = test::table_text("WLTC_class3b.csv");
  const duty::CycleLabel label{.id = "wltc-3b", .title = "", .source = "", .phases = {}};
  const std::vector<duty::PublishedTotal> published{{.phase = "whole",
                                                     .total = duty::Total::checksum,
                                                     .value = from_kmh(83758.6),
                                                     .tolerance = from_kmh(0.05),
                                                     .basis = Basis::handbook,
                                                     .source = ""},
                                                    {.phase = "whole",
                                                     .total = duty::Total::duration,
                                                     .value = 1800.0_s,
                                                     .tolerance = 0.5_s,
                                                     .basis = Basis::handbook,
                                                     .source = ""}};
  CHECK(duty::mismatches(duty::cycle_from_csv(good, label), published).empty());

  // Every tenth digit of the speed column in turn.
  std::size_t tried = 0;
  std::size_t comma = good.find(',', good.find('\n'));
  for (; comma != std::string::npos; comma = good.find(',', comma + 1)) {
    if (++tried % 10 != 0) continue;
    std::string bad = good;
    char& digit = bad[comma + 1];
    digit = digit == '9' ? '8' : static_cast<char>(digit + 1);
    const auto missed = duty::mismatches(duty::cycle_from_csv(bad, label), published);
    REQUIRE(missed.size() == 1);
    CHECK_THAT(missed[0].text, Contains("cycle wltc-3b, whole: checksum is"));
    CHECK_THAT(missed[0].text, Contains("published 83758.6 km/h within 0.05 km/h"));
  }
  CHECK(tried == 1801);
}

TEST_CASE("a published total of another unit or phase is refused", "[duty][derived]") {
  using duty::PublishedTotal;
  const std::vector<PublishedTotal> wrong_unit{{.phase = "whole",
                                                .total = duty::Total::distance,
                                                .value = 1.0_s,
                                                .tolerance = 1.0_s,
                                                .basis = Basis::assumed,
                                                .source = ""}};
  CHECK_THROWS_AS(duty::mismatches(trapezium(), wrong_unit), std::invalid_argument);
  const std::vector<PublishedTotal> no_phase{{.phase = "down",
                                              .total = duty::Total::distance,
                                              .value = 1.0_m,
                                              .tolerance = 1.0_m,
                                              .basis = Basis::assumed,
                                              .source = ""}};
  CHECK_THROWS_AS(duty::mismatches(trapezium(), no_phase), std::invalid_argument);
}

TEST_CASE("every kind of published total is compared", "[duty][derived]") {
  using duty::Total;
  const auto check = [](Total total, duty::TotalValue value, duty::TotalValue tolerance) {
    const std::vector<duty::PublishedTotal> one{{.phase = "up",
                                                 .total = total,
                                                 .value = value,
                                                 .tolerance = tolerance,
                                                 .basis = Basis::assumed,
                                                 .source = ""}};
    return duty::mismatches(trapezium(), one).size();
  };
  CHECK(check(Total::duration, 6.0_s, 0.1_s) == 0);
  CHECK(check(Total::duration, 6.2_s, 0.1_s) == 1);
  CHECK(check(Total::distance, 20.0_m, 0.1_m) == 0);
  CHECK(check(Total::distance, 19.8_m, 0.1_m) == 1);
  CHECK(check(Total::checksum, 25.0_m_s, 0.1_m_s) == 0);  // 0 0 0 2.5 5 7.5 10
  CHECK(check(Total::max_speed, 10.0_m_s, 0.1_m_s) == 0);
  CHECK(check(Total::max_speed, 10.2_m_s, 0.1_m_s) == 1);
  CHECK(check(Total::mean_speed, Speed::from_value(20.0 / 6.0), 0.001_m_s) == 0);
}
