#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "ohmdrag/bearing/damage_sum.hpp"
#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/bearing/tapered_load.hpp"
#include "ohmdrag/bearing/weibull.hpp"
#include "ohmdrag/material/viscosity.hpp"
#include "ohmdrag/study/evaluate.hpp"
#include "study/sample_case.hpp"
#include "support/near.hpp"

// The class of oil: -/17/14 of ISO 281:2007 Annex A, from memory; the bearing: invented.

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using study::Sections;

namespace {

constexpr Sections lives{.budget = false, .energy = false, .voltage = false, .life = true};

study::CleanlinessClass oil_class(const char* id, double factor, double diameter) {
  return {
      .id = id, .title = id, .factor = known(factor), .diameter = known(diameter), .dirtier = {}};
}

/// The sample machine on oil of a stated class, one draw.
study::Case clean_case() {
  study::Case c = sample_case();
  c.samples = 1;
  c.sump.cleanliness = study::OilCleanliness{.usual = oil_class("slight", 0.0133, 1.670),
                                             .with_debris = oil_class("typical", 0.00864, 2.5164),
                                             .within_class = known(1.0)};
  return c;
}

/// The same, warming up from cold.
study::Case warming_case() {
  study::Case c = clean_case();
  c.duties[0].oil_temperature.reset();
  c.duties[0].start_temperature = known(23.0_degC);
  return c;
}

study::Findings lives_of(const study::Case& c) { return study::evaluate(c, lives); }

const study::LifeRow& life(const study::Findings& findings, std::size_t v, std::size_t b = 0) {
  return findings.variants.at(v).life.at(b);
}

bool same(const Interval& a, const Interval& b) {
  return a.low == b.low && a.mid == b.mid && a.high == b.high;
}

bool has_flag(const study::LifeRow& row, const std::string& code) {
  for (const study::Flag& flag : row.flags)
    if (flag.code == code) return true;
  return false;
}

/// What the middle of the sample case runs on.
struct Running {
  Temperature oil;
  AngularVelocity speed;
};

/// Life of the sample bearing by the library alone.
Time ball_life(const Running& at, double survival = 0.9) {
  const Force load = bearing::deep_groove_equivalent_load(900.0_N, 150.0_N, 17861.0_N, 14.0).load;
  const material::Walther oil(25.0_mm2_s, 5.3_mm2_s, 0.7);
  const double kappa = bearing::viscosity_ratio(oil.at(at.oil), at.speed, 60.0_mm);
  const double margin = bearing::contamination_factor({0.0133, 1.670}, kappa, 60.0_mm) *
                        (17861.0_N / 22.0 / load).value();
  return bearing::reliability_factor(survival) * bearing::ball_life_factor(kappa, margin).value *
         bearing::basic_life(29101.0_N, load, bearing::ball_life_exponent, at.speed);
}

double in_hours(Time time) { return time.value() / 3600.0; }

}  // namespace

TEST_CASE("constant running has the life of its one point", "[derived]") {
  const auto findings = lives_of(clean_case());
  const double expected_h = in_hours(ball_life({70.0_degC, 6000.0_rpm}));
  CHECK(*life(findings, 0).mechanical_modified_h == Approx(expected_h).epsilon(1e-12));
  const material::Walther oil(25.0_mm2_s, 5.3_mm2_s, 0.7);
  CHECK(life(findings, 0).viscosity_ratio->mid ==
        Approx(bearing::viscosity_ratio(oil.at(70.0_degC), 6000.0_rpm, 60.0_mm)).epsilon(1e-12));
}

TEST_CASE("modified lives of steps add up after Palmgren and Miner", "[derived]") {
  // Each step at its own oil: kappa differs, so no single a_ISO would do.
  study::Case c = clean_case();
  study::Duty& duty = c.duties[0];
  duty.oil_temperature.reset();
  duty.shaft_speed.reset();
  duty.load_steps = {{"cold", known(600.0_s), known(1500.0_rpm), {}, known(30.0_degC)},
                     {"hot", known(1800.0_s), known(9000.0_rpm), {}, known(95.0_degC)}};
  const std::array shares{bearing::LifeShare{600.0, ball_life({30.0_degC, 1500.0_rpm})},
                          bearing::LifeShare{1800.0, ball_life({95.0_degC, 9000.0_rpm})}};
  CHECK(*life(lives_of(c), 0).mechanical_modified_h ==
        Approx(in_hours(bearing::mixed_life(shares))).epsilon(1e-12));
}

TEST_CASE("at a held oil temperature grounding moves no mechanical figure", "[derived]") {
  study::Case c = clean_case();
  c.samples = 40;
  const auto findings = lives_of(c);
  for (std::size_t v = 1; v < findings.variants.size(); ++v) {
    CHECK(same(life(findings, v).mechanical_basic_interval_h,
               life(findings, 0).mechanical_basic_interval_h));
    CHECK(same(*life(findings, v).mechanical_modified_interval_h,
               *life(findings, 0).mechanical_modified_interval_h));
    CHECK(same(*life(findings, v).viscosity_ratio, *life(findings, 0).viscosity_ratio));
    CHECK(same(*findings.variants[v].life_system->modified_h,
               *findings.variants[0].life_system->modified_h));
  }
}

TEST_CASE("while it warms up the oil temperature alone moves the modified life", "[derived]") {
  // The ring that presses harder warms the sump: thinner oil, shorter life. The basic life sees
  // nothing of it.
  study::Case c = warming_case();
  const auto findings = lives_of(c);
  CHECK(same(life(findings, 2).mechanical_basic_interval_h,
             life(findings, 0).mechanical_basic_interval_h));
  CHECK(life(findings, 2).viscosity_ratio->mid < life(findings, 0).viscosity_ratio->mid);
  CHECK(*life(findings, 2).mechanical_modified_h < *life(findings, 0).mechanical_modified_h);

  // A sump too large to warm takes the difference away.
  c.sump.heat_capacity = known(HeatCapacity::from_value(1e15));
  const auto cold = lives_of(c);
  CHECK(*life(cold, 2).mechanical_modified_h ==
        Approx(*life(cold, 0).mechanical_modified_h).epsilon(1e-9));
  CHECK(*life(cold, 0).mechanical_modified_h ==
        Approx(in_hours(ball_life({23.0_degC, 6000.0_rpm}))).epsilon(1e-9));
}

TEST_CASE("debris in the oil shortens the mechanical life of its variant alone", "[derived]") {
  study::Case c = clean_case();
  c.variants[2].grounding->debris_reaches_oil = true;
  const auto findings = lives_of(c);
  CHECK(same(*life(findings, 1).mechanical_modified_interval_h,
             *life(findings, 0).mechanical_modified_interval_h));
  CHECK(*life(findings, 2).mechanical_modified_h < *life(findings, 0).mechanical_modified_h);
  CHECK(same(life(findings, 2).mechanical_basic_interval_h,
             life(findings, 0).mechanical_basic_interval_h));
  CHECK(has_flag(life(findings, 2), "debris"));
  CHECK_FALSE(has_flag(life(findings, 1), "debris"));
  CHECK(findings.variants[2].life_system->cleanliness == "typical");
  CHECK(findings.variants[1].life_system->cleanliness == "slight");

  // Without a dirtier class there is nothing to lose, and it is said.
  c.sump.cleanliness->with_debris.reset();
  const auto dirtiest = lives_of(c);
  CHECK(*life(dirtiest, 2).mechanical_modified_h == *life(dirtiest, 0).mechanical_modified_h);
  CHECK(has_flag(life(dirtiest, 2), "debris"));
}

TEST_CASE("a stated reliability scales the modified life alone", "[derived]") {
  study::Case c = clean_case();
  const auto at_90 = lives_of(c);
  c.service.reliability = 0.95;
  const auto at_95 = lives_of(c);
  CHECK(*life(at_95, 0).mechanical_modified_h ==
        Approx(in_hours(ball_life({70.0_degC, 6000.0_rpm}, 0.95))).epsilon(1e-12));
  CHECK(life(at_95, 0).mechanical_basic_h == life(at_90, 0).mechanical_basic_h);
  CHECK(has_flag(life(at_95, 0), "reliability"));
  CHECK_FALSE(has_flag(life(at_90, 0), "reliability"));
  CHECK(at_95.variants[0].life_system->reliability == 0.95);
}

TEST_CASE("a stated fatigue load limit replaces the simplified one", "[derived]") {
  study::Case c = clean_case();
  const double simplified_h = *life(lives_of(c), 0).mechanical_modified_h;
  c.bearings[0].type.fatigue_load_limit = known(17861.0_N / 22.0);
  const auto same_limit = lives_of(c);
  CHECK(*life(same_limit, 0).mechanical_modified_h == Approx(simplified_h).epsilon(1e-12));
  CHECK_FALSE(has_flag(life(same_limit, 0), "fatigue-load-limit"));
  c.bearings[0].type.fatigue_load_limit = known(1200.0_N);
  CHECK(*life(lives_of(c), 0).mechanical_modified_h > simplified_h);
}

TEST_CASE("rollers have their own exponent, factor and fatigue load limit", "[derived]") {
  const auto family = GENERATE(study::BearingType::Family::cylindrical_roller,
                               study::BearingType::Family::tapered_roller);
  const bool tapered = family == study::BearingType::Family::tapered_roller;
  study::Case c = clean_case();
  c.inverter.reset();
  c.coupling.reset();
  study::BearingType& type = c.bearings[0].type;
  type.family = family;
  if (tapered) type.axial_factor = known(1.6);
  c.bearings[0].radial = {known(2000.0_N)};
  c.bearings[0].axial = {known(1000.0_N)};

  const Force load = tapered ? bearing::tapered_roller_equivalent_load(2000.0_N, 1000.0_N, 1.6)
                             : bearing::cylindrical_roller_equivalent_load(2000.0_N);
  const material::Walther oil(25.0_mm2_s, 5.3_mm2_s, 0.7);
  const double kappa = bearing::viscosity_ratio(oil.at(70.0_degC), 6000.0_rpm, 60.0_mm);
  const double margin = bearing::contamination_factor({0.0133, 1.670}, kappa, 60.0_mm) *
                        (17861.0_N / 8.2 / load).value();
  const Time basic = bearing::basic_life(29101.0_N, load, 10.0 / 3.0, 6000.0_rpm);
  const auto findings = lives_of(c);
  CHECK(life(findings, 0).mechanical_basic_h == Approx(in_hours(basic)).epsilon(1e-12));
  CHECK(*life(findings, 0).mechanical_modified_h ==
        Approx(bearing::roller_life_factor(kappa, margin).value * in_hours(basic)).epsilon(1e-12));
}

TEST_CASE("a film below the method's range is flagged with its share", "[derived]") {
  // Creeping for a quarter of the time: kappa far below 0.1.
  study::Case c = clean_case();
  study::Duty& duty = c.duties[0];
  duty.oil_temperature.reset();
  duty.shaft_speed.reset();
  duty.load_steps = {{"creep", known(600.0_s), known(5.0_rpm), {}, known(90.0_degC)},
                     {"run", known(1800.0_s), known(6000.0_rpm), {}, known(70.0_degC)}};
  const auto findings = lives_of(c);
  REQUIRE(has_flag(life(findings, 0), "viscosity-ratio"));
  for (const study::Flag& flag : life(findings, 0).flags)
    if (flag.code == "viscosity-ratio") CHECK(flag.text.find("25 % of the") != std::string::npos);
  CHECK_FALSE(has_flag(life(lives_of(clean_case()), 0), "viscosity-ratio"));
}

TEST_CASE("a load beyond half the rating is flagged", "[derived]") {
  study::Case c = clean_case();
  c.bearings[0].radial = {known(15000.0_N)};
  CHECK(has_flag(life(lives_of(c), 0), "rating-life-load"));
  CHECK_FALSE(has_flag(life(lives_of(clean_case()), 0), "rating-life-load"));
}

TEST_CASE("oil of no stated class has no modified life", "[derived]") {
  study::Case c = sample_case();
  c.samples = 1;
  const auto findings = lives_of(c);
  CHECK_FALSE(life(findings, 0).mechanical_modified_h);
  CHECK_FALSE(life(findings, 0).viscosity_ratio);
  CHECK_FALSE(findings.variants[0].life_system->modified_h);
}

TEST_CASE("all bearings together live shorter than each", "[derived]") {
  study::Case c = clean_case();
  const auto alone = lives_of(c);
  CHECK(alone.variants[0].life_system->basic_h.mid ==
        Approx(life(alone, 0).mechanical_basic_h).epsilon(1e-12));
  c.bearings.push_back(c.bearings[0]);
  c.bearings[1].id = "far-end";
  const auto pair = lives_of(c);
  const auto& system = *pair.variants[0].life_system;
  CHECK(system.bearings == 2);
  CHECK(system.slope == 1.5);
  // Two equal bearings: 2^(-1/1.5).
  CHECK(system.basic_h.mid / life(pair, 0).mechanical_basic_h == Approx(0.629961).epsilon(1e-6));
  CHECK(system.modified_h->mid / *life(pair, 0).mechanical_modified_h ==
        Approx(0.629961).epsilon(1e-6));
  CHECK(*system.service_hours == Approx(40000.0));

  c.bearings[1].radial = {known(2500.0_N)};
  const auto uneven = lives_of(c);
  const std::array parts{Time::from_value(*life(uneven, 0, 0).mechanical_modified_h),
                         Time::from_value(*life(uneven, 0, 1).mechanical_modified_h)};
  CHECK(uneven.variants[0].life_system->modified_h->mid ==
        Approx(bearing::system_l10(parts, 1.5).value()).epsilon(1e-12));
}

TEST_CASE("a requirement may ask for the modified life", "[derived]") {
  study::Case c = clean_case();
  study::Requirement requirement;
  requirement.id = "life";
  requirement.measure = study::Measure::modified_life;
  requirement.min = known(Uncertain<double>::raw(1000.0 * 3600.0));
  c.requirements = {requirement};
  const auto findings = lives_of(c);
  const auto& row = findings.variants[0].requirements.at(0);
  CHECK(row.quantity == "modified-life");
  CHECK(row.unit == "h");
  CHECK(row.value.mid == Approx(*life(findings, 0).mechanical_modified_h).epsilon(1e-12));
  c.sump.cleanliness.reset();
  CHECK(lives_of(c).variants[0].requirements.at(0).not_applicable);
}

TEST_CASE("a proven EP additive in clean oil is counted and owned up to", "[derived]") {
  study::Case c = clean_case();
  c.sump.cleanliness->usual = oil_class("clean", 0.0864, 0.5796);
  c.duties[0].shaft_speed = known(1500.0_rpm);  // a viscosity ratio below 1
  c.bearings[0].radial = {known(6000.0_N)};     // a life factor below 3
  const study::LifeRow plain = life(lives_of(c), 0);
  REQUIRE(plain.viscosity_ratio->mid < 1.0);
  c.sump.cleanliness->proven_ep_additive = true;
  const study::LifeRow additive = life(lives_of(c), 0);
  CHECK(*additive.mechanical_modified_h > *plain.mechanical_modified_h);
  CHECK(*additive.mechanical_modified_h <= 3.0 * additive.mechanical_basic_h * (1.0 + 1e-12));
  CHECK(additive.mechanical_basic_h == plain.mechanical_basic_h);
  CHECK(has_flag(additive, "ep-additive"));
  CHECK_FALSE(has_flag(plain, "ep-additive"));
}
