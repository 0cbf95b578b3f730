#include "study/source_model.hpp"

#include <algorithm>
#include <cmath>

#include "ohmdrag/voltage/verdict.hpp"

namespace ohmdrag::study {
namespace {

/// Stands for the oscillation of a source whose ringing nobody stated: the middle of 1 to 5 MHz, in
/// which the windings of such machines ring (common practice, no source).
constexpr double usual_oscillation_Hz = 2e6;

voltage::InverterSource source_of(const Inverter& inverter, const Draw& draw) {
  voltage::InverterSource source{
      .dc_link = draw(inverter.dc_link),
      .carrier = draw(inverter.switching_frequency),
      .rise = draw(inverter.rise_time),
      .fall = draw(inverter.fall_time ? *inverter.fall_time : inverter.rise_time),
      .modulation = inverter.modulation,
      .ringing = {}};
  if (const auto& ringing = inverter.ringing)
    source.ringing = voltage::Ringing{draw(ringing->frequency), draw(ringing->share_of_step),
                                      draw(ringing->quality)};
  return source;
}

}  // namespace

SourceModel::SourceModel(const Inverter& inverter, const Draw& draw)
    : inverter_(&inverter),
      source_(source_of(inverter, draw)),
      blocked_at_standstill_(draw(inverter.blocked_at_standstill)) {
  if (!inverter.waveform) return;
  measured_edges_ = voltage::edges_of(inverter.waveform->waveform);
  // From 10 to 90 % is 0.8 of a linear ramp (definition).
  for (voltage::FoundEdge& edge : measured_edges_) edge.rise = edge.rise / 0.8;
}

double SourceModel::modulation(AngularVelocity speed) const {
  const auto& at = inverter_->modulation_at;
  const auto& value = inverter_->modulation_index;
  const AngularVelocity turning = speed < AngularVelocity{} ? -speed : speed;
  if (turning <= at.front()) return value.front();
  if (turning >= at.back()) return value.back();
  const auto above = std::upper_bound(at.begin(), at.end(), turning);
  const auto i = static_cast<std::size_t>(above - at.begin());
  const double share = (turning - at[i - 1]) / (at[i] - at[i - 1]);
  return value[i - 1] + share * (value[i] - value[i - 1]);
}

std::vector<AngularVelocity> SourceModel::bends(AngularVelocity top) const {
  const auto& at = inverter_->modulation_at;
  const auto& value = inverter_->modulation_index;
  std::vector<AngularVelocity> result{AngularVelocity{}, top};
  if (inverter_->waveform) return result;
  for (std::size_t i = 0; i < at.size(); ++i) {
    result.push_back(at[i]);
    if (i == 0) continue;
    // Both sides of the step where all legs begin to switch together.
    const double change = value[i] - value[i - 1];
    for (const double side : {0.999, 1.0}) {
      const double share = (side * voltage::all_legs_below - value[i - 1]) / change;
      if (share > 0.0 && share < 1.0) result.push_back(at[i - 1] + share * (at[i] - at[i - 1]));
    }
  }
  std::erase_if(result, [&](AngularVelocity w) { return w < AngularVelocity{} || w > top; });
  std::sort(result.begin(), result.end());
  result.erase(std::unique(result.begin(), result.end()), result.end());
  return result;
}

voltage::Carrier SourceModel::carrier(double m) const {
  return {source_.dc_link, source_.carrier, m, std::max(source_.rise, source_.fall),
          source_.modulation};
}

int SourceModel::verdict_legs(double m) const {
  return inverter_->waveform ? 1 : voltage::verdict_legs(m);
}

voltage::EdgeRates SourceModel::rates(AngularVelocity speed) const {
  if (inverter_->waveform)
    return {.one_leg = double(measured_edges_.size()) / inverter_->waveform->waveform.period,
            .two_legs = {},
            .three_legs = {}};
  const double m = modulation(speed);
  const auto of = [&](Time ramp) { return voltage::edge_rates(source_.carrier, m, ramp); };
  const voltage::EdgeRates up = of(source_.rise);
  const voltage::EdgeRates down = source_.fall == source_.rise ? up : of(source_.fall);
  const voltage::EdgeRates turning{.one_leg = 0.5 * (up.one_leg + down.one_leg),
                                   .two_legs = 0.5 * (up.two_legs + down.two_legs),
                                   .three_legs = 0.5 * (up.three_legs + down.three_legs)};
  return speed == AngularVelocity{} ? voltage::rates_at_standstill(turning, blocked_at_standstill_)
                                    : turning;
}

voltage::Waveform SourceModel::waveform(double m, double angle_rad) const {
  if (inverter_->waveform) return inverter_->waveform->waveform;
  return voltage::carrier_waveform(source_, m, angle_rad);
}

Time SourceModel::fastest() const {
  if (measured_edges_.empty()) return std::min(source_.rise, source_.fall);
  return std::ranges::min(measured_edges_, {}, &voltage::FoundEdge::rise).rise;
}

Frequency SourceModel::oscillation() const {
  return source_.ringing ? source_.ringing->frequency : Frequency::from_value(usual_oscillation_Hz);
}

}  // namespace ohmdrag::study
