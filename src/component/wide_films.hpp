#pragma once

#include <algorithm>
#include <cmath>

#include "component/film_kernel.hpp"
#include "component/wide_kernel.hpp"
#include "component/wide_shaft_rows.hpp"
#include "ohmdrag/component/wide_shaft.hpp"

/// Mixed films of a block of shafts against their heat flow; part of wide_shaft.cpp, which compiles
/// it for every width.
namespace ohmdrag::component {

// Each film alone against the heat of the others, in turn, as settle_films() of film_contact.hpp.
// A lane that does not settle, or runs away, is marked as trouble.
[[gnu::always_inline]] inline void WideShaft::settle_films(const WideOilSide& oil,
                                                           const WideDrySide& dry,
                                                           WideShaftState& s) const {
  const double step_tolerance_K = s.step_tolerance_K;
  constexpr int newton_steps = 12;
  constexpr double settled_K = 1e-8;
  constexpr int most_sweeps = 200;
  const std::size_t films = films_.size();
  const double* const omega = dry.omega_rad_s[0];
  const double* const log_omega = dry.log_omega[0];
  const double* const half_d = shaft_[shaft_row::half_diameter];
  const double* const constants[] = {
      shaft_[shaft_row::log_k],   shaft_[shaft_row::walther_b], shaft_[shaft_row::constant],
      shaft_[shaft_row::density], shaft_[shaft_row::alpha],     shaft_[shaft_row::log_eta_factor]};
  double* const moved = s.moved_K[0];
  double* const trouble = s.trouble[0];
  double* const base = s.base_K[films];  // of the film in hand, with its neighbours' heat

  for (std::size_t f = 0; f < films; ++f) {
    const Contact& film = contacts_[films_[f]];
    const double* const load = film.values[contact_row::load];
    const double* const share = oil.force_share[films_[f]];
    const double* const resistance = s.resistance_K_W[f * films + f];
    const double* const idle = s.base_K[f];
    const double* const friction = s.friction[f];
    double* const unity_W = s.unity_W[f];
    double* const unity = s.unity_K[f];
    double* const theta = s.contact_K[films_[f]];
    double* const power = s.power_W[films_[f]];
#pragma GCC ivdep
    for (std::size_t i = 0; i < numerics::lanes; ++i) {
      unity_W[i] = load[i] * share[i] * omega[i] * half_d[i];
      unity[i] = resistance[i] * unity_W[i];
      power[i] = unity_W[i] * friction[i];
      theta[i] = idle[i] + unity[i] * friction[i];
    }
  }
#pragma GCC ivdep
  for (std::size_t i = 0; i < numerics::lanes; ++i) trouble[i] = 0.0;

  double sweep_moved = films == 0 ? 0.0 : numerics::no_limit;
  for (int sweep = 0; sweep_moved > settled_K && sweep < most_sweeps; ++sweep) {
    sweep_moved = 0.0;
    for (std::size_t f = 0; f < films; ++f) {
      const Contact& film = contacts_[films_[f]];
      const double* const idle = s.base_K[f];
      std::copy(idle, idle + numerics::lanes, base);
      for (std::size_t g = 0; g < films; ++g) {
        if (g == f) continue;
        const double* const resistance = s.resistance_K_W[f * films + g];
        const double* const power = s.power_W[films_[g]];
#pragma GCC ivdep
        for (std::size_t i = 0; i < numerics::lanes; ++i) base[i] += resistance[i] * power[i];
      }
      const double* const mu_b = film.values[contact_row::law];
      const double* const factor = film.values[contact_row::law + 1];
      const double* const transition = film.values[contact_row::law + 2];
      const double* const exponent = film.values[contact_row::law + 3];
      const double* const log_per_force = film.values[contact_row::law + 4];
      const double* const log_share = oil.log_share[films_[f]];
      const double* const unity = s.unity_K[f];
      const double* const unity_W = s.unity_W[f];
      double* const theta = s.contact_K[films_[f]];
      double* const friction = s.friction[f];
      double* const per_K = s.friction_per_K[f];
      double* const power = s.power_W[films_[f]];
      double* const before = s.before_K[0];
      double* const log_eta = s.log_eta[0];
      double* const thinning = s.thinning_per_K[0];
#pragma GCC ivdep
      for (std::size_t i = 0; i < numerics::lanes; ++i) {
        before[i] = theta[i];
        theta[i] = theta[i] > base[i] ? theta[i] : base[i];
      }
      double largest = numerics::no_limit;
      for (int n = 0; n < newton_steps && largest > step_tolerance_K; ++n) {
        ++s.evaluations;
        largest = 0.0;
        // In two loops, the second's samples begin while the first's are under way.
#pragma GCC ivdep
        for (std::size_t i = 0; i < numerics::lanes; ++i) {
          const material::LogViscosity eta =
              material::log_viscosity<numerics::LaneMath>(oil_at(constants, i), theta[i]);
          log_eta[i] = eta.log_eta;
          thinning[i] = eta.thinning_per_K;
        }
#pragma omp simd reduction(max : largest)
        for (std::size_t i = 0; i < numerics::lanes; ++i) {
          const FilmFriction now = film_friction_at<numerics::LaneMath>(
              {mu_b[i], factor[i], transition[i], exponent[i]}, {log_eta[i], thinning[i]},
              log_omega[i] + log_per_force[i] - log_share[i]);
          const double slope = 1.0 - unity[i] * now.per_K;
          const double to = theta[i] - (theta[i] - base[i] - unity[i] * now.friction) / slope;
          const double next = to > base[i] ? to : base[i];
          const double step = next - theta[i];
          friction[i] = now.friction + now.per_K * step;
          per_K[i] = now.per_K;
          theta[i] = next;
          moved[i] = slope > 0.0 ? std::abs(step) : numerics::no_limit;
          largest = moved[i] > largest ? moved[i] : largest;
        }
      }
      double farthest = 0.0;
#pragma omp simd reduction(max : farthest)
      for (std::size_t i = 0; i < numerics::lanes; ++i) {
        power[i] = unity_W[i] * friction[i];
        const double way = std::abs(theta[i] - before[i]);
        farthest = way > farthest ? way : farthest;
        trouble[i] = moved[i] <= step_tolerance_K ? trouble[i] : 1.0;
      }
      sweep_moved = farthest > sweep_moved ? farthest : sweep_moved;
    }
    if (films == 1) break;  // the others' heat is fixed
  }
  if (films > 1 && sweep_moved > settled_K) std::fill(trouble, trouble + numerics::lanes, 1.0);

  // The bound of loop_gain_bound(): 1 and more has no steady state.
  double* const gain = s.loop_gain[0];
  std::fill(gain, gain + numerics::lanes, 0.0);
  for (std::size_t f = 0; f < films; ++f) {
    std::fill(moved, moved + numerics::lanes, 0.0);
    for (std::size_t g = 0; g < films; ++g) {
      const double* const resistance = s.resistance_K_W[f * films + g];
      const double* const unity_W = s.unity_W[g];
      const double* const per_K = s.friction_per_K[g];
#pragma GCC ivdep
      for (std::size_t i = 0; i < numerics::lanes; ++i) {
        const double slope = unity_W[i] * per_K[i];
        moved[i] += resistance[i] * (slope > 0.0 ? slope : 0.0);
      }
    }
#pragma GCC ivdep
    for (std::size_t i = 0; i < numerics::lanes; ++i) {
      gain[i] = moved[i] > gain[i] ? moved[i] : gain[i];
      trouble[i] = moved[i] < 1.0 ? trouble[i] : 1.0;
    }
  }
}

}  // namespace ohmdrag::component
