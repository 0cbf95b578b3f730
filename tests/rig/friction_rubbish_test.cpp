#include <catch2/catch.hpp>

#include "rig/friction_log.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using test::all;
using test::FrictionTruth;

namespace {

std::string refusal(const rig::FrictionRun& run) {
  try {
    rig::fit_friction(run);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "not refused";
}

}  // namespace

TEST_CASE("runs of friction that no fit should be made of are refused in words") {
  rig::FrictionRun run = test::friction_run({}, 1);
  SECTION("few readings") {
    run.points.resize(4);
    CHECK_THAT(refusal(run), Contains("4 settled readings; 6 or more make a fit"));
  }
  SECTION("speed and torque swapped") {
    for (rig::FrictionPoint& point : run.points) {
      const double rpm = in_rpm(point.speed);
      point.speed = from_rpm(1000.0 * point.torque.value());
      point.torque = Torque::from_value(1e-3 * rpm);
    }
    CHECK_THAT(refusal(run), Contains("the columns swapped"));
  }
  SECTION("newton millimetres read as newton metres") {
    for (rig::FrictionPoint& point : run.points) point.torque *= 1000.0;
    CHECK_THAT(refusal(run), Contains("are the units right"));
  }
  SECTION("the sign turned round") {
    for (rig::FrictionPoint& point : run.points) point.torque *= -1.0;
    CHECK_THAT(refusal(run), Contains("is its sign turned round"));
  }
  SECTION("a tare larger than the torque") {
    run.tare = rig::StatedTare{Torque::from_value(1.0), Torque{}};
    CHECK_THAT(refusal(run), Contains("is the tare that of another rig"));
  }
  SECTION("a transducer at its end") {
    const Torque end = run.points[2].torque;
    for (std::size_t i = 0; i < run.points.size(); ++i)
      run.points[i].torque =
          std::min(run.points[i].torque * (1.0 + 0.1 * static_cast<double>(i)), end * 1.2);
    CHECK_THAT(refusal(run), Contains("stand at its end"));
  }
  SECTION("time that runs back") {
    run.points[5].time = Time::from_value(1.0);
    CHECK_THAT(refusal(run), Contains("time runs back"));
  }
  SECTION("one speed for a law over speed") {
    run = test::ptfe_run(test::ptfe_truth(), 1);
    for (rig::FrictionPoint& point : run.points) point.speed = from_rpm(500.0);
    CHECK_THAT(refusal(run), Contains("the run holds 1 speeds; a law over speed needs 3"));
  }
  SECTION("one speed for a constant coefficient is warned of") {
    for (rig::FrictionPoint& point : run.points) point.speed = from_rpm(500.0);
    CHECK_THAT(all(rig::fit_friction(run).warnings), Contains("The run holds one speed"));
  }
  SECTION("a film without oil, width or temperature") {
    run.law = "mixed-film";
    CHECK_THAT(refusal(run), Contains("names a mixed film, but it runs dry"));
    run = test::oiled_run(test::oiled_truth(), 1);
    run.points[3].temperature.reset();
    CHECK_THAT(refusal(run), Contains("no temperature was logged"));
    run.contact_width.reset();
    CHECK_THAT(refusal(run), Contains("no contact_width is stated"));
  }
  SECTION("kelvin read as Celsius") {
    run = test::oiled_run(test::oiled_truth(), 1);
    for (rig::FrictionPoint& point : run.points)
      point.temperature = from_celsius(point.temperature->value());
    CHECK_THAT(refusal(run), Contains("is the unit right"));
  }
}

TEST_CASE("logged power is held against torque times speed") {
  const std::vector<AngularVelocity> speed(5, from_rpm(3000.0));
  const std::vector<Torque> torque(5, Torque::from_value(0.1));
  const auto power = [&](double factor) {
    return std::vector<Power>(5, Power::from_value(factor * 0.1 * from_rpm(3000.0).value()));
  };
  CHECK(rig::power_against_torque(speed, torque, power(1.01)).empty());
  CHECK_THAT(rig::power_against_torque(speed, torque, power(1.1)), Contains("disagree"));
  CHECK_THROWS_WITH(rig::power_against_torque(speed, torque, power(9.55)),
                    Contains("is a unit wrong"));
}
