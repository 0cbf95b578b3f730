// The wide kernel piece by piece, on one core and at every width of vector the machine has:
//
//   bench_kernel [--benchmark_filter=march] [--benchmark_min_time=1]
//
// items_per_second: values of a function, settled shafts, or lane-steps of a march over half an
// hour of invented driving.

#include <benchmark/benchmark.h>
#include <oneapi/tbb/global_control.h>

#include <cmath>
#include <string>
#include <vector>

#include "bench/march_case.hpp"
#include "ohmdrag/component/wide_shaft.hpp"

namespace {

using namespace ohmdrag;
using namespace ohmdrag::bench;
using numerics::lanes;

void function(benchmark::State& state, numerics::LaneWidth width,
              void (*of)(std::span<const double>, std::span<double>, numerics::LaneWidth)) {
  std::vector<double> x(1024), y(1024);
  for (std::size_t i = 0; i < x.size(); ++i) x[i] = 1e-3 + 0.02 * static_cast<double>(i);
  for (auto _ : state) {
    of(x, y, width);
    benchmark::DoNotOptimize(y.data());
  }
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(x.size()));
}

void settle(benchmark::State& state, numerics::LaneWidth width) {
  std::vector<component::ShaftSystem> systems;
  std::vector<double> oil_K(lanes, 333.15), dry_K(lanes, 313.15);
  for (std::size_t i = 0; i < lanes; ++i) systems.push_back(shaft_of(inputs_of(i)));
  component::WideShaft shafts(std::move(systems), width);
  shafts.set_dry(dry_K.data());
  component::WideOilSide oil = shafts.oil_side();
  component::WideDrySide dry = shafts.dry_side();
  component::WideShaftState settled = shafts.state();
  double speed_rad_s = 300.0;
  for (auto _ : state) {
    shafts.fill(oil, oil_K.data());
    speed_rad_s = speed_rad_s < 900.0 ? speed_rad_s + 5.0 : 300.0;
    shafts.fill(dry, AngularVelocity::from_value(speed_rad_s));
    shafts.settle(oil, dry, settled);
    benchmark::DoNotOptimize(settled.into_oil_W[0]);
  }
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(lanes));
  state.counters["evaluations_per_settle"] =
      static_cast<double>(settled.evaluations) / static_cast<double>(state.iterations());
}

void march(benchmark::State& state, numerics::LaneWidth width, energy::WideForm form) {
  constexpr std::size_t steps = 1800, samples = 8 * lanes;
  std::vector<energy::Stretch> stretches;
  for (std::size_t s = 0; s < steps; ++s) {
    const double road_m_s = 18.0 * std::pow(std::sin(0.011 * static_cast<double>(s)), 2.0);
    stretches.push_back({.dt = Time::from_value(1.0),
                         .distance = Length::from_value(road_m_s),
                         .speed = {AngularVelocity::from_value(27.0 * road_m_s)},
                         .torque = {Torque{}}});
  }
  const oneapi::tbb::global_control one(oneapi::tbb::global_control::max_allowed_parallelism, 1);
  for (auto _ : state)
    benchmark::DoNotOptimize(
        energy::wide_march(samples, [](std::size_t i) { return sample_of(inputs_of(i)); },
                           stretches, 0, 1, {.form = form, .width = width}));
  state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(samples * steps));
}

}  // namespace

int main(int count, char** arguments) {
  for (const numerics::LaneWidth width : numerics::lane_widths()) {
    const std::string at = "/" + std::string(numerics::name(width));
    benchmark::RegisterBenchmark(("exp" + at).c_str(), function, width,
                                 numerics::lane_exponentials);
    benchmark::RegisterBenchmark(("log" + at).c_str(), function, width, numerics::lane_logarithms);
    benchmark::RegisterBenchmark(("settle" + at).c_str(), settle, width);
    benchmark::RegisterBenchmark(("march solved" + at).c_str(), march, width,
                                 energy::WideForm::solved);
    benchmark::RegisterBenchmark(("march tabulated" + at).c_str(), march, width,
                                 energy::WideForm::tabulated);
  }
  benchmark::Initialize(&count, arguments);
  if (benchmark::ReportUnrecognizedArguments(count, arguments)) return 1;
  benchmark::RunSpecifiedBenchmarks();
  benchmark::Shutdown();
}
