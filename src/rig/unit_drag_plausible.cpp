#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"
#include "rig/unit_drag_problem.hpp"

namespace ohmdrag::rig {

namespace {

/// Colder is no rig, hotter no oil of a drive; common practice, no source.
constexpr double coldest_degC = -60.0, hottest_degC = 220.0;
/// A drag so many times that of the models, or so small a share of it, is another quantity; the
/// models are wrong by three at most. Common practice, no source.
constexpr double another_size = 20.0;
/// An instrument stands at its end where so many readings, and this share of them, are the highest
/// one to the last digit while the models differ by this share between them.
constexpr std::size_t fewest_at_the_end = 4;
constexpr double share_at_the_end = 0.2, least_difference = 0.2;
/// Readings of two builds are compared within these; common practice, no source.
constexpr double same_speed = 0.02, same_oil_K = 3.0;
/// A build drags more than another where the mean difference is so many standard errors and this
/// share of the drag, over so many pairs of readings or more.
constexpr double surely_in_errors = 3.0, surely_share = 0.02;
constexpr double fewest_pairs = 5.0;

[[noreturn]] void refuse(const std::string& why) { throw std::invalid_argument(why); }

double modelled_Nm(const UnitDragPoint& point) {
  double sum = 0.0;
  for (const Torque& torque : point.model) sum += torque.value();
  return sum;
}

void require_drag(const UnitDragRun& run) {
  const auto negative = std::ranges::count_if(
      run.points, [](const UnitDragPoint& point) { return !(point.measured.value() > 0.0); });
  if (negative == static_cast<std::ptrdiff_t>(run.points.size()))
    refuse("every reading of the drag is zero or negative: turn the sign of the torque channel");
  if (negative > 0)
    refuse(
        fmt::format("the drag is zero or negative in {} of {} readings: does the channel change "
                    "its sign, was a tare taken off twice, or did the unit drive the rig?",
                    negative, run.points.size()));
}

void require_size(const UnitDragRun& run) {
  double measured = 0.0, modelled = 0.0;
  for (const UnitDragPoint& point : run.points) {
    measured += point.measured.value();
    modelled += modelled_Nm(point);
  }
  if (!(modelled > 0.0))
    refuse("no model of a part gives any drag at these readings, so there is nothing to correct");
  const double ratio = measured / modelled;
  if (ratio > another_size || ratio < 1.0 / another_size)
    refuse(
        fmt::format("the measured drag is {} times that of the models: are speed and torque "
                    "swapped, is the unit right, is it the torque of another shaft?",
                    print_number(ratio, 2)));
}

void require_instrument_within_its_range(const UnitDragRun& run) {
  double highest = 0.0;
  for (const UnitDragPoint& point : run.points) highest = std::max(highest, point.measured.value());
  std::size_t count = 0;
  double least = 0.0, most = 0.0;
  for (const UnitDragPoint& point : run.points) {
    if (point.measured.value() < highest) continue;
    const double model = modelled_Nm(point);
    least = count == 0 ? model : std::min(least, model);
    most = std::max(most, model);
    ++count;
  }
  if (count >= fewest_at_the_end &&
      static_cast<double>(count) >= share_at_the_end * static_cast<double>(run.points.size()) &&
      most > (1.0 + least_difference) * least)
    refuse(
        fmt::format("{} of {} readings are {} N m, the highest of all, though they were taken at "
                    "different speeds and oils: the instrument seems to stand at its end. Leave "
                    "these readings out",
                    count, run.points.size(), print_number(highest, 4)));
}

bool alike(const UnitDragPoint& a, const UnitDragPoint& b) {
  return std::abs(a.speed.value() / b.speed.value() - 1.0) <= same_speed &&
         std::abs((a.oil - b.oil).value()) <= same_oil_K;
}

/// Every part of `less` is in `more`, which has others besides.
bool stripped_from(const std::vector<bool>& less, const std::vector<bool>& more) {
  bool fewer = false;
  for (std::size_t p = 0; p < less.size(); ++p) {
    if (less[p] && !more[p]) return false;
    fewer = fewer || (more[p] && !less[p]);
  }
  return fewer;
}

/// A unit without a part does not drag more than with it, at every speed and oil.
void require_sense_of_the_strip_down(const UnitDragRun& run) {
  for (std::size_t less = 0; less < run.builds.size(); ++less)
    for (std::size_t more = 0; more < run.builds.size(); ++more) {
      if (!stripped_from(run.fitted[less], run.fitted[more])) continue;
      double pairs = 0.0, sum = 0.0, squares = 0.0, drag = 0.0;
      for (const UnitDragPoint& a : run.points)
        for (const UnitDragPoint& b : run.points) {
          if (a.build != less || b.build != more || !alike(a, b)) continue;
          const double more_than = (a.measured - b.measured).value();
          pairs += 1.0;
          sum += more_than;
          squares += more_than * more_than;
          drag += b.measured.value();
        }
      if (pairs < fewest_pairs) continue;
      const double error = std::sqrt(std::max(0.0, squares - sum * sum / pairs));
      if (sum > surely_in_errors * error && sum > surely_share * drag)
        refuse(fmt::format(
            "the build {} drags more than {} at the same speeds and oils, though it has "
            "fewer parts: are the two swapped, or was something else changed?",
            run.builds[less], run.builds[more]));
    }
}

}  // namespace

void require_reading(AngularVelocity speed, Temperature oil) {
  if (!(speed.value() > 0.0 && std::isfinite(speed.value())))
    refuse(
        fmt::format("a reading has the speed {} 1/min: a shaft at rest tells no running drag, and "
                    "both directions are given as positive speeds. Are columns swapped?",
                    print_number(in_rpm(speed), 4)));
  if (!(in_celsius(oil) >= coldest_degC && in_celsius(oil) <= hottest_degC))
    refuse(
        fmt::format("the oil has {:.1f} degC in one reading; expected {} to {} degC: is the unit "
                    "right, is it another column?",
                    in_celsius(oil), coldest_degC, hottest_degC));
}

void require_plausible(const UnitDragRun& run) {
  if (run.points.size() < fewest_drag_readings)
    refuse(fmt::format("there are {} readings of the drag; a fit wants {} or more",
                       run.points.size(), fewest_drag_readings));
  for (std::size_t b = 0; b < run.builds.size(); ++b)
    if (std::ranges::find(run.points, b, &UnitDragPoint::build) == run.points.end())
      refuse(fmt::format("the build {} has no reading: is it called otherwise in the log?",
                         run.builds[b]));
  for (const UnitDragPoint& point : run.points) require_reading(point.speed, point.oil);
  require_drag(run);
  require_size(run);
  require_instrument_within_its_range(run);
  require_sense_of_the_strip_down(run);
}

}  // namespace ohmdrag::rig
