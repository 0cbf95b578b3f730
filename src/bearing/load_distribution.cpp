#include "ohmdrag/bearing/load_distribution.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/bearing/hertz.hpp"

namespace ohmdrag::bearing {

namespace {

// Everything of the solve in SI doubles: two unknown shifts, a convex energy.
struct Rings {
  double stiffness_N_per_m15;
  double distance_m;  // A_0, groove centres at touch
  double radial_m;    // A_0 - P_d/2, radial part of it with the rings centred
  double radial_N, axial_N;
  std::vector<double> positions, cosines;
};

struct Shift {
  double axial_m, radial_m;
};

struct Ball {
  double cos_position, sin_angle, cos_angle, length_m, squeeze_m, load_N;
};

Ball ball_at(const Rings& rings, Shift shift, double cos_position) {
  const double radial_m = rings.radial_m + shift.radial_m * cos_position;
  const double length_m = std::hypot(shift.axial_m, radial_m);
  const double squeeze_m = std::max(0.0, length_m - rings.distance_m);
  return {.cos_position = cos_position,
          .sin_angle = shift.axial_m / length_m,
          .cos_angle = radial_m / length_m,
          .length_m = length_m,
          .squeeze_m = squeeze_m,
          .load_N = rings.stiffness_N_per_m15 * squeeze_m * std::sqrt(squeeze_m)};
}

struct Energy2 {
  double value_J;
  double axial_N, radial_N;                         // gradient: internal minus applied force
  double axial_axial, axial_radial, radial_radial;  // Hessian, N/m
  double unbalance_N() const { return std::hypot(axial_N, radial_N); }
};

Energy2 energy(const Rings& rings, Shift shift) {
  Energy2 sum{.value_J = -rings.axial_N * shift.axial_m - rings.radial_N * shift.radial_m,
              .axial_N = -rings.axial_N,
              .radial_N = -rings.radial_N,
              .axial_axial = 0.0,
              .axial_radial = 0.0,
              .radial_radial = 0.0};
  for (const double cosine : rings.cosines) {
    const Ball ball = ball_at(rings, shift, cosine);
    if (ball.load_N == 0.0) continue;
    const double c = ball.cos_position;
    const double along = 1.5 * ball.load_N / ball.squeeze_m;  // dQ/ds
    const double across = ball.load_N / ball.length_m;        // turning of the load line
    const double sin2 = ball.sin_angle * ball.sin_angle;
    const double cos2 = ball.cos_angle * ball.cos_angle;
    sum.value_J += 0.4 * ball.load_N * ball.squeeze_m;
    sum.axial_N += ball.load_N * ball.sin_angle;
    sum.radial_N += ball.load_N * ball.cos_angle * c;
    sum.axial_axial += along * sin2 + across * cos2;
    sum.axial_radial += (along - across) * ball.sin_angle * ball.cos_angle * c;
    sum.radial_radial += (along * cos2 + across * sin2) * c * c;
  }
  return sum;
}

// A first guess in which balls touch: enough radial shift for Stribeck's worst ball, enough axial
// shift for an even axial load at a contact angle of about 12 degrees.
Shift first_guess(const Rings& rings) {
  const auto count = static_cast<double>(rings.positions.size());
  const auto squeeze_m = [&](double load_N) {
    return std::cbrt(std::pow(load_N / (count * rings.stiffness_N_per_m15), 2.0));
  };
  Shift shift{0.0, 0.0};
  if (rings.radial_N > 0.0)
    shift.radial_m = (rings.distance_m - rings.radial_m + squeeze_m(5.0 * rings.radial_N)) /
                     std::cos(std::numbers::pi / count);
  if (rings.axial_N > 0.0) {
    const double length_m = rings.distance_m + squeeze_m(5.0 * rings.axial_N);
    shift.axial_m = std::sqrt(length_m * length_m - rings.radial_m * rings.radial_m);
  }
  return shift;
}

// Damped Newton: the energy is convex, so a step that is halved until it gains always arrives.
Shift balanced_shift(const Rings& rings) {
  const double load_N = std::hypot(rings.axial_N, rings.radial_N);
  Shift shift = first_guess(rings);
  Energy2 here = energy(rings, shift);
  for (int iteration = 0; iteration < 100; ++iteration) {
    if (here.unbalance_N() <= 1e-12 * load_N) break;
    const double ridge = 1e-12 * (here.axial_axial + here.radial_radial) + 1e-3;
    const double zz = here.axial_axial + ridge;
    const double rr = here.radial_radial + ridge;
    const double zr = here.axial_radial;
    const double determinant = zz * rr - zr * zr;
    const double step_z = -(rr * here.axial_N - zr * here.radial_N) / determinant;
    const double step_r = -(zz * here.radial_N - zr * here.axial_N) / determinant;
    bool gained = false;
    for (double share = 1.0; share > 1e-9 && !gained; share *= 0.5) {
      const Shift trial{shift.axial_m + share * step_z, shift.radial_m + share * step_r};
      const Energy2 there = energy(rings, trial);
      gained = there.unbalance_N() < here.unbalance_N() || there.value_J < here.value_J;
      if (gained) {
        shift = trial;
        here = there;
      }
    }
    if (!gained) break;  // at the last digits of the doubles
  }
  if (!(here.unbalance_N() <= 1e-10 * load_N))
    throw std::runtime_error("load distribution: no equilibrium found");
  return shift;
}

double contact_stiffness(const ContactRadii& radii, Pressure modulus) {
  const Force unit = Force::from_value(1.0);
  return std::pow(contact_ellipse(radii, modulus, unit).approach.value(), -1.5);
}

}  // namespace

double ball_stiffness_N_per_m15(const BallBearing& bearing, const Elastic& steel) {
  const Pressure modulus = reduced_modulus(steel, steel);
  const double inner = contact_stiffness(inner_radii(bearing, bearing.contact_angle), modulus);
  const double outer = contact_stiffness(outer_radii(bearing, bearing.contact_angle), modulus);
  return std::pow(std::pow(inner, -2.0 / 3.0) + std::pow(outer, -2.0 / 3.0), -1.5);
}

namespace {

void require_loaded(const BallBearing& bearing, Force radial, Force axial) {
  require_valid(bearing);
  if (bearing.contact_angle > 0.0 && bearing.clearance > Length{})
    throw std::invalid_argument(
        "load distribution: the contact angle already contains the clearance; state one of them");
  const double load_N = std::hypot(radial.value(), axial.value());
  if (!(load_N > 0.0 && std::isfinite(load_N)))
    throw std::invalid_argument("load distribution: the bearing must carry a finite load");
}

LoadDistribution distribution(const BallBearing& bearing, double stiffness_N_per_m15, Force radial,
                              Force axial, double phase) {
  const double radial_N = std::abs(radial.value());
  const double axial_N = std::abs(axial.value());
  const double load_N = std::hypot(radial_N, axial_N);
  const double distance_m = groove_centre_distance(bearing).value();
  Rings rings{
      .stiffness_N_per_m15 = stiffness_N_per_m15,
      .distance_m = distance_m,
      .radial_m = distance_m * std::cos(bearing.contact_angle) - 0.5 * bearing.clearance.value(),
      .radial_N = radial_N,
      .axial_N = axial_N,
      .positions = {},
      .cosines = {}};
  for (int i = 0; i < bearing.balls; ++i) {
    rings.positions.push_back(2.0 * std::numbers::pi * (i + phase) / bearing.balls);
    rings.cosines.push_back(std::cos(rings.positions.back()));
  }

  const Shift shift = balanced_shift(rings);
  LoadDistribution result{.balls = {},
                          .q_max = Force{},
                          .angle_at_q_max = 0.0,
                          .loaded = 0,
                          .radial_shift = Length::from_value(shift.radial_m),
                          .axial_shift = Length::from_value(shift.axial_m),
                          .residual = energy(rings, shift).unbalance_N() / load_N};
  for (std::size_t i = 0; i < rings.positions.size(); ++i) {
    const Ball ball = ball_at(rings, shift, rings.cosines[i]);
    const BallLoad load{.position = rings.positions[i],
                        .load = Force::from_value(ball.load_N),
                        .contact_angle = std::atan2(ball.sin_angle, ball.cos_angle)};
    if (load.load > Force{}) ++result.loaded;
    if (load.load > result.q_max) {
      result.q_max = load.load;
      result.angle_at_q_max = load.contact_angle;
    }
    result.balls.push_back(load);
  }
  return result;
}

}  // namespace

LoadDistribution load_distribution(const BallBearing& bearing, const Elastic& steel, Force radial,
                                   Force axial, double phase) {
  require_loaded(bearing, radial, axial);
  return distribution(bearing, ball_stiffness_N_per_m15(bearing, steel), radial, axial, phase);
}

std::vector<LoadDistribution> load_distribution_over_phase(const BallBearing& bearing,
                                                           const Elastic& steel, Force radial,
                                                           Force axial, int count) {
  if (!(count >= 1))
    throw std::invalid_argument("load distribution: at least one cage position is needed");
  require_loaded(bearing, radial, axial);
  const double stiffness = ball_stiffness_N_per_m15(bearing, steel);
  std::vector<LoadDistribution> phases;
  for (int i = 0; i < count; ++i)
    phases.push_back(distribution(bearing, stiffness, radial, axial, (i + 0.5) / (2.0 * count)));
  return phases;
}

Force stribeck_ball_load(const BallBearing& bearing, Force radial) {
  require_valid(bearing);
  return 4.37 * radial / (bearing.balls * std::cos(bearing.contact_angle));
}

Force stribeck_roller_load(const RollerBearing& bearing, Force radial) {
  if (!(bearing.rollers >= 1))
    throw std::invalid_argument("roller bearing: the number of rollers must be positive");
  return 4.08 * radial / static_cast<double>(bearing.rollers);
}

}  // namespace ohmdrag::bearing
