#include "study/source_in_draw.hpp"

#include <algorithm>
#include <cmath>

namespace ohmdrag::study {
namespace {

/// Beyond its last row the path alone changes with speed.
constexpr double reach_of_speed = 2.0;
constexpr double least_reach_rpm = 15000.0;

/// Speeds up to the last where the modulation has a value.
void add_speeds_at(double modulation, const SourceModel& source,
                   const std::vector<AngularVelocity>& bends, std::vector<double>& speeds) {
  for (std::size_t i = 1; i < bends.size(); ++i) {
    const double from = source.modulation(bends[i - 1]), to = source.modulation(bends[i]);
    const double share = (modulation - from) / (to - from);
    if (share > 0.0 && share < 1.0)
      speeds.push_back(std::lerp(bends[i - 1].value(), bends[i].value(), share));
  }
}

std::vector<double> speeds_of(const SourceModel& source) {
  const AngularVelocity top =
      std::max(reach_of_speed * source.last_speed(), from_rpm(least_reach_rpm));
  const std::vector<AngularVelocity> bends = source.bends(top);
  std::vector<double> result;
  for (const AngularVelocity& bend : bends) result.push_back(bend.value());
  if (source.measured_edges().empty()) {
    // Both sides of the jump, then closer where what is held falls faster.
    const double jump = voltage::least_holding_modulation(source.carrier(0.0));
    for (const double factor : {1.0 - 1e-6, 1.0 + 1e-6, 1.25, 1.6, 2.2, 3.2, 5.0, 9.0, 16.0})
      add_speeds_at(factor * jump, source, bends, result);
  }
  std::ranges::sort(result);
  const double widest = top.value() / columns_up_to_top;
  for (std::size_t i = 1; i < result.size(); ++i)
    if (const double wide = result[i] - result[i - 1]; wide > widest)
      result.insert(result.begin() + static_cast<std::ptrdiff_t>(i),
                    result[i - 1] + wide / std::ceil(wide / widest));
  return result;
}

}  // namespace

StressSpeeds::StressSpeeds(const SourceModel& source) : rad_s_(speeds_of(source)) {
  if (!source.measured_edges().empty()) return;
  for (const double rad_s : rad_s_)
    carriers_.push_back(source.carrier(source.modulation(AngularVelocity::from_value(rad_s))));
  places_.resize(rad_s_.size());
}

const voltage::CarrierPlaces& StressSpeeds::places_at(std::size_t index) const {
  auto& here = places_[index];
  if (!here) here = std::make_unique<const voltage::CarrierPlaces>(carriers_[index]);
  return *here;
}

const voltage::CarrierPlaces& StressSpeeds::places(double rad_s) const {
  return places_at(std::size_t(std::ranges::lower_bound(rad_s_, rad_s) - rad_s_.begin()));
}

void StressSpeeds::prepare() const {
  for (std::size_t i = 0; i < places_.size(); ++i) places_at(i);
}

SourceInDraw::SourceInDraw(const Inverter& inverter, const Draw& draw, const SourceInDraw* like)
    : model(inverter, draw) {
  const auto same_carrier = [&](const SourceInDraw& other) {
    const voltage::Carrier a = model.carrier(0.0), b = other.model.carrier(0.0);
    return a.dc_link == b.dc_link && a.frequency == b.frequency && a.rise == b.rise &&
           a.kind == b.kind;
  };
  speeds = like && same_carrier(*like) ? like->speeds : std::make_shared<StressSpeeds>(model);
}

const voltage::CarrierPlaces& SourceInDraw::places(AngularVelocity speed) const {
  const double modulation = model.modulation(speed);
  const auto found = std::ranges::find_if(
      asked_for_, [&](const auto& here) { return here->carrier().modulation == modulation; });
  if (found != asked_for_.end()) return **found;
  asked_for_.push_back(std::make_unique<const voltage::CarrierPlaces>(model.carrier(modulation)));
  return *asked_for_.back();
}

}  // namespace ohmdrag::study
