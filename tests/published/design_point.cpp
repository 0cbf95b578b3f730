#include "ohmdrag/numerics/design_point.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/quantity/distribution.hpp"

// Reliability indices of examples that others computed.
// A. Haldar, S. Mahadevan, Probability, Reliability and Statistical Methods in Engineering Design,
// 2000, p. 218, tables 7.5 and 7.6: bending of a reinforced concrete beam. Inputs and indices as
// printed in the README of the open library LimitState (S. Sakai), which verifies itself on it and
// on the difference of two normal variables; the book itself was not read. Tolerance: 2e-3 on the
// index, that of the search.

using namespace ohmdrag;
using numerics::design_point;
using numerics::DesignPoint;

namespace {

struct Input {
  double mean, deviation;
  bool log_normal = false;

  double at(double u) const {
    if (!log_normal) return mean + deviation * u;
    const double squared = std::log1p(std::pow(deviation / mean, 2));
    return mean * std::exp(std::sqrt(squared) * u - 0.5 * squared);
  }
};

template <class State>
DesignPoint found(const std::vector<Input>& inputs, const State& state) {
  return design_point(
      [&](const std::vector<std::vector<double>>& points) {
        std::vector<double> states;
        for (const auto& u : points) {
          std::vector<double> x;
          for (std::size_t i = 0; i < u.size(); ++i) x.push_back(inputs[i].at(u[i]));
          states.push_back(state(x));
        }
        return states;
      },
      inputs.size(), {.iterations = 20, .step = 0.01});
}

/// Steel area, yield stress, concrete strength, width, depth, stress-block factor; moment.
std::vector<Input> beam(bool log_normal_strength, bool log_normal_moment) {
  const std::vector<double> mean{1.56, 47.7, 3.5, 8.0, 13.2, 0.59, 326.25};
  const std::vector<double> variation{0.036, 0.15, 0.21, 0.045, 0.086, 0.05, 0.17};
  std::vector<Input> inputs;
  for (std::size_t i = 0; i < mean.size(); ++i)
    inputs.push_back({mean[i], mean[i] * variation[i],
                      i + 1 < mean.size() ? log_normal_strength : log_normal_moment});
  return inputs;
}

double beam_margin(const std::vector<double>& x) {
  const double force = x[0] * x[1];
  return force * x[4] * (1.0 - x[5] * force / x[3] / x[4] / x[2]) - x[6];
}

}  // namespace

TEST_CASE("strength less load of two normal variables", "[published][printed]") {
  const std::vector<Input> inputs{{200.0, 10.0}, {100.0, 20.0}};
  const DesignPoint point = found(inputs, [](const std::vector<double>& x) { return x[0] - x[1]; });
  REQUIRE(point.reached);
  CHECK(point.distance == Approx(4.472136).margin(2e-3));
  CHECK(point.normal_scores[0] / point.distance == Approx(-0.4472136).margin(1e-3));
  CHECK(point.normal_scores[1] / point.distance == Approx(0.8944272).margin(1e-3));
  CHECK(inputs[0].at(point.normal_scores[0]) == Approx(180.0).margin(0.05));
  CHECK(inputs[1].at(point.normal_scores[1]) == Approx(180.0).margin(0.05));
}

TEST_CASE("bending of a reinforced concrete beam", "[published][printed]") {
  struct Row {
    bool strength, moment;
    double index;
  };
  for (const Row& row : {Row{false, false, 3.8330281658}, Row{false, true, 3.7612536656},
                         Row{true, false, 4.3876843911}, Row{true, true, 4.0906473985}}) {
    CAPTURE(row.index);
    const DesignPoint point = found(beam(row.strength, row.moment), beam_margin);
    REQUIRE(point.reached);
    CHECK(point.distance == Approx(row.index).margin(2e-3));
  }
}
