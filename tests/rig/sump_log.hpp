#pragma once

#include <cmath>
#include <random>

#include "ohmdrag/duty/warm_up.hpp"
#include "ohmdrag/rig/sump_fit.hpp"

/// Logs of a sump as the one-node model says, with noise on top. All invented.
namespace ohmdrag::test {

struct SumpTruth {
  double capacity_J_K = 12000.0, conductance_W_K = 12.0, added_W_K = 0.0;
  double start_degC = 23.0, ambient_degC = 23.0;
  double duration_s = 3600.0, step_s = 2.0;
  double noise_K = 0.2;       ///< standard deviation
  double following = 0.0;     ///< of the noise, one sample to the next
  double resolution_K = 0.0;  ///< of the sensor
};

inline double heat_W(double t_s) { return 350.0 + 150.0 * std::sin(t_s / 170.0); }
inline double speed_kmh(double t_s) { return 50.0 + 50.0 * std::sin(t_s / 240.0); }

inline rig::SumpPiece sump_log(const SumpTruth& truth, unsigned seed,
                               double (*heat)(double) = heat_W) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> noise(0.0, truth.noise_K);
  rig::SumpPiece log;
  Temperature oil = from_celsius(truth.start_degC);
  double error = noise(random);
  for (double t = 0.0; t <= truth.duration_s; t += truth.step_s) {
    log.time.push_back(Time::from_value(t));
    double read = oil.value() + error;
    if (truth.resolution_K > 0.0) read = std::round(read / truth.resolution_K) * truth.resolution_K;
    log.sump.push_back(Temperature::from_value(read));
    log.ambient.push_back(from_celsius(truth.ambient_degC));
    if (t + truth.step_s > truth.duration_s) break;
    const double middle = t + 0.5 * truth.step_s;
    log.heat.push_back(Power::from_value(heat(middle)));
    log.speed.push_back(from_kmh(speed_kmh(middle)));
    const duty::SumpNode node{
        HeatCapacity::from_value(truth.capacity_J_K),
        duty::conductance_at(ThermalConductance::from_value(truth.conductance_W_K),
                             {ThermalConductance::from_value(truth.added_W_K), from_kmh(50.0), 0.7},
                             log.speed.back()),
        from_celsius(truth.ambient_degC)};
    oil = duty::temperature_after(node, oil, log.heat.back(), Time::from_value(truth.step_s));
    error = truth.following * error +
            std::sqrt(1.0 - truth.following * truth.following) * noise(random);
  }
  return log;
}

}  // namespace ohmdrag::test
