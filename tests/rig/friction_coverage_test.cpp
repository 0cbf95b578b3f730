#include <catch2/catch.hpp>

#include "rig/friction_log.hpp"
#include "support/effort.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using test::all;
using test::covers;
using test::FrictionTruth;

namespace {

void check_coverage(const std::vector<int>& covered, int fits) {
  for (std::size_t j = 0; j < covered.size(); ++j) {
    CAPTURE(j, covered[j], fits);
    CHECK(covered[j] >= 0.90 * fits);
    CHECK(covered[j] <= 0.98 * fits);
  }
}

/// How often the intervals of the first parameters hold the truth.
template <class Run>
void check_intervals(const Run& run, const std::vector<double>& truth) {
  const int fits = test::effort(200);
  std::vector<int> covered(truth.size(), 0);
  for (int seed = 1; seed <= fits; ++seed) {
    const auto fit = rig::fit_friction(run(static_cast<unsigned>(seed)));
    for (std::size_t j = 0; j < truth.size(); ++j) covered[j] += covers(fit, j, truth[j]) ? 1 : 0;
  }
  check_coverage(covered, fits);
}

}  // namespace

TEST_CASE("95 % intervals of a constant coefficient cover the truth") {
  check_intervals([](unsigned seed) { return test::friction_run({}, seed); }, {0.2});
}

TEST_CASE("95 % intervals of dry PTFE cover the truth") {
  check_intervals([](unsigned seed) { return test::ptfe_run(test::ptfe_truth(), seed); },
                  {0.15, 0.40, 0.50});
}

TEST_CASE("95 % intervals of a mixed film cover the truth") {
  check_intervals([](unsigned seed) { return test::oiled_run(test::oiled_truth(), seed); },
                  {0.45, 5.0, 2e-5});
}

TEST_CASE("intervals cover with a tare that was read with noise of its own") {
  const auto tare_Nm = [](double rpm) { return 0.004 + 2e-7 * rpm; };
  check_intervals(
      [&](unsigned seed) {
        FrictionTruth truth;
        truth.down = true;
        truth.gap = 0.0;
        rig::FrictionRun run = test::friction_run(truth, seed);
        std::mt19937_64 random(seed + 1000);
        std::normal_distribution<double> noise(0.0, 2e-4);
        std::vector<rig::TareReading> tare;
        for (const double rpm : truth.rpm)
          for (int k = 0; k < 3; ++k)
            tare.push_back({from_rpm(rpm), Torque::from_value(tare_Nm(rpm) + noise(random))});
        for (rig::FrictionPoint& point : run.points)
          point.torque += Torque::from_value(tare_Nm(in_rpm(point.speed)));
        run.tare = tare;
        return run;
      },
      {0.2});
}

TEST_CASE("intervals cover the mean of all parts when specimens scatter") {
  const int fits = test::effort(200);
  int covered = 0;
  double squares = 0.0;
  for (int seed = 1; seed <= fits; ++seed) {
    std::mt19937_64 random(static_cast<unsigned>(seed) + 5000);
    std::normal_distribution<double> part(1.0, 0.1);
    rig::FrictionRun run = test::friction_run({}, static_cast<unsigned>(seed));
    run.points.clear();
    for (const char* name : {"A", "B", "C", "D"})
      for (rig::FrictionPoint point : test::friction_points(
               {}, static_cast<unsigned>(seed) * 10 + unsigned(name[0]), part(random))) {
        point.specimen = name;
        run.points.push_back(point);
      }
    const auto fit = rig::fit_friction(run);
    covered += covers(fit, 0, 0.2) ? 1 : 0;
    squares += *fit.part_scatter * *fit.part_scatter;
    if (seed == 1) {
      CHECK(fit.specimens.size() == 4);
      double mean = 0.0;
      for (const auto& specimen : fit.specimens) mean += 0.25 * specimen.level.value;
      CHECK(mean == Approx(1.0));
      CHECK(fit.part_scatter_interval->first < 0.1);
      CHECK(fit.part_scatter_interval->second > 0.1);
      CHECK_THAT(all(fit.notes), Contains("4 specimens tell their scatter within wide bounds"));
    }
  }
  check_coverage({covered}, fits);
  CHECK(std::sqrt(squares / fits) == Approx(0.1).epsilon(0.1));
}
