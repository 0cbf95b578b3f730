#include "ohmdrag/rig/sweep_run.hpp"

#include <catch2/catch.hpp>
#include <numbers>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/rig/series_pair.hpp"
#include "rig/sweep_log.hpp"
#include "support/effort.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using Catch::Matchers::Contains;
using rig::Sweep;
using rig::SweepContacts;
using rig::SweepRun;
using test::sweep_log;

namespace {

const voltage::GroundingPath one{2.0_ohm, 50.0_nH};
const voltage::GroundingPath pair{4.0_ohm, 100.0_nH};

SweepRun run_of(Sweep sweep, SweepContacts contacts = SweepContacts::one) {
  SweepRun run;
  run.contacts = contacts;
  run.sweeps = {std::move(sweep)};
  run.running = true;
  return run;
}

std::string all(const std::vector<std::string>& notes) {
  std::string text;
  for (const std::string& note : notes) text += note + '\n';
  return text;
}

template <class Q>
bool covers(const std::optional<rig::FactorEstimate<Q>>& estimate, Q truth) {
  return estimate && estimate->low() <= truth && truth <= estimate->high();
}

/// Three contacts of 1.2, 0.9 and 0.8 ohm as their pairs.
SweepRun three_pairs(double noise, unsigned seed) {
  SweepRun run;
  run.contacts = SweepContacts::three_pairs;
  run.running = true;
  unsigned k = 0;
  for (const double ohm : {2.1, 1.7, 2.0})
    run.sweeps.push_back(sweep_log({.path = {Resistance::from_value(ohm), 60.0_nH}, .noise = noise},
                                   3 * seed + k++));
  return run;
}

}  // namespace

TEST_CASE("a pair gives the mean of both and the scatter of one") {
  const auto fit = rig::fit_sweep_run(run_of(sweep_log({.path = pair}, 1), SweepContacts::pair));
  CHECK(covers(fit.fit.resistance, 2.0_ohm));
  CHECK(covers(fit.fit.inductance, 50.0_nH));
  const auto findings =
      rig::sweep_findings({}, run_of(sweep_log({.path = pair}, 1), SweepContacts::pair), fit);
  const auto either =
      std::ranges::find(findings.figures, "either_contact_ohm", &rig::RunFigure::key);
  REQUIRE(either != findings.figures.end());
  CHECK(*either->told->standard_error / either->told->value == Approx(0.2309).epsilon(0.001));
  CHECK(either->told->interval->second < 2.0 * either->told->value);
}

TEST_CASE("three pairs give each contact") {
  const auto exact = rig::fit_sweep_run(three_pairs(0.0, 1));
  REQUIRE(exact.specimens.size() == 3);
  const double truth[] = {1.2, 0.9, 0.8};
  for (std::size_t k = 0; k < 3; ++k)
    CHECK(exact.specimens[k].resistance->value.value() == Approx(truth[k]).epsilon(1e-8));
  CHECK(exact.fit.resistance->value.value() == Approx(2.9 / 3.0).epsilon(1e-8));
  CHECK(*exact.scatter_factor > 1.3);

  int covered = 0;
  const int runs = test::effort(200);
  for (int seed = 1; seed <= runs; ++seed) {
    const auto fit = rig::fit_sweep_run(three_pairs(0.005, static_cast<unsigned>(seed)));
    covered += covers(fit.specimens[2].resistance, 0.8_ohm) ? 1 : 0;
  }
  INFO(covered);
  CHECK(covered >= 0.90 * runs);
  CHECK(covered <= 0.99 * runs);
}

TEST_CASE("a contact that was run in between its pairs comes out negative and is refused") {
  SweepRun run = three_pairs(0.005, 1);
  for (rig::SweepPoint& point : run.sweeps[1]) point.ohm *= 2.6;
  CHECK_THROWS_WITH(rig::fit_sweep_run(run), Contains("not run in between"));
}

TEST_CASE("a fixture is taken off, and what is left open of it is said") {
  SweepRun run = run_of(sweep_log({.path = one}, 1));
  CHECK_THAT(all(rig::fit_sweep_run(run).notes), Contains("no short was measured"));
  const Sweep leads = sweep_log({.path = {0.05_ohm, 20.0_nH}, .noise = 0.0}, 1);
  for (std::size_t i = 0; i < leads.size(); ++i) run.sweeps[0][i].ohm += leads[i].ohm;
  run.fixture.short_circuit = leads;
  const auto fit = rig::fit_sweep_run(run);
  CHECK(covers(fit.fit.resistance, 2.0_ohm));
  CHECK(covers(fit.fit.inductance, 50.0_nH));
  // 5 nH of 50 nH, 95 %.
  CHECK(fit.fit.inductance->factor == Approx(std::exp(0.1)).epsilon(0.02));
  CHECK_THAT(all(fit.notes), Contains("5 nH more or less (95 %, common practice, no source)"));
  run.changed_leads = 2.0_nH;
  CHECK(rig::fit_sweep_run(run).fit.inductance->factor == Approx(std::exp(0.04)).epsilon(0.05));
}

TEST_CASE("a contact at rest is no running one") {
  SweepRun run = run_of(sweep_log({.path = one}, 1));
  CHECK_THAT(all(rig::fit_sweep_run(run).warnings), !Contains("at rest"));
  run.running = false;
  CHECK_THAT(all(rig::fit_sweep_run(run).warnings), Contains("Measured at rest"));
}

TEST_CASE("a drift between passes widens the resistance and is said") {
  const auto steady = rig::fit_sweep_run(run_of(sweep_log({.path = one, .back = true}, 1)));
  CHECK_THAT(all(steady.warnings), !Contains("drifts"));
  const auto drifting =
      rig::fit_sweep_run(run_of(sweep_log({.path = one, .drift = 0.2, .back = true}, 1)));
  CHECK_THAT(all(drifting.warnings), Contains("The impedance drifts"));
  CHECK(std::log(drifting.fit.resistance->factor) > 5.0 * std::log(steady.fit.resistance->factor));
  CHECK(covers(drifting.fit.resistance, 2.2_ohm));
  const auto single = rig::fit_sweep_run(run_of(sweep_log({.path = one, .drift = 0.2}, 1)));
  CHECK_THAT(all(single.warnings), Contains("do not belong together"));
  CHECK_THAT(all(single.notes), Contains("Sweep up and down again"));
}

TEST_CASE("a resistance that falls with the level is said, one that stays is not") {
  SweepRun run = run_of(sweep_log({.path = one}, 1));
  run.level = 0.02_V;
  run.other = SweepRun::OtherLevel{sweep_log({.path = one}, 2), 0.5_V};
  const auto same = rig::fit_sweep_run(run);
  REQUIRE(same.level);
  CHECK_FALSE(same.level->depends);
  CHECK(std::abs(std::log(same.level->ratio)) < std::log(same.level->factor));
  run.other->sweep = sweep_log({.path = {0.8_ohm, 50.0_nH}}, 2);
  const auto fritting = rig::fit_sweep_run(run);
  CHECK(fritting.level->ratio == Approx(0.4).epsilon(0.02));
  CHECK_THAT(all(fritting.warnings), Contains("fritting"));
  run.other->level = 0.002_V;
  CHECK(rig::fit_sweep_run(run).level->ratio == Approx(2.5).epsilon(0.02));
}

TEST_CASE("a reflection far from the reference of the instrument is said") {
  SweepRun run = run_of(sweep_log({.path = one}, 1));
  run.reference = 50.0_ohm;
  CHECK_THAT(all(rig::fit_sweep_run(run).warnings), Contains("far from the 50 ohm"));
  SweepRun near = run_of(sweep_log({.path = {50.0_ohm, 50.0_nH}}, 1));
  near.reference = 50.0_ohm;
  CHECK_THAT(all(rig::fit_sweep_run(near).warnings), !Contains("far from the"));
  CHECK(rig::error_of_reflection(50.0, 50.0_ohm) == Approx(2e-3));
  CHECK(rig::error_of_reflection(1.0, 50.0_ohm) == Approx(1e-3 * 51.0 * 51.0 / 100.0));
}

TEST_CASE("the entry is in the words of a case") {
  const voltage::GroundingPath filmed{20.0_ohm, 0.0_nH, {{1.0_kohm, 1.0_nF}}};
  SweepRun run = run_of(sweep_log({.path = filmed}, 1));
  auto findings = rig::sweep_findings({}, run, rig::fit_sweep_run(run));
  CHECK(findings.entries.empty());
  CHECK_THAT(findings.no_entry, Contains("variant"));
  run.variant = "ring";
  findings = rig::sweep_findings({}, run, rig::fit_sweep_run(run));
  REQUIRE(findings.entries.size() == 3);
  CHECK(findings.entries[0].table == "variant");
  CHECK(findings.entries[0].one_of_list);
  CHECK(findings.entries[1].table == "variant.grounding");
  CHECK(findings.entries[2].table == "variant.grounding.film");
  CHECK(findings.cautions.size() == 1);

  SweepRun with_path = run_of(sweep_log({.path = one}, 1));
  with_path.variant = "ring";
  findings = rig::sweep_findings({}, with_path, rig::fit_sweep_run(with_path));
  CHECK(findings.entries.size() == 2);
  CHECK_THAT(all(findings.entry_comments), Contains("not carried over"));
  with_path.path_included = true;
  findings = rig::sweep_findings({}, with_path, rig::fit_sweep_run(with_path));
  CHECK(findings.entries.back().table == "variant.grounding.path");
}
