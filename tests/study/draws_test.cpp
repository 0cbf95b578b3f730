#include "ohmdrag/study/draws.hpp"

#include <algorithm>
#include <numeric>

#include "study/sample_case.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;
using study::Draw;
using study::Draws;

namespace {

std::vector<const UncertainNumber*> pointers(std::initializer_list<const UncertainNumber*> list) {
  return list;
}

}  // namespace

TEST_CASE("a column fills every stratum once and has the distribution's middle", "[study]") {
  const auto number = within_share(100.0, 0.2, "a");
  const Draws draws(pointers({&number}), 200, 7);
  auto column = draws.column(number);
  std::sort(column.begin(), column.end());
  for (std::size_t i = 0; i < column.size(); ++i)
    CHECK_THAT(column[i],
               Catch::Matchers::WithinAbs(number.spread.quantile((double(i) + 0.5) / 200.0), 1e-9));
  const double mean = std::accumulate(column.begin(), column.end(), 0.0) / 200.0;
  CHECK_THAT(mean, Catch::Matchers::WithinAbs(100.0, 0.05));
}

TEST_CASE("draws depend on seed and key alone", "[study]") {
  const auto a = within_share(1.0, 0.2, "a"), b = within_share(1.0, 0.2, "b");
  const Draws alone(pointers({&a}), 50, 7), together(pointers({&b, &a}), 50, 7);
  CHECK(alone.column(a) == together.column(a));
  CHECK(together.column(a) != together.column(b));
  CHECK(Draws(pointers({&a}), 50, 8).column(a) != alone.column(a));
}

TEST_CASE("numbers of one key are drawn once", "[study]") {
  const auto here = within_share(1.0, 0.2, "shared"), there = within_share(1.0, 0.2, "shared");
  const Draws draws(pointers({&here, &there}), 30, 1);
  CHECK(draws.drawn().size() == 1);
  CHECK(draws.column(here) == draws.column(there));
}

TEST_CASE("scatter is drawn beside the spread", "[study]") {
  auto number = times(10.0, 2.0, "r");
  number.scatter = {Shape::log_normal, 1.0, std::log(1.5)};
  const Draws draws(pointers({&number}), 400, 3);
  auto both = draws.column(number);
  number.scatter = {};
  const Draws spread_only(pointers({&number}), 400, 3);
  auto one = spread_only.column(number);
  std::sort(both.begin(), both.end());
  std::sort(one.begin(), one.end());
  CHECK(both.back() / both.front() > one.back() / one.front());
}

TEST_CASE("a draw of one key moves that number only", "[study]") {
  const auto a = within_share(1.0, 0.2, "a"), b = within_share(1.0, 0.2, "b");
  const Draw high("a", 0.975);
  CHECK_THAT(high(a), Catch::Matchers::WithinRel(1.2, 1e-6));
  CHECK(high(b) == 1.0);
  CHECK(Draw()(a) == 1.0);
}

TEST_CASE("an ensemble without samples is refused", "[study]") {
  CHECK_THROWS_AS(Draws({}, 0, 1), std::invalid_argument);
}
