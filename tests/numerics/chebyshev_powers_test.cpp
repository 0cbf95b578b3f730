#include "ohmdrag/numerics/chebyshev_powers.hpp"

#include <catch2/catch.hpp>
#include <cmath>

using namespace ohmdrag;

TEST_CASE("Chebyshev points are the roots of their polynomial") {
  // T2 = 2 x^2 - 1, T3 = 4 x^3 - 3 x.
  const auto& two = numerics::chebyshev_powers<2>();
  CHECK(two.at[0] == Approx(-std::sqrt(0.5)));
  CHECK(two.at[1] == Approx(std::sqrt(0.5)));
  const auto& three = numerics::chebyshev_powers<3>();
  CHECK(three.at[0] == Approx(-std::sqrt(0.75)));
  CHECK(std::abs(three.at[1]) < 1e-15);
  CHECK(three.at[2] == Approx(std::sqrt(0.75)));
}

TEST_CASE("values at Chebyshev points give back the powers they are of") {
  constexpr std::size_t n = 6;
  const auto& points = numerics::chebyshev_powers<n>();
  for (std::size_t power = 0; power < n; ++power)
    for (std::size_t k = 0; k < n; ++k) {
      CAPTURE(power, k);
      double coefficient = 0.0;
      for (std::size_t p = 0; p < n; ++p)
        coefficient += points.to_power[k][p] * std::pow(points.at[p], double(power));
      CHECK(coefficient == Approx(k == power ? 1.0 : 0.0).margin(1e-13));
    }
}
