// What moves an answer and what overturns it, on models whose indices, distances and ranks are
// known in closed form, through the functions that the trade study uses.

#include <oneapi/tbb/global_control.h>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/numerics/quasi_random.hpp"
#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/study/evaluate.hpp"
#include "study/decision.hpp"
#include "study/decisive_part.hpp"
#include "study/evidence_dial.hpp"
#include "study/flip_search.hpp"
#include "study/input_space.hpp"
#include "study/rank_stability.hpp"
#include "study/sample_case.hpp"
#include "study/variance_moves.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using study::DecisionAt;
using study::FoundFlip;
using study::MovingInput;

namespace {

constexpr study::MovesEffort fine{
    .sobol = {.points = 256, .replicates = 8, .seed = 3}, .most_inputs = 3, .least_share = 0.005};

/// 3 a + 2 b + c + 0.1 d of standard normal inputs: variances 9, 4, 1 and 0.01.
double weighted_sum(std::span<const double> shares) {
  constexpr std::array weight{3.0, 2.0, 1.0, 0.1};
  double sum = 0.0;
  for (std::size_t i = 0; i < weight.size(); ++i) sum += weight[i] * normal_quantile(shares[i]);
  return sum;
}

std::vector<MovingInput> four_inputs() {
  return {{"d", Basis::measured, {3}},
          {"a", Basis::assumed, {0}},
          {"b", Basis::paper, {1}},
          {"c", Basis::single_claim, {2}}};
}

/// Two candidates: the first is recommended while its margin holds, the second costs more until
/// the inputs turn it.
study::DecisionsAt linear_trade(double margin, double dearer) {
  return [=](const std::vector<std::vector<double>>& points) {
    std::vector<DecisionAt> result;
    for (const auto& u : points) {
      const double kept = margin - 2.0 * u[0] - 1.0 * u[1] + 0.01 * u[3];
      const double ahead = dearer + 3.0 * u[2] - 4.0 * u[1];
      DecisionAt at;
      at.states = {kept, ahead};
      if (kept > 0.0) at.choice = ahead > 0.0 ? 0 : 1;
      result.push_back(at);
    }
    return result;
  };
}

/// What a search over one way asks, out of the whole decision.
study::FlipSearch flip_search(const study::DecisionsAt& decision, std::size_t coordinates,
                              std::optional<std::size_t> recommendation) {
  const study::StatesAt state = [&](std::size_t way, const auto& points) {
    std::vector<std::optional<double>> states;
    for (const DecisionAt& at : decision(points)) states.push_back(at.states[way]);
    return states;
  };
  return study::flip_search(decision, state, coordinates, recommendation);
}

}  // namespace

TEST_CASE("indices of a weighted sum are its squared weights", "[study]") {
  const auto inputs = four_inputs();
  const study::VarianceMoves found = study::variance_moves(weighted_sum, 4, inputs, fine);
  REQUIRE(found.moves.inputs.size() == 4);
  const double all = 14.01;
  const std::vector<std::pair<std::string, double>> expected{
      {"a", 9.0 / all}, {"b", 4.0 / all}, {"c", 1.0 / all}, {"all others", 0.01 / all}};
  for (std::size_t i = 0; i < expected.size(); ++i) {
    const study::InputMoves& input = found.moves.inputs[i];
    CAPTURE(input.name);
    CHECK(input.name == expected[i].first);
    CHECK(input.first.value == Approx(expected[i].second).margin(0.02));
    CHECK(input.total.value == Approx(expected[i].second).margin(0.02));
    CHECK(input.total.low <= expected[i].second + 0.005);
    CHECK(input.total.high >= expected[i].second - 0.005);
  }
  // Assumed and a single claim together: 9 + 1; the rest is left as one group.
  REQUIRE(found.moves.assumed);
  CHECK(found.moves.assumed->value == Approx(10.0 / all).margin(0.02));
  CHECK(found.moves.deviation == Approx(std::sqrt(all)).epsilon(0.02));
  CHECK(found.screened[1] == Approx(9.0 / all).margin(0.2));
  CHECK(found.screened[1] > found.screened[2]);
  CHECK(found.moves.evaluations == 8 + 4 * 5 + 256 * 8 * (5 + 2));
}

TEST_CASE("draws tell the indices of a weighted sum without a run", "[study]") {
  const auto inputs = four_inputs();
  const numerics::QuasiRandom cube(4, 21);
  std::vector<std::vector<double>> shares(4);
  std::vector<double> figure, rough;
  for (std::uint64_t i = 0; i < 256; ++i) {
    std::array<double, 4> at{};
    for (std::size_t c = 0; c < 4; ++c) shares[c].push_back(at[c] = cube.value(c, i));
    figure.push_back(weighted_sum(at));
    rough.push_back(std::max(0.0, normal_quantile(at[0]) + normal_quantile(at[1])));
  }
  const numerics::PolynomialInputs draws(shares, std::vector(4, numerics::InputScale::score));
  const auto found = study::moves_of_draws(draws, figure, inputs, fine);
  REQUIRE(found);
  REQUIRE(found->moves.inputs.size() == 4);
  CHECK(found->moves.inputs[0].name == "a");
  CHECK(found->moves.inputs[0].total.value == Approx(9.0 / 14.01).margin(1e-6));
  CHECK(found->moves.inputs[2].first.value == Approx(1.0 / 14.01).margin(1e-6));
  CHECK(found->moves.inputs[3].name == "all others");
  CHECK(found->screened[0] == Approx(0.01 / 14.01).margin(1e-6));
  REQUIRE(found->moves.assumed);
  CHECK(found->moves.assumed->value == Approx(10.0 / 14.01).margin(1e-6));
  CHECK(found->moves.evaluations == 256);
  CHECK(found->moves.remark.find("polynomial") != std::string::npos);

  // What is left unexplained may be anybody's: of a ramp 3.3 % beyond the third degree.
  study::MovesEffort content = fine;
  content.most_unexplained = 0.9;
  const auto doubtful = study::moves_of_draws(draws, rough, inputs, content);
  REQUIRE(doubtful);
  for (const study::InputMoves& input : doubtful->moves.inputs)
    CHECK(input.total.high - input.total.low > 0.03);
  CHECK_FALSE(study::moves_of_draws(draws, rough, inputs, fine));
  CHECK_FALSE(study::moves_of_draws(draws, std::span(figure).first(127), inputs, fine));
  const auto still = study::moves_of_draws(draws, std::vector<double>(256, 7.0), inputs, fine);
  REQUIRE(still);
  CHECK(still->moves.remark.find("no uncertain number") != std::string::npos);
  CHECK(still->screened == std::vector<double>(4, 0.0));
  figure[9] = INFINITY;
  CHECK_FALSE(study::moves_of_draws(draws, figure, inputs, fine));
}

TEST_CASE("what stands still at the middle is found, and what is left out counts as a group",
          "[study]") {
  // A product moves nothing while the other factor stands at its middle, zero. Variance 1 + 1.
  const auto product = [](std::span<const double> u) {
    return normal_quantile(u[0]) + normal_quantile(u[1]) * normal_quantile(u[2]);
  };
  const std::vector<MovingInput> inputs{
      {"a", Basis::paper, {0}}, {"b", Basis::paper, {1}}, {"c", Basis::paper, {2}}};
  const auto found = study::variance_moves(product, 3, inputs, fine);
  REQUIRE(found.moves.inputs.size() == 3);
  for (const study::InputMoves& input : found.moves.inputs) {
    CAPTURE(input.name);
    CHECK(input.total.value == Approx(0.5).margin(0.05));
    CHECK(input.first.value == Approx(input.name == "a" ? 0.5 : 0.0).margin(0.1));
  }
  CHECK_FALSE(found.moves.assumed);

  study::MovesEffort few = fine;
  few.most_inputs = 1;
  const auto grouped = study::variance_moves(product, 3, inputs, few);
  REQUIRE(grouped.moves.inputs.size() == 2);
  CHECK(grouped.moves.inputs[1].name == "all others");
  CHECK(grouped.moves.inputs[1].inputs == 2);
  CHECK(grouped.moves.inputs[1].total.value > 0.4);
}

TEST_CASE("a figure that stands still or does not exist has no indices", "[study]") {
  const auto inputs = four_inputs();
  const auto still = study::variance_moves([](auto) { return 7.0; }, 4, inputs, fine);
  CHECK(still.moves.inputs.empty());
  CHECK(still.moves.remark.find("no uncertain number") != std::string::npos);
  const auto nowhere = study::variance_moves(
      [](std::span<const double> u) { return u[0] > 0.9 ? INFINITY : u[0]; }, 4, inputs, fine);
  CHECK(nowhere.moves.inputs.empty());
  CHECK(nowhere.moves.remark.find("no finite value") != std::string::npos);
}

TEST_CASE("the nearest overturning inputs of a linear trade are at their distance", "[study]") {
  // The margin falls at 4/sqrt(5) = 1.79, the order at 6/5 = 1.2: along (0, 0.8, -0.6).
  const auto found = flip_search(linear_trade(4.0, 6.0), 4, 0);
  CHECK_FALSE(found.middle_differs);
  REQUIRE(found.nearest);
  CHECK(found.nearest->distance == Approx(1.2).margin(0.05));
  CHECK(found.nearest->way == 1);
  CHECK(found.nearest->becomes == std::size_t{1});
  CHECK(found.nearest->scores[1] == Approx(0.96).margin(0.06));
  CHECK(found.nearest->scores[2] == Approx(-0.72).margin(0.06));
  CHECK(found.nearest->scores[0] == 0.0);
  CHECK(found.nearest->scores[3] == 0.0);
  // Computed there: the decision is another.
  CHECK(linear_trade(4.0, 6.0)({found.nearest->scores}).front().choice == std::size_t{1});
  // Alone within 1.96: the second input turns the order at 1.5; 4/2 = 2 is beyond.
  REQUIRE(found.single.size() == 1);
  CHECK(found.single[0].distance == Approx(1.5).margin(0.05));
  CHECK(found.single[0].scores[1] > 0.0);
}

TEST_CASE("where the first candidate falls, nobody may be left", "[study]") {
  const auto found = flip_search(linear_trade(2.0, 30.0), 4, 0);
  REQUIRE(found.nearest);
  CHECK(found.nearest->way == 0);
  CHECK_FALSE(found.nearest->becomes);
  // 2/sqrt(5) = 0.894 with both inputs; within a tenth more the larger alone does not, 1.0.
  CHECK(found.nearest->distance == Approx(0.894).margin(0.09));
}

TEST_CASE("fewer inputs are taken where they are hardly farther", "[study]") {
  const study::DecisionsAt nearly_one = [](const std::vector<std::vector<double>>& points) {
    std::vector<DecisionAt> result;
    for (const auto& u : points) {
      DecisionAt at;
      at.states = {4.0 - 3.0 * u[0] - 0.9 * u[1]};
      if (at.states[0] > 0.0) at.choice = 0;
      result.push_back(at);
    }
    return result;
  };
  const auto found = flip_search(nearly_one, 2, 0);
  REQUIRE(found.nearest);
  CHECK(found.nearest->scores[1] == 0.0);  // 4/3 alone against 4/3.13 with both
  CHECK(found.nearest->distance == Approx(4.0 / 3.0).margin(0.05));
}

TEST_CASE("a firm decision has no overturning inputs, and a middle that differs needs none",
          "[study]") {
  const auto firm = flip_search(linear_trade(40.0, 60.0), 4, 0);
  CHECK_FALSE(firm.nearest);
  CHECK(firm.single.empty());
  const auto differs = flip_search(linear_trade(4.0, 6.0), 4, 1);
  CHECK(differs.middle_differs);
  CHECK(differs.at_middle == std::size_t{0});
  CHECK_FALSE(differs.nearest);
}

TEST_CASE("ranks of two normal costs are those of their difference", "[study]") {
  // N(1, 1) before N(2, 1): P = Phi(1/sqrt 2) = 0.7602; the third is in where its number is above
  // the middle, and always dearest.
  const numerics::QuasiRandom cube(3, 5);
  std::vector<std::vector<std::optional<double>>> costs;
  for (std::uint64_t i = 0; i < 4096; ++i) {
    costs.push_back({2.0 + normal_quantile(cube.value(0, i)),
                     1.0 + normal_quantile(cube.value(1, i)), std::nullopt});
    if (cube.value(2, i) > 0.5) costs.back()[2] = 100.0;
  }
  const study::RankStability found = study::rank_stability({"b", "a", "c"}, costs);
  REQUIRE(found.rows.size() == 3);
  CHECK(found.rows[0].variant == "a");
  CHECK(found.rows[0].places[0] == Approx(0.7602).margin(0.002));
  CHECK(found.rows[0].places[1] == Approx(0.2398).margin(0.002));
  CHECK(found.rows[1].variant == "b");
  CHECK(found.rows[2].out == Approx(0.5).margin(1e-3));
  CHECK(found.rows[2].places[2] == Approx(0.5).margin(1e-3));
  REQUIRE(found.pairs.size() == 2);
  CHECK(found.pairs[0].holds == Approx(0.7602).margin(0.002));
  CHECK(found.pairs[0].turned == Approx(0.2398).margin(0.002));
  CHECK(found.pairs[1].holds == Approx(1.0).margin(1e-9));
}

TEST_CASE("a full range is the trade's, else the stated one, else what practice grants",
          "[study]") {
  auto number = within_share(100.0, 0.2, "contact.ring.friction");
  auto range = study::full_range(number, nullptr);
  REQUIRE(range);
  CHECK(range->spread.shape == Shape::uniform);
  CHECK(range->spread.mid == Approx(100.0));
  CHECK(range->spread.half_width == Approx(20.0).epsilon(1e-3));
  // The trade's range is widened to hold the stated one.
  study::TradeRange trade;
  trade.range.shape = Shape::uniform;
  trade.range.mid = 150.0;
  trade.range.half_width = 50.0;
  range = study::full_range(number, &trade);
  CHECK(range->spread.mid - range->spread.half_width == Approx(80.0).epsilon(1e-3));
  CHECK(range->spread.mid + range->spread.half_width == Approx(200.0).epsilon(1e-3));

  CHECK(study::full_range(known(300.0_ns, "discharge.pulse_credit"), nullptr)->spread.half_width ==
        Approx(std::log(3.0)));
  const auto warm =
      study::full_range(known(95.0_degC, "shaft.rotor.dry_side_temperature"), nullptr);
  CHECK(warm->spread.half_width == Approx(10.0));
  const auto exponent = study::full_range(known(0.5, "contact.lip.exponent"), nullptr);
  CHECK(exponent->spread.half_width == Approx(0.05));
  for (const char* kept : {"requirement.path.max", "operating_point.cruise.oil_temperature",
                           "modulus.points.3.ratio", "bearing_type.6208.conformity"})
    CHECK_FALSE(study::full_range(known(0.5, kept), nullptr));
  CHECK_FALSE(study::full_range(known(0.0, "sump.other"), nullptr));
}

TEST_CASE("the dial opens what rests on weak evidence and leaves the rest alone", "[study]") {
  auto question = sample_case();
  question.sump.lubricant.viscosity_40.basis = Basis::handbook;
  const auto opened = study::with_opened(question, Basis::handbook);
  std::vector<std::string> names;
  for (const auto& number : opened.opened) names.push_back(number.name);
  CHECK(std::ranges::count(names, "contact.lip.line_force") == 1);
  CHECK(std::ranges::count(names, "lubricant.oil.viscosity_40") == 0);
  CHECK(opened.question.sump.lubricant.viscosity_40.spread.shape == Shape::normal);
  CHECK(study::with_opened(question, Basis::assumed).opened.empty());
}

TEST_CASE("a rung of the dial is the trade of all variants, whoever the points rule out",
          "[study]") {
  // An ohm is out, and so whatever helps; three kiloohms are out; both are; none is.
  const auto [least_ohm, most_ohm, shown] =
      GENERATE(std::tuple(500.0, 1e9, 1), std::tuple(0.0, 500.0, 2), std::tuple(0.0, 1e-9, 1),
               std::tuple(0.0, 1e9, 2));
  CAPTURE(least_ohm, most_ohm);
  study::Case question = sample_case();
  study::Requirement path;
  path.id = "path";
  path.measure = study::Measure::impedance_magnitude;
  path.min = known(least_ohm);
  path.max = known(most_ohm);
  path.share_of_parts = 0.8;
  question.requirements = {path};
  const auto variant = static_cast<std::size_t>(shown);
  std::vector<study::VariantFindings> findings;
  const study::Trade stated =
      study::weighed(study::Ensemble(question, study::Sections::all()), findings);
  std::vector<study::OpenedNumber> opened;
  const auto dial = study::evidence_dial(question, stated, variant, opened);
  REQUIRE(dial.size() > 1);
  const study::Case decisive = study::decisive_part(question, study::HeadlinePoint::kept);
  for (std::size_t step = 1; step < dial.size(); ++step) {
    CAPTURE(dial[step].kept);
    const auto rung = [&] {
      for (const Basis basis : {Basis::common_practice, Basis::paper, Basis::handbook})
        if (dial[step].kept.starts_with(to_word(basis))) return basis;
      return Basis::measured;
    }();
    const study::OpenedCase at = study::with_opened(decisive, rung);
    const study::Trade expected =
        study::weighed(study::Ensemble(at.question, study::Sections::all()), findings);
    const study::ExchangeRow& row = expected.exchange[variant];
    CHECK(dial[step].chosen == expected.chosen);
    CHECK(dial[step].probability_best == row.probability_best);
    CHECK(dial[step].verdict == row.verdict);
    REQUIRE(dial[step].net_W.has_value());
    CHECK(dial[step].net_W->mid == row.point_net_W.mid);
    CHECK(dial[step].net_W->high == row.point_net_W.high);
    REQUIRE(dial[step].kWh_per_year.has_value());
    CHECK(dial[step].kWh_per_year->mid == row.kWh_per_year->mid);
    REQUIRE(dial[step].dose_factor.has_value() == row.dose_factor.has_value());
    if (row.dose_factor) CHECK(dial[step].dose_factor->mid == row.dose_factor->mid);
  }
}

TEST_CASE("a trade study says what moves it, what it stands down to and what overturns it",
          "[study]") {
  const auto findings = study::evaluate(sample_case(), study::Sections::all());
  REQUIRE(findings.sensitivity);
  const auto& found = *findings.sensitivity;
  REQUIRE_FALSE(found.figures.empty());
  const auto& watts = found.figures.front();
  CHECK(watts.figure.starts_with("net W of"));
  REQUIRE_FALSE(watts.inputs.empty());
  CHECK(watts.inputs.front().name == "contact.ring.friction");
  CHECK(watts.inputs.front().total.value > 0.5);
  CHECK(found.dial.front().kept == "all numbers as stated");
  CHECK(found.dial.front().chosen == findings.trade->chosen);
  double first = 0.0;
  for (const auto& row : found.ranks) {
    double all = row.out;
    for (const double place : row.places) all += place;
    CHECK(all == Approx(1.0));
    first += row.places.front();
    for (const auto& exchange : findings.trade->exchange)
      if (exchange.variant == row.variant)
        CHECK(exchange.probability_best == Approx(row.places.front()));
  }
  CHECK(first == Approx(1.0));
  CHECK_FALSE(found.stress.sentences.empty());
  CHECK_FALSE(found.argument_against.empty());
  if (found.stress.nearest) CHECK(found.stress.nearest->becomes != findings.trade->chosen);
}

TEST_CASE("what the screen does not see gets an index where draws have seen it", "[study]") {
  const auto inputs = four_inputs();
  study::MovesEffort two = fine;
  two.most_inputs = 2;
  const auto names = [&](std::span<const double> seen) {
    std::vector<std::string> found;
    for (const auto& row : study::variance_moves(weighted_sum, 4, inputs, two, seen).moves.inputs)
      found.push_back(row.name);
    return found;
  };
  using Names = std::vector<std::string>;
  CHECK(names({}) == Names{"a", "b", "all others"});
  CHECK(names(std::array{0.0, 0.0, 0.0, 0.9}) == Names{"a", "c", "all others"});
}

TEST_CASE("correlated numbers count as one input", "[study]") {
  study::Case question = sample_case();
  study::Correlation pair;
  pair.keys = {"contact.ring.friction", "contact.lip.line_force"};
  pair.matrix = {1.0, 0.5, 0.5, 1.0};
  question.correlations = {pair};
  const auto findings = study::evaluate(question, study::Sections::all());
  const auto& rows = findings.sensitivity->figures.front().inputs;
  const auto together = std::ranges::find_if(rows, [](const study::InputMoves& row) {
    return row.name.find("contact.ring.friction") != std::string::npos;
  });
  REQUIRE(together != rows.end());
  CHECK(together->name.find("contact.lip.line_force") != std::string::npos);
  CHECK(together->total.value > 0.5);
  // Both rank as the pair does.
  for (const study::Assumption& row : findings.assumptions)
    if (std::ranges::find(pair.keys, row.name) != pair.keys.end()) CHECK(row.moves_share > 0.5);
}

TEST_CASE("sensitivities are the same for one thread and for two", "[study]") {
  const auto with = [](std::size_t threads) {
    const oneapi::tbb::global_control limit(oneapi::tbb::global_control::max_allowed_parallelism,
                                            threads);
    return study::evaluate(sample_case(), study::Sections::all());
  };
  const auto one = with(1), two = with(2);
  REQUIRE(one.sensitivity->figures.size() == two.sensitivity->figures.size());
  for (std::size_t f = 0; f < one.sensitivity->figures.size(); ++f) {
    const auto &a = one.sensitivity->figures[f], &b = two.sensitivity->figures[f];
    CHECK(a.deviation == b.deviation);
    REQUIRE(a.inputs.size() == b.inputs.size());
    for (std::size_t i = 0; i < a.inputs.size(); ++i) {
      CHECK(a.inputs[i].name == b.inputs[i].name);
      CHECK(a.inputs[i].total.value == b.inputs[i].total.value);
    }
  }
  CHECK(one.sensitivity->stress.sentences == two.sensitivity->stress.sentences);
  CHECK(one.sensitivity->argument_against == two.sensitivity->argument_against);
}
