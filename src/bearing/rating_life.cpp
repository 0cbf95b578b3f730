#include "ohmdrag/bearing/rating_life.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "ohmdrag/bearing/hertz.hpp"
#include "ohmdrag/bearing/life_kernel.hpp"
#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::bearing {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

double in_mm(Length l) { return l.value() * 1e3; }

Force magnitude(Force f) { return Force::from_value(std::abs(f.value())); }

// ISO 281:2007 Table 3, deep-groove ball bearings: X = 0.56 above e.
struct AxialRow {
  double relative_load, limit_ratio, axial_factor;
};
constexpr std::array axial_rows{
    AxialRow{0.172, 0.19, 2.30}, AxialRow{0.345, 0.22, 1.99}, AxialRow{0.689, 0.26, 1.71},
    AxialRow{1.03, 0.28, 1.55},  AxialRow{1.38, 0.30, 1.45},  AxialRow{2.07, 0.34, 1.31},
    AxialRow{3.45, 0.38, 1.15},  AxialRow{5.17, 0.42, 1.04},  AxialRow{6.89, 0.44, 1.00}};
constexpr double radial_factor = 0.56;

AxialRow axial_row(double relative_load) {
  if (relative_load <= axial_rows.front().relative_load) return axial_rows.front();
  if (relative_load >= axial_rows.back().relative_load) return axial_rows.back();
  const auto* const above =
      std::ranges::upper_bound(axial_rows, relative_load, {}, &AxialRow::relative_load);
  const auto* const below = above - 1;
  const double share =
      (relative_load - below->relative_load) / (above->relative_load - below->relative_load);
  return {relative_load, std::lerp(below->limit_ratio, above->limit_ratio, share),
          std::lerp(below->axial_factor, above->axial_factor, share)};
}

// ISO 281:2007 Table 2, radial ball bearings.
struct GeometryRow {
  double diameter_ratio, factor;
};
constexpr std::array geometry_rows{
    GeometryRow{0.05, 46.7}, GeometryRow{0.06, 49.1}, GeometryRow{0.07, 51.1},
    GeometryRow{0.08, 52.8}, GeometryRow{0.09, 54.3}, GeometryRow{0.10, 55.5},
    GeometryRow{0.12, 57.5}, GeometryRow{0.14, 58.8}, GeometryRow{0.16, 59.6},
    GeometryRow{0.18, 59.9}, GeometryRow{0.20, 59.9}, GeometryRow{0.22, 59.6},
    GeometryRow{0.24, 59.0}, GeometryRow{0.26, 58.2}, GeometryRow{0.28, 57.1},
    GeometryRow{0.30, 56.0}};

Force fatigue_limit(Force static_rating, Length pitch_diameter, double divisor, double exponent) {
  if (!(static_rating > Force{} && pitch_diameter > Length{}))
    throw std::invalid_argument("fatigue load limit: rating and diameter must be positive");
  return static_rating / divisor * std::pow(std::min(1.0, 100.0 / in_mm(pitch_diameter)), exponent);
}

LifeFactor life_factor(const LifeFactorLaw& law, double kappa, double load_margin) {
  if (!(kappa >= 0.0)) throw std::invalid_argument("a_ISO: viscosity ratio must not be negative");
  if (!(load_margin >= 0.0)) throw std::invalid_argument("a_ISO: e_C C_u/P must not be negative");
  LifeFactor result{.value = 0.0, .outside = std::nullopt};
  if (kappa < LifeFactorLaw::thinnest)
    result.outside = numerics::RangeFlag{.formula = "life modification factor",
                                         .quantity = "viscosity ratio",
                                         .value = kappa,
                                         .low = LifeFactorLaw::thinnest,
                                         .high = infinite};
  result.value = law.factor(1.0 - law.effect(kappa) * std::pow(load_margin, law.margin_power));
  return result;
}

}  // namespace

double basic_life_million_revolutions(Force dynamic_rating, Force load, double exponent) {
  if (!(dynamic_rating > Force{}))
    throw std::invalid_argument("rating life: dynamic rating must be positive");
  if (!(load >= Force{})) throw std::invalid_argument("rating life: load must not be negative");
  if (!(exponent > 0.0)) throw std::invalid_argument("rating life: exponent must be positive");
  if (load == Force{}) return infinite;
  return std::pow(double(dynamic_rating / load), exponent);
}

Time basic_life(Force dynamic_rating, Force load, double exponent, AngularVelocity omega) {
  const double revolutions = 1e6 * basic_life_million_revolutions(dynamic_rating, load, exponent);
  const double speed_rpm = std::abs(in_rpm(omega));
  if (speed_rpm == 0.0) return Time::from_value(infinite);
  return Time::from_value(60.0 * revolutions / speed_rpm);
}

std::optional<numerics::RangeFlag> outside_life_load(Force dynamic_rating, Force load) {
  const Force limit = 0.5 * dynamic_rating;
  if (load <= limit) return std::nullopt;
  return numerics::RangeFlag{.formula = "basic rating life",
                             .quantity = "equivalent load [N]",
                             .value = load.value(),
                             .low = 0.0,
                             .high = limit.value()};
}

EquivalentLoad deep_groove_equivalent_load(Force radial, Force axial, Force static_rating,
                                           double static_factor) {
  if (!(static_rating > Force{} && static_factor > 0.0))
    throw std::invalid_argument("equivalent load: static rating and factor must be positive");
  const Force f_r = magnitude(radial);
  const Force f_a = magnitude(axial);
  const double relative = static_factor * f_a / static_rating;
  const auto [column, limit_ratio, axial_factor] = axial_row(relative);
  const bool axial_counts = f_a > limit_ratio * f_r;
  EquivalentLoad result{
      .load = axial_counts ? std::max(f_r, Force(radial_factor * f_r + axial_factor * f_a)) : f_r,
      .limit_ratio = limit_ratio,
      .axial_factor = axial_factor,
      .outside = std::nullopt};
  const double low = axial_rows.front().relative_load, high = axial_rows.back().relative_load;
  if (relative > high || (axial_counts && relative < low))
    result.outside = numerics::RangeFlag{.formula = "equivalent load of a deep-groove ball bearing",
                                         .quantity = "f0 F_a/C0",
                                         .value = relative,
                                         .low = low,
                                         .high = high};
  return result;
}

Force cylindrical_roller_equivalent_load(Force radial) { return magnitude(radial); }

Force deep_groove_static_load(Force radial, Force axial) {
  const Force f_r = magnitude(radial);
  return std::max(f_r, Force(0.6 * f_r + 0.5 * magnitude(axial)));
}

double geometry_factor(double diameter_ratio) {
  if (!(diameter_ratio >= geometry_rows.front().diameter_ratio &&
        diameter_ratio <= geometry_rows.back().diameter_ratio))
    throw std::invalid_argument("geometry factor: D_w cos(alpha)/d_m must be from 0.05 to 0.30");
  const auto* above =
      std::ranges::upper_bound(geometry_rows, diameter_ratio, {}, &GeometryRow::diameter_ratio);
  if (above == geometry_rows.end()) --above;
  const auto* const below = above - 1;
  return std::lerp(
      below->factor, above->factor,
      (diameter_ratio - below->diameter_ratio) / (above->diameter_ratio - below->diameter_ratio));
}

Force dynamic_rating_of_geometry(const BallBearing& bearing) {
  require_valid(bearing);
  const double ball_mm = in_mm(bearing.ball_diameter);
  const double size = ball_mm <= 25.4 ? std::pow(ball_mm, 1.8) : 3.647 * std::pow(ball_mm, 1.4);
  return Force::from_value(1.3 * geometry_factor(diameter_ratio(bearing, bearing.contact_angle)) *
                           std::pow(std::cos(bearing.contact_angle), 0.7) *
                           std::pow(static_cast<double>(bearing.balls), 2.0 / 3.0) * size);
}

Force static_rating_of_geometry(const BallBearing& bearing, double static_factor) {
  require_valid(bearing);
  if (!(static_factor > 0.0)) throw std::invalid_argument("static rating: factor must be positive");
  const double ball_mm = in_mm(bearing.ball_diameter);
  return Force::from_value(static_factor * bearing.balls * ball_mm * ball_mm *
                           std::cos(bearing.contact_angle));
}

Force static_rating_of_pressure(const BallBearing& bearing, Pressure reduced_modulus,
                                Pressure inner_pressure) {
  require_valid(bearing);
  if (!(inner_pressure > Pressure{}))
    throw std::invalid_argument("static rating: pressure must be positive");
  const Force unit = Force::from_value(1.0);
  const Pressure at_unit =
      contact_ellipse(inner_radii(bearing, bearing.contact_angle), reduced_modulus, unit)
          .max_pressure;
  const double ratio = inner_pressure / at_unit;  // pressure grows with the cube root of load
  return unit * (ratio * ratio * ratio * bearing.balls * std::cos(bearing.contact_angle) / 5.0);
}

Force ball_fatigue_limit(Force static_rating, Length pitch_diameter) {
  return fatigue_limit(static_rating, pitch_diameter, 22.0, 0.5);
}

Force roller_fatigue_limit(Force static_rating, Length pitch_diameter) {
  return fatigue_limit(static_rating, pitch_diameter, 8.2, 0.3);
}

KinematicViscosity reference_viscosity(AngularVelocity omega, Length pitch_diameter) {
  if (!(pitch_diameter > Length{}))
    throw std::invalid_argument("reference viscosity: pitch diameter must be positive");
  const double speed_rpm = std::abs(in_rpm(omega));
  const double by_speed =
      speed_rpm < 1000.0 ? 45000.0 * std::pow(speed_rpm, -0.83) : 4500.0 / std::sqrt(speed_rpm);
  return KinematicViscosity::from_value(1e-6 * by_speed / std::sqrt(in_mm(pitch_diameter)));
}

double viscosity_ratio(KinematicViscosity nu, AngularVelocity omega, Length pitch_diameter) {
  if (!(nu > KinematicViscosity{}))
    throw std::invalid_argument("viscosity ratio: viscosity must be positive");
  return nu / reference_viscosity(omega, pitch_diameter);
}

double reliability_factor(double survival) {
  if (!(survival >= 0.9 && survival <= 0.9995))
    throw std::invalid_argument("reliability factor: survival must be from 0.9 to 0.9995");
  return 0.95 * std::pow(std::log(survival) / std::log(0.9), 1.0 / 1.5) + 0.05;
}

double contamination_factor(const Cleanliness& cleanliness, double viscosity_ratio,
                            Length pitch_diameter) {
  if (!(cleanliness.factor > 0.0 && cleanliness.diameter >= 0.0 && viscosity_ratio >= 0.0 &&
        pitch_diameter > Length{}))
    throw std::invalid_argument(
        "contamination factor: constants, viscosity ratio and diameter must be positive");
  const double diameter_mm = in_mm(pitch_diameter);
  const double log_clean = std::log(cleanliness.factor * std::pow(diameter_mm, 0.55));
  const double a = std::exp(log_cleanness(log_clean, std::log(viscosity_ratio)));
  return std::max(0.0, a * (1.0 - cleanliness.diameter / std::cbrt(diameter_mm)));
}

double LifeFactorLaw::effect(double kappa) const {
  const double of_kappa = coefficient<numerics::LibraryMath>(*this, std::log(kappa));
  return std::copysign(std::exp(log_effect<numerics::LibraryMath>(*this, of_kappa)), of_kappa);
}

double LifeFactorLaw::factor(double bracket) const {
  return 1.0 / harm_of<numerics::LibraryMath>(*this, bracket);
}

LifeFactor ball_life_factor(double kappa, double load_margin) {
  return life_factor(ball_life_law, kappa, load_margin);
}

LifeFactor roller_life_factor(double kappa, double load_margin) {
  return life_factor(roller_life_law, kappa, load_margin);
}

LifeFactor with_ep_additive(const LifeFactor& factor, const LifeFactor& at_one, double kappa,
                            double contamination) {
  if (kappa >= 1.0 || contamination < least_helped_contamination) return factor;
  return {.value = std::max(factor.value, std::min(at_one.value, most_helped_factor)),
          .outside = factor.outside};
}

}  // namespace ohmdrag::bearing
