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

namespace {

/// Spearman's rank correlation of two columns.
double rank_correlation(const std::vector<double>& a, const std::vector<double>& b) {
  const auto ranks = [](const std::vector<double>& values) {
    std::vector<double> out;
    for (const double value : values)
      out.push_back(double(std::ranges::count_if(values, [&](double v) { return v < value; })));
    return out;
  };
  const std::vector<double> x = ranks(a), y = ranks(b);
  const double mean = 0.5 * (double(x.size()) - 1.0);
  double both = 0.0, own = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    both += (x[i] - mean) * (y[i] - mean);
    own += (x[i] - mean) * (x[i] - mean);
  }
  return both / own;
}

}  // namespace

TEST_CASE("the two widest numbers fill the square evenly", "[study]") {
  const auto a = within_share(1.0, 0.5, "a"), b = within_share(1.0, 0.5, "b");
  const auto filled = [&](int samples) {
    const Draws draws(pointers({&a, &b}), samples, 7);
    const auto x = draws.column(a), y = draws.column(b);
    std::vector<int> box(256);
    for (std::size_t i = 0; i < x.size(); ++i)
      ++box[std::size_t(16.0 * a.spread.share_below(x[i])) * 16 +
            std::size_t(16.0 * b.spread.share_below(y[i]))];
    return std::ranges::count_if(box, [](int n) { return n > 0; });
  };
  // Sobol' points, scrambled: one in each of 16 x 16 boxes.
  CHECK(filled(256) == 256);
  // Few samples: a hypercube, which leaves boxes empty.
  CHECK(filled(Draws::fewest_quasi_random - 1) < 127);
}

TEST_CASE("a narrow number more moves nobody's draws, with many samples either", "[study]") {
  std::vector<UncertainNumber> wide;
  for (int i = 0; i < 20; ++i)
    wide.push_back(within_share(1.0, 0.5, ("wide" + std::to_string(i)).c_str()));
  const auto narrow = within_share(1.0, 0.001, "narrow");
  std::vector<const UncertainNumber*> numbers;
  for (const auto& number : wide) numbers.push_back(&number);
  const Draws before(numbers, 256, 7);
  numbers.insert(numbers.begin(), &narrow);
  const Draws after(numbers, 256, 7);
  for (const auto& number : wide) CHECK(before.column(number) == after.column(number));
}

TEST_CASE("correlated numbers keep their strata and take the correlation", "[study]") {
  const auto a = within_share(1.0, 0.2, "a"), b = times(1.0, 2.0, "b"), c = times(1.0, 3.0, "c");
  const std::vector<study::Correlation> together{
      {{"a", "c", "not drawn here"}, {1.0, -0.8, 0.1, -0.8, 1.0, 0.2, 0.1, 0.2, 1.0}, false}};
  const Draws apart(pointers({&a, &b, &c}), 1024, 7),
      drawn(pointers({&a, &b, &c}), 1024, 7, together);
  CHECK(drawn.column(a) == apart.column(a));
  CHECK(drawn.column(b) == apart.column(b));
  auto x = apart.column(c), y = drawn.column(c);
  // Of normal scores with the correlation r: 6/pi asin(r/2) (K. Pearson, 1907, from memory).
  CHECK_THAT(rank_correlation(drawn.column(a), y), Catch::Matchers::WithinAbs(-0.7859, 0.01));
  CHECK_THAT(rank_correlation(drawn.column(b), y), Catch::Matchers::WithinAbs(0.0, 0.05));
  std::ranges::sort(x);
  std::ranges::sort(y);
  CHECK(x == y);
}

TEST_CASE("a further block is another one and leaves the first alone", "[study]") {
  const auto a = within_share(1.0, 0.2, "a");
  Draws draws(pointers({&a}), 256, 7);
  const auto first = draws.column(a);
  draws.add_block();
  CHECK(draws.samples() == 512);
  const auto both = draws.column(a);
  CHECK(std::equal(first.begin(), first.end(), both.begin()));
  std::vector<double> second(both.begin() + 256, both.end());
  CHECK(second != first);
  std::ranges::sort(second);
  for (std::size_t i = 0; i < second.size(); ++i) {
    const double share = a.spread.share_below(second[i]);
    CHECK(share > double(i) / 256.0 - 1e-9);
    CHECK(share < double(i + 1) / 256.0 + 1e-9);
  }
}

TEST_CASE("parts of a state share what is not known and differ in their scatter", "[study]") {
  auto number = times(10.0, 2.0, "r");
  number.scatter = {Shape::log_normal, 1.0, std::log(1.5)};
  const Draws draws = Draws::parts_of_states(pointers({&number}), 8, 25, 3, {});
  REQUIRE(draws.samples() == 200);
  const Draws::Input spread{&number, false}, scatter{&number, true};
  for (int state = 0; state < 8; ++state) {
    std::vector<double> own;
    for (int part = 0; part < 25; ++part) {
      CHECK(draws.share(spread, 25 * state + part) == draws.share(spread, 25 * state));
      own.push_back(draws.share(scatter, 25 * state + part));
    }
    std::ranges::sort(own);
    CHECK(std::ranges::adjacent_find(own) == own.end());
    CHECK(own.back() - own.front() > 0.8);
  }
}

TEST_CASE("one at a time stands a standard deviation off the middle", "[study]") {
  const auto a = within_share(1.0, 0.2, "a"), b = times(3.0, 2.0, "b");
  const Draws draws = Draws::one_at_a_time(pointers({&a, &b}));
  REQUIRE(draws.samples() == 5);
  CHECK(draws.value(a, 0) == 1.0);
  CHECK_THAT(draws.value(a, 2), Catch::Matchers::WithinRel(1.0 + 0.2 / normal_95, 1e-3));
  CHECK(draws.value(b, 2) == Approx(3.0));
  CHECK(draws.value(a, 3) == Approx(1.0));
  CHECK_THAT(draws.value(b, 3),
             Catch::Matchers::WithinRel(3.0 * std::exp(-std::log(2.0) / normal_95), 1e-3));
}
