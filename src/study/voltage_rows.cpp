#include "study/voltage_rows.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::study {
namespace {

/// Below, the film hardly feels the shaft: what stands in series takes nearly all.
constexpr double hardly_any_share = 0.5;

std::string volts(Voltage v) { return print_quantity(v.value(), Dimension::voltage, 2); }

/// Bearings whose films something in series spares.
std::vector<const voltage::DischargePath*> spared(const ElectricState& now) {
  std::vector<const voltage::DischargePath*> result;
  for (const voltage::DischargePath& path : now.paths)
    if (path.kind == voltage::PathKind::bearing && path.in_series) result.push_back(&path);
  return result;
}

std::string names(const std::vector<const voltage::DischargePath*>& paths) {
  std::string text;
  for (std::size_t i = 0; i < paths.size(); ++i)
    text += fmt::format("{}{}", i == 0 ? "" : i + 1 == paths.size() ? " and " : ", ", paths[i]->id);
  return text;
}

std::string insulation_in_words(const ElectricModel& electric, const ElectricState& now) {
  const auto insulated = spared(now);
  if (insulated.empty()) return {};
  std::string text;
  for (const voltage::DischargePath* path : insulated) {
    if (path->conducting) {
      text += fmt::format(" The film of {} touches; what insulates it holds.", path->id);
      continue;
    }
    const double share = voltage::share_on_film(*path);
    text += fmt::format(" What insulates {} leaves {} of the shaft voltage on its film{}.",
                        path->id, print_number(100.0 * share, 2) + " %",
                        share > hardly_any_share
                            ? ": a thin coat in series with a thinner film hardly lowers it"
                            : "");
  }
  if (!now.struck || now.paths[*now.struck].kind == voltage::PathKind::bearing) return text;
  const voltage::DischargePath& next = now.paths[*now.struck];
  return text + fmt::format(
                    " The voltage stays on the shaft: with {} insulated it stands on the next way "
                    "to the frame, and a discharge {} {} instead.",
                    names(insulated),
                    electric.stress_of(now, next) < 1.0 ? "would strike" : "strikes", next.id);
}

}  // namespace

Interval PointFigures::of(double ElectricSample::*member, double factor) const {
  return reduce(*samples_, [&](const VariantSample& s) {
    return factor * (s.points[point_].electric.*member);
  });
}

Interval PointFigures::reduction_dB(std::size_t band) const {
  return reduce(*samples_, [&](const VariantSample& s) {
    return s.points[point_].electric.reduction_dB.at(band);
  });
}

VoltageRow PointFigures::row() const {
  VoltageRow row;
  row.bearing_voltage_ratio = of(&ElectricSample::ratio);
  row.edge_step_V = of(&ElectricSample::edge_step_V);
  row.edge_peak_V = of(&ElectricSample::peak_V);
  row.edge_peak_two_legs_V = of(&ElectricSample::peak_V, 2.0);
  row.edge_peak_three_legs_V = of(&ElectricSample::peak_V, 3.0);
  row.held_V = of(&ElectricSample::held_V);
  row.threshold_V = of(&ElectricSample::threshold_V);
  row.film_um = of(&ElectricSample::film_um);
  row.film_ratio = of(&ElectricSample::film_ratio);
  row.discharge_probability_per_edge = of(&ElectricSample::probability_per_edge);
  return row;
}

std::vector<PathRow> path_rows(const ElectricModel& electric, const ElectricState& now) {
  constexpr double pF = 1e12;
  std::vector<PathRow> rows;
  for (std::size_t i = 0; i < now.paths.size(); ++i) {
    const voltage::DischargePath& path = now.paths[i];
    PathRow row;
    row.id = path.id;
    row.kind = std::string(voltage::to_word(path.kind));
    row.conducting = path.conducting;
    row.struck = now.struck == i;
    row.film_share = voltage::share_on_film(path);
    if (!voltage::ties_to_frame(path)) row.capacitance_pF = voltage::capacitance(path).value() * pF;
    if (const auto threshold = voltage::threshold_at_shaft(path)) {
      row.threshold_V = Interval{threshold->band.at_05.value(), threshold->band.at_50.value(),
                                 threshold->band.at_95.value()};
      row.stress = electric.stress_of(now, path);
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

std::string paths_in_words(const ElectricModel& electric, const ElectricState& now) {
  if (now.paths.empty()) return {};
  std::string text;
  const auto tie = std::ranges::find_if(now.paths, voltage::ties_to_frame);
  if (tie != now.paths.end()) {
    text = fmt::format(
        "{} conducts here and holds the shaft near the housing; what the current through it does "
        "is not modelled.",
        tie->id);
  } else if (now.struck) {
    const voltage::DischargePath& path = now.paths[*now.struck];
    const double stress = electric.stress_of(now, path);
    text = fmt::format(
        "{}{} gives way first: {} of shaft voltage in the middle of the spread; the shaft reaches "
        "{} times that.",
        now.paths.size() > 1 ? "Of all ways to the frame " : "", path.id,
        volts(voltage::threshold_at_shaft(path)->band.at_50), print_number(stress, 2));
  }
  return text + insulation_in_words(electric, now);
}

DischargeRow discharge_row(const ElectricModel& electric, const ElectricState& now,
                           const PointFigures& figures, const OperatingPoint& point,
                           const Nominal& nominal) {
  constexpr double seconds_per_hour = 3600.0;
  DischargeRow row;
  row.path = now.paths[*now.struck].id;
  row.energy_J = figures.of(&ElectricSample::discharge_J);
  row.peak_current_A = figures.of(&ElectricSample::discharge_A);
  row.apparent_density_A_mm2 = figures.of(&ElectricSample::density_A_mm2);
  row.rate_per_s = figures.of(&ElectricSample::discharge_rate_per_s);
  if (point.road_speed) {
    const double m_per_s = nominal.draw(*point.road_speed).value();
    if (m_per_s > 0.0)
      row.rate_per_km = figures.of(&ElectricSample::discharge_rate_per_s, 1000.0 / m_per_s);
  }
  row.power_W = figures.of(&ElectricSample::discharge_W);
  row.dose_rate_J_mm2_h = figures.of(&ElectricSample::dose_rate, 1e-6 * seconds_per_hour);
  row.dwell_us = figures.of(&ElectricSample::dwell_s, 1e6);
  const voltage::EdgeRates edges = electric.source().rates(now.speed);
  row.one_leg_edges_per_s = edges.one_leg.value();
  row.two_leg_edges_per_s = edges.two_legs.value();
  row.three_leg_edges_per_s = edges.three_legs.value();
  row.fallen_threshold_V = figures.of(&ElectricSample::fallen_threshold_V);
  const Time t0 = Time::from_value(credit_us[headline_credit] * 1e-6);
  row.verdict_after_first =
      std::string(to_word(voltage::verdict(electric.verdict_input(now, t0)).headline_after_first));
  return row;
}

}  // namespace ohmdrag::study
