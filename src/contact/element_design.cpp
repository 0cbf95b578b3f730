#include "ohmdrag/contact/element_design.hpp"

#include <algorithm>
#include <boost/units/cmath.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace ohmdrag::contact {

namespace {

using numerics::flag_outside;
using numerics::no_limit;
using std::numbers::pi;

constexpr double first_root = 1.8751040687;     // of 1 + cos x cosh x: clamped and free
constexpr double held_tip_root = 3.9266023120;  // of tan x - tanh x: clamped and held

void require(bool met, const char* what) {
  if (!met) throw std::invalid_argument(what);
}

void check(const Fibre& fibre) {
  require(fibre.diameter.value() > 0.0, "fibre: the diameter must be positive");
  require(fibre.free_length.value() > 0.0, "fibre: the free length must be positive");
  require(fibre.young_modulus.value() > 0.0, "fibre: the elastic modulus must be positive");
  require(fibre.density.value() > 0.0, "fibre: the density must be positive");
}

void check(const LeaningFibre& leaning) {
  require(leaning.lean_rad > 0.0 && leaning.lean_rad <= 0.5 * pi,
          "leaning fibre: the angle to the radius must lie above 0 and up to 90 degrees");
}

void check(const RunOut& run_out) {
  require(
      run_out.total_indicator_reading.value() >= 0.0 && run_out.static_eccentricity.value() >= 0.0,
      "run-out: indicator reading and eccentricity must not be negative");
  require(run_out.dynamic_stiffening >= 1.0, "run-out: dynamic stiffening must be at least 1");
}

void check_contact(double share, Length interference) {
  require(share > 0.0 && share <= 1.0, "fibres: the share in contact must lie above 0 and up to 1");
  require(interference.value() >= 0.0, "fibres: the interference must not be negative");
}

void add(std::vector<numerics::RangeFlag>& flags, std::string_view formula,
         std::string_view quantity, double value, double low, double high) {
  if (const auto flag = flag_outside(formula, quantity, value, low, high)) flags.push_back(*flag);
}

Force euler_load(const Fibre& fibre, double end_factor) {
  const Length effective = end_factor * fibre.free_length;
  return pi * pi * bending_stiffness(fibre) / (effective * effective);
}

FibreForce force_of(const Fibre& fibre, const LeaningFibre& leaning, Length interference) {
  check(leaning);
  const double s = std::sin(leaning.lean_rad);
  const Length l = fibre.free_length;
  FibreForce result{.radial = 3.0 * bending_stiffness(fibre) * interference / (l * l * l * s * s),
                    .flags = {}};
  add(result.flags, "bending of a leaning fibre", "tip deflection over free length",
      (interference / l).value() / s, 0.0, 0.2);
  const double axial =
      (result.radial / euler_load(fibre, 2.0)).value() * std::cos(leaning.lean_rad);
  add(result.flags, "bending of a leaning fibre", "axial force over buckling load", axial, 0.0,
      0.1);
  return result;
}

FibreForce force_of(const Fibre& fibre, const BuckledFibre& buckled, Length interference) {
  require(buckled.end_factor > 0.0, "buckled fibre: the end factor must be positive");
  FibreForce result{.radial = {}, .flags = {}};
  if (interference == Length{}) return result;
  const double shortening = (interference / fibre.free_length).value();
  result.radial = euler_load(fibre, buckled.end_factor) * (1.0 + 0.5 * shortening);
  add(result.flags, "force of a buckled fibre", "shortening over free length", shortening, 0.0,
      0.2);
  return result;
}

double root_argument(const Fibre& fibre, AngularVelocity frequency) {
  return first_root * std::sqrt(std::abs((frequency / fibre_frequency(fibre)).value()));
}

double stiffness_ratio_at(double x) {
  if (x < 0.05) return 1.0 - 11.0 / 140.0 * x * x * x * x;  // the closed form cancels there
  const double c = std::cos(x);
  const double s = std::sin(x);
  const double ch = std::cosh(x);
  const double sh = std::sinh(x);
  return x * x * x / 3.0 * (1.0 + c * ch) / (s * ch - c * sh);
}

}  // namespace

BendingStiffness bending_stiffness(const Fibre& fibre) {
  check(fibre);
  const Area d2 = fibre.diameter * fibre.diameter;
  return fibre.young_modulus * (pi / 64.0 * d2 * d2);
}

FibreForce fibre_force(const Fibre& fibre, const FibreAttitude& attitude, Length interference) {
  require(interference.value() >= 0.0, "fibres: the interference must not be negative");
  return std::visit([&](const auto& law) { return force_of(fibre, law, interference); }, attitude);
}

double root_strain(const Fibre& fibre, const LeaningFibre& attitude, Length interference) {
  check(fibre);
  check(attitude);
  require(interference.value() >= 0.0, "fibres: the interference must not be negative");
  const double tip = (interference / fibre.free_length).value() / std::sin(attitude.lean_rad);
  return 1.5 * tip * (fibre.diameter / fibre.free_length).value();
}

RingDesign ring_design(const FibreRing& ring, Length shaft_diameter, Length interference) {
  require(shaft_diameter.value() > 0.0, "fibre ring: the shaft diameter must be positive");
  require(ring.density.value() > 0.0 && ring.width.value() > 0.0,
          "fibre ring: density and width must be positive");
  check_contact(ring.share_in_contact, interference);

  FibreForce one = fibre_force(ring.fibre, ring.attitude, interference);
  const auto per_length = ring.share_in_contact * ring.density * ring.width;
  const LineForce line_force = per_length * one.radial;
  return {.line_force = line_force,
          .mean_pressure = line_force / ring.width,
          .fibres = (per_length * (pi * shaft_diameter)).value(),
          .flags = std::move(one.flags)};
}

FibreForce brush_design(const FibreBrush& brush, Length interference) {
  require(brush.count > 0.0, "fibre brush: the number of fibres must be positive");
  check_contact(brush.share_in_contact, interference);
  FibreForce result = fibre_force(brush.fibre, brush.attitude, interference);
  result.radial *= brush.share_in_contact * brush.count;
  return result;
}

Length eccentricity(const RunOut& run_out) {
  check(run_out);
  return 0.5 * run_out.total_indicator_reading + run_out.static_eccentricity;
}

LeastForce least_line_force(LineForce line_force, Length interference, const RunOut& run_out) {
  require(line_force.value() >= 0.0, "run-out: the line force must not be negative");
  require(interference.value() > 0.0, "run-out: the interference must be positive");
  const double lost = run_out.dynamic_stiffening * (eccentricity(run_out) / interference).value();
  LeastForce result{.least = line_force * std::max(0.0, 1.0 - lost),
                    .share_lost = lost,
                    .opens_each_turn = lost >= 1.0,
                    .flags = {}};
  add(result.flags,
      result.opens_each_turn ? "contact opens once a turn" : "least force under run-out",
      "share of the force lost", lost, 0.0, 0.5);
  return result;
}

AngularVelocity fibre_frequency(const Fibre& fibre) {
  const double stiffness_Nm2 = bending_stiffness(fibre).value();
  const double d_m = fibre.diameter.value();
  const double mass_kg_m = fibre.density.value() * pi / 4.0 * d_m * d_m;
  const double l_m = fibre.free_length.value();
  return AngularVelocity::from_value(first_root * first_root / (l_m * l_m) *
                                     std::sqrt(stiffness_Nm2 / mass_kg_m));
}

double tip_stiffness_ratio(const Fibre& fibre, AngularVelocity frequency) {
  const double x = root_argument(fibre, frequency);
  require(x < held_tip_root, "fibre: the tip cannot be driven at or above its held resonance");
  return stiffness_ratio_at(x);
}

LeastInterference least_interference(const Fibre& fibre, const RunOut& run_out,
                                     AngularVelocity top_speed) {
  const Length e = eccentricity(run_out);
  const double x = root_argument(fibre, top_speed);
  require(!std::isnan(x), "fibre: the top speed is not a number");

  LeastInterference result{.interference = {}, .follows = true, .flags = {}};
  add(result.flags, "fibre follows the shaft", "top speed over first bending frequency",
      std::abs((top_speed / fibre_frequency(fibre)).value()), 0.0, 1.0);
  // |g| falls from 1 to 0 and then rises without bound: its largest value is at an end.
  if (x < held_tip_root) {
    result.interference = e * std::max(run_out.dynamic_stiffening, std::abs(stiffness_ratio_at(x)));
  } else if (e > Length{}) {
    result.follows = false;
    result.interference = Length::from_value(no_limit);
  }
  return result;
}

}  // namespace ohmdrag::contact
