// JCGM 100:2008, Guide to the expression of uncertainty in measurement (GUM), H.3: calibration of a
// thermometer by a straight line, data of Table H.6. Read were the data and the results as the
// Measurement Standards Laboratory of New Zealand prints them in the documentation of its
// uncertainty calculator (example GUM H3, "the results agree with the numbers reported in the
// GUM"): intercept -0.1712(29), slope 0.00218(67), correlation -0.93, sum of squares
// 0.000110096583109, correction at 30 degC -0.1494(41). The standard deviation 0.0035 and the
// correlation to three digits, -0.930, are from memory.

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

#include "ohmdrag/numerics/least_squares.hpp"

using namespace ohmdrag;

namespace {

const std::vector<double> reading_degC{21.521, 22.012, 22.512, 23.003, 23.507, 23.999,
                                       24.513, 25.002, 25.503, 26.010, 26.511};
const std::vector<double> correction_K{-0.171, -0.169, -0.166, -0.159, -0.164, -0.165,
                                       -0.156, -0.157, -0.159, -0.161, -0.160};
constexpr double reference_degC = 20.0;

numerics::LeastSquaresFit line() {
  return numerics::least_squares(
      numerics::with_slopes<2>([](const auto& y, std::size_t k) {
        return y[0] + y[1] * (reading_degC[k] - reference_degC) - correction_K[k];
      }),
      reading_degC.size(), std::vector<numerics::FitParameter>{{0.0}, {0.0}});
}

}  // namespace

TEST_CASE("the thermometer's line has its printed parameters, uncertainties and correlation",
          "[printed]") {
  const auto fit = line();
  CHECK(fit.parameter[0] == Approx(-0.1712).margin(0.00005));
  CHECK(fit.standard_error(0) == Approx(0.0029).margin(0.00005));
  CHECK(fit.parameter[1] == Approx(0.00218).margin(0.000005));
  CHECK(fit.standard_error(1) == Approx(0.00067).margin(0.000005));
  CHECK(fit.correlation(0, 1) == Approx(-0.93).margin(0.005));
  CHECK(fit.sum_of_squares == Approx(0.000110096583109).epsilon(5e-12));
  CHECK(fit.degrees_of_freedom == 9);
}

TEST_CASE("the thermometer's correction at 30 degC has its printed uncertainty", "[printed]") {
  const auto fit = line();
  constexpr double beyond = 30.0 - reference_degC;
  CHECK(fit.parameter[0] + fit.parameter[1] * beyond == Approx(-0.1494).margin(0.00005));
  const double variance =
      fit.covariance[0] + 2.0 * beyond * fit.covariance[1] + beyond * beyond * fit.covariance[3];
  CHECK(std::sqrt(variance) == Approx(0.0041).margin(0.00005));
}

TEST_CASE("the thermometer's deviation and correlation are those remembered", "[formula]") {
  const auto fit = line();
  CHECK(fit.deviation == Approx(0.0035).margin(0.00005));
  CHECK(fit.correlation(0, 1) == Approx(-0.930).margin(0.0005));
}
