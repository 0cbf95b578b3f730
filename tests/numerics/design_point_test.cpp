#include "ohmdrag/numerics/design_point.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

using namespace ohmdrag::numerics;

namespace {

using Points = std::vector<std::vector<double>>;

template <class Single>
LimitState each(const Single& single) {
  return [single](const Points& points) {
    std::vector<double> states;
    for (const auto& u : points) states.push_back(single(u));
    return states;
  };
}

}  // namespace

TEST_CASE("a plane is as far as its distance from the origin") {
  // 10 + 3 a - 4 b: at 10/5, in the direction of the slopes.
  const auto plane = [](const std::vector<double>& u) { return 10.0 + 3.0 * u[0] - 4.0 * u[1]; };
  const DesignPoint found = design_point(each(plane), 3);
  REQUIRE(found.reached);
  CHECK(found.distance == Approx(2.0).margin(1e-3));
  CHECK(found.normal_scores[0] == Approx(-1.2).margin(1e-3));
  CHECK(found.normal_scores[1] == Approx(1.6).margin(1e-3));
  CHECK(found.normal_scores[2] == Approx(0.0).margin(1e-6));
  CHECK(plane(found.normal_scores) <= 0.0);
  CHECK(found.evaluations < 120);
}

TEST_CASE("of a circle around another point the nearest side is found") {
  // |u - (3, 4)| = 1: the nearest point lies at 4, towards the centre.
  const auto circle = [](const std::vector<double>& u) {
    return std::hypot(u[0] - 3.0, u[1] - 4.0) - 1.0;
  };
  const DesignPoint found = design_point(each(circle), 2);
  REQUIRE(found.reached);
  CHECK(found.distance == Approx(4.0).margin(2e-3));
  CHECK(found.normal_scores[1] / found.normal_scores[0] == Approx(4.0 / 3.0).epsilon(0.01));
}

TEST_CASE("a step is found by the slopes over a wide stretch alone") {
  const auto step = [](const std::vector<double>& u) { return u[0] > 1.7 ? -1.0 : 1.0; };
  CHECK_FALSE(design_point(each(step), 1).reached);
  DesignPointOptions wide;
  wide.first_slopes = {(step({2.0}) - step({-2.0})) / 4.0};
  const DesignPoint found = design_point(each(step), 1, wide);
  REQUIRE(found.reached);
  CHECK(found.distance == Approx(1.7).margin(2e-4));
  CHECK(found.distance > 1.7);
}

TEST_CASE("what lies beyond the farthest point is not reached") {
  const auto plane = [](const std::vector<double>& u) { return 7.0 - u[0]; };
  CHECK_FALSE(design_point(each(plane), 1, {.farthest = 6.0}).reached);
  CHECK(design_point(each(plane), 1, {.farthest = 8.0}).distance == Approx(7.0).margin(1e-3));
}

TEST_CASE("a search without inputs or with a state that has changed already is refused") {
  const auto changed = [](const std::vector<double>&) { return 0.0; };
  CHECK_THROWS_AS(design_point(each(changed), 1), std::invalid_argument);
  CHECK_THROWS_AS(design_point(each(changed), 0), std::invalid_argument);
  DesignPointOptions wrong;
  wrong.first_slopes = {1.0, 2.0};
  CHECK_THROWS_AS(design_point(each(changed), 1, wrong), std::invalid_argument);
}
