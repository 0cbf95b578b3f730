// The window of an element, against closed forms and against the trade of the same case.

#include "ohmdrag/study/sizing.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "ohmdrag/study/evaluate.hpp"
#include "study/sample_case.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using Catch::Matchers::Contains;
using Side = study::SizingLimit::Side;

namespace {

constexpr double stated_N_m = 15.0;

study::Requirement impedance_at_most(double ohm) {
  study::Requirement asked;
  asked.id = "impedance";
  asked.measure = study::Measure::impedance_magnitude;
  asked.max = test::known(ohm);
  asked.band = {10.0_Hz};
  asked.end_of_service = true;
  return asked;
}

study::Allocation watts_at_most(double watts) {
  study::Allocation most;
  most.component = "grounding";
  most.point = "running";
  most.max = test::known(Power::from_value(watts));
  return most;
}

study::Grounding& grounding_of(study::Case& question) {
  return *question.variants.back().grounding;
}
study::RingElement& ring_of(study::Case& question) {
  return std::get<study::RingElement>(grounding_of(question).element.form);
}

/// The sample case with a friction that is known.
study::Case question_of(std::vector<study::Requirement> requirements,
                        std::vector<study::Allocation> allocations = {}) {
  study::Case question = test::sample_case();
  question.requirements = std::move(requirements);
  question.allocations = std::move(allocations);
  ring_of(question).law = study::ConstantFrictionEntry{test::known(0.2)};
  return question;
}

study::SizingFindings sized(const study::Case& question) {
  return study::size_element(question, {.variant = "ohm"});
}

const study::SizingLimit& limit_of(const study::SizingFindings& found, const std::string& id) {
  const auto limit = std::ranges::find(found.limits, id, &study::SizingLimit::id);
  REQUIRE(limit != found.limits.end());
  return *limit;
}

void check_between(const std::optional<std::pair<double, double>>& edge, double value) {
  REQUIRE(edge);
  const auto [low, high] = std::minmax(edge->first, edge->second);
  CAPTURE(low, high, value);
  CHECK(low <= value);
  CHECK(value <= high);
  CHECK(high / low < 1.08);
}

std::string all(const std::vector<std::string>& texts) {
  std::string joined;
  for (const std::string& text : texts) joined += text + '\n';
  return joined;
}

}  // namespace

TEST_CASE("the high edge of watts is where mu F' pi d v meets the allocation", "[derived]") {
  const auto found = sized(question_of({}, {watts_at_most(7.5)}));
  const double v = 2.0 * std::numbers::pi * 100.0 * 0.0225;
  const double force_N_m = 7.5 / (0.2 * std::numbers::pi * 0.045 * v);
  const auto& limit = limit_of(found, "allocation-grounding-running");
  CHECK(limit.side == Side::too_much);
  check_between(limit.edge, force_N_m);
  REQUIRE(found.cheapest);
  CHECK(*found.cheapest == 0);
  CHECK_THAT(found.verdict, Contains("ends inside the window at its low end"));
}

TEST_CASE("the low edge of impedance is where the law of resistance meets the requirement",
          "[derived]") {
  const auto found = sized(question_of({impedance_at_most(5.0)}));
  // Three times the 1 ohm of the new ring, and its exponent m + q(1 - m) = 0.875.
  const double force_N_m = stated_N_m * std::pow(3.0 / 5.0, 1.0 / 0.875);
  const auto& limit = limit_of(found, "impedance");
  CHECK(limit.side == Side::too_little);
  check_between(limit.edge, force_N_m);
  REQUIRE(found.cheapest);
  CHECK(found.rows[*found.cheapest].knob == limit.edge->second);
}

TEST_CASE("two edges that collide are named with both limits", "[derived]") {
  const auto found = sized(question_of({impedance_at_most(2.0)}, {watts_at_most(5.0)}));
  CHECK(found.inside.empty());
  CHECK_FALSE(found.cheapest);
  CHECK_THAT(found.verdict, Contains("Not reachable, because") && Contains("impedance-magnitude") &&
                                Contains("or more and \"grounding at most 5 W"));
}

TEST_CASE("a resistance that no force moves makes force the wrong lever", "[derived]") {
  study::Case question = question_of({impedance_at_most(1.0)});
  ring_of(question).resistance.count_exponent = test::known(0.0);
  ring_of(question).resistance.film_exponent = test::known(0.0);
  const auto found = sized(question);
  CHECK(limit_of(found, "impedance").side == Side::never);
  CHECK_THAT(found.verdict, Contains("Not reachable, because nowhere"));
  CHECK_THAT(all(found.remarks),
             Contains("Force is the wrong lever") && Contains("Change material or fibre count"));
}

TEST_CASE("less resistance rings in an inductive path, and the page says from where", "[derived]") {
  study::Case question = question_of({});
  grounding_of(question).path = study::StatedPath{test::known(400.0_nH)};
  ring_of(question).resistance.film = test::known(2.0_ohm);
  const auto found = sized(question);
  CHECK_THAT(all(found.remarks), Contains("More force makes the edge worse"));
  CHECK_THAT(all(found.remarks), Contains("lets it ring"));
}

TEST_CASE("a row of the scan is the trade of a case with that force", "[derived]") {
  study::Requirement net;
  net.id = "net";
  net.measure = study::Measure::net_power;
  net.max = test::known(8.0);
  study::Case question = question_of({net, impedance_at_most(5.0)});
  ring_of(question).law =
      study::ConstantFrictionEntry{test::within_share(0.2, 0.3, "contact.ring.friction")};
  const auto found = sized(question);
  const auto& row = found.rows[found.rows.size() / 3];
  grounding_of(question).line_force = test::known(LineForce::from_value(row.knob));
  const auto traded = study::evaluate(question, study::Sections::all()).variants.back();
  CHECK(row.net_W->low == traded.requirements[0].value.low);
  CHECK(row.net_W->high == traded.requirements[0].value.high);
  CHECK(row.impedance_ohm->mid == traded.requirements[1].value.mid);
  CHECK(row.kept[0] == traded.requirements[0].probability);
}

TEST_CASE("watts rise and impedance falls with force, row by row", "[derived]") {
  const auto found = sized(question_of({impedance_at_most(5.0)}, {watts_at_most(7.5)}));
  REQUIRE(found.rows.size() > 9);
  for (std::size_t i = 1; i < found.rows.size(); ++i) {
    CHECK(found.rows[i].knob > found.rows[i - 1].knob);
    CHECK(found.rows[i].net_W->mid > found.rows[i - 1].net_W->mid);
    CHECK(found.rows[i].impedance_ohm->mid < found.rows[i - 1].impedance_ohm->mid);
  }
}

TEST_CASE("the spread of the force keeps its share at every value", "[derived]") {
  study::Case question = question_of({});
  grounding_of(question).line_force =
      test::within_share(LineForce::from_value(stated_N_m), 0.2, "variant.ohm.line_force");
  const auto found = sized(question);
  for (const auto& row : found.rows) {
    const Interval& force = row.line_force_N_mm;
    CHECK((force.high - force.low) / force.mid == Approx(0.4).epsilon(0.1));
    CHECK(force.mid * 1e3 == Approx(row.knob).epsilon(0.02));
  }
}

TEST_CASE("a lip is not sized below the force that keeps it tight", "[derived]") {
  study::Case question = question_of({});
  auto& lip = std::get<study::LipElement>(question.variants.back().seal->element.form);
  lip.least_line_force = test::known(0.06_N_mm);
  question.variants.back().seal->line_force = test::known(0.08_N_mm);
  const auto found =
      study::size_element(question, {.variant = "ohm", .part = study::SizedPart::seal});
  check_between(limit_of(found, "tightness").edge, 60.0);
  lip.least_line_force.reset();
  const auto without =
      study::size_element(question, {.variant = "ohm", .part = study::SizedPart::seal});
  CHECK_THAT(all(without.remarks), Contains("No least force for tightness is given"));
}

TEST_CASE("what cannot be sized is refused in words", "[derived]") {
  const study::Case question = question_of({});
  const auto refusal = [&](const study::SizingQuestion& what) -> std::string {
    try {
      study::size_element(question, what);
    } catch (const std::invalid_argument& error) {
      return error.what();
    }
    return "not refused";
  };
  CHECK_THAT(refusal({.variant = "plain"}), Contains("no grounding element"));
  CHECK_THAT(refusal({.variant = "none"}), Contains("no variant \"none\""));
  CHECK_THAT(refusal({.variant = "ohm", .knob = study::SizedBy::interference}),
             Contains("has no fibres"));
  CHECK_THAT(refusal({.variant = "ohm", .from = 20.0, .to = 10.0}), Contains("must rise"));
}

TEST_CASE("a trade sizes the grounding it chooses, else the first with a force", "[derived]") {
  study::Case question = question_of({});
  study::Trade trade;
  trade.chosen = question.baseline;  // without any grounding
  const auto first = study::sizing_of(question, trade);
  REQUIRE(first);
  CHECK(first->variant != question.baseline);
  trade.chosen = question.variants.back().id;
  CHECK(study::sizing_of(question, trade)->variant == question.variants.back().id);
  for (study::Variant& variant : question.variants) variant.grounding.reset();
  CHECK(!study::sizing_of(question, trade));
}
