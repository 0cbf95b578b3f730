#include <algorithm>
#include <numbers>

#include "ohmdrag/voltage/inverter_source.hpp"
#include "ohmdrag/voltage/periodic_response.hpp"
#include "ohmdrag/voltage/spectrum.hpp"
#include "study/voltage_rows.hpp"

namespace ohmdrag::study {
namespace {

/// Where in the fundamental period the carrier period that is shown lies: its edges stand apart.
constexpr double shown_angle_rad = std::numbers::pi / 12.0;
constexpr double highest_Hz = 100e6;
constexpr int points_a_period = 96;
constexpr int points_at_edge = 64;
/// Time that is shown around an edge, in ramps before and after its middle.
constexpr double ramps_before = 1.0, ramps_after = 31.0;

/// Times of an even walk through the period and of a close look at its first edge, rising.
std::vector<double> shown_times_s(const voltage::Waveform& waveform, Time ramp) {
  std::vector<double> times_s;
  const double period_s = waveform.period.value();
  for (int i = 0; i < points_a_period; ++i) times_s.push_back(period_s * i / points_a_period);
  const double edge_s = waveform.corners.front().at.value();
  for (int i = 0; i < points_at_edge; ++i) {
    const double ramps = (ramps_before + ramps_after) * i / (points_at_edge - 1) - ramps_before;
    times_s.push_back(edge_s + ramps * ramp.value());
  }
  std::erase_if(times_s, [&](double t_s) { return t_s < 0.0 || t_s >= period_s; });
  std::ranges::sort(times_s);
  return times_s;
}

}  // namespace

void add_detail(const ElectricModel& electric, const ElectricState& now, VoltageRow& row) {
  // A shaft on touching metal has no voltage of this kind.
  if (now.conducting) return;
  const SourceModel& source = electric.source();
  const voltage::Waveform common_mode = source.waveform(now.modulation, shown_angle_rad);
  const voltage::MaybePath path = electric.path(now.speed);
  const voltage::PeriodicResponse without(now.node, std::nullopt, common_mode);
  const voltage::PeriodicResponse with(now.node, path, common_mode);
  for (const double t_s : shown_times_s(common_mode, source.fastest())) {
    const Time t = Time::from_value(t_s);
    row.waveform.push_back({t_s, voltage::value_at(common_mode, t).value(), without.at(t).value(),
                            with.at(t).value()});
  }
  const auto lines =
      voltage::spectrum(now.node, path, common_mode, Frequency::from_value(highest_Hz));
  for (const voltage::SpectrumBin& bin : voltage::binned(lines))
    row.spectrum.push_back(
        {bin.from.value(), bin.to.value(), bin.without_path.value(), bin.with_path.value()});
}

}  // namespace ohmdrag::study
