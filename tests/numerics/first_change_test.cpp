// Against closed forms; derived.

#include "ohmdrag/numerics/first_change.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <stdexcept>

using namespace ohmdrag::numerics;

namespace {

struct Found {
  std::optional<FirstChange> change;
  std::size_t evaluations = 0;
};

template <class Single>
Found found(const Single& single, double length, double resolution) {
  Found result;
  result.change = first_change(
      [&](const std::vector<double>& places) {
        result.evaluations += places.size();
        std::vector<double> states;
        for (const double place : places) states.push_back(single(place));
        return states;
      },
      single(0.0), length, resolution);
  if (result.change) {
    CHECK(single(result.change->before) > 0.0);
    CHECK(single(result.change->at) <= 0.0);
    CHECK(result.change->at - result.change->before <= resolution);
  }
  return result;
}

}  // namespace

TEST_CASE("a straight state is crossed by one chord") {
  const auto line = [](double x) { return 1.3 - x; };
  const Found near = found(line, 3.0, 1e-4);
  REQUIRE(near.change);
  CHECK(near.change->at == Approx(1.3).margin(5e-5));
  CHECK(near.evaluations == 4 + 2);
  CHECK(found(line, 2.0, 1e-4).evaluations == 8 + 2);
}

TEST_CASE("a bent state takes a few chords, a jump thirds") {
  const Found bent = found([](double x) { return 2.0 - std::exp(x); }, 3.0, 1e-6);
  REQUIRE(bent.change);
  CHECK(bent.change->at == Approx(std::log(2.0)).margin(1e-6));
  CHECK(bent.evaluations <= 16);

  const Found jump = found([](double x) { return x < 1.7 ? 1.0 : -1.0; }, 3.0, 0.01);
  REQUIRE(jump.change);
  CHECK(jump.change->at == Approx(1.7).margin(0.01));
  CHECK(jump.evaluations <= 24);

  // Nobody knows how far off a change is that has no state before it.
  const double unknown = std::numeric_limits<double>::infinity();
  const Found blind = found([=](double x) { return x < 1.7 ? unknown : -unknown; }, 3.0, 0.01);
  REQUIRE(blind.change);
  CHECK(blind.change->at == Approx(1.7).margin(0.01));
}

TEST_CASE("of several changes the first one is found, as far as a piece shows it") {
  // Changed between 0.5 and 1, and from 2.2 on.
  const auto twice = [](double x) { return (x - 0.5) * (x - 1.0) * (2.2 - x); };
  const Found first = found(twice, 3.0, 1e-3);
  REQUIRE(first.change);
  CHECK(first.change->at == Approx(0.5).margin(1e-3));
  // Undone within a piece: unseen, and the next one is found.
  const auto brief = [](double x) { return (x - 0.5) * (x - 0.6) * (2.2 - x); };
  REQUIRE(found(brief, 3.0, 1e-3).change);
  CHECK(found(brief, 3.0, 1e-3).change->at == Approx(2.2).margin(1e-3));
}

TEST_CASE("what never changes has no first change, and a stretch has a length") {
  const Found never = found([](double) { return 1.0; }, 3.0, 1e-3);
  CHECK_FALSE(never.change);
  CHECK(never.evaluations == 8);
  const auto line = [](double x) { return 1.0 - x; };
  CHECK_THROWS_AS(found(line, 0.0, 1e-3), std::invalid_argument);
  CHECK_THROWS_AS(found(line, 1.0, 0.0), std::invalid_argument);
}
