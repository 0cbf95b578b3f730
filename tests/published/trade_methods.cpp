#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <optional>
#include <string>
#include <vector>

#include "study/choice.hpp"
#include "study/rank_stability.hpp"

// Three methods, three answers: why a trade study names its method.
// Mandatory criteria are pass or fail, and what fails is dropped before anything is scored: NASA
// Systems Engineering Handbook, NASA/SP-2007-6105 Rev1, section 6.8 (from memory). A variant is
// dominated by one that is no worse in any criterion and better in one (V. Pareto; textbook). The
// weighted sum over values between worst and best of the alternatives is the textbook one. The four
// alternatives are invented; their scores are our own arithmetic.

using namespace ohmdrag;

namespace {

struct Alternative {
  const char* id;
  double loss_W, life_h, robustness, cost;
};

constexpr std::array alternatives{
    Alternative{"A", 6.0, 18000.0, 0.70, 9.0}, Alternative{"B", 8.0, 30000.0, 0.80, 7.0},
    Alternative{"C", 3.5, 9000.0, 0.90, 12.0}, Alternative{"D", 8.5, 25000.0, 0.75, 8.0}};
constexpr std::array weights{0.4, 0.3, 0.2, 0.1};
constexpr double required_life_h = 12000.0;

/// All as losses: less is better.
std::array<double, 4> losses(const Alternative& a) {
  return {a.loss_W, -a.life_h, -a.robustness, a.cost};
}

/// Weighted sum of each criterion's place between the worst and the best of the alternatives.
std::vector<double> weighted_sums(const std::vector<Alternative>& among) {
  std::vector<double> sums(among.size());
  for (std::size_t c = 0; c < weights.size(); ++c) {
    std::vector<double> column;
    for (const Alternative& a : among) column.push_back(losses(a)[c]);
    const auto [best, worst] = std::ranges::minmax(column);
    for (std::size_t i = 0; i < among.size(); ++i)
      sums[i] += weights[c] * (worst - column[i]) / (worst - best);
  }
  return sums;
}

std::string highest(const std::vector<Alternative>& among, const std::vector<double>& scores) {
  return among[static_cast<std::size_t>(std::ranges::max_element(scores) - scores.begin())].id;
}

/// The criteria of one alternative, as one draw.
std::vector<std::vector<double>> one_draw(const Alternative& a) {
  std::vector<std::vector<double>> criteria;
  for (const double loss : losses(a)) criteria.push_back({loss});
  return criteria;
}

}  // namespace

TEST_CASE("three methods of decision give three answers", "[published][derived]") {
  const std::vector<Alternative> all(alternatives.begin(), alternatives.end());
  // Weights alone pick what misses the requirement.
  const std::vector<double> plain = weighted_sums(all);
  const std::array expected{0.3886, 0.5400, 0.6000, 0.3586};
  for (std::size_t i = 0; i < all.size(); ++i) CHECK(plain[i] == Approx(expected[i]).margin(5e-5));
  CHECK(highest(all, plain) == "C");

  // The requirement first, then the same weights.
  std::vector<Alternative> kept;
  for (const Alternative& a : all)
    if (a.life_h >= required_life_h) kept.push_back(a);
  const std::vector<double> screened = weighted_sums(kept);
  REQUIRE(screened.size() == 3);
  CHECK(screened[0] == Approx(0.400).margin(5e-4));
  CHECK(screened[1] == Approx(0.680).margin(5e-4));
  CHECK(screened[2] == Approx(0.325).margin(5e-4));
  CHECK(highest(kept, screened) == "B");

  // The requirement first, then the least watts: the rule of the trade study.
  std::vector<std::optional<double>> admissible;
  std::vector<std::string> ids;
  for (const Alternative& a : all) {
    ids.push_back(a.id);
    admissible.push_back(a.life_h >= required_life_h ? std::optional(a.loss_W) : std::nullopt);
  }
  const auto choice = study::ChoiceRule::choice(admissible);
  REQUIRE(choice);
  CHECK(ids[*choice] == "A");
  const study::RankStability ranks = study::rank_stability(ids, {admissible});
  CHECK(ranks.rows.front().variant == "A");
  CHECK(ranks.rows.back().variant == "C");
  CHECK(ranks.rows.back().out == 1.0);
}

TEST_CASE("before any weights three of four alternatives are not dominated",
          "[published][derived]") {
  std::vector<std::string> nondominated;
  for (const Alternative& a : alternatives)
    if (std::ranges::none_of(alternatives, [&](const Alternative& other) {
          return study::dominates(one_draw(other), one_draw(a));
        }))
      nondominated.push_back(a.id);
  CHECK(nondominated == std::vector<std::string>{"A", "B", "C"});
  CHECK(study::dominates(one_draw(alternatives[1]), one_draw(alternatives[3])));
  CHECK_FALSE(study::dominates(one_draw(alternatives[3]), one_draw(alternatives[1])));
}
