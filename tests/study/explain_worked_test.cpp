#include "study/explain_worked.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>

using namespace ohmdrag;

namespace {

double worked(std::string_view expression) {
  return study::worked(expression, [](std::string_view name) {
    if (name == "x_1") return 3.0;
    throw std::logic_error("no such symbol");
  });
}

}  // namespace

TEST_CASE("an expression is worked out as a calculator does", "[derived]") {
  CHECK(worked("2 + 3*4^2/8 - 1") == 7.0);
  CHECK(worked("8/4/2") == 1.0);
  CHECK(worked("-2^2") == -4.0);
  CHECK(worked("2^-1") == 0.5);
  CHECK(worked("2^3^2") == 512.0);
  CHECK(worked("(1 + x_1)^(1/2)") == 2.0);
  CHECK(worked("1e-3*x_1 - 2e-3") == Approx(1e-3));
  CHECK(worked("2*pi") == 2.0 * std::numbers::pi);
  CHECK(worked("max(1, x_1, 2) - min(x_1, 0.5)") == 2.5);
  CHECK(worked("sqrt(16) + ln(exp(2)) + lg(1000)") == Approx(9.0));
  CHECK(worked("asin(1)") == Approx(0.5 * std::numbers::pi));
}

TEST_CASE("what is no expression is refused", "[derived]") {
  for (const char* text : {"", "1 +", "(1", "1)", "sin(1)", "y", "2 3", "max()"}) {
    CAPTURE(text);
    CHECK_THROWS_AS(worked(text), std::logic_error);
  }
}
