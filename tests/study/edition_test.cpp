#include "ohmdrag/study/edition.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/study/evaluate.hpp"
#include "ohmdrag/study/explain.hpp"
#include "sample_case.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;
using study::band_in_words;

namespace {

UncertainNumber number(Dimension dimension, double si, std::string read_as = {}) {
  UncertainNumber out;
  out.dimension = dimension;
  out.spread.mid = si;
  out.read_as = std::move(read_as);
  out.share = Share::internal;
  out.key = "key";
  return out;
}

/// The sample case with the force of its first grounding element kept inside.
study::Case sealed_case() {
  study::Case question = sample_case();
  question.samples = 8;
  for (study::Variant& variant : question.variants)
    if (variant.grounding && variant.grounding->line_force) {
      variant.grounding->line_force->share = Share::internal;
      variant.grounding->line_force->key = "variant." + variant.id + ".grounding.line_force";
    }
  return question;
}

}  // namespace

TEST_CASE("a band is the powers of ten around a number", "[derived]") {
  CHECK(band_in_words(number(Dimension::line_force, 15.3)) == "0.01 … 0.1 N/mm");
  CHECK(band_in_words(number(Dimension::power, 7.1)) == "1 … 10 W");
  CHECK(band_in_words(number(Dimension::torque, -60.0)) == "-100 … -10 N*m");
  CHECK(band_in_words(number(Dimension::ratio, 0.3)) == "0.1 … 1");
  CHECK(band_in_words(number(Dimension::temperature, 343.15)) == "50 … 100 degC");
  CHECK(band_in_words(number(Dimension::power, 0.0)).empty());
}

TEST_CASE("a level seals for every reader below it", "[derived]") {
  CHECK(is_sealed_for(Share::customer, Share::internal));
  CHECK(is_sealed_for(Share::open, Share::customer));
  CHECK_FALSE(is_sealed_for(Share::customer, Share::customer));
  CHECK_FALSE(is_sealed_for(Share::internal, Share::internal));
  CHECK(share_from_word("internal") == Share::internal);
  CHECK_FALSE(share_from_word("secret"));
}

TEST_CASE("texts lose a sealed number in every unit, and no other", "[derived]") {
  const std::vector<UncertainNumber> sealed{
      number(Dimension::line_force, 15.3, "0.0153 N/mm ± 5 %")};
  const auto open = [&](const char* text) { return study::without_sealed(text, sealed); };
  CHECK(open("ring at 0.0153 N/mm ± 5 %") == "ring at [sealed]");
  CHECK(open("ring at 0.0153 N/mm, new") == "ring at [sealed], new");
  CHECK(open("15.3 N/m it is") == "[sealed] it is");
  CHECK(open("0.015 N/mm") == "[sealed]");  // rounded
  CHECK(open("115.3 N/m") == "115.3 N/m");
  CHECK(open("0.0154 N/mm") == "0.0154 N/mm");
}

TEST_CASE("the register keeps basis and rank and shows a band", "[derived]") {
  const study::Case question = sealed_case();
  const auto sealed = study::sealed_numbers(question, Share::customer);
  REQUIRE(!sealed.empty());
  const study::Findings whole = study::evaluate(question, study::Sections::all());
  const study::Findings shown = study::findings_for(Share::customer, question, whole);
  REQUIRE(shown.assumptions.size() == whole.assumptions.size());
  for (std::size_t i = 0; i < shown.assumptions.size(); ++i) {
    const auto& row = shown.assumptions[i];
    CHECK(row.name == whole.assumptions[i].name);
    CHECK(row.basis == whole.assumptions[i].basis);
    CHECK(row.moves_share == whole.assumptions[i].moves_share);
    if (row.share != Share::internal) continue;
    CHECK(row.value.starts_with("sealed"));
    CHECK(row.source == "sealed");
    CHECK(std::isnan(row.interval.mid));
    CHECK(row.interval.low <= whole.assumptions[i].interval.mid);
    CHECK(row.interval.high >= whole.assumptions[i].interval.mid);
  }
  CHECK(shown.reader == "customer");
  CHECK(shown.sealed_keys.size() == sealed.size());
  CHECK(shown.cautions.size() == whole.cautions.size() + 1);
}

TEST_CASE("nothing is taken out where nothing is sealed", "[derived]") {
  study::Case question = sample_case();
  question.samples = 8;
  const study::Findings whole = study::evaluate(question, study::Sections::all());
  const study::Findings shown = study::findings_for(Share::customer, question, whole);
  CHECK(shown.sealed_keys.empty());
  CHECK(shown.cautions == whole.cautions);
}

TEST_CASE("a force that the watts follow is given away, a key that nothing follows is not",
          "[derived]") {
  const study::Case question = sealed_case();
  const auto told = study::gives_away(question, Share::customer);
  REQUIRE(!told.empty());
  for (const study::GivesAway& one : told) {
    CHECK(one.per_cent >= 0.01);
    CHECK(one.moved_by == "1 %");
    CHECK(!one.figure.empty());
  }
  CHECK(study::gives_away(question, Share::internal).empty());
}

TEST_CASE("a temperature that gives itself away does so by the kelvin", "[derived]") {
  study::Case question = sample_case();
  for (study::OperatingPoint& point : question.points) {
    point.oil_temperature.share = Share::internal;
    point.oil_temperature.key = "operating_point." + point.id + ".oil_temperature";
  }
  const auto told = study::gives_away(question, Share::customer);
  REQUIRE(!told.empty());
  for (const study::GivesAway& one : told) {
    CHECK(one.moved_by == "1 K");
    CHECK(one.per_cent < 10.0);  // watts follow viscosity, some per cent a kelvin
  }
}

TEST_CASE("a working keeps its formulas and loses what hangs on a sealed number", "[derived]") {
  const study::Case question = sealed_case();
  const study::Explainer whole(question), part(question, Share::customer);
  std::size_t sealed_lines = 0, open_lines = 0;
  for (const study::ExplainableFigure& figure : whole.figures()) {
    CAPTURE(figure.name);
    const study::Explanation all = whole.explain(figure.name), shown = part.explain(figure.name);
    REQUIRE(all.lines.size() == shown.lines.size());
    for (std::size_t i = 0; i < all.lines.size(); ++i) {
      const study::ExplainLine& line = shown.lines[i];
      CAPTURE(line.symbol);
      CHECK(line.symbol == all.lines[i].symbol);
      CHECK(line.expression == all.lines[i].expression);
      CHECK_FALSE(all.lines[i].sealed);
      if (line.sealed)
        CHECK(std::isnan(line.value));
      else
        CHECK(line.value == all.lines[i].value);
      ++(line.sealed ? sealed_lines : open_lines);
    }
  }
  CHECK(sealed_lines > 20);
  CHECK(open_lines > 20);
}

TEST_CASE("a given line of a working shows the band of a sealed number", "[derived]") {
  study::Case question = sample_case();
  question.coupling->winding_rotor.share = Share::internal;
  const study::Explainer part(question, Share::customer);
  const std::string variant = question.variants.front().id, point = question.points.front().id;
  const study::Explanation shown = part.explain("edge_step_V:" + variant + '@' + point);
  const auto line = std::ranges::find(shown.lines, "C_wr", &study::ExplainLine::symbol);
  REQUIRE(line != shown.lines.end());
  CHECK(line->sealed);
  CHECK(line->band == band_in_words(question.coupling->winding_rotor));
  CHECK(std::isnan(shown.program_value));
  // The link voltage says nothing of it.
  CHECK_FALSE(std::ranges::find(shown.lines, "V_dc", &study::ExplainLine::symbol)->sealed);
}
