#include "ohmdrag/rig/sump_fit.hpp"

#include <catch2/catch.hpp>

#include "rig/sump_log.hpp"
#include "rig/sump_model.hpp"
#include "support/effort.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using test::sump_log;
using test::SumpTruth;

namespace {

double constant_W(double) { return 300.0; }
double no_heat_W(double) { return 0.0; }

rig::SumpRun run_of(rig::SumpPiece piece) { return {.pieces = {std::move(piece)}}; }

rig::SumpFit fit_of(const SumpTruth& truth, unsigned seed) {
  return rig::fit_sump(run_of(sump_log(truth, seed)));
}

template <class Q>
bool covers(const std::optional<rig::Estimate<Q>>& estimate, double truth) {
  return estimate && std::abs(estimate->value.value() - truth) <= estimate->half_width.value();
}

std::string all(const std::vector<std::string>& notes) {
  std::string text;
  for (const std::string& note : notes) text += note + '\n';
  return text;
}

std::string refusal(const rig::SumpRun& run) {
  try {
    rig::fit_sump(run);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "not refused";
}

rig::SumpSteps steps_of(const rig::SumpPiece& log) {
  rig::SumpSteps steps;
  for (const Temperature& t : log.sump) steps.measured_K.push_back(t.value());
  for (std::size_t i = 0; i < log.heat.size(); ++i) {
    steps.dt_s.push_back((log.time[i + 1] - log.time[i]).value());
    steps.heat_W.push_back(log.heat[i].value());
    steps.ambient_K.push_back(log.ambient[i].value());
    steps.air.push_back(std::pow((log.speed[i] / from_kmh(50.0)).value(), 0.7));
  }
  return steps;
}

struct Coverage {
  int capacity = 0, conductance = 0, fits = 0;
};
/// Shares of the fits whose 95 % interval holds the truth.
Coverage coverage_of(const SumpTruth& truth) {
  Coverage result;
  result.fits = test::effort(200);
  for (int seed = 0; seed < result.fits; ++seed) {
    const auto fit = fit_of(truth, static_cast<unsigned>(seed) + 1);
    result.capacity += covers(fit.heat_capacity, truth.capacity_J_K) ? 1 : 0;
    result.conductance += covers(fit.conductance, truth.conductance_W_K) ? 1 : 0;
  }
  UNSCOPED_INFO("covered: " << result.capacity << " and " << result.conductance << " of "
                            << result.fits);
  return result;
}
void check_share(int covered, int fits, double low, double high) {
  CHECK(covered >= low * fits);
  CHECK(covered <= high * fits);
}

}  // namespace

TEST_CASE("the model of the fit is the exponential step of the warm-up") {
  const SumpTruth truth{.added_W_K = 8.0, .noise_K = 0.0};
  const rig::SumpPiece log = sump_log(truth, 1);
  const rig::SumpSteps steps = steps_of(log);
  using D = numerics::Dual<1>;
  const auto model =
      rig::temperatures<D>(steps, {D(12000.0), D(12.0), D(8.0), D(log.sump.front().value())});
  REQUIRE(model.size() == log.sump.size());
  for (std::size_t i = 0; i < model.size(); ++i)
    CHECK(model[i].value == Approx(log.sump[i].value()).epsilon(1e-12));
}

TEST_CASE("a log without noise gives its parameters back") {
  const auto fit = fit_of({.noise_K = 0.0}, 1);
  CHECK(fit.heat_capacity->value.value() == Approx(12000.0).epsilon(1e-8));
  CHECK(fit.conductance->value.value() == Approx(12.0).epsilon(1e-8));
  CHECK(fit.time_constant->value.value() == Approx(1000.0).epsilon(1e-8));
  CHECK(fit.notes.empty());
  CHECK(fit.samples == 1801);
  CHECK(fit.duration.value() == Approx(3600.0));
}

TEST_CASE("95 % intervals cover the truth of logs with white noise") {
  const Coverage white = coverage_of({});
  check_share(white.capacity, white.fits, 0.90, 0.98);
  check_share(white.conductance, white.fits, 0.90, 0.98);
}

TEST_CASE("noise that follows itself widens the intervals, and they still cover") {
  // Correlation 0.8 over 2 s: 9 s until it is forgotten, of a log of an hour.
  const Coverage following = coverage_of({.following = 0.8});
  check_share(following.capacity, following.fits, 0.90, 0.98);
  check_share(following.conductance, following.fits, 0.90, 0.98);
  const auto fit = fit_of({.following = 0.8}, 5);
  CHECK(fit.lag_one == Approx(0.8).margin(0.05));
  CHECK(fit.effective_samples == Approx(200.0).epsilon(0.3));
  const auto white = fit_of({}, 5);
  CHECK(fit.heat_capacity->half_width > 2.0 * white.heat_capacity->half_width);
}

TEST_CASE("noise that follows itself over minutes is covered a little less") {
  // Correlation 0.99 over 2 s: 200 s until it is forgotten, a twentieth of the log.
  const Coverage slow = coverage_of({.following = 0.99});
  check_share(slow.capacity, slow.fits, 0.80, 0.98);
  check_share(slow.conductance, slow.fits, 0.80, 0.98);
  CHECK_THAT(all(fit_of({.following = 0.99}, 3).notes), Contains("follow each other closely"));
}

TEST_CASE("a sensor that rounds to half a kelvin does no harm") {
  const auto fit = fit_of({.noise_K = 0.1, .resolution_K = 0.5}, 2);
  CHECK(fit.heat_capacity->value.value() == Approx(12000.0).epsilon(0.02));
  CHECK(fit.conductance->value.value() == Approx(12.0).epsilon(0.02));
}

TEST_CASE("single wrong samples are counted and hardly matter") {
  rig::SumpPiece log = sump_log({}, 3);
  const auto clean = rig::fit_sump(run_of(log));
  log.sump[500] = from_celsius(-40.0);
  log.sump[1200] = from_celsius(95.0);
  const auto fit = rig::fit_sump(run_of(log));
  CHECK(fit.outliers >= clean.outliers + 2);
  CHECK(fit.outliers <= clean.outliers + 4);
  CHECK(fit.heat_capacity->value.value() ==
        Approx(clean.heat_capacity->value.value())
            .margin(0.5 * clean.heat_capacity->half_width.value()));
}

TEST_CASE("the air stream is fitted where the speed varies") {
  const SumpTruth truth{.added_W_K = 8.0, .noise_K = 0.1};
  rig::SumpRun run = run_of(sump_log(truth, 4));
  run.air = rig::SumpRun::AirStream{from_kmh(50.0), 0.7};
  const auto fit = rig::fit_sump(run);
  CHECK(covers(fit.heat_capacity, truth.capacity_J_K));
  CHECK(covers(fit.conductance, truth.conductance_W_K));
  CHECK(covers(fit.air_stream, truth.added_W_K));

  run.pieces.front().speed.assign(run.pieces.front().heat.size(), from_kmh(50.0));
  const auto steady = rig::fit_sump(run);
  CHECK_FALSE(steady.air_stream);
  CHECK_THAT(all(steady.notes), Contains("the speed varies too little"));
}

TEST_CASE("a gap starts the oil anew and keeps the parameters") {
  rig::SumpPiece first = sump_log({}, 6), second;
  constexpr std::size_t cut = 700;
  const auto part = [&](auto& from, auto& into, std::size_t begin) {
    into.assign(from.begin() + static_cast<std::ptrdiff_t>(begin), from.end());
    from.resize(cut);
  };
  part(first.time, second.time, cut + 60);
  part(first.sump, second.sump, cut + 60);
  part(first.ambient, second.ambient, cut + 60);
  part(first.heat, second.heat, cut + 60);
  part(first.speed, second.speed, cut + 60);
  first.heat.pop_back();
  first.speed.pop_back();
  const auto fit = rig::fit_sump({.pieces = {first, second}});
  CHECK(covers(fit.heat_capacity, 12000.0));
  CHECK(covers(fit.conductance, 12.0));
  CHECK(fit.samples == first.time.size() + second.time.size());
}

TEST_CASE("what the heat may be off comes on top, for both parameters alike") {
  rig::SumpRun run = run_of(sump_log({}, 7));
  const auto exact = rig::fit_sump(run);
  run.heat_uncertainty = 0.1;
  const auto fit = rig::fit_sump(run);
  CHECK(fit.heat_capacity->standard_error.value() ==
        Approx(std::hypot(exact.heat_capacity->standard_error.value(),
                          0.1 * fit.heat_capacity->value.value())));
  CHECK(*fit.correlation > 0.95);
  CHECK(fit.time_constant->half_width.value() ==
        Approx(exact.time_constant->half_width.value()));  // the heat cancels
}

TEST_CASE("a log much shorter than the time constant tells the heat capacity alone") {
  const auto fit = fit_of({.duration_s = 120.0, .noise_K = 0.3}, 8);
  CHECK(fit.heat_capacity);
  CHECK_FALSE(fit.conductance);
  CHECK_FALSE(fit.time_constant);
  CHECK_THAT(all(fit.notes), Contains("time constants: only the heat capacity"));
}

TEST_CASE("oil that had nearly settled tells the conductance alone") {
  const SumpTruth settled{.start_degC = 46.0, .duration_s = 6000.0, .step_s = 60.0, .noise_K = 1.0};
  const auto fit = rig::fit_sump(run_of(sump_log(settled, 9, constant_W)));
  CHECK_FALSE(fit.heat_capacity);
  CHECK(covers(fit.conductance, 12.0));
  CHECK_THAT(all(fit.notes), Contains("Begin with cold oil"));
}

TEST_CASE("of unknown heat the time constant and the final rise are told") {
  rig::SumpRun run = run_of(sump_log({}, 10, constant_W));
  run.heat_known = false;
  run.pieces.front().heat.clear();
  const auto fit = rig::fit_sump(run);
  CHECK_FALSE(fit.heat_capacity);
  CHECK_FALSE(fit.conductance);
  CHECK(covers(fit.time_constant, 1000.0));
  CHECK(covers(fit.final_rise, 25.0));
  CHECK_THAT(all(fit.notes), Contains("Nobody knows the heat"));
}

TEST_CASE("oil that cools without heat tells the time constant") {
  const auto fit = rig::fit_sump(run_of(sump_log({.start_degC = 80.0}, 11, no_heat_W)));
  CHECK(covers(fit.time_constant, 1000.0));
  CHECK_FALSE(fit.heat_capacity);
  CHECK_THAT(all(fit.notes), Contains("No heat comes in"));
}

TEST_CASE("hot oil that cools while it is heated is fitted and said") {
  const auto fit = rig::fit_sump(run_of(sump_log({.start_degC = 90.0}, 12)));
  CHECK(covers(fit.heat_capacity, 12000.0));
  CHECK(covers(fit.conductance, 12.0));
  CHECK_THAT(all(fit.notes), Contains("it began warmer than it settles"));
}

TEST_CASE("the end of the log is predicted with an error") {
  const auto fit = fit_of({}, 13);
  CHECK(std::abs((fit.end_modelled - fit.end_measured).value()) < 4 * 0.2);
  CHECK(fit.end_error.value() > 0.001);
  CHECK(fit.end_error.value() < 0.1);
  CHECK(fit.residual_rms.value() == Approx(0.2).epsilon(0.1));
}

TEST_CASE("logs that no fit should be made of are refused in words") {
  SECTION("few samples") {
    CHECK_THAT(refusal(run_of(sump_log({.duration_s = 20.0}, 1))), Contains("has 11 samples"));
  }
  SECTION("one temperature") {
    rig::SumpRun run = run_of(sump_log({}, 1));
    for (Temperature& t : run.pieces.front().sump) t = from_celsius(40.0);
    CHECK_THAT(refusal(run), Contains("the oil stays within"));
  }
  SECTION("one temperature under noise") {
    const SumpTruth settled{.start_degC = 48.0, .noise_K = 0.3};
    CHECK_THAT(refusal(run_of(sump_log(settled, 9, constant_W))), Contains("stays within"));
  }
  SECTION("sump and ambient swapped") {
    rig::SumpRun run = run_of(sump_log({}, 1));
    std::swap(run.pieces.front().sump, run.pieces.front().ambient);
    CHECK_THAT(refusal(run), Contains("swapped"));
  }
  SECTION("the speed in place of the temperature") {
    rig::SumpRun run = run_of(sump_log({}, 1));
    rig::SumpPiece& log = run.pieces.front();
    for (std::size_t i = 0; i < log.sump.size(); ++i)
      log.sump[i] = from_celsius(i % 40 < 20 ? 0.0 : 50.0);
    CHECK_THAT(refusal(run), Contains("jumps"));
  }
  SECTION("kelvin read as Celsius") {
    rig::SumpRun run = run_of(sump_log({}, 1));
    for (Temperature& t : run.pieces.front().sump) t = from_celsius(t.value());
    CHECK_THAT(refusal(run), Contains("is the unit right"));
  }
  SECTION("a sensor at its end") {
    rig::SumpRun run = run_of(sump_log({.noise_K = 0.02, .resolution_K = 0.1}, 1));
    for (Temperature& t : run.pieces.front().sump) t = std::min(t, from_celsius(45.0));
    CHECK_THAT(refusal(run), Contains("the sensor seems to stand at its end"));
  }
  SECTION("cold oil that cools while it is heated") {
    rig::SumpRun run = run_of(sump_log({}, 1));
    rig::SumpPiece& log = run.pieces.front();
    for (std::size_t i = 0; i < log.sump.size(); ++i)
      log.sump[i] = from_celsius(20.0 - 0.005 * static_cast<double>(i));
    CHECK_THAT(refusal(run), Contains("although it is heated"));
  }
  SECTION("oil that warms the faster the hotter it is") {
    rig::SumpRun run = run_of(sump_log({.noise_K = 0.05}, 1));
    rig::SumpPiece& log = run.pieces.front();
    const auto noise = run.pieces.front().sump;
    const auto clean = sump_log({.noise_K = 0.0}, 1).sump;
    const auto model = rig::temperatures<numerics::Dual<1>>(
        steps_of(log), {12000.0, -3.0, 0.0, log.sump.front().value()});
    for (std::size_t i = 0; i < log.sump.size(); ++i)
      log.sump[i] = Temperature::from_value(model[i].value) + (noise[i] - clean[i]);
    CHECK_THAT(refusal(run), Contains("conductance comes out negative"));
  }
}

TEST_CASE("settled oil at the sensor's resolution is no sensor at its end") {
  const auto fit = rig::fit_sump(
      run_of(sump_log({.duration_s = 8000.0, .noise_K = 0.0, .resolution_K = 0.5}, 1, constant_W)));
  CHECK(fit.heat_capacity);
}
