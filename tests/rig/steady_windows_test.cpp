#include "ohmdrag/rig/steady_windows.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "support/effort.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;

namespace {

/// Steps of speed, each with its torque and noise on top. All invented.
struct Steps {
  std::vector<double> rpm{1000, 3000, 6000, 9000};
  std::vector<double> torque_Nm{0.10, 0.12, 0.14, 0.15};
  int dwell = 60;
  double noise_Nm = 0.002, following = 0.0;
  double settle_Nm = 0.0, settle_samples = 8.0;  ///< excess at the begin of a step
  double drift_Nm = 0.0;                         ///< over a step
};

rig::TorqueLog log_of(const Steps& steps, unsigned seed) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal(0.0, 1.0);
  rig::TorqueLog log;
  double error = normal(random), rpm = 0.0;
  const auto sample = [&](double at_rpm, double torque_Nm) {
    log.time.push_back(Time::from_value(static_cast<double>(log.time.size())));
    log.speed.push_back(from_rpm(at_rpm));
    error = steps.following * error +
            std::sqrt(1.0 - steps.following * steps.following) * normal(random);
    log.torque.push_back(Torque::from_value(torque_Nm + steps.noise_Nm * error));
  };
  for (std::size_t k = 0; k < steps.rpm.size(); ++k) {
    for (int i = 1; i <= 3; ++i) sample(rpm + (steps.rpm[k] - rpm) * i / 4.0, steps.torque_Nm[k]);
    rpm = steps.rpm[k];
    for (int i = 0; i < steps.dwell; ++i)
      sample(rpm, steps.torque_Nm[k] + steps.settle_Nm * std::exp(-i / steps.settle_samples) +
                      steps.drift_Nm * i / steps.dwell);
  }
  return log;
}

}  // namespace

TEST_CASE("windows stand where speed and torque do") {
  Steps steps;
  steps.noise_Nm = 0.0;
  const auto found = rig::steady_windows(log_of(steps, 1));
  std::vector<double> speeds, torques;
  for (const auto& window : found.windows) {
    const double rpm = in_rpm(window.speed);
    if (speeds.empty() || std::abs(rpm - speeds.back()) > 1.0) {
      speeds.push_back(rpm);
      torques.push_back(window.torque.value());
    }
  }
  REQUIRE(speeds.size() == 4);
  for (std::size_t k = 0; k < 4; ++k) {
    CHECK(speeds[k] == Approx(steps.rpm[k]));
    CHECK(torques[k] == Approx(steps.torque_Nm[k]));
  }
  CHECK(found.between == 12);
  CHECK(found.drifting == 0);
}

TEST_CASE("what settles at the begin of a step is cut") {
  Steps steps;
  steps.rpm = {1000, 2000, 3000, 4000, 5000, 6000, 7000, 8000, 9000, 10000, 11000, 12000};
  steps.torque_Nm.assign(12, 0.1);
  steps.noise_Nm = 0.0005;
  steps.settle_Nm = 0.05;
  const auto found = rig::steady_windows(log_of(steps, 2));
  REQUIRE(found.windows.size() == 12);
  CHECK(found.settling > 12 * 10);
  for (const auto& window : found.windows)
    CHECK(window.torque.value() == Approx(0.1).epsilon(0.02));
}

TEST_CASE("standard errors of windows match what means of noise scatter by") {
  for (const double following : {0.0, 0.8}) {
    Steps steps;
    steps.rpm = {1000, 2000, 3000, 4000, 5000, 6000, 7000, 8000, 9000, 10000, 11000, 12000};
    steps.torque_Nm.assign(12, 0.1);
    steps.dwell = 200;
    steps.following = following;
    double squares = 0.0, stated = 0.0, count = 0.0;
    for (int seed = 1; seed <= test::effort(50); ++seed)
      for (const auto& window :
           rig::steady_windows(log_of(steps, static_cast<unsigned>(seed))).windows) {
        squares += std::pow(window.torque.value() - 0.1, 2);
        stated += std::pow(window.standard_error.value(), 2);
        count += 1.0;
      }
    CAPTURE(following, std::sqrt(squares / count), std::sqrt(stated / count));
    CHECK(std::sqrt(stated / squares) > 0.85);
    CHECK(std::sqrt(stated / squares) < 1.15);
  }
}

TEST_CASE("a torque that drifts makes no window, noise does") {
  Steps steps;
  steps.rpm = {1000, 2000, 3000, 4000, 5000, 6000, 7000, 8000, 9000, 10000, 11000, 12000};
  steps.torque_Nm.assign(12, 0.1);
  steps.drift_Nm = 0.02;
  steps.noise_Nm = 0.001;
  const auto drifting = rig::steady_windows(log_of(steps, 3));
  CHECK(drifting.windows.empty());
  CHECK(drifting.drifting > 300);
  steps.drift_Nm = 0.0;
  steps.noise_Nm = 0.01;
  CHECK(rig::steady_windows(log_of(steps, 3)).windows.size() >= 11);
}

TEST_CASE("a long step is split, and a shaft at rest is passed over") {
  Steps steps;
  steps.rpm = {0.0, 3000.0};
  steps.torque_Nm = {0.0, 0.1};
  steps.dwell = 500;
  const auto found = rig::steady_windows(log_of(steps, 4));
  CHECK(found.windows.size() >= 9);
  CHECK(found.at_rest >= 500);
}

TEST_CASE("logs whose time runs back are refused with their sample") {
  rig::TorqueLog log = log_of({}, 1);
  log.time[20] = log.time[5];
  CHECK_THROWS_WITH(rig::steady_windows(log), Contains("time runs back or stands at sample 21"));
  log = log_of({}, 1);
  log.speed.pop_back();
  CHECK_THROWS_WITH(rig::steady_windows(log), Contains("differ in length"));
}
