#include "ohmdrag/rig/endurance_fit.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>

#include "ohmdrag/contact/resistance_growth.hpp"
#include "rig/endurance_growth.hpp"
#include "rig/endurance_log.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using rig::GrowthLaw;
using test::endurance_run;
using test::EnduranceTruth;

namespace {

Time hours(double value) { return Time::from_value(3600.0 * value); }
Resistance ohms(double value) { return Resistance::from_value(value); }

EnduranceTruth of_law(GrowthLaw law) {
  EnduranceTruth truth{.law = law};
  if (law == GrowthLaw::saturating) {
    truth.strength = 0.5;
    truth.time_h = 200.0;
  }
  return truth;
}

std::string all(const std::vector<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += word + '\n';
  return text;
}

}  // namespace

TEST_CASE("growth and its slopes belong together") {
  const auto law =
      GENERATE(GrowthLaw::none, GrowthLaw::power, GrowthLaw::logarithmic, GrowthLaw::saturating);
  const auto [g, t] = GENERATE(table<double, double>({{0.7, 300.0}, {-0.4, 20.0}, {1e-9, 900.0}}));
  constexpr double end = 1000.0, log_time = 4.0, h = 1e-6;
  CAPTURE(rig::word_of(law), g, t);
  const auto at = [&](double growth, double theta) {
    return rig::growth(law, growth, t, end, theta).value;
  };
  const rig::Growth here = rig::growth(law, g, t, end, log_time);
  CHECK(here.over_growth ==
        Approx((at(g + h, log_time) - at(g - h, log_time)) / (2 * h)).epsilon(1e-7).margin(1e-9));
  CHECK(here.over_log_time ==
        Approx((at(g, log_time + h) - at(g, log_time - h)) / (2 * h)).epsilon(1e-6).margin(1e-9));
  CHECK(rig::growth(law, g, end, end, log_time).value == Approx(law == GrowthLaw::none ? 0.0 : g));
  CHECK(rig::growth(law, g, 0.0, end, log_time).value == Approx(0.0).margin(1e-15));
}

TEST_CASE("the laws are those of the contact room where it has them") {
  constexpr double end = 1000.0, tau = 150.0, t = 420.0;
  const double lost = 0.6;
  const double g = -std::log(1.0 - lost * -std::expm1(-end / tau));
  CHECK(rig::lost_at_last(g, end, std::log(tau)) == Approx(lost));
  CHECK(std::exp(-rig::growth(GrowthLaw::saturating, g, t, end, std::log(tau)).value) ==
        Approx(1.0 - contact::lost_share({lost, Time::from_value(tau)}, Time::from_value(t))));
  // A film that grows through itself and is all of the resistance: s^2 = s_0^2 + k t, tau =
  // s_0^2/k.
  const contact::GrowingFilm film{Length::from_value(1e-9),
                                  contact::FilmGrowthRate::from_value(1e-18 / tau),
                                  TemperatureDifference{},
                                  {},
                                  1.0};
  const double half = 0.5 * std::log1p(end / tau);
  CHECK(std::exp(rig::growth(GrowthLaw::power, half, t, end, std::log(tau)).value) ==
        Approx(contact::film_thickness(film, from_celsius(60.0), Time::from_value(t)).value() /
               1e-9));
}

TEST_CASE("a run without noise gives its law and its parameters back") {
  const auto law = GENERATE(GrowthLaw::power, GrowthLaw::logarithmic, GrowthLaw::saturating);
  EnduranceTruth truth = of_law(law);
  truth.noise = 0.0;
  truth.level_scatter = truth.strength_scatter = 0.0;
  rig::EnduranceRun run = endurance_run(truth, 1);
  for (std::size_t i = 0; i < run.specimens.size(); ++i)  // alike but for a known factor
    for (Resistance& z : run.specimens[i].impedance) z *= 1.0 + 0.1 * static_cast<double>(i);
  run.service = hours(2000.0);
  const auto fit = rig::fit_endurance(run);
  CAPTURE(rig::word_of(fit.law));
  REQUIRE(fit.law == law);
  double mean = 0.0;
  for (int i = 0; i < 6; ++i) mean += std::log(1.0 + 0.1 * i) / 6.0;
  const double middle = std::exp(mean);
  CHECK(fit.at_begin.mid == Approx(20.0 * middle).epsilon(1e-8));
  CHECK(fit.at_service->mid == Approx(middle * test::middle_of(truth, 2000.0)).epsilon(1e-8));
  REQUIRE(fit.time_constant_s);
  CHECK(fit.time_constant_s->mid == Approx(3600.0 * truth.time_h).epsilon(1e-8));
  if (law == GrowthLaw::power) CHECK(fit.exponent->mid == Approx(0.3).epsilon(1e-8));
  CHECK(fit.noise < 1e-9);
}

TEST_CASE("specimens that do not grow get no growth") {
  const auto fit = rig::fit_endurance(endurance_run({.law = GrowthLaw::none}, 3));
  CHECK(fit.law == GrowthLaw::none);
  CHECK(fit.growth.mid == 1.0);
  CHECK(fit.growth.low < 1.0);
  CHECK(fit.growth.low > 0.9);
  CHECK(fit.growth.high < 1.1);
  CHECK_THAT(all(fit.notes), Contains("No growth is told from none"));
  CHECK_FALSE(fit.scatter_of_growth);
  CHECK_FALSE(fit.time_constant_s);
}

TEST_CASE("scatter from part to part is told apart from the noise of readings") {
  const auto noisy = rig::fit_endurance(
      endurance_run({.level_scatter = 0.0, .strength_scatter = 0.0, .noise = 0.2}, 4));
  CHECK(noisy.scatter_at_begin->low == 0.0);
  CHECK(noisy.noise == Approx(0.2).epsilon(0.15));
  CHECK_THAT(all(noisy.notes), Contains("not told apart from the noise"));
  const auto scattered =
      rig::fit_endurance(endurance_run({.specimens = 12, .level_scatter = 0.4, .noise = 0.01}, 4));
  CHECK(scattered.scatter_at_begin->mid == Approx(0.4).epsilon(0.4));
  CHECK(scattered.scatter_at_begin->low > 0.2);
  CHECK(scattered.noise == Approx(0.01).epsilon(0.15));
}

TEST_CASE("few specimens give wide intervals") {
  const auto width = [](int specimens) {
    const auto fit = rig::fit_endurance(endurance_run({.specimens = specimens}, 5));
    return std::log(fit.at_begin.high / fit.at_begin.low);
  };
  CHECK(width(2) > 5.0 * width(12));
}

TEST_CASE("one specimen says nothing of others") {
  rig::EnduranceRun run = endurance_run({.specimens = 1}, 6);
  run.limit = ohms(60.0);
  run.service = hours(900.0);
  const auto fit = rig::fit_endurance(run);
  CHECK_FALSE(fit.scatter_at_begin);
  CHECK_FALSE(fit.share);
  CHECK_FALSE(fit.new_part_at_service);
  CHECK(fit.at_service);
  CHECK(std::isinf(fit.curve.front().new_part.high));
  CHECK(std::isinf(fit.crossing->new_part_s.high));
  CHECK_THAT(all(fit.notes), Contains("One specimen: how parts differ is not told"));
}

TEST_CASE("single wrong readings are counted and hardly matter") {
  rig::EnduranceRun run = endurance_run({}, 7);
  run.law = GrowthLaw::power;
  const auto clean = rig::fit_endurance(run);
  run.specimens[2].impedance[10] *= 3.0;
  run.specimens[4].impedance[20] /= 4.0;
  const auto fit = rig::fit_endurance(run);
  CHECK(fit.specimens[2].outliers == clean.specimens[2].outliers + 1);
  CHECK(fit.specimens[4].outliers == clean.specimens[4].outliers + 1);
  CHECK(fit.at_end.mid == Approx(clean.at_end.mid).epsilon(0.02));
  CHECK(fit.noise < 1.5 * clean.noise);
}

TEST_CASE("laws that a short run cannot tell apart are named with what they say later") {
  rig::EnduranceRun run = endurance_run({.noise = 0.05, .hours = 40.0, .readings = 12}, 8);
  run.service = hours(110.0);
  const auto fit = rig::fit_endurance(run);
  REQUIRE(fit.laws.size() == 4);
  CHECK(*fit.laws[1].criterion < rig::told_apart);
  CHECK_THAT(all(fit.warnings), Contains("cannot tell these laws of growth apart"));
  CHECK_THAT(all(fit.warnings), Contains("At 110 h they say"));
  CHECK_THAT(all(fit.warnings), Contains("beyond the run"));
  double weights = 0.0;
  for (const auto& law : fit.laws) weights += law.weight;
  CHECK(weights == Approx(1.0).margin(3e-4));
}

TEST_CASE("a limit that is not crossed is censored, and nothing is carried on too far") {
  rig::EnduranceRun run = endurance_run({}, 9);
  run.limit = ohms(2000.0);
  run.service = hours(3500.0);
  const auto fit = rig::fit_endurance(run);
  CHECK(std::isinf(fit.crossing->middle_s.mid));
  CHECK(fit.crossing->looked_until.value() == Approx(3.0 * 3.6e6));
  CHECK_THAT(all(fit.notes), Contains("does not cross 2000 ohm within 3000 h"));
  CHECK_FALSE(fit.at_service);
  CHECK_FALSE(fit.share);
  CHECK_THAT(all(fit.notes), Contains("Nothing is said at 3500 h"));
  run.limit = ohms(1.0);
  CHECK_THAT(all(rig::fit_endurance(run).warnings), Contains("from the first hour on"));
}

TEST_CASE("the crossing is where the curve meets the limit") {
  EnduranceTruth truth;
  truth.noise = 0.001;
  truth.level_scatter = truth.strength_scatter = 0.0;
  rig::EnduranceRun run = endurance_run(truth, 10);
  run.limit = ohms(test::middle_of(truth, 600.0));
  const auto fit = rig::fit_endurance(run);
  CHECK(fit.crossing->middle_s.mid == Approx(600.0 * 3600.0).epsilon(0.01));
  CHECK(fit.crossing->middle_s.low < fit.crossing->middle_s.mid);
  CHECK(fit.crossing->new_part_s.low <= fit.crossing->middle_s.low);
  CHECK(fit.crossing->new_part_s.high >= fit.crossing->middle_s.high);
}

TEST_CASE("the share below a limit is bounded by the law and by counting") {
  rig::EnduranceRun run = endurance_run({.specimens = 10, .noise = 0.005}, 11);
  run.limit = ohms(2.5 * test::middle_of({}, 900.0));
  run.service = hours(900.0);
  const auto fit = rig::fit_endurance(run);
  REQUIRE(fit.share);
  CHECK(fit.share->held == 10);
  CHECK(fit.share->counted_at_least == Approx(std::pow(0.1, 0.1)));
  CHECK(fit.share->estimated > fit.share->at_least);
  CHECK(fit.share->at_least > 0.8);
  run.specimens[3].time.resize(20);
  run.specimens[3].impedance.resize(20);
  CHECK_FALSE(rig::fit_endurance(run).share->held);
}

TEST_CASE("a dense log is fitted in groups of neighbours") {
  rig::EnduranceRun run = endurance_run({.specimens = 3, .readings = 20000}, 14);
  const auto fit = rig::fit_endurance(run);
  CHECK(fit.readings == 900);
  CHECK(fit.law == GrowthLaw::power);
  CHECK_THAT(all(fit.notes), Contains("20000 readings, taken as the medians of 300 groups"));
  double middle = 0.0;
  for (const rig::EnduranceSpecimen& specimen : run.specimens)
    middle += std::log(specimen.impedance.back().value()) / 3.0;
  CHECK(std::log(fit.at_end.mid) == Approx(middle).margin(0.05));
}

TEST_CASE("torque that relaxes is told per decade") {
  rig::EnduranceRun run = endurance_run({}, 12);
  for (rig::EnduranceSpecimen& specimen : run.specimens)
    for (const Time& time : specimen.time)
      specimen.torque.push_back(Torque::from_value(
          0.1 * (1.0 - 0.07 * std::log10(std::max(1.0, (time / specimen.time[1]).value())))));
  const auto fit = rig::fit_endurance(run);
  REQUIRE(fit.torque_fall_per_decade);
  CHECK(fit.torque_fall_per_decade->mid == Approx(0.07).epsilon(1e-6));
  for (rig::EnduranceSpecimen& specimen : run.specimens)
    for (Time& time : specimen.time) time += hours(500.0);
  const auto late = rig::fit_endurance(run);
  CHECK_FALSE(late.torque_fall_per_decade);
  CHECK_THAT(all(late.notes), Contains("not measured over a decade"));
}

TEST_CASE("readings that follow each other count as fewer") {
  const auto fit = rig::fit_endurance(endurance_run({.following = 0.8}, 13));
  CHECK(fit.lag_one > 0.5);
  CHECK(fit.effective_readings < 0.35 * static_cast<double>(fit.readings));
  CHECK_THAT(all(fit.warnings), Contains("Readings follow each other"));
}
