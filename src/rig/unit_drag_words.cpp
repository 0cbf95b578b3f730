#include "rig/unit_drag_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::rig {

namespace {

/// Levels that trade against each other more closely are named; common practice, no source.
constexpr double close_correlation = 0.7;
/// Speeds that lie closer together are one speed.
constexpr double one_speed = 0.02;
/// What follows itself by more standard errors of the autocorrelation, 1/sqrt(n), is a course that
/// no model has.
constexpr double surely_a_course = 3.0;

std::string two_digits(double value) { return print_number(value, 3); }

std::string band(const CorrectedPart::Factor& factor) {
  return fmt::format("{} … {}", two_digits(factor.low), two_digits(factor.high));
}

void say_what_is_not_told(const UnitDragRun& run, UnitDragFit& fit) {
  for (std::size_t p = 0; p < fit.parts.size(); ++p) {
    const CorrectedPart& part = fit.parts[p];
    const bool modelled = std::ranges::any_of(run.points, [&](const UnitDragPoint& point) {
      return run.fitted[point.build][p] && point.model[p].value() > 0.0;
    });
    if (!modelled)
      fit.notes.push_back(fmt::format(
          "{}: its model gives no drag at these readings, or it is in no build that was "
          "measured. What it takes is in the rest.",
          part.name));
    else if (!(part.before.relative_error > 0.0))
      fit.notes.push_back(fmt::format(
          "{}: the case states its drag without a spread, so the run does not correct it. Write a "
          "spread if it is in doubt.",
          part.name));
    else if (!part.factor)
      fit.notes.push_back(fmt::format(
          "{}: the run tells hardly more than the case did, {} times the model. Measure "
          "the unit with and without it, at the same speeds and oil temperatures.",
          part.name, band(part.before)));
  }
}

void say_what_trades(const UnitDragRun& run, UnitDragFit& fit) {
  if (run.builds.size() == 1)
    fit.notes.emplace_back(
        "One build alone: how its drag is shared out to the parts rests on what the case says of "
        "them. Take parts out one after another and measure each build.");
  const std::size_t parts = fit.parts.size();
  for (std::size_t p = 0; p < parts; ++p)
    for (std::size_t q = p + 1; q < parts; ++q)
      if (const double r = fit.correlation[p * parts + q]; std::abs(r) > close_correlation)
        fit.notes.push_back(fmt::format(
            "{} and {} are hardly told apart (correlation {}): {} is known better than either. "
            "Measure a build without one of them.",
            fit.parts[p].name, fit.parts[q].name, print_number(r, 3),
            r < 0.0 ? "their sum" : "their ratio"));
}

std::string ends_of(const Estimate<double>& bend, double scale) {
  return fmt::format("{} … {}", print_number(scale * (bend.value - bend.half_width), 2),
                     print_number(scale * (bend.value + bend.half_width), 2));
}

void say_who_leaves(UnitDragFit& fit) {
  for (const CorrectedPart& part : fit.parts) {
    if (part.leaves_band && part.factor)
      fit.warnings.push_back(fmt::format(
          "{} leaves the band that the case gave it: {} ({}) times its model against {}. Its "
          "inputs "
          "are wrong (force, oil, loads), the part is not what the case says, or something that "
          "the case does not name rubs beside it.",
          part.name, two_digits(part.factor->value), band(*part.factor), band(part.before)));
    if (part.bends_otherwise)
      fit.warnings.push_back(fmt::format(
          "{} has another course over speed or oil than the case allows: on top of its model the "
          "speed to the power {} ({} before) and {} % a kelvin of the oil ({} before). Something "
          "of "
          "another course is counted with it, or its model does not hold here.",
          part.name, ends_of(part.tilt, 1.0), ends_of(part.tilt_before, 1.0),
          ends_of(part.warmth, 100.0), ends_of(part.warmth_before, 100.0)));
  }
}

void say_what_is_left(const UnitDragRun& run, UnitDragFit& fit) {
  const Torque rest = fit.rest.value, half = fit.rest.half_width;
  if (rest > half)
    fit.notes.push_back(fmt::format(
        "No part explains {} N m, in every build alike: churning and windage, a tare that was not "
        "taken off, or a part that the case does not name.",
        two_digits(rest.value())));
  if (-rest > half)
    fit.warnings.push_back(fmt::format(
        "The rest that no part explains is negative, {} N m: a tare taken off twice, a zero of the "
        "torque channel, or models that all rise too little with the speed.",
        two_digits(rest.value())));
  if (fit.lag_one * std::sqrt(static_cast<double>(run.points.size())) > surely_a_course)
    fit.warnings.push_back(fmt::format(
        "What is left over follows itself from one reading to the next (autocorrelation "
        "{}): some part has another course over speed or oil than its model. The "
        "intervals were widened for it and may still be too narrow.",
        print_number(fit.lag_one, 2)));
  if (!fit.outliers.empty()) {
    std::vector<std::string> at;
    for (const std::size_t i : fit.outliers)
      at.push_back(fmt::format("{} at {:.0f} 1/min and {:.0f} degC",
                               run.builds[run.points[i].build], in_rpm(run.points[i].speed),
                               in_celsius(run.points[i].oil)));
    fit.warnings.push_back(fmt::format(
        "Readings that stand apart and count less, none left out: {}.", fmt::join(at, "; ")));
  }
}

}  // namespace

std::string beyond_stated_noise(double squares) {
  return fmt::format(
      "The readings scatter {} times as much as the stated noise: their own scatter is used. "
      "Either "
      "the noise was stated too small, or no correction makes the models meet the readings.",
      print_number(std::sqrt(squares), 2));
}

void say_what_it_means(const UnitDragRun& run, UnitDragFit& fit) {
  const auto [slow, fast] = std::ranges::minmax_element(
      run.points, {}, [](const UnitDragPoint& point) { return point.speed.value(); });
  if (fast->speed.value() <= (1.0 + one_speed) * slow->speed.value())
    fit.notes.emplace_back(
        "All readings were taken at one speed: the factors hold there alone, and only builds with "
        "and without a part tell it from the others.");
  say_what_trades(run, fit);
  say_what_is_not_told(run, fit);
  say_what_is_left(run, fit);
  say_who_leaves(fit);
}

}  // namespace ohmdrag::rig
