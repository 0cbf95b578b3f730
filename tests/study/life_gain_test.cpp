// Lives under a law of damage and what grounding gains of them, in the sample machine.

#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/life/combined_life.hpp"
#include "ohmdrag/study/evaluate.hpp"
#include "study/combined_lives.hpp"
#include "study/damage_law.hpp"
#include "study/service_case.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using study::Sections;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr char words[] = "benefit not demonstrable with these inputs";

study::DamageLaw dose_law(double hours) {
  study::DamageLaw law;
  law.kind = study::LawKind::dose;
  law.observed = "first raceway noise";
  law.after = known(Time::from_value(hours * 3600.0));
  law.in_variant = "plain";
  return law;
}

study::DamageLaw relative_law(double hours, double power = 1.0) {
  study::DamageLaw law;
  law.kind = study::LawKind::relative;
  law.baseline_life = known(Time::from_value(hours * 3600.0));
  law.power = known(power);
  return law;
}

/// Constants of data/laws.toml; nothing too low to count.
study::DamageLaw density_law() {
  study::DamageLaw law;
  law.kind = study::LawKind::current_density;
  law.life_constant_h = known(7867204.0);
  law.exponent_per_A_mm2 = known(2.17);
  law.floor_A_mm2 = known(1e-6);
  return law;
}

study::Case with_law(const study::DamageLaw& law, int samples = 1) {
  study::Case c = sample_case();
  c.samples = samples;
  c.laws = {law};
  return c;
}

/// On oil of a stated class, so that there is a modified life. Class: invented.
study::Case on_stated_oil(study::Case c, double reliability = 0.9) {
  c.sump.cleanliness = study::OilCleanliness{.usual = {.id = "invented",
                                                       .title = "invented",
                                                       .factor = known(0.0288),
                                                       .diameter = known(1.141),
                                                       .dirtier = {}},
                                             .with_debris = {},
                                             .within_class = known(1.0)};
  c.service.reliability = reliability;
  return c;
}

study::Findings study_of(const study::Case& c) { return study::evaluate(c, Sections::all()); }

const study::LifeRow& first_bearing(const study::Findings& findings, std::size_t v) {
  return findings.variants.at(v).life.at(0);
}

const study::ExchangeRow& exchange(const study::Findings& findings, std::size_t v) {
  return findings.trade->exchange.at(v);
}

bool says(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

// Fatigue and erosion of a bearing end it each in its own way: both start at what 90 % survive.
TEST_CASE("combined lives start from the modified life where there is one", "[derived]") {
  const auto basic = study_of(with_law(dose_law(900.0)));
  CHECK(first_bearing(basic, 0).combined_from == "basic");
  CHECK(first_bearing(basic, 0).combined_linear_h->mid ==
        Approx(1.0 / (1.0 / first_bearing(basic, 0).mechanical_basic_h + 1.0 / 900.0)));
  const auto modified = study_of(on_stated_oil(with_law(dose_law(900.0))));
  CHECK(first_bearing(modified, 0).combined_from == "modified");
  CHECK(first_bearing(modified, 0).combined_linear_h->mid ==
        Approx(1.0 / (1.0 / *first_bearing(modified, 0).mechanical_modified_h + 1.0 / 900.0)));
  // The basic rating life stays beside it.
  CHECK(first_bearing(modified, 0).mechanical_basic_h ==
        first_bearing(basic, 0).mechanical_basic_h);
}

TEST_CASE("a modified life stated for another survival is taken back to nine tenths", "[derived]") {
  const auto usual = study_of(on_stated_oil(with_law(dose_law(900.0))));
  const auto sure = study_of(on_stated_oil(with_law(dose_law(900.0)), 0.99));
  CHECK(*first_bearing(sure, 0).mechanical_modified_h <
        0.3 * *first_bearing(usual, 0).mechanical_modified_h);
  CHECK(first_bearing(sure, 0).combined_competing_h->mid ==
        Approx(first_bearing(usual, 0).combined_competing_h->mid).epsilon(1e-12));
}

TEST_CASE("without a discharge the electrical term is absent", "[derived]") {
  study::Case c = on_stated_oil(with_law(relative_law(5000.0)));
  c.inverter->dc_link = known(1.0_V);
  c.laws.push_back(density_law());
  const auto findings = study_of(c);
  for (std::size_t v = 0; v < findings.variants.size(); ++v) {
    const study::LifeRow& row = first_bearing(findings, v);
    CHECK(row.no_discharge);
    for (const study::ElectricalLife& law : row.electrical) CHECK(law.no_limit);
    CHECK(row.combined_competing_h->mid == Approx(*row.mechanical_modified_h).epsilon(1e-12));
    CHECK(row.combined_linear_h->mid == Approx(*row.mechanical_modified_h).epsilon(1e-12));
  }
  CHECK(exchange(findings, 2).life_gain_h->mid == 0.0);
  CHECK(says(exchange(findings, 2).life_in_words, words));
}

TEST_CASE("the gain of one draw is the difference of the lives", "[derived]") {
  const auto findings = study_of(with_law(dose_law(900.0)));
  for (const std::size_t v : {std::size_t{1}, std::size_t{2}}) {
    const study::ExchangeRow& row = exchange(findings, v);
    CHECK(row.law == "dose");
    CHECK(row.life_gain_h->mid == Approx(first_bearing(findings, v).combined_competing_h->mid -
                                         first_bearing(findings, 0).combined_competing_h->mid));
    CHECK(row.life_gain_linear_h->mid == Approx(first_bearing(findings, v).combined_linear_h->mid -
                                                first_bearing(findings, 0).combined_linear_h->mid));
    CHECK(row.life_h->mid == first_bearing(findings, v).combined_competing_h->mid);
    CHECK(*row.service_hours == Approx(40000.0));
  }
  CHECK(exchange(findings, 0).life_h->mid == first_bearing(findings, 0).combined_competing_h->mid);
  CHECK_FALSE(exchange(findings, 0).life_gain_h);
}

TEST_CASE("what the draws share does not widen the gain", "[derived]") {
  // Every draw of the present design lives 900 h under the law: the gain carries the rest alone.
  const auto findings = study_of(with_law(dose_law(900.0), 40));
  const study::ExchangeRow& ohm = exchange(findings, 2);
  CHECK(ohm.life_gain_h->low > 0.0);
  CHECK(says(ohm.life_in_words, "more than the present design"));
  CHECK_FALSE(says(ohm.life_in_words, words));
}

TEST_CASE("a gain that may be nothing is not demonstrable, in these words", "[derived]") {
  study::Case c = with_law(dose_law(900.0), 40);
  // A contact of no conductance to speak of: what is struck is struck as without it.
  c.variants[1].grounding = sample_grounding(1e15_ohm, 0.006_N_mm);
  const auto findings = study_of(c);
  CHECK(exchange(findings, 1).life_gain_h->low <= 0.0);
  CHECK(says(exchange(findings, 1).life_in_words, words));
}

TEST_CASE("without a law there are no hours and no gain", "[derived]") {
  study::Case c = sample_case();
  c.samples = 1;
  const auto findings = study_of(c);
  for (const study::ExchangeRow& row : findings.trade->exchange) {
    CHECK(row.law.empty());
    CHECK_FALSE(row.life_h);
    CHECK_FALSE(row.life_gain_h);
    CHECK(row.life_in_words.empty());
  }
}

TEST_CASE("more load must not gain a life", "[derived]") {
  study::Case c = with_law(density_law());
  auto loaded = std::make_shared<study::Case>(c);
  loaded->bearings[0].radial = {known(2000.0_N)};
  auto changed = sample_variant("loaded", std::nullopt);
  changed.world = loaded;
  c.variants.push_back(changed);
  const auto findings = study_of(c);
  CHECK(exchange(findings, 3).life_h);
  CHECK_FALSE(exchange(findings, 3).life_gain_h);
}

// The law sees how high a discharge is, not how many there are: what still exceeds the threshold
// discharges at the threshold.
TEST_CASE("under the current-density law what still exceeds the threshold gains exactly nothing",
          "[derived]") {
  study::Case c = with_law(density_law());
  // Some 20 V: held voltage strikes at every edge without the ring; with it the weakest edges, of
  // one leg, seldom do, and those of two legs still exceed it.
  c.discharge.breakdown_field = known(50.0_V_um);
  const auto findings = study_of(c);
  const study::LifeRow &plain = first_bearing(findings, 0), &ring = first_bearing(findings, 1);
  REQUIRE(plain.discharge_rate_per_s->mid > 0.0);
  CHECK(ring.electrical.front().hours.mid == plain.electrical.front().hours.mid);
  CHECK(exchange(findings, 1).life_gain_h->mid == 0.0);
  CHECK(exchange(findings, 1).life_gain_linear_h->mid == 0.0);
  CHECK(ring.discharge_rate_per_s->mid < plain.discharge_rate_per_s->mid);
  CHECK(ring.discharge_energy_J_per_1000h->mid < plain.discharge_energy_J_per_1000h->mid);
  CHECK(ring.dose_J_per_mm2_per_1000h->mid < plain.dose_J_per_mm2_per_1000h->mid);
  CHECK(says(exchange(findings, 1).verdict, "gains exactly nothing in hours"));
  CHECK(says(exchange(findings, 1).life_in_words, words));
}

TEST_CASE("one step is the law itself, a thousand equal steps are one", "[derived]") {
  study::Case one = with_law(density_law());
  study::Duty& duty = one.duties[0];
  duty.shaft_speed.reset();
  duty.load_steps = {{"all", known(Time::from_value(3600.0)), known(6000.0_rpm), {}, {}}};
  study::Case many = one;
  many.duties[0].load_steps.clear();
  for (int i = 0; i < 1000; ++i)
    many.duties[0].load_steps.push_back(
        {"step " + std::to_string(i), known(Time::from_value(3.6)), known(6000.0_rpm), {}, {}});
  const auto single = study_of(one), split = study_of(many);
  const study::LifeRow &a = first_bearing(single, 0), &b = first_bearing(split, 0);
  CHECK(b.mechanical_basic_h == Approx(a.mechanical_basic_h).epsilon(1e-12));
  CHECK(b.electrical[0].hours.mid == Approx(a.electrical[0].hours.mid).epsilon(1e-12));
  CHECK(b.combined_linear_h->mid == Approx(a.combined_linear_h->mid).epsilon(1e-12));
  CHECK(b.combined_competing_h->mid == Approx(a.combined_competing_h->mid).epsilon(1e-12));
  CHECK(b.dose_J_per_mm2_per_1000h->mid == Approx(a.dose_J_per_mm2_per_1000h->mid).epsilon(1e-12));
  CHECK(b.discharge_rate_per_s->mid == Approx(a.discharge_rate_per_s->mid).epsilon(1e-12));
  // Closed form of constant running.
  const Force load = bearing::deep_groove_equivalent_load(900.0_N, 150.0_N, 17861.0_N, 14.0).load;
  CHECK(
      a.mechanical_basic_h ==
      Approx(bearing::basic_life(29101.0_N, load, bearing::ball_life_exponent, 6000.0_rpm).value() /
             3600.0)
          .epsilon(1e-12));
}

TEST_CASE("an infinite impedance is no grounding, in every figure but the watts", "[derived]") {
  // A brush that is worn out before the end of its service has no path left at all.
  study::Case c = with_law(dose_law(900.0));
  c.variants[1].grounding = grounding_with(brush_of(behind_a_spring(5.0_mm)));
  const auto findings = study_of(c);
  const study::LifeRow &plain = first_bearing(findings, 0), &open = first_bearing(findings, 1);
  CHECK(open.discharge_rate_per_s->mid == plain.discharge_rate_per_s->mid);
  CHECK(open.dose_J_per_mm2_per_1000h->mid == plain.dose_J_per_mm2_per_1000h->mid);
  CHECK(open.discharge_energy_J_per_1000h->mid == plain.discharge_energy_J_per_1000h->mid);
  CHECK(open.striking_time_share.mid == plain.striking_time_share.mid);
  CHECK(open.electrical[0].hours.mid == plain.electrical[0].hours.mid);
  CHECK(open.combined_competing_h->mid == plain.combined_competing_h->mid);
  CHECK(exchange(findings, 1).edge_peak_V.mid == exchange(findings, 0).edge_peak_V.mid);
  CHECK(exchange(findings, 1).held_V.mid == exchange(findings, 0).held_V.mid);
  CHECK(exchange(findings, 1).dose_factor->mid == 1.0);
  CHECK(exchange(findings, 1).life_gain_h->mid == 0.0);
  CHECK(exchange(findings, 1).point_net_W.mid > 0.0);
}

TEST_CASE("a law says nothing where no contact area is known, and is silent where it is untaught",
          "[derived]") {
  study::BearingSample struck, undosed, silent;
  struck.discharges = struck.dose_J_m2 = 2.0;
  undosed.undosed = undosed.discharges = 1.0;
  CHECK(study::law_hours(dose_law(900.0), 2.0, struck, struck, struck) == Approx(900.0));
  CHECK(std::isnan(study::law_hours(dose_law(900.0), 2.0, undosed, struck, struck)));
  CHECK(std::isnan(study::law_hours(density_law(), 2.0, undosed, struck, struck)));
  CHECK(std::isnan(study::law_hours(relative_law(900.0), 2.0, undosed, struck, struck)));
  CHECK(std::isnan(study::law_hours(dose_law(900.0), 2.0, struck, struck, silent)));
  CHECK(study::law_hours(dose_law(900.0), 2.0, silent, struck, silent) == infinite);
  CHECK(study::law_hours(relative_law(900.0), 2.0, struck, silent, silent) == 0.0);
}

TEST_CASE("combined lives of a unit keep to their limits", "[derived]") {
  const study::LifeSlopes slopes{1.5, 2.0};
  const study::BearingLives worn{20000.0, 30000.0}, sound{20000.0, infinite}, dead{20000.0, 0.0},
      idle{infinite, infinite};
  CHECK(study::linear_life_h(worn) == Approx(12000.0));
  CHECK(study::linear_life_h(sound) == 20000.0);
  CHECK(study::competing_life_h({sound}, slopes) == 20000.0);
  CHECK(study::competing_life_h({sound, sound}, slopes) ==
        Approx(20000.0 * std::pow(2.0, -1.0 / 1.5)));
  CHECK(study::competing_life_h({worn, sound}, slopes) <
        study::competing_life_h({sound, sound}, slopes));
  CHECK(study::linear_life_h({worn, sound}, slopes) <
        study::competing_life_h({worn, sound}, slopes));
  for (const auto life_h : {study::linear_life_h({dead, sound}, slopes),
                            study::competing_life_h({dead, sound}, slopes)})
    CHECK(life_h == 0.0);
  CHECK(study::event_probability(dead, slopes, 1.0) == 1.0);
  CHECK(study::event_probability(dead, slopes, 0.0) == 0.0);
  CHECK(study::competing_life_h({idle}, slopes) == infinite);
  CHECK(study::event_probability(idle, slopes, 1e6) == 0.0);
}
