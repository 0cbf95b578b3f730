#include "ohmdrag/numerics/root.hpp"

#include <catch2/catch.hpp>

#include "ohmdrag/numerics/range_flag.hpp"

using namespace ohmdrag;

TEST_CASE("a bracketed root is found to its tolerance", "[derived]") {
  const double root =
      numerics::bracketed_root([](double x) { return x * x - 2.0; }, 0.0, 2.0, 1e-12);
  CHECK(root == Approx(std::sqrt(2.0)).epsilon(1e-12));
}

TEST_CASE("a root at an end of the bracket is returned as it stands", "[derived]") {
  const auto line = [](double x) { return x - 1.0; };
  CHECK(numerics::bracketed_root(line, 1.0, 2.0, 1e-12) == 1.0);
  CHECK(numerics::bracketed_root(line, 0.0, 1.0, 1e-12) == 1.0);
}

TEST_CASE("a bracket without a change of sign is refused", "[derived]") {
  const auto above = [](double x) { return x * x + 1.0; };
  CHECK_THROWS_AS(numerics::bracketed_root(above, -1.0, 1.0, 1e-9), std::invalid_argument);
  CHECK_THROWS_AS(numerics::bracketed_root([](double) { return std::nan(""); }, -1.0, 1.0, 1e-9),
                  std::invalid_argument);
}

TEST_CASE("a range flag is raised outside its range and for no number at all", "[derived]") {
  CHECK_FALSE(numerics::flag_outside("f", "q", 1.0, 1.0, 2.0));
  CHECK_FALSE(numerics::flag_outside("f", "q", 2.0, 1.0, 2.0));
  const auto flag = numerics::flag_outside("f", "q", 2.5, 1.0, 2.0);
  REQUIRE(flag);
  CHECK(*flag == numerics::RangeFlag{"f", "q", 2.5, 1.0, 2.0});
  CHECK(numerics::flag_outside("f", "q", std::nan(""), 1.0, 2.0));
}
