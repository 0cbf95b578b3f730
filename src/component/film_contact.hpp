#pragma once

#include <algorithm>
#include <boost/container/small_vector.hpp>
#include <cmath>
#include <stdexcept>

#include "component/film_kernel.hpp"
#include "ohmdrag/component/shaft_network.hpp"
#include "ohmdrag/numerics/lane_math.hpp"
#include "ohmdrag/numerics/root.hpp"

/// Mixed films against a linear heat flow: what the steady and the marching shaft have in common.
namespace ohmdrag::component {

// A mixed film on the shaft at the speed in question, in raw SI for the inner loop.
struct Film {
  std::size_t contact;
  contact::MixedFilmConstants law;
  double log_duty_per_Pa_s;  // ln(u / F')
  double power_at_unity_W;   // power if the friction coefficient were 1
  double friction = 0;       // at the last solution
  double friction_per_K = 0;
};

inline FilmFriction friction_at(const Film& film, const material::OilConstants& oil,
                                double contact_K) {
  return film_friction_at<numerics::LibraryMath>(
      film.law, material::log_viscosity<numerics::LibraryMath>(oil, contact_K),
      film.log_duty_per_Pa_s);
}

struct Solution {
  double contact_K;
  double friction;
  double friction_per_K;
};

// The root of theta = base + R P(theta). Newton from the guess; where it wanders, the bracket from
// base (no power) to the power of the largest friction that any warmer film can have.
inline Solution contact_solution(const Film& film, const material::OilConstants& oil, double base_K,
                                 double resistance_K_W, double guess_K) {
  const double rise_at_unity_K = resistance_K_W * film.power_at_unity_W;
  constexpr double step_tolerance_K = 1e-5;  // the error after the last step is its square
  constexpr int newton_steps = 12;
  double contact_K = std::max(guess_K, base_K);
  for (int i = 0; i < newton_steps; ++i) {
    const FilmFriction now = friction_at(film, oil, contact_K);
    const double slope = 1.0 - rise_at_unity_K * now.per_K;
    if (!(slope > 0.0)) break;
    const double residual_K = contact_K - base_K - rise_at_unity_K * now.friction;
    const double next_K = std::max(contact_K - residual_K / slope, base_K);
    const double step_K = next_K - contact_K;
    if (std::abs(step_K) < step_tolerance_K)
      return {next_K, now.friction + now.per_K * step_K, now.per_K};
    contact_K = next_K;
  }

  const double largest_friction =
      std::max(film.law.boundary_friction, friction_at(film, oil, base_K).film_friction);
  const auto residual_K = [&](double theta_K) {
    return theta_K - base_K - rise_at_unity_K * friction_at(film, oil, theta_K).friction;
  };
  constexpr double margin_K = 1e-6;  // keeps the sign at the upper end clear of rounding
  const double root_K = numerics::bracketed_root(
      residual_K, base_K, base_K + rise_at_unity_K * largest_friction + margin_K, 1e-9);
  const FilmFriction at_root = friction_at(film, oil, root_K);
  return {root_K, at_root.friction, at_root.per_K};
}

// Every contact at one speed. Dry friction has its power; a mixed film waits for its start.
struct MovingContacts {
  boost::container::small_vector<double, 4> power_W;
  boost::container::small_vector<double, 4> contact_K;  // of the mixed films, else unused
  boost::container::small_vector<double, 4> friction;
  boost::container::small_vector<Force, 4> load;  // at the temperature of its body
  boost::container::small_vector<Film, 4> films;
};

inline MovingContacts moving_contacts(const ShaftSystem& system, AngularVelocity speed,
                                      const Surroundings& around) {
  const std::size_t contacts = system.contacts.size();
  const Speed rim = rim_speed(speed, 0.5 * system.diameter);
  const double u_m_s = std::abs(rim.value());
  MovingContacts moving;
  moving.power_W.resize(contacts, 0.0);
  moving.contact_K.resize(contacts, 0.0);
  moving.friction.resize(contacts, 0.0);
  moving.load.resize(contacts);
  for (std::size_t i = 0; i < contacts; ++i) {
    const ShaftContact& c = system.contacts[i];
    const double share = force_share(c, around);
    moving.load[i] = share * c.load;
    const LineForce line_force = share * c.line_force;
    if (const auto* film = std::get_if<contact::MixedFilm>(&c.law)) {
      moving.films.push_back({.contact = i,
                              .law = contact::mixed_film_constants(*film),
                              .log_duty_per_Pa_s = std::log(u_m_s / line_force.value()),
                              .power_at_unity_W = moving.load[i].value() * u_m_s});
    } else {
      moving.friction[i] = contact::friction_coefficient(c.law, {}, rim, line_force);
      moving.power_W[i] = moving.friction[i] * moving.load[i].value() * u_m_s;
    }
  }
  return moving;
}

// Friction, torque and power of a state from settled contacts.
inline void set_friction(ShaftState& state, const ShaftSystem& system,
                         const MovingContacts& moving) {
  for (std::size_t i = 0; i < system.contacts.size(); ++i) {
    ContactState& c = state.contacts[i];
    c.friction = moving.friction[i];
    const Torque magnitude = contact::friction_torque(c.friction, moving.load[i], system.diameter);
    c.torque = state.speed.value() < 0.0 ? -magnitude : magnitude;
    c.power = c.torque * state.speed;
  }
}

// Each film alone against the heat of the others, in turn, for theta_i = idle_i + sum_j R_ij P_j.
// power_W and contact_K of the films hold the start and receive the result. The loop ends because
// the heat of one contact reaches another weaker than itself.
template <class Idle, class Resistance>
void settle_films(MovingContacts& moving, const material::LubricantProperties& oil, Idle&& idle_K,
                  Resistance&& resistance_K_W) {
  auto& [power_W, contact_K, friction, load, films] = moving;
  const material::OilConstants constants = material::oil_constants(oil);
  const std::size_t contacts = power_W.size();
  constexpr int most_sweeps = 200;
  constexpr double settled_K = 1e-8;
  double moved_K = films.empty() ? 0.0 : numerics::no_limit;
  for (int sweep = 0; moved_K > settled_K; ++sweep) {
    if (sweep == most_sweeps)
      throw std::domain_error("thermally unstable: the contact temperatures do not settle");
    moved_K = 0.0;
    for (Film& film : films) {
      const std::size_t i = film.contact;
      double base_K = idle_K(i);
      for (std::size_t j = 0; j < contacts; ++j)
        if (j != i) base_K += resistance_K_W(i, j) * power_W[j];
      const Solution found =
          contact_solution(film, constants, base_K, resistance_K_W(i, i), contact_K[i]);
      moved_K = std::max(moved_K, std::abs(found.contact_K - contact_K[i]));
      contact_K[i] = found.contact_K;
      power_W[i] = film.power_at_unity_W * found.friction;
      friction[i] = found.friction;
      film.friction_per_K = found.friction_per_K;
    }
    if (films.size() == 1) break;  // the others' heat is fixed
  }
}

// Largest eigenvalue of R P' from above. R is symmetric and positive definite, so leaving out the
// contacts that cool themselves (P' < 0) only raises it, and a row sum of non-negative numbers
// bounds it.
template <class Films, class Resistance>
double loop_gain_bound(const Films& films, Resistance&& resistance_K_W) {
  const auto slope = [](const Film& f) { return f.power_at_unity_W * f.friction_per_K; };
  const auto resistance = [&](const Film& a, const Film& b) {
    return resistance_K_W(a.contact, b.contact);
  };
  if (films.empty()) return 0.0;
  double largest_row = 0.0;
  for (const Film& row : films) {
    double sum = 0.0;
    for (const Film& column : films) sum += resistance(row, column) * std::max(0.0, slope(column));
    largest_row = std::max(largest_row, sum);
  }
  if (largest_row > 0.0) return largest_row;
  double own = -numerics::no_limit;
  for (const Film& film : films) own = std::max(own, resistance(film, film) * slope(film));
  return own;
}

}  // namespace ohmdrag::component
