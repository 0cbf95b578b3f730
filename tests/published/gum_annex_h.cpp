#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <vector>

#include "ohmdrag/numerics/gum.hpp"

// JCGM 100:2008, Evaluation of measurement data, Guide to the Expression of Uncertainty in
// Measurement, annex H: H.1 (end gauge) and H.2 (resistance and reactance measured together).
// The document itself was not at hand: data and values in cases tagged [printed] were read in
// public test data or a manual that quote them. H.3 stands in gum_line_fit.cpp.

using namespace ohmdrag::numerics;

namespace {

constexpr double many = std::numeric_limits<double>::infinity();

struct Observations {
  std::vector<double> mean, deviation_of_mean, correlation;
};

/// Means of simultaneous readings, their deviations and the correlations of the means.
Observations observed(const std::vector<std::vector<double>>& readings) {
  const auto n = static_cast<double>(readings.size());
  const std::size_t quantities = readings.front().size();
  Observations result;
  result.mean.resize(quantities);
  for (const auto& row : readings)
    for (std::size_t i = 0; i < quantities; ++i) result.mean[i] += row[i] / n;
  std::vector<double> covariance(quantities * quantities);
  for (const auto& row : readings)
    for (std::size_t i = 0; i < quantities; ++i)
      for (std::size_t j = 0; j < quantities; ++j)
        covariance[i * quantities + j] +=
            (row[i] - result.mean[i]) * (row[j] - result.mean[j]) / (n * (n - 1.0));
  for (std::size_t i = 0; i < quantities; ++i)
    result.deviation_of_mean.push_back(std::sqrt(covariance[i * quantities + i]));
  for (std::size_t i = 0; i < quantities; ++i)
    for (std::size_t j = 0; j < quantities; ++j)
      result.correlation.push_back(covariance[i * quantities + j] / result.deviation_of_mean[i] /
                                   result.deviation_of_mean[j]);
  return result;
}

/// H.2, table H.2: voltage in V, current in mA and phase in rad, read together five times.
struct Circuit {
  Observations seen = observed({{5.007, 19.663, 1.0456},
                                {4.994, 19.639, 1.0438},
                                {5.005, 19.640, 1.0468},
                                {4.990, 19.685, 1.0428},
                                {4.999, 19.678, 1.0433}});
  GumResult resistance = of([](double phase) { return std::cos(phase); });
  GumResult reactance = of([](double phase) { return std::sin(phase); });
  GumResult impedance = of([](double) { return 1.0; });

 private:
  GumResult of(double (*part)(double)) const {
    std::vector<GumInput> inputs;
    for (std::size_t i = 0; i < 3; ++i)
      inputs.push_back({seen.mean[i], seen.deviation_of_mean[i], 4.0});
    return first_order(
        [part](std::span<const double> x) { return x[0] / (1e-3 * x[1]) * part(x[2]); }, inputs,
        seen.correlation);
  }
};

}  // namespace

TEST_CASE("calibration of an end gauge", "[published][printed]") {
  // H.1, in nm and degC: length of the standard, difference, difference of expansion, deviation
  // from 20 degC, expansion of the standard, difference of temperature.
  const auto length = [](std::span<const double> x) {
    return x[0] + x[1] - x[0] * (x[2] * x[3] + x[4] * x[5]);
  };
  const std::vector<GumInput> inputs{{50000623.0, 25.0, 18.0}, {215.0, 9.7, 25.6},
                                     {0.0, 0.58e-6, 50.0},     {-0.1, 0.41, many},
                                     {11.5e-6, 1.2e-6, many},  {0.0, 0.029, 2.0}};
  const auto result = first_order(length, inputs);
  CHECK(result.estimate == Approx(50000838.0).margin(0.5).epsilon(0.0));
  CHECK(result.uncertainty == Approx(32.0).margin(0.5));
  const std::vector<double> contributions{25.0, 9.7, 2.9, 0.0, 0.0, 16.7};
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    CAPTURE(i);
    CHECK(std::abs(result.contribution[i]) == Approx(contributions[i]).margin(0.05));
  }
  // Printed: 16 effective degrees, 2.92, 93 nm; and 34 nm with the terms of second order.
  REQUIRE(result.degrees_of_freedom);
  CHECK(std::floor(*result.degrees_of_freedom) == 16.0);
  const double factor = coverage_factor(0.99, *result.degrees_of_freedom);
  CHECK(factor == Approx(2.92).margin(0.005));
  CHECK(factor * result.uncertainty == Approx(93.0).margin(0.5));
  CHECK(second_order_uncertainty(length, inputs) == Approx(34.0).margin(0.5));
}

TEST_CASE("resistance and reactance measured together", "[published][printed]") {
  // Table H.3, ohm. 0.295 was printed for what is 0.2956, so by 0.001.
  const Circuit circuit;
  CHECK(circuit.seen.correlation[1] == Approx(-0.36).margin(0.005));
  CHECK(circuit.seen.correlation[2] == Approx(0.86).margin(0.005));
  CHECK(circuit.seen.correlation[5] == Approx(-0.65).margin(0.005));
  CHECK(circuit.resistance.estimate == Approx(127.732).margin(5e-4));
  CHECK(circuit.resistance.uncertainty == Approx(0.071).margin(5e-4));
  CHECK(circuit.reactance.estimate == Approx(219.847).margin(5e-4));
  CHECK(circuit.reactance.uncertainty == Approx(0.295).margin(1e-3));
  CHECK(circuit.impedance.estimate == Approx(254.260).margin(5e-4));
  CHECK(circuit.impedance.uncertainty == Approx(0.236).margin(5e-4));
}

TEST_CASE("resistance and reactance measured together are correlated", "[published][formula]") {
  // Table H.3, from memory: -0.588, -0.485, 0.993.
  const Circuit circuit;
  const auto correlation = [&](const GumResult& a, const GumResult& b) {
    return covariance(a, b, circuit.seen.correlation) / a.uncertainty / b.uncertainty;
  };
  CHECK(correlation(circuit.resistance, circuit.reactance) == Approx(-0.588).margin(1e-3));
  CHECK(correlation(circuit.resistance, circuit.impedance) == Approx(-0.485).margin(1e-3));
  CHECK(correlation(circuit.reactance, circuit.impedance) == Approx(0.993).margin(1e-3));
  CHECK_FALSE(circuit.impedance.degrees_of_freedom);  // the formula does not cover correlated ones
}

TEST_CASE("factors of 95 and 99 %", "[published][formula]") {
  // Annex G, table G.2, from memory.
  struct Row {
    double degrees, of_95, of_99;
  };
  const auto row =
      GENERATE(Row{1, 12.71, 63.66}, Row{2, 4.30, 9.92}, Row{5, 2.57, 4.03}, Row{10, 2.23, 3.17},
               Row{16, 2.12, 2.92}, Row{50, 2.01, 2.68}, Row{many, 1.960, 2.576});
  CHECK(coverage_factor(0.95, row.degrees) == Approx(row.of_95).margin(0.0051));
  CHECK(coverage_factor(0.99, row.degrees) == Approx(row.of_99).margin(0.0051));
}
