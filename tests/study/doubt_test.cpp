// How sure a result is: shared draws, shares of parts with confidence, still ends, first order.
#include <cmath>
#include <iostream>

#include "ohmdrag/study/evaluate.hpp"
#include "ohmdrag/study/visit.hpp"
#include "study/ensemble.hpp"
#include "study/first_order.hpp"
#include "study/sample_case.hpp"
#include "study/sections.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;

namespace {

/// Without duties and electrics: thousands of draws in a moment.
study::Case points_only() {
  study::Case c = sample_case();
  c.duties.clear();
  c.bearings.clear();
  c.inverter.reset();
  c.coupling.reset();
  return c;
}

study::ElementResistance& resistance_of(study::Variant& variant) {
  return std::get<study::RingElement>(variant.grounding->element.form).resistance;
}

/// At most so many ohm at 1 kHz, where the inductance of the path is nothing.
study::Requirement at_most_ohm(double ohm, double share, double confidence) {
  study::Requirement asked;
  asked.id = "path";
  asked.max = Uncertain<double>(ohm);
  asked.band = {Frequency::from_value(1e3)};
  asked.share_of_parts = share;
  asked.confidence = confidence;
  return asked;
}

/// The variants "plain" and "ohm", of the latter a film of spread and scatter.
study::Case with_film(double spread_factor, double scatter_factor) {
  using namespace literals;
  study::Case c = points_only();
  c.variants.erase(c.variants.begin() + 1);
  c.samples = 2000;  // for a middle that is known
  auto& film = resistance_of(c.variants[1]).film;
  film = known(10.0_ohm, "contact.ring.film");
  if (spread_factor > 1.0) film = times(10.0_ohm, spread_factor, "contact.ring.film");
  if (scatter_factor > 1.0) film.scatter = {Shape::log_normal, 1.0, std::log(scatter_factor)};
  return c;
}

study::RequirementRow of_ohm(const study::Case& c) {
  return study::evaluate(c, {.budget = true}).variants[1].requirements.at(0);
}

double normal_share(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

}  // namespace

TEST_CASE("what two variants share cancels in their difference", "[study]") {
  study::Case c = points_only();
  c.samples = 400;
  study::Case again = c;
  again.seed = c.seed + 1;
  const study::Ensemble drawn(c, {}), other(again, {});
  const auto difference = [&](const study::Ensemble& ring, const study::Ensemble& lip) {
    return study::reduce(ring.samples[2], lip.samples[1],
                         [](const study::VariantSample& a, const study::VariantSample& b) {
                           return study::total_W(a, 0) - study::total_W(b, 0);
                         });
  };
  const Interval shared = difference(drawn, drawn), apart = difference(drawn, other);
  std::cout << "dense less sparse ring behind the same lip, net W:\n"
            << "  shared draws       " << shared.mid << " (" << shared.low << " ... " << shared.high
            << ")\n"
            << "  independent draws  " << apart.mid << " (" << apart.low << " ... " << apart.high
            << ")\n";
  CHECK(apart.high - apart.low > 3.0 * (shared.high - shared.low));
  CHECK(shared.low > 0.0);
}

TEST_CASE("spread and scatter of a factor give the share of parts that theory says", "[study]") {
  study::Case c = with_film(2.0, 1.5);
  c.requirements = {at_most_ohm(1e9, 0.95, 0.9)};
  const double middle = of_ohm(c).value.mid;
  const double spread = std::log(2.0) / normal_95, scatter = std::log(1.5) / normal_95;
  // The share of the parts below a limit in a state z standard deviations up; with a confidence of
  // 90 % the state lies below 1.2816.
  const double limit = std::exp(1.2816 * spread + 1.6449 * scatter);
  c.requirements = {at_most_ohm(limit * middle, 0.95, 0.9)};
  const auto row = of_ohm(c);
  REQUIRE(row.parts);
  CHECK(row.parts->way == study::ShareOfParts::Way::nested);
  CHECK(row.parts->share_at_confidence == Approx(0.95).margin(0.02));
  CHECK(row.parts->confidence_of_share == Approx(0.9).margin(row.parts->confidence_known_to));
  CHECK(row.parts->share_known_to > 0.02);
  // Drawn together they would have said: 97.6 % of the draws.
  CHECK(row.probability > 0.95);
  const double looser = std::exp(1.2816 * spread + 2.0 * scatter);
  c.requirements = {at_most_ohm(looser * middle, 0.95, 0.9)};
  CHECK(of_ohm(c).met);
  c.requirements = {at_most_ohm(middle, 0.95, 0.9)};
  const auto missed = of_ohm(c);
  CHECK_FALSE(missed.met);
  CHECK(missed.parts->share_at_confidence ==
        Approx(normal_share(-1.2816 * spread / scatter)).margin(0.03));
}

TEST_CASE("without scatter all parts are alike", "[study]") {
  study::Case c = with_film(2.0, 1.0);
  c.requirements = {at_most_ohm(1e9, 0.99, 0.9)};
  const double middle = of_ohm(c).value.mid;
  c.requirements = {at_most_ohm(middle, 0.99, 0.9)};
  const auto row = of_ohm(c);
  REQUIRE(row.parts);
  CHECK(row.parts->way == study::ShareOfParts::Way::alike);
  CHECK(row.parts->confidence_of_share == Approx(0.5).margin(0.02));
  CHECK(row.parts->share_at_confidence == 0.0);
  CHECK_FALSE(row.met);
}

TEST_CASE("scatter alone is judged by order statistics of independent parts", "[study]") {
  study::Case c = with_film(1.0, 1.5);
  study::for_each_number(c, [](UncertainNumber& number) {
    number.spread.shape = Shape::exact;
    if (number.key != "contact.ring.film") number.scatter.shape = Shape::exact;
  });
  c.requirements = {at_most_ohm(1e9, 0.95, 0.9)};
  const auto sure = of_ohm(c);
  REQUIRE(sure.parts);
  CHECK(sure.parts->way == study::ShareOfParts::Way::order_statistics);
  // None fails: the success run, (1 - C)^(1/n).
  CHECK(sure.parts->share_at_confidence ==
        Approx(std::pow(0.1, 1.0 / sure.parts->parts)).epsilon(1e-9));
  CHECK(sure.met);
  const double scatter = std::log(1.5) / normal_95;
  c.requirements = {at_most_ohm(std::exp(1.6449 * scatter) * sure.value.mid, 0.95, 0.9)};
  const auto close = of_ohm(c);
  CHECK(close.parts->share_at_confidence < 0.95);
  CHECK(close.parts->share.mid == Approx(0.95).margin(0.02));
  CHECK_FALSE(close.met);
}

TEST_CASE("parts too few for the share are said", "[study]") {
  study::Case c = with_film(2.0, 1.5);
  c.requirements = {at_most_ohm(1e9, 0.9999, 0.9)};
  const auto row = of_ohm(c);
  REQUIRE(row.parts);
  CHECK_THAT(row.parts->remark, Catch::Contains("cannot show 99.99 %"));
}

TEST_CASE("an adaptive ensemble ends when its ends stand still", "[study]") {
  study::Case c = with_film(2.0, 1.5);
  c.samples = 0;
  c.adaptive = study::AdaptiveSampling{.digits = 1, .most = 65536};
  const study::Ensemble first(c, {});
  REQUIRE(first.stability);
  CHECK(first.stability->still);
  CHECK(first.stability->blocks >= 4);
  CHECK(first.draws->samples() == first.stability->blocks * first.stability->block);
  CHECK(first.samples[1].size() == std::size_t(first.draws->samples()));
  c.seed = 99;
  const study::Ensemble second(c, {});
  const auto impedance = [](const study::Ensemble& ensemble) {
    return study::reduce(ensemble.samples[1], [](const study::VariantSample& s) {
      return s.points[0].impedance_ohm.back()[5];
    });
  };
  const Interval a = impedance(first), b = impedance(second);
  for (const study::StableEnd& row : first.stability->figures) {
    CAPTURE(row.figure, row.low_error, row.high_error, row.tolerance);
    CHECK(row.low_error <= row.tolerance);
    if (row.figure.starts_with("impedance")) {
      CHECK(std::abs(a.low - b.low) <= 2.0 * row.tolerance);
      CHECK(std::abs(a.high - b.high) <= 2.0 * row.tolerance);
    }
  }
  c.adaptive->most = 4096;
  const study::Ensemble cut(c, {});
  CHECK(cut.draws->samples() == 4096);
  CHECK_FALSE(cut.stability->still);
}

TEST_CASE("first order holds for what is straight and not for a wide factor", "[study]") {
  study::Case c = with_film(3.0, 1.0);
  c.samples = 8192;
  const study::Ensemble drawn(c, {});
  CHECK(study::no_first_order(drawn).empty());
  const auto rows = study::first_order(drawn);
  const auto row_of = [&](std::string_view start) {
    const auto found = std::ranges::find_if(
        rows, [&](const study::FirstOrderRow& row) { return row.figure.starts_with(start); });
    REQUIRE(found != rows.end());
    return *found;
  };
  const auto watts = row_of("net power");
  CAPTURE(watts.first_order.low, watts.ensemble.low, watts.first_order.high, watts.ensemble.high,
          watts.tolerance, watts.ends_known_to, watts.because);
  CHECK(watts.verdict != study::FirstOrderRow::Verdict::not_valid);
  CHECK(watts.first_order.high == Approx(watts.ensemble.high).epsilon(0.03));
  const auto ohms = row_of("impedance");
  CHECK(ohms.verdict == study::FirstOrderRow::Verdict::not_valid);
  CHECK_THAT(ohms.because, Catch::Contains("contact.ring.film"));
  // One factor: its logarithm moves by one standard deviation either way.
  const double s = std::log(3.0) / normal_95;
  CHECK(ohms.standard_uncertainty / ohms.estimate == Approx(std::sinh(s)).epsilon(0.01));

  c.samples = 2;
  CHECK_THAT(study::no_first_order(study::Ensemble(c, {})), Catch::Contains("runs"));
}
