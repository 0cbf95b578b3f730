// Which open questions are worth asking: against the closed form for two linear Gaussian options.

#include "ohmdrag/study/ask.hpp"

#include <boost/math/distributions/normal.hpp>
#include <catch2/catch.hpp>
#include <numbers>

#include "study/sample_case.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;

namespace {

/// A loss of so many watts that is stated, normal, 95 % within +-b.
study::ExtraDrag stated(const char* id, double watts, double b_W, const char* key) {
  study::StatedElement element;
  element.power = test::known(Power::from_value(watts), key);
  element.at = test::known(6000.0_rpm);
  element.torque_exponent = test::known(0.0);
  if (b_W > 0.0) {
    element.power.spread.shape = Shape::normal;
    element.power.spread.half_width = b_W;
  }
  study::ExtraDrag extra;
  extra.id = id;
  extra.element = {id, id, element};
  extra.shaft = "rotor";
  return extra;
}

constexpr double mean_W = 0.6;  ///< what the second element takes more
struct Unknown {
  const char* key;
  double b_W;
};
constexpr Unknown unknowns[]{
    {"variant.second.wide", 4.0}, {"variant.second.middle", 2.0}, {"variant.second.narrow", 1.0}};

/// Two elements that ground alike; which takes less hangs on three unknown losses of the second.
study::Case two_options() {
  study::Case question = test::sample_case();
  question.samples = 60;
  const study::Grounding ring = test::sample_grounding(1.0_ohm, 0.015_N_mm);
  study::Variant first = test::sample_variant("first", ring),
                 second = test::sample_variant("second", ring);
  first.extras = {stated("sure", 30.0, 0.0, "variant.first.sure")};
  for (const Unknown& unknown : unknowns)
    second.extras.push_back(stated(unknown.key, 10.0 + mean_W / 3.0, unknown.b_W, unknown.key));
  question.variants = {question.variants.front(), first, second};
  return question;
}

/// Expected value of perfect information on one of the terms of a normal difference: the unit
/// normal loss, s [phi(m/s) - (m/s) Phi(-m/s)] for an option that is better by m with a standard
/// deviation s of the term. H. Raiffa, R. Schlaifer, Applied Statistical Decision Theory (1961),
/// from memory.
double closed_form_W(double m_W, double s_W) {
  const boost::math::normal_distribution<> normal;
  const double t = m_W / s_W;
  return s_W * (pdf(normal, t) - t * cdf(normal, -t));
}

}  // namespace

TEST_CASE("of two linear Gaussian options the widest unknown is asked first", "[derived]") {
  const study::AskFindings findings = study::ask(two_options());
  CHECK(findings.chosen == "first");
  REQUIRE(findings.questions.size() >= 2);
  double before = 1e9;
  for (std::size_t i = 0; i < findings.questions.size(); ++i) {
    REQUIRE(i < std::size(unknowns));
    CHECK(findings.questions[i].key == unknowns[i].key);
    const double worth = closed_form_W(mean_W, unknowns[i].b_W / normal_95);
    CHECK(worth < before);
    before = worth;
  }
  CHECK(findings.questions[0].gain > findings.questions[1].gain);
}

TEST_CASE("an unknown that moves no difference is never asked", "[derived]") {
  study::Case question = two_options();
  // The friction of both rings, the seal that all variants share, and a bearing's drag.
  const study::AskFindings findings = study::ask(question, {.closely = 1000});
  CHECK(findings.left_out == 0.0);
  CHECK(findings.irrelevant > 0);
  for (const study::OpenQuestion& asked : findings.questions) {
    CHECK(asked.key.starts_with("variant.second."));
    CHECK_FALSE(asked.text.empty());
    CHECK_FALSE(asked.where.empty());
    CHECK_FALSE(asked.consequence.empty());
  }
  // Certain numbers are never asked either: the sure loss has no spread.
  CHECK(findings.without_spread > 0);
}

TEST_CASE("a number whose basis is strong is not asked", "[derived]") {
  study::Case question = two_options();
  for (study::ExtraDrag& extra : question.variants[2].extras)
    std::get<study::StatedElement>(extra.element.form).power.basis = Basis::measured;
  CHECK(study::ask(question).questions.empty());
}

TEST_CASE("the value of knowing is the mean of the best less the best of the means", "[derived]") {
  const std::vector<double> share{0.25, 0.75};
  CHECK(study::value_of_knowing(share, {{1.0, 0.0}, {0.0, 1.0}}) == Approx(0.25));
  CHECK(study::value_of_knowing(share, {{0.3, 0.2}, {0.9, 0.1}}) == 0.0);
  CHECK(study::value_of_knowing(share, {{0.5, 0.5}, {0.5, 0.5}}) == 0.0);
  CHECK_THROWS_AS(study::value_of_knowing({}, {}), std::invalid_argument);
  CHECK_THROWS_AS(study::value_of_knowing(share, {{1.0}, {1.0, 2.0}}), std::invalid_argument);
  // Raiffa and Schlaifer's normal loss through three points of a quadrature: the order is kept.
  double before = 0.0;
  for (const double s : {0.5, 1.0, 2.0, 4.0}) {
    std::vector<std::vector<double>> utility;
    for (const double z : {-std::numbers::sqrt3, 0.0, std::numbers::sqrt3})
      utility.push_back({0.0, -1.0 + s * z});
    const std::vector<double> hermite{1.0 / 6.0, 4.0 / 6.0, 1.0 / 6.0};
    const double worth = study::value_of_knowing(hermite, utility);
    CHECK(worth >= before);
    CHECK(worth == Approx(closed_form_W(1.0, s)).margin(0.2 * s));
    before = worth;
  }
}
