#pragma once

#include <cmath>
#include <random>

#include "ohmdrag/rig/unit_drag_fit.hpp"

/// Drag of a unit with three parts, as models say that the rig's parts follow up to a factor and a
/// tilt, with noise on top. All invented.
namespace ohmdrag::test {

inline const std::vector<std::string> drag_parts{"seal", "ring", "bearings"};
inline constexpr std::size_t seal = 0, ring = 1, bearings = 2;

/// N m of a part's model: a film, dry friction, a viscous bearing.
inline double modelled_drag_Nm(std::size_t part, double rpm, double oil_degC) {
  const double viscosity = std::exp(-0.022 * (oil_degC - 60.0));
  if (part == seal) return 0.12 * std::cbrt(viscosity * rpm / 3000.0);
  if (part == ring) return 0.03;
  return 0.02 + 0.08 * std::pow(viscosity * rpm / 3000.0, 2.0 / 3.0);
}

struct UnitTruth {
  std::vector<double> level = {0.15, -0.1, 0.2}, tilt = {0.05, 0.0, -0.05};
  std::vector<double> warmth = {0.002, 0.0, -0.003};  ///< 1/K from 60 degC
  double rest_Nm = 0.015;
  double calibration = 0.0;  ///< relative error of all readings
  double noise_Nm = 0.003;   ///< standard deviation
};

/// The prior: levels known within 30, 25 and 35 %, tilts within 0.1 and warmths within 0.3 % a
/// kelvin, none of the ring.
inline rig::UnitDragPrior drag_prior() {
  rig::UnitDragPrior prior;
  const std::vector<double> deviation{0.30, 0.10, 0.003, 0.25, 0.0, 0.0, 0.35, 0.10, 0.003};
  const std::size_t n = deviation.size();
  prior.mean.assign(n, 0.0);
  prior.covariance.assign(n * n, 0.0);
  for (std::size_t i = 0; i < n; ++i) prior.covariance[i * n + i] = deviation[i] * deviation[i];
  // Both feel the same oil.
  const std::size_t a = rig::beliefs_a_part * seal, b = rig::beliefs_a_part * bearings;
  prior.covariance[a * n + b] = prior.covariance[b * n + a] = 0.3 * 0.30 * 0.35;
  return prior;
}

inline const std::vector<std::vector<bool>> complete_alone{{true, true, true}};
inline const std::vector<std::vector<bool>> strip_down{
    {true, true, true}, {true, false, true}, {false, false, true}};

/// Eight speeds at three oil temperatures in every build.
inline rig::UnitDragRun unit_drag_run(const UnitTruth& truth, unsigned seed,
                                      const std::vector<std::vector<bool>>& builds = strip_down) {
  rig::UnitDragRun run;
  run.parts = drag_parts;
  run.fitted = builds;
  run.prior = drag_prior();
  std::mt19937_64 random(seed);
  std::normal_distribution<double> noise(0.0, 1.0);
  const std::vector<double> speeds{500, 1000, 2000, 3000, 4500, 6000, 8000, 10000};
  double logs = 0.0;
  for (const double rpm : speeds) logs += std::log(from_rpm(rpm).value());
  const double reference = std::exp(logs / static_cast<double>(speeds.size()));
  for (std::size_t b = 0; b < builds.size(); ++b) {
    run.builds.push_back("build-" + std::to_string(b));
    for (const double oil_degC : {40.0, 60.0, 80.0})
      for (const double rpm : speeds) {
        rig::UnitDragPoint point{b, from_rpm(rpm), from_celsius(oil_degC), {}, {}};
        double sum = truth.rest_Nm;
        for (std::size_t p = 0; p < drag_parts.size(); ++p) {
          const double model = builds[b][p] ? modelled_drag_Nm(p, rpm, oil_degC) : 0.0;
          point.model.push_back(Torque::from_value(model));
          sum += model * std::exp(truth.level[p] +
                                  truth.tilt[p] * std::log(point.speed.value() / reference) +
                                  truth.warmth[p] * (oil_degC - 60.0));
        }
        point.measured =
            Torque::from_value((1.0 + truth.calibration) * sum + truth.noise_Nm * noise(random));
        run.points.push_back(std::move(point));
      }
  }
  return run;
}

/// A truth that the prior drew.
inline UnitTruth drawn_truth(unsigned seed, double calibration) {
  std::mt19937_64 random(seed + 100000);
  std::normal_distribution<double> normal(0.0, 1.0);
  UnitTruth truth;
  const double a = normal(random), b = normal(random);
  truth.level = {0.30 * a, 0.25 * normal(random), 0.35 * (0.3 * a + std::sqrt(1.0 - 0.09) * b)};
  truth.tilt = {0.10 * normal(random), 0.0, 0.10 * normal(random)};
  truth.warmth = {0.003 * normal(random), 0.0, 0.003 * normal(random)};
  truth.rest_Nm = 0.02 * std::abs(normal(random));
  truth.calibration = calibration * normal(random);
  return truth;
}

}  // namespace ohmdrag::test
