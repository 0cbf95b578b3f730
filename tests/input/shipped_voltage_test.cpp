// The electrical side on the cases that are shipped: what is interpolated against what is solved,
// and the waveforms of their inverters by two routes.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <filesystem>
#include <numbers>
#include <random>

#include "ohmdrag/input/load_case.hpp"
#include "ohmdrag/voltage/common_mode.hpp"
#include "ohmdrag/voltage/periodic_response.hpp"
#include "study/ensemble.hpp"
#include "study/sections.hpp"
#include "study/service_history.hpp"
#include "study/stress_grid.hpp"
#include "support/in_source.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using ohmdrag::test::near;
using ohmdrag::test::within;

namespace {

/// The cases that have an inverter, by name.
std::vector<study::Case> electric_cases() {
  std::vector<std::filesystem::path> files;
  for (const auto& entry : std::filesystem::directory_iterator(test::in_source("cases")))
    if (const auto file = entry.path() / "case.toml"; std::filesystem::exists(file))
      files.push_back(file);
  std::ranges::sort(files);
  std::vector<study::Case> cases;
  for (const auto& file : files) {
    study::Case question = input::load_case(file);
    if (study::has_electrics(question)) cases.push_back(std::move(question));
  }
  return cases;
}

voltage::ShaftNode bare_node(const study::Coupling& coupling, const study::Draw& draw) {
  const Capacitance winding_rotor = draw(coupling.winding_rotor);
  return {winding_rotor, winding_rotor + draw(coupling.rotor_frame)};
}

voltage::ShaftNode with_bearings(const voltage::ShaftNode& bare, double share_of_rest) {
  return {bare.winding_rotor, (1.0 + share_of_rest) * bare.total};
}

/// A carrier period as the report shows it: its edges stand apart.
voltage::Waveform shown_wave(const study::SourceModel& source, double modulation) {
  return source.waveform(modulation, std::numbers::pi / 12.0);
}

double square(double x) { return x * x; }

/// Calls back for the path of every variant at every age that still has one.
template <class Check>
void for_each_grid(const Check& check) {
  for (const study::Case& question : electric_cases())
    for (const study::Variant& entry : question.variants) {
      INFO(question.title << ", " << entry.id);
      const study::Case& world = study::world_of(question, entry);
      const study::Draw draw;
      const study::WorldModel model(world, draw);
      const study::VariantModel variant(model, entry, draw,
                                        study::service_history(question, world, entry));
      const study::SourceInDraw source(*world.inverter, draw);
      const voltage::ShaftNode bare = bare_node(*world.coupling, draw);
      for (const study::Age age : study::ages) {
        CAPTURE(int(age));
        const study::StressGrid grid(
            source, bare, [&](AngularVelocity speed) { return variant.path_at(age, speed); });
        check(grid, source.model, bare);
      }
    }
}

}  // namespace

TEST_CASE("edges between the points of their grid are those that are solved", "[derived]") {
  std::mt19937_64 random(20);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  int with_path = 0;
  for_each_grid([&](const study::StressGrid& grid, const study::SourceModel&,
                    const voltage::ShaftNode& bare) {
    if (grid.path({})) ++with_path;
    for (int i = 0; i < 200; ++i) {
      // Some nodes and speeds lie beyond the grid.
      const voltage::ShaftNode node = with_bearings(bare, 3.5 * share(random));
      const AngularVelocity speed = from_rpm(20000.0 * square(share(random)));
      CAPTURE(node.total.value() / bare.total.value(), in_rpm(speed));
      const study::ShaftStresses between = grid.at(node, speed);
      const study::ShaftStresses solved = grid.solved(node, speed);
      const auto same = [](const voltage::Stress& a, const voltage::Stress& b) {
        CHECK_THAT(a.voltage, near(b.voltage, 0.01));
        // Longer where it jumps; a small jump may pass for a course.
        CHECK(a.duration >= 0.8 * b.duration);
      };
      same(between.rising, solved.rising);
      same(between.falling, solved.falling);
    }
  });
  CHECK(with_path >= 20);
}

TEST_CASE("an edge whose duration never jumps has the one that is solved", "[derived]") {
  // No ringing, hardly any inductance: a ramp and one time constant.
  for (const study::Case& question : electric_cases()) {
    study::Case quiet = question;
    quiet.inverter->ringing.reset();
    INFO(quiet.title);
    const study::SourceInDraw source(*quiet.inverter, study::Draw{});
    const voltage::ShaftNode bare = bare_node(*quiet.coupling, study::Draw{});
    for (const double r_ohm : {1.0, 30.0, 1e3}) {
      const study::StressGrid grid(source, bare, [&](AngularVelocity speed) {
        const double running = 1.0 + 1e-3 * speed.value();
        return voltage::GroundingPath{Resistance::from_value(r_ohm * running), {}};
      });
      for (double more = 0.01; more < 3.0; more += 0.13)
        for (double rpm = 10.0; rpm < 15000.0; rpm *= 1.7) {
          CAPTURE(r_ohm, more, rpm);
          const voltage::ShaftNode node = with_bearings(bare, more);
          CHECK_THAT(grid.at(node, from_rpm(rpm)).rising.duration,
                     near(grid.solved(node, from_rpm(rpm)).rising.duration, 0.02));
        }
    }
  }
}

TEST_CASE("a source takes over the carrier periods of the same carrier alone", "[derived]") {
  int moved_carriers = 0;
  for (const study::Case& question : electric_cases()) {
    INFO(question.title);
    const study::Inverter& inverter = *question.inverter;
    const study::SourceInDraw nominal(inverter, study::Draw{});
    nominal.speeds->prepare();
    CHECK(study::SourceInDraw(inverter, study::Draw{}, &nominal).speeds == nominal.speeds);
    const study::SourceInDraw moved(inverter, study::Draw{inverter.rise_time.key, 0.9}, &nominal);
    if (moved.model.source().rise == nominal.model.source().rise) continue;
    ++moved_carriers;
    CHECK(moved.speeds != nominal.speeds);
  }
  CHECK(moved_carriers > 0);
}

TEST_CASE("held voltages between the points of their grid are those that are solved", "[derived]") {
  std::mt19937_64 random(21);
  std::uniform_real_distribution<double> share(0.0, 1.0);
  for_each_grid([&](const study::StressGrid& grid, const study::SourceModel& source,
                    const voltage::ShaftNode& bare) {
    for (int i = 0; i < 100; ++i) {
      const voltage::ShaftNode node = with_bearings(bare, 3.5 * share(random));
      const AngularVelocity speed = from_rpm(20000.0 * square(share(random)));
      CAPTURE(node.total.value() / bare.total.value(), in_rpm(speed));
      const Voltage solved = grid.solved(node, speed).held.voltage;
      const Voltage step =
          voltage::bearing_voltage_ratio(node) * voltage::edge_step(source.dc_link(), 1);
      CHECK_THAT(grid.at(node, speed).held.voltage,
                 within(solved, 0.1 * std::max(solved, 0.1 * step)));
    }
  });
}

TEST_CASE("the waveforms of the shipped inverters hold their mean square in their lines",
          "[derived]") {
  for (const study::Case& question : electric_cases()) {
    INFO(question.title);
    const study::SourceModel source(*question.inverter, study::Draw{});
    for (const double modulation : {0.02, 0.4, 0.95}) {
      const voltage::Waveform wave = shown_wave(source, modulation);
      // Parseval, to 100 MHz; what lies above falls with the square of the frequency.
      // Parseval: the mean counts whole, a line half; what lies above 100 MHz is bounded.
      const auto lines = voltage::harmonics_V(wave, static_cast<int>(100e6 * wave.period.value()));
      double by_lines = 0.5 * std::norm(lines.front());
      for (const std::complex<double>& line : lines) by_lines += 0.5 * std::norm(line);
      const double above =
          voltage::mean_square_above(wave, static_cast<int>(lines.size()) - 1).value();
      const double whole = voltage::mean_square(wave).value();
      CHECK(by_lines <= whole * (1.0 + 1e-10));
      CHECK(by_lines + above >= whole * (1.0 - 1e-10));
      CHECK(above < 1e-3 * whole);
    }
  }
}

TEST_CASE("what the shipped paths leave is the same in time and line by line", "[derived]") {
  for (const study::Case& question : electric_cases())
    for (const study::Variant& entry : question.variants) {
      INFO(question.title << ", " << entry.id);
      const study::Case& world = study::world_of(question, entry);
      const study::Draw draw;
      const study::WorldModel model(world, draw);
      const study::VariantModel variant(model, entry, draw, {});
      const study::SourceModel source(*world.inverter, draw);
      const voltage::ShaftNode node = with_bearings(bare_node(*world.coupling, draw), 0.3);
      const voltage::MaybePath path = variant.path_at(study::Age::begin, from_rpm(3000.0));
      const voltage::Waveform wave = shown_wave(source, 0.5);
      const voltage::PeriodicResponse shaft(node, path, wave);

      // The course in time to its lines, sample by sample.
      constexpr int samples = 100'000;
      const std::vector<int> shown{1, 2, 3, 5, 8, 40, 180, 230, 500};
      std::vector<std::complex<double>> lines_V(shown.size());
      double mean_square = 0.0;
      for (int i = 0; i < samples; ++i) {
        const double turns = double(i) / samples;
        const double v_V = shaft.at(turns * wave.period).value();
        mean_square += v_V * v_V / samples;
        for (std::size_t k = 0; k < shown.size(); ++k)
          lines_V[k] += std::polar(2.0 * v_V / samples,
                                   -2.0 * std::numbers::pi * std::fmod(shown[k] * turns, 1.0));
      }
      const auto lines = shaft.harmonics_V(static_cast<int>(300e6 * wave.period.value()));
      double largest_V = 0.0, by_lines = 0.0;
      for (const std::complex<double>& line : lines) {
        largest_V = std::max(largest_V, std::abs(line));
        by_lines += 0.5 * std::norm(line);
      }
      for (std::size_t k = 0; k < shown.size(); ++k) {
        CAPTURE(shown[k]);
        CHECK(std::abs(lines_V[k] - shaft.harmonic_V(shown[k])) <= 1e-3 * largest_V);
      }
      CHECK_THAT(by_lines, near(mean_square, 1e-3));
    }
}
