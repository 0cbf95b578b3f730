#include "study/years.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/study/evaluate.hpp"
#include "study/sample_case.hpp"
#include "study/service_case.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using study::YearsAge;
using study::YearsFindings;
using study::YearsStep;

namespace {

constexpr double rounding = 1e-9;

/// One draw is the nominal case, and an element whose resistance stays.
study::Case nominal_case(double growth = 1.0) {
  study::Case c = sample_case();
  c.samples = 1;
  for (study::Variant& variant : c.variants) {
    if (!variant.grounding) continue;
    auto& ring = std::get<study::RingElement>(variant.grounding->element.form);
    ring.resistance.end_of_service_factor = known(growth);
  }
  return c;
}

study::Findings life_of(const study::Case& c) { return study::evaluate(c, {.life = true}); }

const YearsFindings& years_of(const study::Findings& findings, std::size_t v) {
  REQUIRE(findings.variants.at(v).years);
  return *findings.variants[v].years;
}

void check_near(double value, double expected, double relative = rounding) {
  CHECK(std::abs(value - expected) <= relative * std::abs(expected));
}

YearsAge age(double share, double striking, double open = 1.0) {
  YearsAge row;
  row.share_of_life = share;
  row.striking_time_share = striking;
  row.open_striking_time_share = open;
  return row;
}

/// A ring that wears off its deflection.
study::Case wearing_case(double wear_rate) {
  study::Case c = nominal_case();
  // 40 ohm on a nanofarad: near the rise time of the edges, where a little more lets more through.
  c.variants[1].grounding = sample_grounding(40.0_ohm, 0.006_N_mm);
  std::get<study::RingElement>(c.variants[1].grounding->element.form)
      .resistance.end_of_service_factor = known(1.0);
  study::PadService pad = felt();
  pad.wear = wear(wear_rate);
  for (study::Variant& variant : c.variants)
    if (variant.grounding)
      std::get<study::RingElement>(variant.grounding->element.form).service = pad;
  return c;
}

}  // namespace

TEST_CASE("where nothing ages the years end at the dose of the life section", "[derived]") {
  const study::Findings findings = life_of(nominal_case());
  for (std::size_t v = 0; v < findings.variants.size(); ++v) {
    const YearsFindings& years = years_of(findings, v);
    const study::LifeRow& life = findings.variants[v].life.at(0);
    REQUIRE(years.steps.size() == 11);
    const YearsStep& end = years.steps.back();
    check_near(end.hours, *life.service_hours);
    check_near(end.dose_J_per_mm2,
               life.dose_J_per_mm2_per_1000h->mid * *life.service_hours / 1000.0);
    check_near(end.discharges, life.discharge_rate_per_s->mid * *life.service_hours * 3600.0);
    CHECK(years.ages.back().striking_time_share == life.striking_time_share.mid);
    check_near(end.baseline_dose_J_per_mm2, years_of(findings, 0).steps.back().dose_J_per_mm2);
  }
}

TEST_CASE("what stays the same adds up in proportion to the time", "[derived]") {
  const study::Findings findings = life_of(nominal_case());
  const YearsFindings& years = years_of(findings, 1);
  const YearsStep& end = years.steps.back();
  CHECK(end.element_kWh > 0.0);
  CHECK(end.dose_J_per_mm2 > 0.0);
  for (const YearsStep& step : years.steps) {
    check_near(step.dose_J_per_mm2, step.share_of_service * end.dose_J_per_mm2);
    check_near(step.element_kWh, step.share_of_service * end.element_kWh);
  }
  check_near(end.element_kWh, years.ages.front().element_W * end.hours / 1000.0);
  CHECK(years.ages.front().resistance_ohm == years.ages.back().resistance_ohm);
}

TEST_CASE("an open element discharges as no element does", "[derived]") {
  // The oil has a stated temperature: the watts of the element do not reach the films.
  const study::Findings findings = life_of(nominal_case(3.0));
  const YearsFindings& baseline = years_of(findings, 0);
  for (const std::size_t v : {std::size_t{1}, std::size_t{2}}) {
    const YearsFindings& years = years_of(findings, v);
    for (std::size_t a = 0; a < years.ages.size(); ++a) {
      const YearsAge& none = baseline.ages[a];
      CHECK(years.ages[a].open_dose_J_per_mm2_per_1000h == none.dose_J_per_mm2_per_1000h);
      CHECK(years.ages[a].open_striking_time_share == none.striking_time_share);
      CHECK(years.ages[a].open_discharge_rate_per_s == none.discharge_rate_per_s);
      CHECK(years.ages[a].element_W > 0.0);
    }
    CHECK(years.steps.back().open_dose_J_per_mm2 == years.steps.back().baseline_dose_J_per_mm2);
  }
  CHECK(baseline.ages[0].open_dose_J_per_mm2_per_1000h ==
        baseline.ages[0].dose_J_per_mm2_per_1000h);
  CHECK(baseline.ages[0].element_W == 0.0);
  CHECK(baseline.by_striking.word == "none");
  CHECK(baseline.by_dose.word == "none");
}

TEST_CASE("an element of no conductance to speak of is an open one", "[derived]") {
  study::Case c = nominal_case();
  c.variants[1].grounding = sample_grounding(Resistance::from_value(1e15), 0.006_N_mm);
  const study::Findings findings = life_of(c);
  const YearsFindings& years = years_of(findings, 1);
  check_near(years.steps.back().dose_J_per_mm2, years.steps.back().open_dose_J_per_mm2, 1e-3);
  CHECK(years.by_striking.word == "never");
  CHECK(years.by_dose.word == "never");
  CHECK(*years.by_dose.after_h == 0.0);
}

TEST_CASE("a contact that ages is better at the begin than at the end", "[derived]") {
  const study::Findings findings = life_of(wearing_case(5e-8));
  const YearsFindings& years = years_of(findings, 1);
  const YearsAge &begin = years.ages[0], &middle = years.ages[1], &end = years.ages[2];
  CHECK(*begin.line_force_N_per_mm > *middle.line_force_N_per_mm);
  CHECK(*middle.line_force_N_per_mm > *end.line_force_N_per_mm);
  CHECK(*begin.resistance_ohm < *middle.resistance_ohm);
  CHECK(*middle.resistance_ohm < *end.resistance_ohm);
  CHECK(begin.element_W > end.element_W);
  CHECK(begin.dose_J_per_mm2_per_1000h <= middle.dose_J_per_mm2_per_1000h);
  CHECK(middle.dose_J_per_mm2_per_1000h <= end.dose_J_per_mm2_per_1000h);
  CHECK(begin.dose_J_per_mm2_per_1000h < end.dose_J_per_mm2_per_1000h);
  // The life section takes the end all the time: never less than what comes together.
  CHECK(years.steps.back().dose_J_per_mm2 <
        end.dose_J_per_mm2_per_1000h * years.steps.back().hours / 1000.0);
  for (std::size_t i = 1; i < years.steps.size(); ++i)
    CHECK(years.steps[i].dose_J_per_mm2 >= years.steps[i - 1].dose_J_per_mm2);
  // The force of an elastic ring falls with what it wears off: trapezoids of three ages.
  const double mean_W = 0.25 * begin.element_W + 0.5 * middle.element_W + 0.25 * end.element_W;
  check_near(years.steps.back().element_kWh, mean_W * years.steps.back().hours / 1000.0);
}

TEST_CASE("what one part of the years adds, the other parts leave", "[derived]") {
  const YearsFindings years = years_of(life_of(wearing_case(5e-8)), 1);
  const auto dose = &YearsAge::dose_J_per_mm2_per_1000h;
  const double all = study::sum_over_service(years.ages, dose, 1.0, 1.0);
  std::vector<YearsAge> second = {years.ages[1], years.ages[2]};
  check_near(study::sum_over_service(years.ages, dose, 0.5, 1.0) +
                 study::sum_over_service(second, dose, 1.0, 1.0),
             all);
  // Whole elements one after another add what one of them adds over the whole service.
  check_near(study::sum_over_service(years.ages, dose, 1.0, 4.0), all);
  check_near(study::sum_over_service(years.ages, dose, 0.25, 4.0), 0.25 * all);
  // A younger element spends more of the last, unfinished life in its better days.
  CHECK(study::sum_over_service(years.ages, dose, 1.0, 1.5) < all);
}

TEST_CASE("a constant figure sums to itself, whatever is worn out or replaced", "[derived]") {
  std::vector<YearsAge> rows{age(0.0, 0.3), age(0.5, 0.3), age(1.0, 0.3)};
  const double worn = GENERATE(0.2, 0.5, 0.7);
  const double elements = GENERATE(1.0, 1.3, 2.0, 7.9);
  check_near(study::sum_over_service(study::curve_of(rows, worn), &YearsAge::striking_time_share,
                                     1.0, elements),
             0.3, 1e-14);
}

TEST_CASE("loss lies on the straight line between two ages", "[derived]") {
  using study::share_at_loss;
  // 0.1 + 0.9 x from begin to middle reaches 0.9 of 1 at x = 8/9, four ninths of the life.
  CHECK(*share_at_loss({age(0.0, 0.1), age(0.5, 1.0), age(1.0, 1.0)}) == Approx(4.0 / 9.0));
  CHECK(*share_at_loss({age(0.0, 0.0), age(0.5, 0.0), age(1.0, 1.0)}) == Approx(0.95));
  CHECK(*share_at_loss({age(0.0, 0.95), age(0.5, 1.0), age(1.0, 1.0)}) == 0.0);
  CHECK_FALSE(share_at_loss({age(0.0, 0.0), age(0.5, 0.2), age(1.0, 0.8)}));
  CHECK_FALSE(share_at_loss({age(0.0, 0.0, 0.0), age(0.5, 0.0, 0.0), age(1.0, 0.0, 0.0)}));
}

TEST_CASE("what is worn out protects until then and no longer", "[derived]") {
  const std::vector<YearsAge> rows{age(0.0, 0.0), age(0.5, 0.2), age(1.0, 1.0)};
  const auto late = study::curve_of(rows, 0.7);
  CHECK(*study::share_at_loss(late) == 0.7);
  // Triangle to the middle, 0.2 to 0.7, then all.
  CHECK(study::sum_over_service(late, &YearsAge::striking_time_share, 1.0, 1.0) ==
        Approx(0.5 * 0.5 * 0.2 + 0.2 * 0.2 + 0.3));
  const auto early = study::curve_of(rows, 0.3);
  CHECK(*study::share_at_loss(early) == 0.3);
  CHECK(study::sum_over_service(early, &YearsAge::striking_time_share, 1.0, 1.0) == Approx(0.7));
}

TEST_CASE("a brush that is used up loses its protection when it is worn out", "[derived]") {
  study::Case c = nominal_case();
  study::BrushElement element = brush_of(behind_a_spring(5.0_mm));
  element.resistance.bulk = element.resistance.film = known(0.5_ohm);
  study::Grounding brush = grounding_with(std::move(element));
  brush.element.id = "brush";
  c.variants[1].grounding = brush;
  const study::Findings findings = study::evaluate(c, {.budget = true, .life = true});
  const study::ServiceRow& service = life(findings.variants[1], "grounding");
  const YearsFindings& years = years_of(findings, 1);
  REQUIRE(service.worn_out_after_h);
  REQUIRE(service.worn_out_after_h->mid < *service.hours);
  CHECK(*years.worn_out_after_h == Approx(service.worn_out_after_h->mid));
  CHECK(std::isinf(*years.ages.back().resistance_ohm));
  for (const study::Protection& protection : {years.by_striking, years.by_dose}) {
    CHECK(protection.word == "lost");
    CHECK(*protection.after_h == *years.worn_out_after_h);
    CHECK(*protection.after_years == Approx(*protection.after_h / 4000.0));
  }
  CHECK(years.sentence.find("Worn out after") != std::string::npos);
}

TEST_CASE("a part that is replaced begins anew", "[derived]") {
  study::Case c = wearing_case(5e-8);
  const YearsFindings once = years_of(life_of(c), 1);
  c.variants[1].grounding->replaced_every = known(10000.0_h);
  const YearsFindings four = years_of(life_of(c), 1);
  CHECK(once.elements == 1.0);
  CHECK(four.elements == Approx(4.0));
  CHECK(*four.ages.back().hours == Approx(10000.0));
  CHECK(*four.ages.back().resistance_ohm < *once.ages.back().resistance_ohm);
  CHECK(four.steps.back().dose_J_per_mm2 < once.steps.back().dose_J_per_mm2);
}

TEST_CASE("survival at the rating life of a single bearing is nine tenths", "[formula]") {
  // ISO 281, definition of the basic rating life, from memory: 90 % of a group reach or exceed it.
  study::Case c = nominal_case();
  const study::Findings first = life_of(c);
  const double basic_h = first.variants[0].life.at(0).mechanical_basic_h;
  c.service.years = known(basic_h / 4000.0);
  const study::Findings findings = life_of(c);
  for (const YearsStep& end :
       {years_of(findings, 0).steps.back(), years_of(findings, 1).steps.back()}) {
    check_near(end.survival, 0.9);
    check_near(end.baseline_survival, 0.9);
  }
  CHECK(years_of(findings, 0).steps.front().survival == 1.0);
}

TEST_CASE("a law of erosion lowers survival, least with the better element", "[derived]") {
  study::Case c = nominal_case();
  study::DamageLaw law;
  law.kind = study::LawKind::relative;
  law.baseline_life = known(20000.0_h);
  law.power = known(1.0);
  c.laws = {law};
  const study::Findings findings = life_of(c);
  const YearsStep plain = years_of(findings, 0).steps.back();
  const YearsStep ohm = years_of(findings, 2).steps.back();
  const double fatigue = years_of(life_of(nominal_case()), 0).steps.back().survival;
  // Basic life at 20 000 h, slope 2 of the case, service of 40 000 h: 0.9^(2^2).
  check_near(plain.survival, fatigue * std::pow(0.9, 4.0));
  CHECK(ohm.survival >= plain.survival);
  CHECK(ohm.baseline_survival == plain.survival);
  CHECK(ohm.survival <= fatigue);
}

TEST_CASE("without a length of service there are ages and no sums", "[derived]") {
  study::Case c = nominal_case(3.0);
  c.service.years.reset();
  const YearsFindings years = years_of(life_of(c), 1);
  CHECK(years.steps.empty());
  CHECK_FALSE(years.ages.back().hours);
  CHECK(*years.ages.back().resistance_ohm == Approx(3.0 * *years.ages.front().resistance_ohm));
}
