#include <catch2/catch.hpp>
#include <cmath>
#include <memory>
#include <random>

#include "ohmdrag/study/visit.hpp"
#include "study/sample_case.hpp"
#include "study/unit_drag.hpp"
#include "support/effort.hpp"

using namespace ohmdrag;

namespace {

/// A strip-down of the sample case: lip, ring and bearing; without the ring; the bearing alone.
study::UnitDragLog strip_down() {
  study::UnitDragLog log;
  auto question = std::make_shared<study::Case>(test::sample_case());
  question->variants = {test::sample_variant(
      "grounded",
      test::sample_grounding(Resistance::from_value(20.0), LineForce::from_value(30.0)))};
  log.question = question;
  log.variant = "grounded";
  log.shaft = "rotor";
  log.builds = {{"complete", {"seal", "grounding", "drive-end"}},
                {"no-ring", {"seal", "drive-end"}},
                {"bearing", {"drive-end"}}};
  for (std::size_t b = 0; b < log.builds.size(); ++b)
    for (const double oil_degC : {40.0, 60.0, 80.0})
      for (const double rpm : {500.0, 1000.0, 2000.0, 4000.0, 8000.0})
        log.readings.push_back({b, from_rpm(rpm), from_celsius(oil_degC), {}});
  return log;
}

rig::UnitDragRun run_of(const study::UnitDragLog& log, const study::UnitDragModel& model) {
  rig::UnitDragRun run;
  run.parts = model.parts();
  run.fitted = model.fitted();
  for (const study::DragBuild& build : log.builds) run.builds.push_back(build.id);
  const auto middle_Nm = model.torques_Nm(study::Draw());
  run.prior = study::drag_prior(log, model, middle_Nm);
  for (std::size_t i = 0; i < log.readings.size(); ++i) {
    const study::DragReading& reading = log.readings[i];
    rig::UnitDragPoint point{reading.build, reading.speed, reading.oil, {}, {}};
    for (const double torque : middle_Nm[i]) point.model.push_back(Torque::from_value(torque));
    run.points.push_back(std::move(point));
  }
  return run;
}

}  // namespace

TEST_CASE("the parts of a build are those of the case, and what is taken out takes nothing") {
  const study::UnitDragLog log = strip_down();
  const study::UnitDragModel model(log);
  CHECK(model.parts() == std::vector<std::string>{"seal", "grounding", "drive-end"});
  CHECK(study::drag_parts(*log.question, "grounded") == model.parts());
  CHECK(study::drag_parts(*log.question, "nothing").empty());
  const auto torques_Nm = model.torques_Nm(study::Draw());
  const std::size_t a_build = log.readings.size() / 3;
  for (std::size_t i = 0; i < a_build; ++i) {
    CHECK(torques_Nm[a_build + i][1] == 0.0);
    CHECK(torques_Nm[2 * a_build + i][0] == 0.0);
    CHECK(torques_Nm[2 * a_build + i][2] == Approx(torques_Nm[i][2]).epsilon(1e-12));
    // The ring no longer warms the lip: its oil is thicker.
    CHECK(torques_Nm[a_build + i][0] >= torques_Nm[i][0]);
  }
  const study::UnitDragModel::FrictionFactor twice{"grounding", 2.0};
  CHECK(model.torques_Nm(study::Draw(), &twice)[0][1] ==
        Approx(2.0 * torques_Nm[0][1]).epsilon(1e-9));
}

TEST_CASE("95 % intervals cover what the case's own draws take, rest included") {
  const study::UnitDragLog log = strip_down();
  const study::UnitDragModel model(log);
  rig::UnitDragRun run = run_of(log, model);
  std::vector<const UncertainNumber*> numbers;
  study::for_each_number(*log.question,
                         [&](const UncertainNumber& number) { numbers.push_back(&number); });
  const int draws = test::effort(200);
  // Below 1 % of a part's torque the noise lets courses show that no plane has: f0 of +-50 %.
  const auto [noise_Nm, least] = GENERATE(table<double, double>({{0.003, 0.90}, {0.001, 0.85}}));
  constexpr double rest_Nm = 0.01;
  const study::Draws others(numbers, draws, 991);
  std::vector<int> covered(model.parts().size() + 1);
  for (int d = 0; d < draws; ++d) {
    const auto truth_Nm = model.torques_Nm(study::Draw(others, d));
    std::mt19937_64 random(static_cast<unsigned>(d));
    std::normal_distribution<double> noise(0.0, noise_Nm);
    std::vector<double> mean_Nm(model.parts().size());
    for (std::size_t i = 0; i < truth_Nm.size(); ++i) {
      double sum = rest_Nm + noise(random);
      for (std::size_t p = 0; p < mean_Nm.size(); ++p) {
        sum += truth_Nm[i][p];
        if (log.readings[i].build == 0)
          mean_Nm[p] += 3.0 * truth_Nm[i][p] / static_cast<double>(truth_Nm.size());
      }
      run.points[i].measured = Torque::from_value(sum);
    }
    const rig::UnitDragFit fit = rig::fit_unit_drag(run);
    for (std::size_t p = 0; p < mean_Nm.size(); ++p)
      covered[p] += std::abs(fit.parts[p].torque.value.value() - mean_Nm[p]) <=
                            fit.parts[p].torque.half_width.value()
                        ? 1
                        : 0;
    covered.back() +=
        std::abs(fit.rest.value.value() - rest_Nm) <= fit.rest.half_width.value() ? 1 : 0;
  }
  for (std::size_t p = 0; p < covered.size(); ++p) {
    CAPTURE(p, covered[p], noise_Nm);
    CHECK(covered[p] >= least * draws);
    CHECK(covered[p] <= 0.98 * draws);
  }
}
