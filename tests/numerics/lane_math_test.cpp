#include "ohmdrag/numerics/lane_math.hpp"

#include <bit>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdint>
#include <limits>
#include <stdexcept>
#include <utility>
#include <vector>

#include "ohmdrag/numerics/lane_room.hpp"
#include "ohmdrag/numerics/lane_width.hpp"

using namespace ohmdrag::numerics;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

/// Distance in units in the last place of the exact value, which comes in long double.
double ulps(double found, long double exact) {
  const double rounded = static_cast<double>(exact);
  const double ulp = std::nextafter(std::abs(rounded), infinity) - std::abs(rounded);
  return static_cast<double>(std::abs((static_cast<long double>(found) - exact) / ulp));
}

/// From low to high, finely and on no round numbers.
std::vector<double> spread(double low, double high, std::size_t count) {
  std::vector<double> values;
  for (std::size_t i = 0; i < count; ++i)
    values.push_back(low +
                     (high - low) * (static_cast<double>(i) + 0.377) / static_cast<double>(count));
  return values;
}

}  // namespace

TEST_CASE("the exponential of lanes is within 2 ulp over its whole range") {
  double worst = 0.0;
  for (const auto& values : {spread(-708.0, 709.0, 400'000), spread(-2.0, 2.0, 400'000)})
    for (const double x : values)
      worst = std::max(worst, ulps(LaneMath::exp(x), std::exp(static_cast<long double>(x))));
  INFO("worst " << worst);
  CHECK(worst < 2.0);
}

TEST_CASE("the logarithm of lanes is within 2 ulp over all normal numbers") {
  double worst = 0.0;
  for (const double power : spread(-1022.0, 1023.9, 400'000)) {
    const double x = std::exp2(power);
    worst = std::max(worst, ulps(LaneMath::log(x), std::log(static_cast<long double>(x))));
  }
  for (const double x : spread(0.25, 4.0, 400'000))
    worst = std::max(worst, ulps(LaneMath::log(x), std::log(static_cast<long double>(x))));
  INFO("worst " << worst);
  CHECK(worst < 2.0);
}

TEST_CASE("the exponential less one of lanes is within 3 ulp, near zero as well") {
  double worst = 0.0;
  for (const auto& values :
       {spread(-700.0, 700.0, 200'000), spread(-2.0, 2.0, 200'000), spread(-1e-6, 1e-6, 20'000)})
    for (const double x : values)
      worst = std::max(worst, ulps(LaneMath::expm1(x), std::expm1(static_cast<long double>(x))));
  INFO("worst " << worst);
  CHECK(worst < 3.0);
  CHECK(LaneMath::expm1(0.0) == 0.0);
  CHECK(LaneMath::expm1(-infinity) == -1.0);
  CHECK(std::isnan(LaneMath::expm1(std::nan(""))));
}

TEST_CASE("the arc sine of lanes is within 2 ulp") {
  double worst = 0.0;
  for (const double x : spread(-0.7078, 0.7078, 400'000))
    worst = std::max(worst, ulps(LaneMath::asin(x), std::asin(static_cast<long double>(x))));
  INFO("worst " << worst);
  CHECK(worst < 2.0);
  CHECK(LaneMath::asin(0.0) == 0.0);
}

TEST_CASE("the functions of lanes at the edges of their range") {
  CHECK(LaneMath::exp(0.0) == 1.0);
  CHECK(LaneMath::exp(-0.0) == 1.0);
  const double least = LaneMath::exp(-708.0), most = LaneMath::exp(709.0);
  CHECK(least < 4e-308);
  CHECK(most > 8e307);
  for (const double x : {-709.0, -1e300, -infinity}) CHECK(LaneMath::exp(x) == least);
  for (const double x : {710.0, 1e300, infinity}) CHECK(LaneMath::exp(x) == most);
  CHECK(std::isnan(LaneMath::exp(std::nan(""))));
  CHECK(LaneMath::log(1.0) == 0.0);
  CHECK(std::isnan(LaneMath::log(0.0)));
  CHECK(std::isnan(LaneMath::log(-1.0)));
  CHECK(std::isnan(LaneMath::log(infinity)));
  CHECK(std::isnan(LaneMath::log(std::nan(""))));
  CHECK(std::isnan(LaneMath::log(std::numeric_limits<double>::denorm_min())));
  CHECK(LaneMath::tanh(0.0) == 0.0);
  CHECK(LaneMath::tanh(800.0) == 1.0);
}

TEST_CASE("the hyperbolic functions of lanes against the C library") {
  for (const double x : spread(0.0, 20.0, 20'000)) {
    CHECK(LaneMath::tanh(x) == Approx(std::tanh(x)).epsilon(0).margin(3e-16));
    CHECK(LaneMath::coth(x) * std::tanh(x) == Approx(1.0).epsilon(0).margin(3e-16 + 3e-16 / x));
  }
}

TEST_CASE("every width of vector gives the same bits") {
  const std::vector<double> exponents = spread(-720.0, 712.0, 10'001);
  std::vector<double> numbers;
  for (const double x : exponents) numbers.push_back(LaneMath::exp(x));
  std::vector<double> found(exponents.size());
  for (const LaneWidth width : lane_widths()) {
    INFO(name(width));
    lane_exponentials(exponents, found, width);
    CHECK(found == numbers);
    lane_logarithms(numbers, found, width);
    std::size_t differ = 0;
    for (std::size_t i = 0; i < found.size(); ++i)
      differ += std::bit_cast<std::uint64_t>(found[i]) !=
                std::bit_cast<std::uint64_t>(LaneMath::log(numbers[i]));
    CHECK(differ == 0);
  }
  CHECK(lane_widths().back() == widest_lanes());
  CHECK_THROWS_AS(lane_exponentials(exponents, std::span(found).first(3), LaneWidth::two),
                  std::invalid_argument);
}

TEST_CASE("a lane room gives rows one after the other and stays where it is", "[numerics]") {
  LaneRoom room(3);
  const LaneSpan first = room.take(1), others = room.take(2);
  CHECK(others.rows() == 2);
  CHECK(others[0] == first[0] + lanes);
  others[1][lanes - 1] = 7.0;
  CHECK_THROWS_AS(room.take(1), std::length_error);
  const LaneRoom moved = std::move(room);
  CHECK(others[1][lanes - 1] == 7.0);
  CHECK(first[0][0] == 0.0);
}
