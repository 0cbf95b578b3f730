#include "ohmdrag/rig/friction_fit.hpp"

#include <catch2/catch.hpp>

#include "rig/friction_log.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using test::all;
using test::covers;
using test::FrictionTruth;

namespace {

double value_of(const rig::FrictionFit& fit, const std::string& key) {
  for (const rig::LawParameter& parameter : fit.parameters)
    if (parameter.key == key) {
      CAPTURE(key);
      REQUIRE(parameter.value);
      return parameter.value->value;
    }
  FAIL("no parameter " << key);
  return 0.0;
}

}  // namespace

TEST_CASE("a run of friction without noise gives its law back") {
  FrictionTruth constant, ptfe = test::ptfe_truth(), oiled = test::oiled_truth();
  constant.noise = ptfe.noise = oiled.noise = 0.0;
  SECTION("constant") {
    const auto fit = rig::fit_friction(test::friction_run(constant, 1));
    CHECK(value_of(fit, "friction") == Approx(0.2).epsilon(1e-8));
    CHECK(fit.law == "constant");
    CHECK(fit.points.size() == 12);
    CHECK_THAT(all(fit.warnings), Contains("reads the same in every line"));
    CHECK(fit.curve.size() == 12);
    CHECK(fit.curve.back().torque.value.value() ==
          Approx(test::clean_torque_Nm(constant, 10000, 50)).epsilon(1e-8));
  }
  SECTION("dry PTFE") {
    const auto fit = rig::fit_friction(test::ptfe_run(ptfe, 1));
    CHECK(value_of(fit, "slow_coefficient") == Approx(0.15).epsilon(1e-8));
    CHECK(value_of(fit, "middle_coefficient") == Approx(0.40).epsilon(1e-8));
    CHECK(value_of(fit, "fast_coefficient") == Approx(0.50).epsilon(1e-8));
    CHECK(fit.compared.front().title == "dry PTFE over speed");
  }
  SECTION("mixed film") {
    const auto fit = rig::fit_friction(test::oiled_run(oiled, 1));
    CHECK(value_of(fit, "boundary_friction") == Approx(0.45).epsilon(1e-8));
    CHECK(value_of(fit, "film_coefficient") == Approx(5.0).epsilon(1e-8));
    CHECK(value_of(fit, "transition_duty") == Approx(2e-5).epsilon(1e-7));
    CHECK(fit.held.front().second == 0.5);
  }
}

TEST_CASE("of up and down sweeps the mean is told and the gap stated") {
  FrictionTruth truth;
  truth.down = true;
  truth.gap = 0.06;
  truth.noise = 0.005;
  const auto fit = rig::fit_friction(test::friction_run(truth, 3));
  REQUIRE(fit.hysteresis);
  CHECK(fit.hysteresis->value == Approx(0.06).margin(fit.hysteresis->half_width));
  CHECK(value_of(fit, "friction") == Approx(0.2).epsilon(0.005));
  CHECK_THAT(all(fit.notes), Contains("Up the speeds the torque is 6"));
  // Half the gap, uniform: 0.06/sqrt(12) of the coefficient.
  CHECK(fit.parameters[0].value->standard_error ==
        Approx(0.2 * 0.06 / std::sqrt(12.0)).epsilon(0.1));
  truth.gap = 0.3;
  CHECK_THAT(all(rig::fit_friction(test::friction_run(truth, 3)).warnings),
             Contains("dwell longer"));
  truth.gap = 0.0;
  CHECK_THAT(all(rig::fit_friction(test::friction_run(truth, 3)).notes),
             Contains("the torque agrees within"));
}

TEST_CASE("stated sweeps count before the order of the speeds") {
  FrictionTruth truth;
  truth.noise = 0.001;
  rig::FrictionRun run = test::friction_run(truth, 1);
  for (std::size_t i = 0; i < run.points.size(); ++i)
    run.points[i].sweep = i % 2 == 0 ? rig::Sweep::up : rig::Sweep::down;
  CHECK(rig::fit_friction(run).hysteresis);
  for (rig::FrictionPoint& point : run.points) point.sweep = rig::Sweep::unknown;
  CHECK_FALSE(rig::fit_friction(run).hysteresis);
  truth.repeats = 4;  // three jumps back to the begin are no sweep
  CHECK_FALSE(rig::fit_friction(test::friction_run(truth, 1)).hysteresis);
}

TEST_CASE("a run-in is found and left out") {
  FrictionTruth truth;
  truth.repeats = 6;
  truth.run_in_rise = 0.4;
  const auto fit = rig::fit_friction(test::friction_run(truth, 5));
  REQUIRE(fit.run_in);
  CHECK(fit.run_in->rise.value == Approx(0.4).epsilon(0.2));
  CHECK(fit.run_in->time.value.value() == Approx(7200.0).epsilon(0.25));
  CHECK(fit.run_in->left_out > 30);
  CHECK(fit.points.size() + fit.run_in->left_out == 72);
  CHECK(covers(fit, 0, 0.2));
  CHECK_THAT(all(fit.notes), Contains("ran in over"));

  truth.run_in_rise = 0.0;
  CHECK_FALSE(rig::fit_friction(test::friction_run(truth, 5)).run_in);

  truth.run_in_rise = 0.4;
  truth.repeats = 2;
  truth.noise = 0.005;
  const auto ended = rig::fit_friction(test::friction_run(truth, 5));
  REQUIRE(ended.run_in);
  CHECK(ended.run_in->left_out == 0);
  CHECK_THAT(all(ended.warnings), Contains("still running in"));
}

TEST_CASE("two elements share the torque") {
  FrictionTruth truth;
  rig::FrictionRun run = test::friction_run(truth, 1);
  run.elements = 2;
  for (rig::FrictionPoint& point : run.points) point.torque *= 2.0;
  const auto fit = rig::fit_friction(run);
  CHECK(covers(fit, 0, 0.2));
  CHECK(*fit.part_scatter == Approx(0.2309).epsilon(1e-3));  // 2p of a p uniform in 0.3 to 0.7
  CHECK_FALSE(fit.part_scatter_interval);
  CHECK_THAT(all(fit.notes), Contains("the share of each is not"));
}

TEST_CASE("three pairings of three specimens tell each") {
  FrictionTruth truth;
  truth.noise = 0.002;
  // Levels 1.2, 0.9 and 0.9 over a mean of one.
  const std::vector<std::pair<std::string, double>> pairs{{"A+B", 2.1}, {"A+C", 2.1}, {"B+C", 1.8}};
  rig::FrictionRun run = test::friction_run(truth, 1);
  run.elements = 2;
  run.points.clear();
  unsigned seed = 0;
  for (const auto& [name, level] : pairs)
    for (rig::FrictionPoint point : test::friction_points(truth, ++seed, level)) {
      point.specimen = name;
      run.points.push_back(point);
    }
  const auto fit = rig::fit_friction(run);
  CHECK(fit.resolved_pairs);
  REQUIRE(fit.specimens.size() == 3);
  CHECK(fit.specimens[0].level.value == Approx(1.2).epsilon(0.01));
  CHECK(fit.specimens[1].level.value == Approx(0.9).epsilon(0.01));
  CHECK(fit.specimens[2].level.value == Approx(0.9).epsilon(0.01));
  CHECK(value_of(fit, "friction") == Approx(0.2).epsilon(0.01));

  // Two pairs without a specimen in common, or four in a ring, tell nothing of each.
  run.points.resize(24);
  for (std::size_t i = 12; i < 24; ++i) run.points[i].specimen = "C+D";
  const auto unresolved = rig::fit_friction(run);
  CHECK_FALSE(unresolved.resolved_pairs);
  CHECK(unresolved.specimens.size() == 2);
}

TEST_CASE("what the force may be off comes on top of the coefficient, not of the torque") {
  rig::FrictionRun run = test::friction_run({}, 2);
  const auto exact = rig::fit_friction(run);
  run.force_uncertainty = 0.1;
  const auto fit = rig::fit_friction(run);
  CHECK(
      fit.parameters[0].value->standard_error ==
      Approx(std::hypot(exact.parameters[0].value->standard_error, 0.2 / 1.1 * 0.1)).epsilon(0.02));
  CHECK(fit.curve[0].torque.standard_error.value() ==
        Approx(exact.curve[0].torque.standard_error.value()).epsilon(1e-6));
}

TEST_CASE("laws are told apart where the run can, and not where it cannot") {
  // Above half a metre a second dry PTFE is a constant coefficient.
  FrictionTruth fast = test::ptfe_truth();
  fast.rpm = {300, 600, 1000, 2000, 3000, 5000, 7000, 10000};
  const auto blind = rig::fit_friction(test::ptfe_run(fast, 1));
  CHECK(blind.title == "dry PTFE, level alone");
  CHECK_THAT(all(blind.warnings),
             Contains("cannot tell \"dry PTFE, level alone\" from \"constant"));
  CHECK_THAT(all(blind.notes), Contains("The run tells the level of the law alone"));
  CHECK_THAT(all(blind.notes), Contains("Not compared: dry PTFE over speed"));

  rig::FrictionRun wrong = test::ptfe_run(test::ptfe_truth(), 1);
  wrong.law = "constant";
  const auto named = rig::fit_friction(wrong);
  CHECK(named.law == "constant");
  CHECK_THAT(all(named.warnings),
             Contains("\"dry PTFE over speed\" fits the run better than the named law"));
  CHECK_THAT(all(named.warnings), Contains("essentially no support"));

  const auto right = rig::fit_friction(test::ptfe_run(test::ptfe_truth(), 1));
  CHECK(right.warnings.empty());
  double weights = 0.0;
  for (const auto& law : right.compared) weights += law.weight;
  CHECK(weights == Approx(1.0));
  CHECK(right.compared.front().above_least == 0.0);
}

TEST_CASE("a mixed film that never comes slow is the film alone") {
  FrictionTruth truth = test::oiled_truth();
  truth.rpm = {3000, 5000, 7000, 9000, 12000};
  truth.law = contact::MixedFilm{0.45, 5.0, 2e-6, 0.5, Length::from_value(0.2e-3)};
  const auto fit = rig::fit_friction(test::oiled_run(truth, 4));
  CHECK(fit.title == "full film alone");
  CHECK(fit.parameters.size() == 1);
  CHECK(value_of(fit, "film_coefficient") == Approx(5.0).epsilon(0.02));
  CHECK_THAT(all(fit.notes), Contains("tells the full film alone"));
}

TEST_CASE("oil temperatures in place of the contact's are said aloud") {
  rig::FrictionRun run = test::oiled_run(test::oiled_truth(), 1);
  run.contact_temperature = false;
  CHECK_THAT(all(rig::fit_friction(run).warnings),
             Contains("film coefficient comes out too small"));
  run.contact_rise = ThermalResistance::from_value(0.1);
  CHECK_THAT(all(rig::fit_friction(run).warnings), !Contains("comes out too small"));
}

TEST_CASE("friction that follows temperature is said of a law that does not") {
  rig::FrictionRun run = test::oiled_run(test::oiled_truth(), 1);
  run.law = "constant";
  run.points.clear();
  for (const double degC : {40.0, 60.0, 80.0})
    for (rig::FrictionPoint point : test::friction_points({}, unsigned(degC), 1.2 - 0.005 * degC)) {
      point.temperature = from_celsius(degC);
      point.time.reset();
      run.points.push_back(point);
    }
  run.oil.reset();
  run.line_force = FrictionTruth{}.line_force;
  CHECK_THAT(all(rig::fit_friction(run).warnings), Contains("Friction falls by"));
}

TEST_CASE("a torque that drifts through the run is warned of") {
  FrictionTruth truth;
  truth.repeats = 4;
  truth.noise = 0.01;
  rig::FrictionRun run = test::friction_run(truth, 2);
  CHECK_THAT(all(rig::fit_friction(run).warnings), !Contains("drifts"));
  for (std::size_t i = 0; i < run.points.size(); ++i)
    run.points[i].torque *= 1.0 + 0.003 * static_cast<double>(i);
  CHECK_THAT(all(rig::fit_friction(run).warnings), Contains("The torque drifts: it rises by"));
}

TEST_CASE("readings far off are listed, count less and are not left out") {
  rig::FrictionRun run = test::friction_run({}, 7);
  const auto clean = rig::fit_friction(run);
  run.points[4].torque *= 2.0;
  const auto fit = rig::fit_friction(run);
  CHECK(fit.points.size() == 12);
  CHECK(fit.points[4].far_off);
  CHECK(value_of(fit, "friction") == Approx(value_of(clean, "friction")).epsilon(0.02));
  CHECK_THAT(all(fit.notes), Contains("1 of 12 readings lie far off (1500 1/min)"));
}

TEST_CASE("backward turning counts as forward") {
  FrictionTruth truth;
  rig::FrictionRun run = test::friction_run(truth, 1);
  const auto fit = rig::fit_friction(run);
  for (rig::FrictionPoint& point : run.points) {
    point.speed *= -1.0;
    point.torque *= -1.0;
  }
  CHECK(value_of(rig::fit_friction(run), "friction") == value_of(fit, "friction"));
}

TEST_CASE("a tare is taken off over speed, and only where it was run") {
  FrictionTruth truth;
  truth.noise = 0.0;
  rig::FrictionRun run = test::friction_run(truth, 1);
  std::vector<rig::TareReading> tare;
  for (const double rpm : {50.0, 2000.0, 5000.0})
    tare.push_back({from_rpm(rpm), Torque::from_value(0.003 + 1e-6 * rpm)});
  for (rig::FrictionPoint& point : run.points)
    point.torque += Torque::from_value(0.003 + 1e-6 * in_rpm(point.speed));
  run.tare = tare;
  const auto fit = rig::fit_friction(run);
  CHECK(value_of(fit, "friction") == Approx(0.2).epsilon(1e-8));
  CHECK(fit.outside_tare == 3);
  CHECK_THAT(all(fit.notes), Contains("the tare was not run at their speed"));
  run.tare = std::vector<rig::TareReading>(tare.begin() + 1, tare.end());
  CHECK_THAT(all(rig::fit_friction(run).notes), Contains("it was read once"));
  run.tare = {};
  CHECK_THAT(all(rig::fit_friction(run).notes), Contains("No tare was taken off"));
  run.tare = rig::StatedTare{Torque::from_value(0.001), Torque::from_value(0.0005)};
  const auto stated = rig::fit_friction(run);
  CHECK(stated.parameters[0].value->standard_error > 0.0005 / 0.0251 * 0.9);
}
