#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/rig/sweep_fit.hpp"

namespace ohmdrag::rig {

namespace {

constexpr double degree = std::numbers::pi / 180.0;
/// Instruments write their "over range" as a huge number; common practice, no source.
constexpr double largest_ohm = 1e11;
/// The impedance of a contact that changes by half between two passes is none.
constexpr double largest_change = 1.5;
/// A slope is taken over this factor of the frequency, or more.
constexpr double slope_over = 1.6;
/// Steeper is no circuit of one inductance and one capacitance but for its resonance.
constexpr double steepest = 3.0;
/// An instrument at its end repeats a value so often, and over this share of the sweep, though it
/// resolves finer steps elsewhere.
constexpr std::size_t shortest_stand = 6;
constexpr double shortest_stand_share = 0.1, fine_step = 1e-4;

[[noreturn]] void refuse(const std::string& why) { throw std::invalid_argument(why); }

std::string hertz(Frequency frequency) {
  return print_quantity(frequency.value(), Dimension::frequency, 3);
}

std::size_t share_of(const Sweep& sweep, double share) {
  return static_cast<std::size_t>(share * static_cast<double>(sweep.size()));
}

void require_a_band(const Sweep& points) {
  std::size_t distinct = 1;
  for (std::size_t i = 1; i < points.size(); ++i)
    distinct += points[i].frequency > points[i - 1].frequency ? 1 : 0;
  const Frequency first = points.front().frequency, last = points.back().frequency;
  if (first == last)
    refuse(
        fmt::format("all points were taken at {}: one frequency tells no element from another. "
                    "Sweep over decades",
                    hertz(first)));
  if (last < first * least_band)
    refuse(
        fmt::format("the sweep goes from {} to {} only; a fit wants a factor of {} or more. Are "
                    "the columns swapped?",
                    hertz(first), hertz(last), least_band));
  if (distinct < fewest_sweep_points)
    refuse(fmt::format("the sweep has {} frequencies; a fit wants {} or more", distinct,
                       fewest_sweep_points));
}

void require_an_order(const Sweep& sweep) {
  std::size_t turns = 0;
  for (std::size_t i = 2; i < sweep.size(); ++i) {
    const bool up = sweep[i].frequency > sweep[i - 1].frequency;
    const bool was_up = sweep[i - 1].frequency > sweep[i - 2].frequency;
    turns += up != was_up ? 1 : 0;
  }
  constexpr double most_turns = 0.25;
  constexpr std::size_t some = 4;
  if (turns > std::max(some, share_of(sweep, most_turns)))
    refuse(fmt::format(
        "the frequency turns {} times in {} points: no instrument sweeps so. Is it another column?",
        turns, sweep.size()));
}

void require_within_range(const Sweep& points) {
  const auto size = [](const SweepPoint& point) { return std::abs(point.ohm); };
  double step = 1.0, most = 0.0, least = largest_ohm;
  for (std::size_t i = 0; i < points.size(); ++i) {
    most = std::max(most, size(points[i]));
    least = std::min(least, size(points[i]));
    if (i == 0 || size(points[i]) == size(points[i - 1])) continue;
    step = std::min(step, std::abs(size(points[i]) / size(points[i - 1]) - 1.0));
  }
  if (!(most < largest_ohm))
    refuse(fmt::format(
        "the instrument wrote {:.3g} ohm: so it says \"over range\". The circuit is open, or the "
        "range too small",
        most));
  const std::size_t longest = std::max(shortest_stand, share_of(points, shortest_stand_share));
  if (step > fine_step || most < least * (1.0 + fine_step)) return;
  // Rounding of polar to right-angled numbers and back.
  const auto same = [](double a, double b) { return std::abs(a / b - 1.0) < 1e-13; };
  std::size_t stood = 0;
  for (const SweepPoint& point : points) {
    const bool at_end = same(size(point), most) || same(size(point), least);
    stood = at_end ? stood + 1 : 0;
    if (stood >= longest)
      refuse(
          fmt::format("the magnitude reads {} ohm, its end, again and again up to {}, though it is "
                      "resolved finer elsewhere: the instrument stands at the end of its range",
                      print_number(size(point), 4), hertz(point.frequency)));
  }
}

/// Slope of the magnitude over frequency in logarithms, and the phase in its middle.
struct Course {
  double slope, phase_rad;
};
std::vector<Course> course_of(const Sweep& points) {
  std::vector<Course> out;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const auto end = std::find_if(
        points.begin() + static_cast<std::ptrdiff_t>(i), points.end(),
        [&](const SweepPoint& p) { return p.frequency >= points[i].frequency * slope_over; });
    if (end == points.end()) break;
    const std::size_t last = static_cast<std::size_t>(end - points.begin());
    std::complex<double> direction = 0.0;
    for (std::size_t k = i; k <= last; ++k) direction += points[k].ohm / std::abs(points[k].ohm);
    out.push_back({std::log(std::abs(end->ohm / points[i].ohm)) /
                       std::log((end->frequency / points[i].frequency).value()),
                   std::arg(direction)});
  }
  return out;
}

/// A rising magnitude goes with a phase ahead, 90 degrees a decade a decade: of any passive circuit
/// of this size in the mean over frequency (H. W. Bode, Network Analysis and Feedback Amplifier
/// Design, 1945, from memory).
void require_phase_that_fits(const Sweep& points) {
  constexpr double clear_slope = 0.3, flat = 0.15;
  double along = 0.0, squares = 0.0;
  std::size_t steep = 0, sideways = 0;
  const std::vector<Course> courses = course_of(points);
  for (const Course& here : courses) {
    steep += std::abs(here.slope) > steepest ? 1 : 0;
    sideways += std::abs(here.slope) < flat && std::abs(here.phase_rad) > 60.0 * degree ? 1 : 0;
    if (std::abs(here.slope) < clear_slope) continue;
    along += here.slope * here.phase_rad / (90.0 * degree);
    squares += here.slope * here.slope;
  }
  if (2 * steep > courses.size())
    refuse(
        "the magnitude changes faster over frequency than any contact: are the columns of "
        "frequency and magnitude swapped?");
  if (2 * sideways > courses.size())
    refuse(
        "the magnitude stays the same and the phase is near 90 degrees: no passive part does that. "
        "Are real and imaginary part swapped, or is the phase counted from another zero?");
  if (!(squares > 0.0)) return;
  const double share = along / squares;
  if (share < -0.5)
    refuse(
        "the phase has the wrong sign: it falls behind where the magnitude rises. An inductance is "
        "+90 degrees here; turn the sign of the column");
  if (share > 0.5 * degree && share < 2.0 * degree)
    refuse(
        "the phase is sixty times too small for how the magnitude changes: it seems to be in "
        "radians; write unit = \"rad\"");
}

void require_a_closed_circuit(const Sweep& points) {
  std::size_t negative = 0, capacitive = 0;
  std::vector<double> capacitances;
  for (const SweepPoint& point : points) {
    negative += point.ohm.real() < -0.1 * std::abs(point.ohm) ? 1 : 0;
    if (std::arg(point.ohm) > -80.0 * degree) continue;
    ++capacitive;
    capacitances.push_back(-1.0 / (angular_frequency(point) * point.ohm.imag()));
  }
  if (4 * negative > points.size())
    refuse(fmt::format(
        "the real part is negative at {} of {} points: the phase is turned by 180 degrees (the "
        "leads of current or voltage are swapped), or too much was taken off for the fixture",
        negative, points.size()));
  if (10 * capacitive > 9 * points.size()) {
    std::ranges::sort(capacitances);
    refuse(fmt::format(
        "the sweep sees a capacitance of {} and nothing else: the contact is open, or nothing is "
        "connected. There is no resistance to be fitted",
        print_quantity(capacitances[capacitances.size() / 2], Dimension::capacitance, 3)));
  }
}

}  // namespace

void require_plausible(const Sweep& sweep) {
  if (sweep.size() < fewest_sweep_points)
    refuse(fmt::format("the sweep has {} points; a fit wants {} or more", sweep.size(),
                       fewest_sweep_points));
  for (const SweepPoint& point : sweep)
    if (!(point.frequency > Frequency{}) || !std::isfinite(point.frequency.value()) ||
        !(std::abs(point.ohm) > 0.0))
      refuse("frequencies and magnitudes of an impedance are above zero: is it another column?");
  const Sweep points = sorted(sweep);
  require_a_band(points);
  require_an_order(sweep);
  require_within_range(points);
  require_a_closed_circuit(points);
  const auto repeats = repeats_of(sweep);
  if (repeats && std::abs(repeats->mean_change) > std::log(largest_change))
    refuse(fmt::format(
        "the impedance changes by a factor of {} from the first pass to the last: the contact "
        "drifts, and no one impedance is told. Let it run in, or sweep faster",
        print_number(std::exp(std::abs(repeats->mean_change)), 3)));
  require_phase_that_fits(points);
}

}  // namespace ohmdrag::rig
