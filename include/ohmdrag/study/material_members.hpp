#pragma once

#include "ohmdrag/study/materials.hpp"
#include "ohmdrag/study/members.hpp"

/// The numbers of materials.hpp under the names that files use, as members.hpp has those of the
/// case. A Fit has none: its limits are definitions without spread.
namespace ohmdrag::study {

template <Of<SealLimits> S, class F>
void for_each_member(S& s, F&& f) {
  f("continuous_low", s.continuous_low);
  f("continuous_high", s.continuous_high);
  f("sump_high", s.sump_high);
  f("short_term", s.short_term);
  f("surface_speed", s.surface_speed);
}

template <Of<Relaxation> S, class F>
void for_each_member(S& s, F&& f) {
  f("per_decade", s.per_decade);
  f("log_time", s.log_time);
  f("chemical_time", s.chemical_time);
  f("at", s.at);
  f("activation_temperature", s.activation_temperature);
  f("stretch", s.stretch);
}

template <Of<ModulusPoint> S, class F>
void for_each_member(S& s, F&& f) {
  f("temperature", s.temperature);
  f("ratio", s.ratio);
}

/// Point by point, each name once for every point.
template <Of<ModulusCurve> S, class F>
void for_each_member(S& s, F&& f) {
  for (auto& point : s.points) for_each_member(point, f);
}

template <Of<LipForm> S, class F>
void for_each_member(S& s, F&& f) {
  f("spring_share", s.spring_share);
  f("spring_set", s.spring_set);
  f("spring_set_time", s.spring_set_time);
  f("radial_interference", s.radial_interference);
  f("air_angle_deg", s.air_angle_deg);
  f("oil_angle_deg", s.oil_angle_deg);
  f("new_width", s.new_width);
  f("pressure_length", s.pressure_length);
}

template <Of<Wear> S, class F>
void for_each_member(S& s, F&& f) {
  f("wear_rate", s.wear_rate);
}

template <Of<CleanlinessClass> S, class F>
void for_each_member(S& s, F&& f) {
  f("factor", s.factor);
  f("diameter", s.diameter);
}

template <Of<GraphiteTransition> S, class F>
void for_each_member(S& s, F&& f) {
  f("begin", s.begin);
  f("end", s.end);
}

template <Of<LipSpeedChart> S, class F>
void for_each_member(S& s, F&& f) {
  f("small_diameter", s.small_diameter);
  f("small_speed", s.small_speed);
  f("large_diameter", s.large_diameter);
  f("large_speed", s.large_speed);
  f("beyond", s.beyond);
  f("pressure_up_to_large_diameter", s.pressure_up_to_large_diameter);
  f("pressure_beyond", s.pressure_beyond);
}

}  // namespace ohmdrag::study
