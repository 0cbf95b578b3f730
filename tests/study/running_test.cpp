// Watts over the speed of a shaft, and temperatures along a duty: against the points, the duties
// and the march of the same case.

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/study/edition.hpp"
#include "ohmdrag/study/evaluate.hpp"
#include "study/sample_case.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

/// The sample case and a slower point with the same oil and torque. One draw is the nominal case.
study::Case two_speeds() {
  study::Case c = sample_case();
  c.samples = 1;
  c.points.resize(1);
  study::OperatingPoint slow = c.points.front();
  slow.id = "slow";
  slow.shaft_speed = known(AngularVelocity::from_value(0.5 * slow.shaft_speed->mid()));
  c.points.push_back(slow);
  return c;
}

study::Duty warming() {
  study::Duty duty;
  duty.id = duty.family = "shift";
  duty.shaft = "rotor";
  duty.hours_per_year = known(3000.0_h);
  duty.start_temperature = known(from_celsius(-10.0), "duty.shift.start_temperature");
  duty.load_steps = {{"run", known(6000.0_s), known(from_rpm(6000.0)), {}, {}},
                     {"rest", known(600.0_s), known(0.0_rpm), {}, {}}};
  return duty;
}

study::Case warming_case() {
  study::Case c = sample_case();
  c.samples = 1;
  c.duties = {warming()};
  return c;
}

}  // namespace

TEST_CASE("watts over speed meet the points of the budget that have the same oil and torque",
          "[derived]") {
  const study::Case question = two_speeds();
  const auto findings = study::evaluate(question, {.budget = true});
  for (const study::VariantFindings& one : findings.variants) {
    REQUIRE(one.watts_over_speed);
    const study::SpeedWatts& curve = *one.watts_over_speed;
    CHECK(curve.point == question.points.front().id);
    CHECK(curve.draws == 1);
    CHECK(curve.remark.empty());
    std::size_t met = 0;
    for (const study::BudgetRow& row : one.budget)
      for (const study::SpeedWattsRow& at : curve.rows)
        if (at.component == row.component &&
            std::abs(at.shaft_speed_rpm - row.shaft_speed_rpm) < 1e-6) {
          ++met;
          CHECK(at.own_W.mid == Approx(row.own_W.mid).epsilon(1e-9));
        }
    CHECK(met == one.budget.size());
    CHECK(curve.rows.size() == 12 * (one.budget.size() / question.points.size()));
  }
}

TEST_CASE("bands over speed are those of the point's draws", "[derived]") {
  study::Case question = sample_case();
  question.samples = 40;  // all of them are behind a band
  question.points.resize(1);
  const auto findings = study::evaluate(question, {.budget = true});
  const study::VariantFindings& one = findings.variants.back();
  REQUIRE(one.watts_over_speed);
  for (const study::BudgetRow& row : one.budget) {
    const auto at = std::ranges::find_if(
        one.watts_over_speed->rows, [&](const study::SpeedWattsRow& candidate) {
          return candidate.component == row.component &&
                 std::abs(candidate.shaft_speed_rpm - row.shaft_speed_rpm) < 1e-6;
        });
    REQUIRE(at != one.watts_over_speed->rows.end());
    CHECK(at->own_W.low == Approx(row.own_W.low).epsilon(1e-9));
    CHECK(at->own_W.high == Approx(row.own_W.high).epsilon(1e-9));
  }
}

TEST_CASE("a course begins at the start temperature and ends where the march ends", "[derived]") {
  const auto findings = study::evaluate(warming_case(), {.energy = true});
  for (const study::VariantFindings& one : findings.variants) {
    REQUIRE(one.courses.size() == 1);
    const study::DutyCourse& course = one.courses.front();
    CHECK(course.duty == "shift");
    REQUIRE(course.time_s.size() > 50);
    CHECK(course.time_s.size() <= 150);
    CHECK(std::ranges::is_sorted(course.time_s));
    CHECK(course.time_s.back() < 6600.0);
    CHECK(course.oil_degC.front() == Approx(-10.0));
    const auto whole = std::ranges::find_if(one.energy, [](const study::EnergyRow& row) {
      return row.end_oil_temperature_degC.has_value();
    });
    REQUIRE(whole != one.energy.end());
    CHECK(std::abs(course.oil_degC.back() - whole->end_oil_temperature_degC->mid) < 1.5);
    const auto hottest = std::ranges::max_element(course.oil_degC) - course.oil_degC.begin();
    CHECK(course.time_s[static_cast<std::size_t>(hottest)] == Approx(6000.0).margin(120.0));
    REQUIRE(!course.contacts.empty());
    for (const study::ContactCourse& contact : course.contacts) {
      REQUIRE(contact.mean_degC.size() == course.time_s.size());
      for (std::size_t i = 0; i < contact.mean_degC.size(); ++i) {
        CHECK(contact.highest_degC[i] >= contact.mean_degC[i] - 1e-9);
        if (course.time_s[i] < 5900.0) CHECK(contact.mean_degC[i] > course.oil_degC[i]);
      }
    }
  }
}

TEST_CASE("a steady duty and bins without an order have no course", "[derived]") {
  study::Case question = warming_case();
  for (study::LoadStep& step : question.duties.front().load_steps)
    step.oil_temperature = known(from_celsius(60.0));
  question.duties.front().start_temperature.reset();
  CHECK(study::evaluate(question, {.energy = true}).variants.front().courses.empty());
}

TEST_CASE("an edition drops a course or a curve that shows a sealed number", "[derived]") {
  study::Case question = warming_case();
  const auto whole = study::evaluate(question, {.budget = true, .energy = true});
  const auto shown = [&] {
    return study::findings_for(Share::customer, question, whole).variants.back();
  };
  CHECK(shown().courses.size() == 1);
  CHECK(!shown().watts_over_speed->rows.empty());
  question.duties.front().start_temperature->share = Share::internal;
  CHECK(shown().courses.empty());
  CHECK(!shown().watts_over_speed->rows.empty());
  question.points.front().shaft_speed->key = "operating_point.running.shaft_speed";
  question.points.front().shaft_speed->share = Share::internal;
  CHECK(shown().watts_over_speed->rows.empty());
}
