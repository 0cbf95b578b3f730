// Runs that no fit should be made of, and runs whose figures are doubtful: said in words.

#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>

#include "rig/endurance_log.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using test::endurance_run;

namespace {

std::string refusal(const rig::EnduranceRun& run) {
  try {
    rig::fit_endurance(run);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "not refused";
}

std::string warnings(const rig::EnduranceRun& run) {
  std::string text;
  for (const std::string& warning : rig::fit_endurance(run).warnings) text += warning + '\n';
  return text;
}

void scale_from(rig::EnduranceSpecimen& specimen, std::size_t from, double factor) {
  for (std::size_t j = from; j < specimen.impedance.size(); ++j) specimen.impedance[j] *= factor;
}

}  // namespace

TEST_CASE("endurance runs that no fit should be made of are refused in words") {
  rig::EnduranceRun run = endurance_run({}, 1);
  rig::EnduranceSpecimen& part = run.specimens[1];
  SECTION("no specimen") {
    run.specimens.clear();
    CHECK_THAT(refusal(run), Contains("no specimen"));
  }
  SECTION("few readings") {
    part.time.resize(3);
    part.impedance.resize(3);
    CHECK_THAT(refusal(run), Contains("specimen B has 3 readings"));
  }
  SECTION("one hour") {
    std::fill(part.time.begin(), part.time.end(), part.time.back());
    CHECK_THAT(refusal(run), Contains("stand at 1 different hours"));
  }
  SECTION("time backwards") {
    std::swap(part.time[4], part.time[9]);
    CHECK_THAT(refusal(run), Contains("time runs back"));
  }
  SECTION("hours and impedance swapped") {
    for (std::size_t j = 0; j < part.time.size(); ++j) {
      const double hours = part.time[j].value() / 3600.0;
      part.time[j] = Time::from_value(3600.0 * part.impedance[j].value());
      part.impedance[j] = Resistance::from_value(hours + 1.0);
    }
    CHECK_THAT(refusal(run), Contains("Are hours and impedance swapped"));
  }
  SECTION("negative hours") {
    part.time.front() = Time::from_value(-10.0);
    CHECK_THAT(refusal(run), Contains("no hours of a run"));
  }
  SECTION("a wrong sign") {
    for (Resistance& z : part.impedance) z = -z;
    CHECK_THAT(refusal(run), Contains("Is the sign wrong"));
  }
  SECTION("an open contact") {
    part.impedance[7] = Resistance::from_value(1e12);
    CHECK_THAT(refusal(run), Contains("open contact or a loose lead"));
  }
  SECTION("an instrument at its end") {
    for (rig::EnduranceSpecimen& specimen : run.specimens)
      for (Resistance& z : specimen.impedance) z = std::min(z, Resistance::from_value(40.0));
    CHECK_THAT(refusal(run), Contains("the instrument is at the end of its range"));
  }
  SECTION("one log under two names") {
    part.impedance = run.specimens[0].impedance;
    CHECK_THAT(refusal(run), Contains("one log under two names"));
  }
  SECTION("columns of different length") {
    part.impedance.pop_back();
    CHECK_THAT(refusal(run), Contains("differ in number"));
  }
  SECTION("a limit, hours or a confidence that are none") {
    run.limit = Resistance{};
    CHECK_THAT(refusal(run), Contains("the limit must be positive"));
    run.limit = {};
    run.service = Time{};
    CHECK_THAT(refusal(run), Contains("service hours must be positive"));
    run.service = {};
    run.confidence = 90.0;
    CHECK_THAT(refusal(run), Contains("between 0 and 1"));
  }
  SECTION("too few readings to choose a law") {
    for (rig::EnduranceSpecimen& specimen : run.specimens) {
      specimen.time.resize(4);
      specimen.impedance.resize(4);
    }
    run.specimens.resize(1);
    CHECK_THAT(refusal(run), Contains("too few to choose a law"));
    run.law = rig::GrowthLaw::none;
    CHECK(rig::fit_endurance(run).law == rig::GrowthLaw::none);
  }
  SECTION("a law that does not saturate") {
    for (rig::EnduranceSpecimen& specimen : run.specimens)
      for (std::size_t j = 0; j < specimen.time.size(); ++j)
        specimen.impedance[j] =
            Resistance::from_value(20.0 * std::exp(specimen.time[j].value() / 1e6));
    for (std::size_t i = 0; i < run.specimens.size(); ++i)
      scale_from(run.specimens[i], 0, 1.0 + 0.1 * static_cast<double>(i));
    run.law = rig::GrowthLaw::saturating;
    CHECK_THAT(refusal(run), Contains("nothing saturates"));
  }
}

TEST_CASE("rounded readings are no instrument at its end") {
  rig::EnduranceRun run = endurance_run({.law = rig::GrowthLaw::none, .noise = 0.002}, 2);
  for (rig::EnduranceSpecimen& specimen : run.specimens)
    for (Resistance& z : specimen.impedance) z = Resistance::from_value(std::round(z.value()));
  CHECK(refusal(run) == "not refused");
}

TEST_CASE("an instrument that drifts steps all specimens at the same hour") {
  rig::EnduranceRun run = endurance_run({}, 3);
  CHECK(warnings(run).find("together") == std::string::npos);
  for (rig::EnduranceSpecimen& specimen : run.specimens) scale_from(specimen, 15, 1.6);
  CHECK_THAT(warnings(run), Contains("6 of 6 specimens step"));
  CHECK_THAT(warnings(run), Contains("that is the instrument"));
}

TEST_CASE("a specimen that was re-seated is named with its hour") {
  rig::EnduranceRun run = endurance_run({}, 4);
  scale_from(run.specimens[3], 18, 0.5);
  CHECK_THAT(warnings(run), Contains("Specimen D steps between"));
  CHECK_THAT(warnings(run), Contains("down by a factor of"));
}

TEST_CASE("a specimen that ends early is said") {
  rig::EnduranceRun run = endurance_run({}, 5);
  run.specimens[0].time.resize(15);
  run.specimens[0].impedance.resize(15);
  CHECK_THAT(warnings(run), Contains("Specimen A ends at"));
}
