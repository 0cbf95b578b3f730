#include "ohmdrag/rig/force_fit.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "support/effort.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;

namespace {

/// A ring whose impedance falls and whose torque rises with force. All invented.
struct ForceTruth {
  double m = 0.6, torque_exponent = 0.9;
  double impedance_ohm = 20.0, torque_Nm = 0.01;  ///< at 10 N/m
  double noise = 0.05;                            ///< of ln(y)
  std::vector<double> forces{3, 5, 8, 12, 18, 28};
  int repeats = 3;
  bool down = false;
  double gap = 0.0;  ///< of ln(impedance), loading less unloading
};

rig::ForceRun force_run(const ForceTruth& truth, unsigned seed, double level = 1.0) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> noise(0.0, truth.noise);
  rig::ForceRun run;
  run.per_length = true;
  run.reference = 10.0;
  const auto read = [&](double force, double way) {
    rig::ForcePoint point;
    point.force = force;
    point.impedance = Resistance::from_value(
        level * truth.impedance_ohm *
        std::exp(-truth.m * std::log(force / 10.0) + way * truth.gap + noise(random)));
    point.torque = Torque::from_value(
        truth.torque_Nm * std::exp(truth.torque_exponent * std::log(force / 10.0) + noise(random)));
    run.points.push_back(point);
  };
  for (int k = 0; k < truth.repeats; ++k) {
    for (const double force : truth.forces) read(force, 0.5);
    if (!truth.down) continue;
    for (auto force = truth.forces.rbegin(); force != truth.forces.rend(); ++force)
      read(*force, -0.5);
  }
  return run;
}

std::string all(const std::vector<std::string>& texts) {
  std::string text;
  for (const std::string& one : texts) text += one + '\n';
  return text;
}

std::string refusal(const rig::ForceRun& run) {
  try {
    rig::fit_force(run);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "not refused";
}

bool holds(const rig::Estimate<double>& estimate, double truth) {
  return std::abs(estimate.value - truth) <= estimate.half_width;
}

void check_share(int covered, int fits) {
  CAPTURE(covered, fits);
  CHECK(covered >= 0.90 * fits);
  CHECK(covered <= 0.98 * fits);
}

}  // namespace

TEST_CASE("a run over force without noise gives its exponents back") {
  ForceTruth truth;
  truth.noise = 0.0;
  const auto fit = rig::fit_force(force_run(truth, 1));
  CHECK(fit.impedance->exponent.value == Approx(-0.6).epsilon(1e-8));
  CHECK(fit.torque->exponent.value == Approx(0.9).epsilon(1e-8));
  CHECK(fit.impedance->level == Approx(20.0).epsilon(1e-8));
  CHECK(fit.torque->level == Approx(0.01).epsilon(1e-8));
  CHECK(fit.impedance->far_off.empty());
  CHECK(fit.forces == 6);
  CHECK(fit.lowest == 3.0);
  CHECK(fit.highest == 28.0);
  CHECK_FALSE(fit.wrong_lever);
  CHECK_THAT(all(fit.notes), Contains("Twice the force leaves 66 % of the resistance"));
  CHECK_THAT(all(fit.notes), Contains("torque grows faster than the impedance falls"));
}

TEST_CASE("95 % intervals of the exponents and levels cover the truth") {
  const int fits = test::effort(200);
  int m = 0, k = 0, level = 0;
  for (int seed = 1; seed <= fits; ++seed) {
    const auto fit = rig::fit_force(force_run({}, static_cast<unsigned>(seed)));
    m += holds(fit.impedance->exponent, -0.6) ? 1 : 0;
    k += holds(fit.torque->exponent, 0.9) ? 1 : 0;
    level += fit.impedance->level_ends.first <= 20.0 && fit.impedance->level_ends.second >= 20.0;
  }
  check_share(m, fits);
  check_share(k, fits);
  check_share(level, fits);
}

TEST_CASE("specimens share the exponent, and their scatter widens the level") {
  const int fits = test::effort(200);
  int m = 0, level = 0;
  double squares = 0.0;
  for (int seed = 1; seed <= fits; ++seed) {
    std::mt19937_64 random(static_cast<unsigned>(seed) + 700);
    std::normal_distribution<double> part(0.0, 0.3);
    rig::ForceRun run = force_run({}, 1);
    run.points.clear();
    for (const char* name : {"A", "B", "C", "D", "E"})
      for (rig::ForcePoint point :
           force_run({}, static_cast<unsigned>(seed) * 10 + unsigned(name[0]),
                     std::exp(part(random)))
               .points) {
        point.specimen = name;
        run.points.push_back(point);
      }
    const auto fit = rig::fit_force(run);
    m += holds(fit.impedance->exponent, -0.6) ? 1 : 0;
    level += fit.impedance->level_ends.first <= 20.0 && fit.impedance->level_ends.second >= 20.0;
    squares += std::pow(*fit.impedance->part_scatter, 2);
  }
  check_share(m, fits);
  check_share(level, fits);
  CHECK(std::sqrt(squares / fits) == Approx(0.3).epsilon(0.1));
}

TEST_CASE("force is called the wrong lever where it buys too little") {
  ForceTruth truth;
  truth.m = 0.05;
  const auto fit = rig::fit_force(force_run(truth, 2));
  CHECK(fit.wrong_lever);
  CHECK_THAT(all(fit.notes), Contains("Force is the wrong lever"));
  CHECK_THAT(all(fit.notes), Contains("Change the material or the number of fibres"));
  truth.m = 0.25;
  const auto open = rig::fit_force(force_run(truth, 2));
  CHECK_FALSE(open.wrong_lever);
  CHECK_THAT(all(open.notes), Contains("does not tell whether force is the right lever"));
  truth.m = -0.4;
  CHECK_THAT(all(rig::fit_force(force_run(truth, 2)).warnings),
             Contains("The impedance rises with force"));
  truth.m = 0.9;
  truth.torque_exponent = 0.3;
  CHECK_THAT(all(rig::fit_force(force_run(truth, 2)).notes),
             Contains("impedance falls faster than the torque grows"));
}

TEST_CASE("a lead in series hides the exponent until it is taken off") {
  ForceTruth truth;
  truth.noise = 0.0;
  rig::ForceRun run = force_run(truth, 1);
  for (rig::ForcePoint& point : run.points) *point.impedance += Resistance::from_value(10.0);
  const auto hidden = rig::fit_force(run);
  CHECK(hidden.impedance->exponent.value > -0.5);
  CHECK_THAT(all(hidden.notes), Contains("is not the same all over"));
  run.lead = Resistance::from_value(10.0);
  run.lead_error = Resistance::from_value(0.5);
  const auto fit = rig::fit_force(run);
  CHECK(fit.impedance->exponent.value == Approx(-0.6).epsilon(1e-8));
  CHECK(fit.impedance->exponent.standard_error > 0.005);
}

TEST_CASE("of two elements in series half is told, and the exponent is the same") {
  rig::ForceRun run = force_run({}, 3);
  const auto one = rig::fit_force(run);
  run.elements = 2;
  const auto two = rig::fit_force(run);
  CHECK(two.impedance->level == Approx(0.5 * one.impedance->level));
  CHECK(two.impedance->exponent.value == Approx(one.impedance->exponent.value));
}

TEST_CASE("loading and unloading apart are said") {
  ForceTruth truth;
  truth.down = true;
  truth.repeats = 1;
  truth.gap = 0.1;
  truth.noise = 0.01;
  const auto fit = rig::fit_force(force_run(truth, 4));
  REQUIRE(fit.impedance->hysteresis);
  CHECK(holds(*fit.impedance->hysteresis, 0.1));
  CHECK_THAT(all(fit.notes), Contains("Loading, the impedance is"));
  truth.gap = 0.5;
  CHECK_THAT(all(rig::fit_force(force_run(truth, 4)).warnings),
             Contains("had not settled, drifts"));
}

TEST_CASE("readings far off are listed and count less") {
  rig::ForceRun run = force_run({}, 5);
  const auto clean = rig::fit_force(run);
  *run.points[7].impedance *= 3.0;
  const auto fit = rig::fit_force(run);
  REQUIRE(fit.impedance->far_off.size() == 1);
  CHECK(fit.impedance->far_off[0] == 7);
  CHECK(holds(clean.impedance->exponent, fit.impedance->exponent.value));
}

TEST_CASE("runs over force that no fit should be made of are refused in words") {
  rig::ForceRun run = force_run({}, 1);
  SECTION("few") {
    run.points.resize(4);
    CHECK_THAT(refusal(run), Contains("4 readings; 5 or more"));
  }
  SECTION("one force") {
    for (rig::ForcePoint& point : run.points) point.force = 10.0;
    CHECK_THAT(refusal(run), Contains("no exponent can be told"));
  }
  SECTION("force and impedance swapped") {
    for (rig::ForcePoint& point : run.points) {
      const double force = point.force;
      point.force = point.impedance->value() * 1e3;
      point.impedance = Resistance::from_value(force);
    }
    CHECK_THAT(refusal(run), Contains("are columns swapped"));
  }
  SECTION("a lead larger than the impedance") {
    run.lead = Resistance::from_value(30.0);
    CHECK_THAT(refusal(run), Contains("nothing is left"));
  }
  SECTION("torque of the wrong sign") {
    for (rig::ForcePoint& point : run.points) *point.torque *= -1.0;
    CHECK_THAT(refusal(run), Contains("Is the sign turned round"));
  }
  SECTION("a bridge at its end") {
    for (rig::ForcePoint& point : run.points)
      point.impedance = std::min(*point.impedance, Resistance::from_value(22.0));
    CHECK_THAT(refusal(run), Contains("the instrument seems to stand at its end"));
  }
  SECTION("neither impedance nor torque") {
    for (rig::ForcePoint& point : run.points) {
      point.impedance.reset();
      point.torque.reset();
    }
    CHECK_THAT(refusal(run), Contains("neither impedance nor torque"));
  }
  SECTION("a narrow range is warned of") {
    ForceTruth narrow;
    narrow.forces = {8, 9, 10, 12, 14};
    CHECK_THAT(all(rig::fit_force(force_run(narrow, 1)).warnings), Contains("within a factor of"));
  }
  SECTION("an exponent of no contact is warned of") {
    ForceTruth steep;
    steep.m = 2.0;
    CHECK_THAT(all(rig::fit_force(force_run(steep, 1)).warnings),
               Contains("steeper than any contact law"));
  }
}
