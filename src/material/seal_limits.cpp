#include "ohmdrag/material/seal_limits.hpp"

#include <boost/units/cmath.hpp>
#include <cmath>
#include <stdexcept>

namespace ohmdrag::material {

namespace {

using numerics::flag_outside;
using numerics::no_limit;

void require(bool met, const char* what) {
  if (!met) throw std::invalid_argument(what);
}

template <class Q>
Margin<Q> margin(Q limit, Q value, decltype(limit - value) left) {
  require(!std::isnan(left.value()), "margin: limit and value must be numbers");
  return {.limit = limit, .value = value, .left = left};
}

void flag_hot(std::vector<numerics::RangeFlag>& flags, std::string_view formula,
              const Margin<Temperature>& m) {
  if (!m.kept())
    flags.push_back(
        {formula, "temperature, degC", in_celsius(m.value), -no_limit, in_celsius(m.limit)});
}

}  // namespace

Margin<Temperature> below(Temperature limit, Temperature value) {
  return margin(limit, value, limit - value);
}
Margin<Speed> below(Speed limit, Speed value) { return margin(limit, value, limit - value); }
Margin<Pressure> below(Pressure limit, Pressure value) {
  return margin(limit, value, limit - value);
}
Margin<PressureSpeed> below(PressureSpeed limit, PressureSpeed value) {
  return margin(limit, value, limit - value);
}
Margin<Temperature> above(Temperature limit, Temperature value) {
  return margin(limit, value, value - limit);
}

SealMargins seal_margins(const SealLimits& limits, Temperature contact, Temperature sump,
                         Speed surface_speed) {
  SealMargins result{};
  if (limits.continuous_low) {
    result.cold = above(*limits.continuous_low, contact);
    if (!result.cold->kept())
      result.flags.push_back({"seal material, lowest continuous temperature", "temperature, degC",
                              in_celsius(contact), in_celsius(*limits.continuous_low), no_limit});
  }
  if (limits.continuous_high) {
    result.hot = below(*limits.continuous_high, contact);
    flag_hot(result.flags, "seal material, highest continuous temperature", *result.hot);
  }
  if (limits.short_term) {
    result.short_term = below(*limits.short_term, contact);
    flag_hot(result.flags, "seal material, short-term temperature", *result.short_term);
  }
  if (limits.sump_high) {
    result.sump = below(*limits.sump_high, sump);
    flag_hot(result.flags, "seal material, sump temperature", *result.sump);
  }
  if (limits.surface_speed) {
    require(limits.surface_speed->value() > 0.0, "seal limits: the speed limit must be positive");
    result.speed = below(*limits.surface_speed, Speed(abs(surface_speed)));
    if (!result.speed->kept())
      result.flags.push_back({"seal material, surface speed", "surface speed, m/s",
                              result.speed->value.value(), 0.0, limits.surface_speed->value()});
  }
  return result;
}

AngularVelocity speed_limit(Speed surface_speed_limit, Length diameter) {
  require(surface_speed_limit.value() > 0.0, "speed limit: the surface speed must be positive");
  require(diameter.value() > 0.0, "speed limit: the diameter must be positive");
  return turning_speed(surface_speed_limit, 0.5 * diameter);
}

Speed chart_surface_speed(const LipSpeedChart& chart, Length diameter) {
  require(chart.small_diameter.value() > 0.0 && chart.large_diameter > chart.small_diameter,
          "lip speed chart: diameters must be positive and rise");
  require(chart.small_speed.value() > 0.0 && chart.large_speed.value() > 0.0 &&
              chart.beyond.value() > 0.0,
          "lip speed chart: speeds must be positive");
  require(diameter.value() > 0.0, "lip speed chart: the diameter must be positive");

  if (diameter <= chart.small_diameter) return rim_speed(chart.small_speed, 0.5 * diameter);
  if (diameter > chart.large_diameter) return chart.beyond;
  const Speed small = rim_speed(chart.small_speed, 0.5 * chart.small_diameter);
  const Speed large = rim_speed(chart.large_speed, 0.5 * chart.large_diameter);
  const double share =
      ((diameter - chart.small_diameter) / (chart.large_diameter - chart.small_diameter)).value();
  return small + share * (large - small);
}

PressureSpeed pressure_speed(Pressure pressure, Speed surface_speed) {
  require(pressure.value() >= 0.0, "pressure and speed: the pressure must not be negative");
  require(!std::isnan(surface_speed.value()), "pressure and speed: not a speed");
  return pressure * Speed(abs(surface_speed));
}

GraphiteVerdict graphite_verdict(const GraphiteTransition& transition, Temperature bulk,
                                 TemperatureDifference flash) {
  require(transition.end > transition.begin, "graphite transition: must end above its begin");
  require(flash.value() >= 0.0, "graphite transition: the flash must not be negative");
  const Temperature hottest = bulk + flash;
  GraphiteVerdict verdict{.state = GraphiteState::water_lubricated,
                          .margin = below(transition.begin, hottest),
                          .flag = {}};
  if (hottest < transition.begin) return verdict;
  verdict.state =
      hottest <= transition.end ? GraphiteState::in_transition : GraphiteState::beyond_transition;
  verdict.flag = numerics::RangeFlag{"water lubrication of graphite", "hottest spot, degC",
                                     in_celsius(hottest), -no_limit, in_celsius(transition.begin)};
  return verdict;
}

}  // namespace ohmdrag::material
