#include "ohmdrag/rig/unit_drag_fit.hpp"

#include <catch2/catch.hpp>

#include "rig/unit_drag_rig.hpp"
#include "support/effort.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using rig::fit_unit_drag;
using test::UnitTruth;

namespace {

std::string all(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + '\n';
  return text;
}

std::string refusal(const rig::UnitDragRun& run) {
  try {
    fit_unit_drag(run);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "not refused";
}

bool within(double truth, double value, double half_width) {
  return std::abs(value - truth) <= half_width;
}

struct Covered {
  int level = 0, torque = 0, rest = 0, tilt = 0;
};
/// How often the intervals hold a truth that the prior drew, of all seeds.
Covered covered_by(const std::vector<std::vector<bool>>& builds, double calibration, bool stated,
                   int seeds) {
  Covered covered;
  for (int seed = 0; seed < seeds; ++seed) {
    const auto s = static_cast<unsigned>(seed);
    const UnitTruth truth = test::drawn_truth(s, calibration);
    rig::UnitDragRun run = test::unit_drag_run(truth, s, builds);
    run.calibration = calibration;
    if (stated) run.noise = Torque::from_value(truth.noise_Nm);
    const rig::UnitDragFit fit = fit_unit_drag(run);
    const rig::CorrectedPart& seal = fit.parts[test::seal];
    const auto factor = seal.factor ? *seal.factor : seal.before;
    const double true_factor = std::exp(truth.level[test::seal]);
    covered.level += true_factor >= factor.low && true_factor <= factor.high ? 1 : 0;
    covered.tilt += within(truth.tilt[test::seal], seal.tilt.value, seal.tilt.half_width) ? 1 : 0;
    covered.rest +=
        within(truth.rest_Nm, fit.rest.value.value(), fit.rest.half_width.value()) ? 1 : 0;
    double mean = 0.0;
    int readings = 0;
    for (const rig::UnitDragPoint& point : run.points) {
      if (point.build != 0) continue;
      mean += point.model[test::seal].value() * true_factor *
              std::exp(truth.tilt[test::seal] * std::log((point.speed / fit.reference).value()) +
                       truth.warmth[test::seal] * (point.oil - fit.reference_oil).value());
      ++readings;
    }
    covered.torque +=
        within(mean / readings, seal.torque.value.value(), seal.torque.half_width.value()) ? 1 : 0;
  }
  UNSCOPED_INFO("factor " << covered.level << ", tilt " << covered.tilt << ", torque "
                          << covered.torque << ", rest " << covered.rest << " of " << seeds);
  return covered;
}

void check_share(int covered, int seeds) {
  CHECK(covered >= 0.90 * seeds);
  CHECK(covered <= 0.98 * seeds);
}

}  // namespace

TEST_CASE("readings without noise give every part of a strip-down back") {
  UnitTruth truth;
  truth.noise_Nm = 0.0;
  const rig::UnitDragFit fit = fit_unit_drag(test::unit_drag_run(truth, 1));
  for (std::size_t p = 0; p < 3; ++p) {
    CAPTURE(p);
    REQUIRE(fit.parts[p].factor);
    CHECK(fit.parts[p].factor->value == Approx(std::exp(truth.level[p])).epsilon(1e-8));
    CHECK(fit.parts[p].tilt.value == Approx(truth.tilt[p]).margin(1e-8));
    CHECK(fit.parts[p].warmth.value == Approx(truth.warmth[p]).margin(1e-9));
  }
  CHECK(fit.rest.value.value() == Approx(truth.rest_Nm).epsilon(1e-8));
  CHECK(fit.outliers.empty());
}

TEST_CASE("parts and rest are the measured torque at every reading") {
  rig::UnitDragRun run = test::unit_drag_run({}, 2);
  run.calibration = 0.01;
  const rig::UnitDragFit fit = fit_unit_drag(run);
  REQUIRE(fit.points.size() == run.points.size());
  for (std::size_t i = 0; i < run.points.size(); ++i) {
    double sum = fit.points[i].rest.value();
    for (const Torque& part : fit.points[i].parts) sum += part.value();
    CHECK(sum == Approx(run.points[i].measured.value()).epsilon(1e-12));
    CHECK(fit.points[i].measured == run.points[i].measured);
  }
}

TEST_CASE("95 % intervals cover truths that the prior drew: strip-down, noise not stated") {
  const int seeds = test::effort(200);
  const Covered covered = covered_by(test::strip_down, 0.0, false, seeds);
  check_share(covered.level, seeds);
  check_share(covered.tilt, seeds);
  check_share(covered.torque, seeds);
  check_share(covered.rest, seeds);
}

TEST_CASE("95 % intervals cover truths that the prior drew: strip-down with a calibration error") {
  const int seeds = test::effort(200);
  const Covered covered = covered_by(test::strip_down, 0.02, true, seeds);
  check_share(covered.level, seeds);
  check_share(covered.torque, seeds);
  check_share(covered.rest, seeds);
}

TEST_CASE("95 % intervals cover truths that the prior drew: one build alone") {
  const int seeds = test::effort(200);
  const Covered covered = covered_by(test::complete_alone, 0.0, true, seeds);
  check_share(covered.level, seeds);
  check_share(covered.torque, seeds);
}

TEST_CASE("a strip-down tells apart what one build alone does not") {
  const UnitTruth truth;
  const rig::UnitDragFit alone = fit_unit_drag(test::unit_drag_run(truth, 3, test::complete_alone));
  const rig::UnitDragFit stripped = fit_unit_drag(test::unit_drag_run(truth, 3));
  const auto doubt = [](const rig::UnitDragFit& fit, std::size_t part) {
    return fit.parts[part].torque.standard_error.value();
  };
  for (std::size_t p = 0; p < 3; ++p) CHECK(doubt(stripped, p) < 0.6 * doubt(alone, p));
  CHECK_THAT(all(alone.notes), Contains("One build alone"));
  CHECK_THAT(all(stripped.notes), !Contains("One build alone"));
  CHECK(stripped.correlation[0] == Approx(1.0));
}

TEST_CASE("parts of the same course are named as hardly told apart in one build alone") {
  rig::UnitDragRun run = test::unit_drag_run({}, 3, {{true, true, false}});
  for (rig::UnitDragPoint& point : run.points) point.model[test::ring] = point.model[test::seal];
  const rig::UnitDragFit fit = fit_unit_drag(run);
  CHECK(fit.correlation[test::ring] < -0.7);
  CHECK_THAT(all(fit.notes), Contains("seal and ring are hardly told apart"));
  CHECK_THAT(all(fit.notes), Contains("their sum"));
}

TEST_CASE("a common calibration error widens every part and moves none") {
  rig::UnitDragRun run = test::unit_drag_run({}, 4);
  const rig::UnitDragFit sure = fit_unit_drag(run);
  run.calibration = 0.05;
  const rig::UnitDragFit doubted = fit_unit_drag(run);
  for (std::size_t p = 0; p < 3; ++p) {
    CHECK(doubted.parts[p].torque.standard_error > sure.parts[p].torque.standard_error);
    CHECK(doubted.parts[p].torque.value.value() ==
          Approx(sure.parts[p].torque.value.value()).epsilon(0.02));
  }
}

TEST_CASE("a part whose correction leaves its band is named") {
  UnitTruth truth;
  truth.level[test::ring] = std::log(2.5);
  const rig::UnitDragFit fit = fit_unit_drag(test::unit_drag_run(truth, 5));
  CHECK(fit.parts[test::ring].leaves_band);
  CHECK_FALSE(fit.parts[test::seal].leaves_band);
  CHECK_THAT(all(fit.warnings), Contains("ring leaves the band"));
  truth.level[test::ring] = 0.0;
  truth.tilt[test::seal] = 0.4;
  const rig::UnitDragFit bent = fit_unit_drag(test::unit_drag_run(truth, 5));
  CHECK(bent.parts[test::seal].bends_otherwise);
  CHECK_THAT(all(bent.warnings), Contains("seal has another course over speed or oil"));
}

TEST_CASE("without readings worth having the prior stays") {
  rig::UnitDragRun run = test::unit_drag_run({}, 6, test::complete_alone);
  run.noise = Torque::from_value(50.0);
  const rig::UnitDragFit fit = fit_unit_drag(run);
  for (const rig::CorrectedPart& part : fit.parts) {
    CHECK_FALSE(part.factor);
    CHECK(part.torque.value.value() == Approx(part.torque_before_Nm).epsilon(1e-3));
  }
  CHECK_THAT(all(fit.notes), Contains("the run tells hardly more than the case did"));
}

TEST_CASE("a part without a spread or without a model is not corrected, and that is said") {
  rig::UnitDragRun run = test::unit_drag_run({}, 7);
  const std::size_t beliefs = run.prior.mean.size(), level = rig::beliefs_a_part * test::ring;
  run.prior.covariance[level * beliefs + level] = 0.0;
  const rig::UnitDragFit stated = fit_unit_drag(run);
  CHECK_FALSE(stated.parts[test::ring].factor);
  CHECK(stated.parts[test::ring].torque.standard_error.value() == 0.0);
  CHECK_THAT(all(stated.notes), Contains("ring: the case states its drag without a spread"));
  for (rig::UnitDragPoint& point : run.points) point.model[test::ring] = {};
  CHECK_THAT(all(fit_unit_drag(run).notes), Contains("ring: its model gives no drag"));
}

TEST_CASE("parts that share every doubt keep their ratio") {
  rig::UnitDragRun run = test::unit_drag_run({}, 8, test::complete_alone);
  const std::size_t beliefs = run.prior.mean.size();
  run.prior.covariance.assign(beliefs * beliefs, 0.0);
  for (const std::size_t a : {test::seal, test::bearings})
    for (const std::size_t b : {test::seal, test::bearings})
      run.prior.covariance[rig::beliefs_a_part * (a * beliefs + b)] = 0.09;
  const rig::UnitDragFit fit = fit_unit_drag(run);
  CHECK(fit.parts[test::seal].factor->value ==
        Approx(fit.parts[test::bearings].factor->value).epsilon(1e-9));
  CHECK(fit.correlation[test::bearings] == Approx(1.0).epsilon(1e-9));
}

TEST_CASE("single wrong readings are listed and hardly matter") {
  rig::UnitDragRun run = test::unit_drag_run({}, 9);
  const rig::UnitDragFit clean = fit_unit_drag(run);
  run.points[10].measured = 1.6 * run.points[10].measured;
  const rig::UnitDragFit fit = fit_unit_drag(run);
  CHECK(std::ranges::find(fit.outliers, 10U) != fit.outliers.end());
  CHECK_THAT(all(fit.warnings), Contains("stand apart and count less, none left out"));
  CHECK(fit.parts[test::seal].torque.value.value() ==
        Approx(clean.parts[test::seal].torque.value.value())
            .margin(clean.parts[test::seal].torque.half_width.value()));
}

TEST_CASE("noise beyond the stated one and a course that no model has are warned of") {
  rig::UnitDragRun run = test::unit_drag_run({}, 10);
  run.noise = Torque::from_value(0.0005);
  const rig::UnitDragFit scattered = fit_unit_drag(run);
  CHECK_THAT(all(scattered.warnings), Contains("as much as the stated noise"));
  CHECK(scattered.noise.value() == Approx(0.003).epsilon(0.25));

  UnitTruth quiet;
  quiet.noise_Nm = 0.0005;
  rig::UnitDragRun bent = test::unit_drag_run(quiet, 10);
  for (rig::UnitDragPoint& point : bent.points)  // churning, with the square of the speed
    point.measured += Torque::from_value(0.05 * std::pow(in_rpm(point.speed) / 10000.0, 2.0));
  CHECK_THAT(all(fit_unit_drag(bent).warnings), Contains("follows itself from one reading"));
}

TEST_CASE("a rest that is there and one that cannot be are said") {
  UnitTruth truth;
  truth.rest_Nm = 0.05;
  CHECK_THAT(all(fit_unit_drag(test::unit_drag_run(truth, 11)).notes),
             Contains("No part explains"));
  truth.rest_Nm = -0.03;
  CHECK_THAT(all(fit_unit_drag(test::unit_drag_run(truth, 11)).warnings), Contains("negative"));
}

TEST_CASE("a run at one speed says so") {
  rig::UnitDragRun run = test::unit_drag_run({}, 12);
  std::erase_if(run.points, [](const rig::UnitDragPoint& point) {
    return std::abs(in_rpm(point.speed) - 3000.0) > 1.0;
  });
  CHECK_THAT(all(fit_unit_drag(run).notes), Contains("at one speed"));
}

TEST_CASE("runs that no fit should be made of are refused in words") {
  const rig::UnitDragRun good = test::unit_drag_run({}, 13);
  rig::UnitDragRun run = good;
  SECTION("too few readings") {
    run.points.resize(5);
    CHECK_THAT(refusal(run), Contains("a fit wants 8 or more"));
  }
  SECTION("a build without readings") {
    run.builds.push_back("bare");
    run.fitted.push_back({false, false, false});
    CHECK_THAT(refusal(run), Contains("bare has no reading"));
  }
  SECTION("at rest") {
    run.points[3].speed = {};
    CHECK_THAT(refusal(run), Contains("at rest"));
  }
  SECTION("oil in another unit") {
    run.points[3].oil = from_celsius(80.0 + 273.15);
    CHECK_THAT(refusal(run), Contains("is the unit right"));
  }
  SECTION("the sign of the channel") {
    for (auto& point : run.points) point.measured = -point.measured;
    CHECK_THAT(refusal(run), Contains("turn the sign"));
    for (auto& point : run.points) point.measured = -point.measured;
    run.points[7].measured = Torque::from_value(-0.01);
    CHECK_THAT(refusal(run), Contains("in 1 of 72 readings"));
  }
  SECTION("newton millimetres") {
    for (auto& point : run.points) point.measured = 1000.0 * point.measured;
    CHECK_THAT(refusal(run), Contains("times that of the models"));
  }
  SECTION("no model at all") {
    for (auto& point : run.points)
      for (auto& torque : point.model) torque = {};
    CHECK_THAT(refusal(run), Contains("no model of a part"));
  }
  SECTION("an instrument at its end") {
    for (auto& point : run.points)
      point.measured = std::min(point.measured, Torque::from_value(0.2));
    CHECK_THAT(refusal(run), Contains("seems to stand at its end"));
  }
  SECTION("builds swapped") {
    for (auto& point : run.points) point.build = 2 - point.build;
    CHECK_THAT(refusal(run), Contains("has fewer parts"));
  }
}
