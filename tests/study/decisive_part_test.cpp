// The part of a case that its choice hangs on, against the whole case; derived.

#include "study/decisive_part.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/quantity/distribution.hpp"
#include "study/choice.hpp"
#include "study/input_space.hpp"
#include "study/known_decisions.hpp"
#include "study/sample_case.hpp"
#include "study/sections.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using study::HeadlinePoint;

namespace {

study::Requirement at_most(study::Measure measure, double max, const char* point) {
  study::Requirement requirement;
  requirement.id = point;
  requirement.measure = measure;
  requirement.point = point;
  requirement.max = known(max);
  requirement.share_of_parts = 0.6;
  return requirement;
}

/// Points and duties more than anything asks for.
study::Case wide_case() {
  study::Case question = sample_case();
  for (const char* id : {"idling", "racing"}) {
    question.points.push_back(question.points.front());
    question.points.back().id = id;
    question.points.back().shaft_speed = known(id[0] == 'i' ? 900.0_rpm : 9000.0_rpm);
  }
  for (const char* id : {"night", "never"}) {
    question.duties.push_back(question.duties.front());
    question.duties.back().id = id;
    question.duties.back().shaft_speed = known(2000.0_rpm);
  }
  question.service.mix = {{"shift", 0.7}, {"night", 0.3}};
  question.requirements = {at_most(study::Measure::net_power, 1e3, "racing")};
  question.samples = 20;
  // Half of the draws of the last variant keep it.
  const study::Ensemble ensemble(question, {.budget = true});
  std::vector<double> net_W;
  for (std::size_t i = 0; i < 20; ++i)
    net_W.push_back(study::total_W(ensemble.samples[2][i], 2) -
                    study::total_W(ensemble.samples[0][i], 2));
  std::ranges::sort(net_W);
  question.requirements.front().max = known(0.5 * (net_W[9] + net_W[10]));
  return question;
}

std::vector<std::string> ids_of(const auto& all) {
  std::vector<std::string> ids;
  for (const auto& one : all) ids.push_back(one.id);
  return ids;
}

}  // namespace

TEST_CASE("a choice needs only the points and duties that something asks for", "[study]") {
  using Ids = std::vector<std::string>;
  const study::Case question = wide_case();
  const study::Case part = study::decisive_part(question, HeadlinePoint::left_out);
  CHECK(ids_of(part.points) == Ids{"racing"});
  CHECK(ids_of(part.duties) == Ids{"shift", "night"});
  CHECK(ids_of(study::decisive_part(question, HeadlinePoint::kept).points) ==
        Ids{"running", "racing"});

  study::Case everywhere = question;
  everywhere.requirements.front().point.clear();
  CHECK(study::decisive_part(everywhere, HeadlinePoint::left_out).points.size() == 3);

  // Without duties the points are what it costs.
  study::Case points_only = question;
  points_only.duties.clear();
  points_only.service.mix.clear();
  CHECK(study::decisive_part(points_only, HeadlinePoint::left_out).points.size() == 3);

  // Variants that share a world still do, and theirs is cut alike.
  study::Case worlds = question;
  const auto other = std::make_shared<study::Case>(question);
  worlds.variants[1].world = worlds.variants[2].world = other;
  const study::Case cut = study::decisive_part(worlds, HeadlinePoint::left_out);
  CHECK(cut.variants[1].world == cut.variants[2].world);
  CHECK(cut.variants[1].world->points.size() == 1);
  CHECK(cut.variants[1].world->duties.size() == 2);
  CHECK(study::with_variants(question, {true, false, true}).variants.back().id == "ohm");
}

TEST_CASE("the decisive part costs, gains and admits what the whole case does", "[study]") {
  const study::Case question = wide_case();
  const study::Ensemble whole(question, study::Sections::all());
  const study::Case part = study::decisive_part(question, HeadlinePoint::left_out);
  study::Ensemble drawn = study::ensemble_of_part(
      whole, part, study::decisive_sections(part),
      study::Draws(study::numbers_of(question), question.samples, question.seed));
  drawn.take(0, 20);
  const study::ChoiceRule rule(whole, {false, false, false}), of_part(drawn, {false, false, false});
  std::size_t admitted = 0;
  for (std::size_t i = 0; i < 20; ++i) {
    const auto a = rule.admissible(study::drawn_variants(whole, i));
    const auto b = of_part.admissible(study::drawn_variants(drawn, i));
    for (std::size_t v = 0; v < a.size(); ++v) {
      CAPTURE(i, v);
      REQUIRE(a[v].has_value() == b[v].has_value());
      if (!a[v]) continue;
      ++admitted;
      CHECK(*a[v] == Approx(*b[v]).epsilon(1e-4));
      CHECK(rule.gain(whole.samples[v][i], whole.samples[0][i]) ==
            Approx(of_part.gain(drawn.samples[v][i], drawn.samples[0][i])).epsilon(1e-3));
    }
  }
  // Some are and some are not: the requirement decides.
  CHECK(admitted > 0);
  CHECK(admitted < 40);
}

TEST_CASE("hours are counted where a requirement or debris in the oil asks for them", "[study]") {
  study::Case question = wide_case();
  CHECK(study::decisive_sections(question).discharges_alone);
  study::Case life = question;
  life.requirements.front().measure = study::Measure::modified_life;
  CHECK_FALSE(study::decisive_sections(life).discharges_alone);
  study::Case debris = question;
  debris.variants.back().grounding->debris_reaches_oil = true;
  CHECK_FALSE(study::decisive_sections(debris).discharges_alone);
}

TEST_CASE("without hours the discharges are what they are with them", "[study]") {
  study::Case question = sample_case();
  question.samples = 4;
  question.sump.cleanliness =
      study::OilCleanliness{.usual = {"slight", "slight", known(0.0133), known(1.670), {}},
                            .with_debris = {},
                            .within_class = known(1.0)};
  const study::Ensemble all(question, {.life = true});
  const study::Ensemble alone(question, {.life = true, .discharges_alone = true});
  for (std::size_t v = 0; v < question.variants.size(); ++v)
    for (std::size_t i = 0; i < 4; ++i) {
      const study::BearingSample& a = all.samples[v][i].duties.at(0).bearings.at(0);
      const study::BearingSample& b = alone.samples[v][i].duties.at(0).bearings.at(0);
      for (const auto figure : {&study::BearingSample::striking_s, &study::BearingSample::dose_J_m2,
                                &study::BearingSample::discharges})
        CHECK(a.*figure == b.*figure);
      for (const auto figure :
           {&study::BearingSample::damage, &study::BearingSample::modified_damage}) {
        CHECK(a.*figure > 0.0);
        CHECK(b.*figure == 0.0);
      }
    }
}

TEST_CASE("a number that is known decides as in a case that states it", "[study]") {
  const study::Case question = wide_case();
  const study::KnownDecisions decisions(question);
  const UncertainNumber* friction = nullptr;
  for (const UncertainNumber* number : study::numbers_of(question))
    if (number->key == "contact.ring.friction") friction = number;
  REQUIRE(friction);
  const std::array known{study::KnownNumber{friction, 0.1}, study::KnownNumber{friction, 0.9}};
  const auto found = decisions.with(known);
  const auto figures = decisions.deciding_with(known);
  REQUIRE(found.size() == 2);
  for (std::size_t k = 0; k < 2; ++k) {
    const study::Case stated = study::with_known(question, friction->key, known[k].u);
    const study::Decision expected =
        study::decision_of(study::Ensemble(stated, study::Sections::all()));
    CHECK(found[k].chosen == expected.chosen);
    CHECK(found[k].right == expected.right);
    CHECK(found[k].missed == expected.missed);
    REQUIRE(figures[k].size() == expected.deciding.size());
    for (std::size_t i = 0; i < figures[k].size(); ++i)
      for (std::size_t q = 0; q < figures[k][i].size(); ++q) {
        if (std::isnan(expected.deciding[i][q])) continue;
        CHECK(figures[k][i][q] == Approx(expected.deciding[i][q]).epsilon(1e-3).margin(1e-4));
      }
  }
  CHECK(found[0].right != found[1].right);
}

TEST_CASE("coordinates of correlated numbers stand behind them", "[study]") {
  auto a = within_share(1.0, 0.2, "a"), b = within_share(1.0, 0.2, "b"),
       c = within_share(1.0, 0.2, "c");
  const std::vector<const UncertainNumber*> numbers{&a, &b, &c};
  study::Correlation pair;
  pair.keys = {"c", "a"};
  pair.matrix = {1.0, 0.6, 0.6, 1.0};
  const study::InputSpace space(numbers, std::array{pair});
  CHECK(space.correlated() == std::vector<std::vector<std::size_t>>{{2, 0}});
  // a is 0.6 of what c is, and 0.8 of its own.
  const auto places = space.at_scores(std::array{0.5, -1.0, 2.0});
  CHECK(study::score_of_share(places.at("c").spread) == Approx(2.0));
  CHECK(study::score_of_share(places.at("b").spread) == Approx(-1.0));
  CHECK(study::score_of_share(places.at("a").spread) == Approx(0.6 * 2.0 + 0.8 * 0.5));
}
