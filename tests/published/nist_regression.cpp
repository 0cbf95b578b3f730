#include <catch2/catch.hpp>

#include <cmath>
#include <string>
#include <vector>

#include "ohmdrag/numerics/least_squares.hpp"

// National Institute of Standards and Technology, Statistical Reference Datasets, nonlinear
// regression (NIST StRD, archive at itl.nist.gov/div898/strd): files Misra1a, MGH09, MGH10 and
// Thurber; data, both starts and the certified values of the files were read. Certified are the
// parameters, their standard deviations, the residual sum of squares and the residual standard
// deviation, to 11 digits.
//
// Tolerances: parameters to 6 digits, standard deviations to 4, sum of squares to 8. Of the sets
// that NIST calls of higher difficulty, 4 digits of the parameters would do from the first start;
// they keep 6 as well.

using namespace ohmdrag;
using numerics::Dual;

namespace {

struct Certified {
  double value, deviation;
};

struct Regression {
  std::string name;
  numerics::ResidualFunction residuals;
  std::size_t data;
  std::vector<std::vector<double>> starts;
  std::vector<Certified> parameters;
  double sum_of_squares, deviation;
  std::size_t degrees_of_freedom;
};

struct Point {
  double y, x;
};

/// Residuals of y = model(parameters, x).
template <std::size_t N, class Model>
numerics::ResidualFunction fit_of(std::vector<Point> points, Model model) {
  return numerics::with_slopes<N>(
      [points = std::move(points), model](const std::array<Dual<N>, N>& b, std::size_t i) {
        return model(b, points[i].x) - points[i].y;
      });
}

Regression misra1a() {
  return {"Misra1a",
          fit_of<2>({{10.07, 77.6},
                     {14.73, 114.9},
                     {17.94, 141.1},
                     {23.93, 190.8},
                     {29.61, 239.9},
                     {35.18, 289.0},
                     {40.02, 332.8},
                     {44.82, 378.4},
                     {50.76, 434.8},
                     {55.05, 477.3},
                     {61.01, 536.8},
                     {66.40, 593.1},
                     {75.47, 689.1},
                     {81.78, 760.0}},
                    [](const auto& b, double x) { return b[0] * (1.0 - exp(-1.0 * b[1] * x)); }),
          14,
          {{500.0, 1e-4}, {250.0, 5e-4}},
          {{2.3894212918e+02, 2.7070075241e+00}, {5.5015643181e-04, 7.2668688436e-06}},
          1.2455138894e-01,
          1.0187876330e-01,
          12};
}

Regression mgh09() {
  return {"MGH09",
          fit_of<4>({{.1957, 4},
                     {.1947, 2},
                     {.1735, 1},
                     {.1600, .5},
                     {.0844, .25},
                     {.0627, .167},
                     {.0456, .125},
                     {.0342, .1},
                     {.0323, .0833},
                     {.0235, .0714},
                     {.0246, .0625}},
                    [](const auto& b, double x) {
                      return b[0] * (x * x + x * b[1]) / (x * x + x * b[2] + b[3]);
                    }),
          11,
          {{25, 39, 41.5, 39}, {0.25, 0.39, 0.415, 0.39}},
          {{1.9280693458e-01, 1.1435312227e-02},
           {1.9128232873e-01, 1.9633220911e-01},
           {1.2305650693e-01, 8.0842031232e-02},
           {1.3606233068e-01, 9.0025542308e-02}},
          3.0750560385e-04,
          6.6279236551e-03,
          7};
}

Regression mgh10() {
  const std::vector<double> y{34780, 28610, 23650, 19630, 16370, 13720, 11540, 9744,
                              8261,  7030,  6005,  5147,  4427,  3820,  3307,  2872};
  std::vector<Point> points;
  for (std::size_t i = 0; i < y.size(); ++i)
    points.push_back({y[i], 50.0 + 5.0 * static_cast<double>(i)});
  return {"MGH10",
          fit_of<3>(points, [](const auto& b, double x) { return b[0] * exp(b[1] / (x + b[2])); }),
          16,
          {{2, 400000, 25000}, {0.02, 4000, 250}},
          {{5.6096364710e-03, 1.5687892471e-04},
           {6.1813463463e+03, 2.3309021107e+01},
           {3.4522363462e+02, 7.8486103508e-01}},
          8.7945855171e+01,
          2.6009740065e+00,
          13};
}

Regression thurber() {
  return {"Thurber",
          fit_of<7>({{80.574, -3.067},   {84.248, -2.981},   {87.264, -2.921},   {87.195, -2.912},
                     {89.076, -2.840},   {89.608, -2.797},   {89.868, -2.702},   {90.101, -2.699},
                     {92.405, -2.633},   {95.854, -2.481},   {100.696, -2.363},  {101.060, -2.322},
                     {401.672, -1.501},  {390.724, -1.460},  {567.534, -1.274},  {635.316, -1.212},
                     {733.054, -1.100},  {759.087, -1.046},  {894.206, -0.915},  {990.785, -0.714},
                     {1090.109, -0.566}, {1080.914, -0.545}, {1122.643, -0.400}, {1178.351, -0.309},
                     {1260.531, -0.109}, {1273.514, -0.103}, {1288.339, 0.010},  {1327.543, 0.119},
                     {1353.863, 0.377},  {1414.509, 0.790},  {1425.208, 0.963},  {1421.384, 1.006},
                     {1442.962, 1.115},  {1464.350, 1.572},  {1468.705, 1.841},  {1447.894, 2.047},
                     {1457.628, 2.200}},
                    [](const auto& b, double x) {
                      return (b[0] + x * (b[1] + x * (b[2] + x * b[3]))) /
                             (1.0 + x * (b[4] + x * (b[5] + x * b[6])));
                    }),
          37,
          {{1000, 1000, 400, 40, 0.7, 0.3, 0.03}, {1300, 1500, 500, 75, 1, 0.4, 0.05}},
          {{1.2881396800e+03, 4.6647963344e+00},
           {1.4910792535e+03, 3.9571156086e+01},
           {5.8323836877e+02, 2.8698696102e+01},
           {7.5416644291e+01, 5.5675370270e+00},
           {9.6629502864e-01, 3.1333340687e-02},
           {3.9797285797e-01, 1.4984928198e-02},
           {4.9727297349e-02, 6.5842344623e-03}},
          5.6427082397e+03,
          1.3714600784e+01,
          30};
}

}  // namespace

TEST_CASE("nonlinear regressions with certified values, from both starts", "[published][printed]") {
  const auto make = GENERATE(misra1a, mgh09, mgh10, thurber);
  const auto start = GENERATE(std::size_t{0}, std::size_t{1});
  const Regression set = make();
  CAPTURE(set.name, start);
  std::vector<numerics::FitParameter> parameters;
  for (const double p : set.starts[start]) parameters.push_back({.start = p});
  const auto fit = numerics::least_squares(set.residuals, set.data, parameters);
  CHECK(fit.converged);
  CHECK(fit.untold.empty());
  CHECK(fit.degrees_of_freedom == set.degrees_of_freedom);
  CHECK(fit.sum_of_squares == Approx(set.sum_of_squares).epsilon(1e-8));
  CHECK(fit.deviation == Approx(set.deviation).epsilon(1e-8));
  for (std::size_t j = 0; j < set.parameters.size(); ++j) {
    CAPTURE(j);
    CHECK(fit.parameter[j] == Approx(set.parameters[j].value).epsilon(1e-6));
    CHECK(fit.standard_error(j) == Approx(set.parameters[j].deviation).epsilon(1e-4));
  }
}

// Calibration of a thermometer by a straight line: JCGM 100:2008, Guide to the Expression of
// Uncertainty in Measurement, annex H.3, table H.6 and equations H.14 to H.15 (data and printed
// values as read in public copies of it). b = y1 + y2 (t - 20 degC).
TEST_CASE("the calibration of a thermometer", "[published][printed]") {
  const std::vector<double> t{21.521, 22.012, 22.512, 23.003, 23.507, 23.999,
                              24.513, 25.002, 25.503, 26.010, 26.511};
  const std::vector<double> b{-.171, -.169, -.166, -.159, -.164, -.165,
                              -.156, -.157, -.159, -.161, -.160};
  const auto fit = numerics::least_squares(
      numerics::with_slopes<2>([&](const std::array<Dual<2>, 2>& y, std::size_t i) {
        return y[0] + y[1] * (t[i] - 20.0) - b[i];
      }),
      t.size(), std::vector<numerics::FitParameter>{{.start = 1.0}, {.start = 1.0}});
  REQUIRE(fit.converged);
  CHECK(fit.parameter[0] == Approx(-0.1712).margin(5e-5));
  CHECK(fit.standard_error(0) == Approx(0.0029).margin(5e-5));
  CHECK(fit.parameter[1] == Approx(0.00218).margin(5e-6));
  CHECK(fit.standard_error(1) == Approx(0.00067).margin(5e-6));
  CHECK(fit.correlation(0, 1) == Approx(-0.930).margin(5e-4));
  CHECK(fit.deviation == Approx(0.0035).margin(5e-5));
  // The correction at 30 degC and its uncertainty.
  CHECK(fit.parameter[0] + 10.0 * fit.parameter[1] == Approx(-0.1494).margin(5e-5));
  const double variance =
      fit.covariance[0] + 2.0 * 10.0 * fit.covariance[1] + 100.0 * fit.covariance[3];
  CHECK(std::sqrt(variance) == Approx(0.0041).margin(5e-5));
}

// Two-sided 95 % points of Student's distribution: JCGM 100:2008, annex G, table G.2 (printed
// values from memory).
TEST_CASE("Student's t of a 95 % interval", "[published][formula]") {
  struct Row {
    double degrees, t;
  };
  const auto row = GENERATE(Row{1, 12.71}, Row{2, 4.30}, Row{5, 2.57}, Row{10, 2.23}, Row{20, 2.09},
                            Row{50, 2.01}, Row{100, 1.984});
  CHECK(numerics::student_95(row.degrees) == Approx(row.t).margin(0.005));
}
