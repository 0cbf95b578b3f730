#include "ohmdrag/duty/trace.hpp"

#include <algorithm>
#include <tuple>

namespace ohmdrag::duty {

std::vector<Step> steps(const Cycle& cycle, const VehicleData& vehicle) {
  const Cycle fine = refined(cycle, Time::from_value(1.0));
  std::vector<Step> all;
  all.reserve(fine.time.size() - 1);
  std::size_t phase = 0;
  for (std::size_t i = 1; i < fine.time.size(); ++i) {
    while (phase + 1 < fine.phases.size() && i > fine.phases[phase].last) ++phase;
    const Speed v0 = fine.speed[i - 1];
    const Speed v1 = fine.speed[i];
    Step step;
    step.dt = fine.time[i] - fine.time[i - 1];
    step.mean_speed = 0.5 * (v0 + v1);
    step.distance = step.mean_speed * step.dt;
    step.acceleration = (v1 - v0) / step.dt;
    step.phase = phase;
    const Force force = wheel_force(vehicle, v0, v1, step.dt);
    if (step.mean_speed > Speed{}) {
      step.wheel_force = force;
      step.drive = force > Force{} ? Drive::traction : Drive::recuperation;
    }
    all.push_back(step);
  }
  return all;
}

SpeedHistogram speed_histogram(std::span<const Step> steps) {
  SpeedHistogram bins;
  bins.reserve(steps.size());
  for (const Step& step : steps)
    bins.push_back({step.mean_speed, step.drive, step.dt, step.distance});
  std::ranges::stable_sort(bins, {}, &SpeedBin::mean_speed);

  // Speeds of one decimal meet again as sums that differ in the last bit: give each group one
  // value, then merge what agrees in speed and drive.
  Speed current = Speed::from_value(-1.0);
  for (SpeedBin& bin : bins) {
    if (bin.mean_speed > current * (1.0 + 1e-12) || current < Speed{}) current = bin.mean_speed;
    bin.mean_speed = current;
  }
  std::ranges::stable_sort(
      bins, {}, [](const SpeedBin& b) { return std::tuple(b.mean_speed.value(), b.drive); });
  SpeedHistogram merged;
  for (const SpeedBin& bin : bins) {
    if (merged.empty() || merged.back().mean_speed != bin.mean_speed ||
        merged.back().drive != bin.drive) {
      merged.push_back(bin);
    } else {
      merged.back().time += bin.time;
      merged.back().distance += bin.distance;
    }
  }
  return merged;
}

WheelEnergy wheel_energy(std::span<const Step> steps) {
  WheelEnergy sum;
  for (const Step& step : steps) {
    const Energy work = step.wheel_force * step.distance;
    (step.drive == Drive::traction ? sum.traction : sum.braking) += work;
    sum.distance += step.distance;
  }
  return sum;
}

}  // namespace ohmdrag::duty
