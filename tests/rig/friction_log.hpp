#pragma once

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "ohmdrag/contact/friction.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/rig/friction_fit.hpp"

/// Runs of friction as the laws of contact/friction.hpp say, with noise on top. All invented.
namespace ohmdrag::test {

inline material::LubricantProperties thin_oil() {
  using namespace literals;
  return {.viscosity = material::Walther(30.0_mm2_s, 6.0_mm2_s, 0.7),
          .density_15 = 850.0_kg_m3,
          .conductivity = {},
          .specific_heat = {},
          .permittivity = 2.2,
          .pressure_viscosity = {}};
}

struct FrictionTruth {
  contact::FrictionLaw law = contact::ConstantFriction{0.2};
  Length diameter = Length::from_value(0.040);
  LineForce line_force = LineForce::from_value(10.0);
  std::vector<double> rpm{100, 300, 600, 1000, 1500, 2000, 3000, 4000, 5000, 6000, 8000, 10000};
  std::vector<double> degC{50.0};
  int repeats = 1;           ///< of the speeds, upward each time
  bool down = false;         ///< and down again after each
  double gap = 0.0;          ///< of up less down, over the mean
  double noise = 0.02;       ///< standard deviation, over the mean torque
  double run_in_rise = 0.0;  ///< at time zero
  double run_in_s = 7200.0;
  double dwell_s = 600.0;
};

inline double clean_torque_Nm(const FrictionTruth& truth, double rpm, double degC) {
  const auto speed = rim_speed(from_rpm(rpm), 0.5 * truth.diameter);
  const auto eta = material::dynamic_viscosity(thin_oil(), from_celsius(degC));
  return contact::friction_torque(
             contact::friction_coefficient(truth.law, eta, speed, truth.line_force),
             contact::radial_load(truth.line_force, truth.diameter), truth.diameter)
      .value();
}

/// Readings of one specimen whose friction is `level` times that of the law.
inline std::vector<rig::FrictionPoint> friction_points(const FrictionTruth& truth, unsigned seed,
                                                       double level = 1.0) {
  std::mt19937_64 random(seed);
  double mean = 0.0;
  for (const double rpm : truth.rpm)
    mean += clean_torque_Nm(truth, rpm, truth.degC.front()) / static_cast<double>(truth.rpm.size());
  std::normal_distribution<double> noise(0.0, 1.0);
  std::vector<rig::FrictionPoint> points;
  double time_s = 0.0;
  const auto read = [&](double rpm, double degC, double share) {
    rig::FrictionPoint point;
    point.speed = from_rpm(rpm);
    const double torque = clean_torque_Nm(truth, rpm, degC) * level * (1.0 + share * truth.gap) *
                          (1.0 + truth.run_in_rise * std::exp(-time_s / truth.run_in_s));
    point.torque = Torque::from_value(torque + truth.noise * mean * noise(random));
    point.temperature = from_celsius(degC);
    point.time = Time::from_value(time_s);
    points.push_back(point);
    time_s += truth.dwell_s;
  };
  for (int k = 0; k < truth.repeats; ++k)
    for (const double degC : truth.degC) {
      for (const double rpm : truth.rpm) read(rpm, degC, 0.5);
      if (!truth.down) continue;
      for (auto rpm = truth.rpm.rbegin(); rpm != truth.rpm.rend(); ++rpm) read(*rpm, degC, -0.5);
    }
  return points;
}

inline rig::FrictionRun friction_run(const FrictionTruth& truth, unsigned seed) {
  rig::FrictionRun run;
  run.points = friction_points(truth, seed);
  run.law = "constant";
  run.diameter = truth.diameter;
  run.line_force = truth.line_force;
  return run;
}

inline contact::MixedFilm oiled_lip() { return {0.45, 5.0, 2e-5, 0.5, Length::from_value(0.2e-3)}; }

inline FrictionTruth oiled_truth() {
  FrictionTruth truth;
  truth.law = oiled_lip();
  truth.line_force = LineForce::from_value(100.0);
  truth.rpm = {1, 3, 10, 30, 100, 200, 400, 700, 1000, 2000, 4000, 7000, 10000};
  truth.degC = {40.0, 70.0, 100.0};
  return truth;
}

inline rig::FrictionRun oiled_run(const FrictionTruth& truth, unsigned seed) {
  rig::FrictionRun run = friction_run(truth, seed);
  run.law = "mixed-film";
  run.oil = thin_oil();
  run.contact_width = Length::from_value(0.2e-3);
  run.load_share_exponent = 0.5;
  run.contact_temperature = true;
  return run;
}

inline contact::PtfeFriction dry_ptfe() {
  return {0.12, 0.35, 0.45, 1.0, Pressure::from_value(5e4)};
}

inline FrictionTruth ptfe_truth() {
  FrictionTruth truth;
  truth.law = contact::PtfeContact{{0.15, 0.40, 0.50, 1.0, Pressure::from_value(5e4)},
                                   Length::from_value(1e-3)};
  truth.line_force = LineForce::from_value(300.0);
  truth.rpm = {1, 2, 4, 8, 15, 24, 40, 80, 160, 300, 1000, 3000};
  return truth;
}

inline rig::FrictionRun ptfe_run(const FrictionTruth& truth, unsigned seed) {
  rig::FrictionRun run = friction_run(truth, seed);
  run.law = "ptfe";
  run.contact_width = Length::from_value(1e-3);
  run.ptfe = dry_ptfe();
  return run;
}

/// Whether the interval of a parameter holds the truth.
inline bool covers(const rig::FrictionFit& fit, std::size_t parameter, double truth) {
  const auto& told = fit.parameters.at(parameter).value;
  return told && std::abs(told->value - truth) <= told->half_width;
}

inline std::string all(const std::vector<std::string>& texts) {
  std::string text;
  for (const std::string& one : texts) text += one + '\n';
  return text;
}

}  // namespace ohmdrag::test
