#include "ohmdrag/component/wide_shaft.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "component/film_kernel.hpp"
#include "component/nodal_chain.hpp"
#include "component/rod.hpp"
#include "component/wide_shaft_rows.hpp"
#include "ohmdrag/contact/convection_kernel.hpp"
#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::component {

using numerics::LaneMath;
using numerics::LaneRows;
using numerics::lanes;

namespace {

// h is a sixth power's root away from its cube: sqrt(h) is all that the fins ask for.
[[gnu::always_inline]] inline double root_of_film(const double cube) {
  return LaneMath::exp((1.0 / 6.0) * LaneMath::log(cube));
}

[[gnu::always_inline]] inline material::OilConstants oil_at(const double* const* oil,
                                                            std::size_t i) {
  return {oil[0][i], oil[1][i], oil[2][i], oil[3][i], oil[4][i], oil[5][i]};
}

}  // namespace

WideOilSide WideShaft::oil_side() const {
  return {.oil_K = LaneRows(1),
          .film_cubes = LaneRows(2),
          .force_share = LaneRows(contacts_.size(), 1.0),
          .log_share = LaneRows(contacts_.size(), 0.0)};
}

WideDrySide WideShaft::dry_side() const {
  const std::size_t rods = nodes_ - 1 - wet_rods_;
  return {.through_W_K = LaneRows(rods), .to_side_W_K = LaneRows(rods), .end_W_K = LaneRows(1)};
}

WideShaftState WideShaft::state() const {
  const std::size_t films = films_.size();
  const std::size_t contacts = contacts_.size();
  return {.power_W = LaneRows(contacts),
          .contact_K = LaneRows(contacts),
          .into_oil_W = LaneRows(1),
          .friction = LaneRows(films),
          .through_W_K = LaneRows(nodes_ - 1),
          .to_side_W_K = LaneRows(nodes_ - 1),
          .pivot_W_K = LaneRows(nodes_),
          .node_K = LaneRows(nodes_),
          .per_W_K = LaneRows(films * nodes_),
          .base_K = LaneRows(films + 1),
          .resistance_K_W = LaneRows(films * films),
          .friction_per_K = LaneRows(films),
          .unity_K = LaneRows(films),
          .unity_W = LaneRows(films),
          .moved_K = LaneRows(1),
          .before_K = LaneRows(1),
          .log_eta = LaneRows(1),
          .thinning_per_K = LaneRows(1),
          .end_W_K = LaneRows(1),
          .trouble = LaneRows(1)};
}

void WideShaft::fill(WideOilSide& side, const double* oil_K) const {
  std::copy(oil_K, oil_K + lanes, side.oil_K[0]);
  numerics::run_at_width(width_, [&] {
    const double* const oil[] = {shaft_[shaft_row::log_k],    shaft_[shaft_row::walther_b],
                                 shaft_[shaft_row::constant], shaft_[shaft_row::density],
                                 shaft_[shaft_row::alpha],    shaft_[shaft_row::log_eta_factor]};
    const double* const t_K = side.oil_K[0];
    const double* const scale = shaft_[shaft_row::oil_cube_scale];
    double* const at_rest = side.film_cubes[0];
    double* const turning = side.film_cubes[1];
    if (oil_turning_) {
      const double* const diameter = shaft_[shaft_row::diameter];
      const double* const rise = shaft_[shaft_row::oil_rise];
      const double* const prandtl_s_m2 = shaft_[shaft_row::prandtl_per_nu_rho];
#pragma GCC ivdep
      for (std::size_t i = 0; i < lanes; ++i) {
        const material::OilConstants here = oil_at(oil, i);
        const double nu_m2_s =
            1e-6 * material::walther_point<LaneMath>(here.log_k, here.b, here.constant, t_K[i])
                       .viscosity_mm2_s;
        const material::Swelling swelling = material::oil_swelling(here.alpha_per_K, t_K[i]);
        const double rho = here.density_kg_m3 * LaneMath::exp(-swelling.log_ratio);
        const contact::NusseltCubes cubes = contact::nusselt_cubes<LaneMath>(
            diameter[i], rise[i], nu_m2_s, nu_m2_s * rho * prandtl_s_m2[i], swelling.per_K);
        at_rest[i] = scale[i] * cubes.free;
        turning[i] = scale[i] * cubes.turning_s2;
      }
    } else {
      std::copy(scale, scale + lanes, at_rest);
    }
    for (std::size_t c = 0; c < contacts_.size(); ++c) {
      const Contact& contact = contacts_[c];
      if (contact.softening_points == 0) continue;
      const double* const body_K = contact.body_in_oil ? t_K : dry_[dry_row::dry];
      const double* const elastic = contact.values[contact_row::elastic_share];
      double* const share = side.force_share[c];
      const double* const first = contact.softening[contact.softening_points];
#pragma GCC ivdep
      for (std::size_t i = 0; i < lanes; ++i) share[i] = first[i];
      for (std::size_t p = 1; p < contact.softening_points; ++p) {
        const double* const from_K = contact.softening[p - 1];
        const double* const to_K = contact.softening[p];
        const double* const from = contact.softening[contact.softening_points + p - 1];
        const double* const to = contact.softening[contact.softening_points + p];
#pragma GCC ivdep
        for (std::size_t i = 0; i < lanes; ++i) {
          const double way = (body_K[i] - from_K[i]) / (to_K[i] - from_K[i]);
          const double not_below = way < 0.0 ? 0.0 : way;
          share[i] += (not_below > 1.0 ? 1.0 : not_below) * (to[i] - from[i]);
        }
      }
      double* const log_share = side.log_share[c];
#pragma GCC ivdep
      for (std::size_t i = 0; i < lanes; ++i) {
        share[i] = 1.0 - elastic[i] + elastic[i] * share[i];
        log_share[i] = LaneMath::log(share[i]);
      }
    }
  });
}

void WideShaft::fill(WideDrySide& side, AngularVelocity speed) const {
  const double omega = std::abs(speed.value());
  side.omega_rad_s = omega;
  numerics::run_at_width(width_, [&] {
    const double* const at_rest = dry_[dry_row::at_rest];
    const double* const turning = dry_[dry_row::turning];
    const double* const fin = shaft_[shaft_row::fin];
    const double* const per_m = shaft_[shaft_row::per_m];
    const double* const end_m = shaft_[shaft_row::dry_end];
    double* const end = side.end_W_K[0];
    double* const root = side.end_W_K[0];  // until the rods are done
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i)
      root[i] = root_of_film(at_rest[i] + turning[i] * omega * omega);
    for (std::size_t rod = wet_rods_; rod + 1 < nodes_; ++rod) {
      const double* const length_m = rods_m_[rod];
      double* const through = side.through_W_K[rod - wet_rods_];
      double* const to_side = side.to_side_W_K[rod - wet_rods_];
#pragma GCC ivdep
      for (std::size_t i = 0; i < lanes; ++i) {
        const RodConductance found =
            rod_of<LaneMath>(fin[i] * root[i], per_m[i] * root[i] * length_m[i]);
        through[i] = found.through_W_K;
        to_side[i] = found.to_side_W_K;
      }
    }
    if (dry_end_free_) {
#pragma GCC ivdep
      for (std::size_t i = 0; i < lanes; ++i)
        end[i] = fin[i] * root[i] * LaneMath::tanh(per_m[i] * root[i] * end_m[i]);
    } else {
#pragma GCC ivdep
      for (std::size_t i = 0; i < lanes; ++i) end[i] = fin[i] * root[i];
    }
  });
}

// The nodal matrix, the nodes' temperatures without the films' power, and what a watt of each film
// adds to every node.
[[gnu::always_inline]] inline void WideShaft::network(const WideOilSide& oil,
                                                      const WideDrySide& dry,
                                                      WideShaftState& s) const {
  const double omega = dry.omega_rad_s;
  const double* const oil_K = oil.oil_K[0];
  const double* const dry_K = dry_[dry_row::dry];
  const double* const at_rest = oil.film_cubes[0];
  const double* const turning = oil.film_cubes[1];
  const double* const fin = shaft_[shaft_row::fin];
  const double* const per_m = shaft_[shaft_row::per_m];
  const double* const end_m = shaft_[shaft_row::oil_end];
  double* const end = s.end_W_K[0];
  double* const root = s.base_K[films_.size()];
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i)
    root[i] = root_of_film(at_rest[i] + turning[i] * omega * omega);
  if (oil_end_held_) {
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i)
      end[i] = fin[i] * root[i] * LaneMath::coth(per_m[i] * root[i] * end_m[i]);
  } else {
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) end[i] = fin[i] * root[i];
  }
  for (std::size_t rod = 0; rod < wet_rods_; ++rod) {
    const double* const length_m = rods_m_[rod];
    double* const through = s.through_W_K[rod];
    double* const to_side = s.to_side_W_K[rod];
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const RodConductance found =
          rod_of<LaneMath>(fin[i] * root[i], per_m[i] * root[i] * length_m[i]);
      through[i] = found.through_W_K;
      to_side[i] = found.to_side_W_K;
    }
  }
  const std::size_t dry_rods = nodes_ - 1 - wet_rods_;
  std::copy(dry.through_W_K[0], dry.through_W_K[dry_rods], s.through_W_K[wet_rods_]);
  std::copy(dry.to_side_W_K[0], dry.to_side_W_K[dry_rods], s.to_side_W_K[wet_rods_]);

  for (std::size_t n = 0; n < nodes_; ++n) {
    double* const pivot = s.pivot_W_K[n];
    double* const x = s.node_K[n];
    const double* const dry_end = dry.end_W_K[0];
    const double first = n == 0 ? 1.0 : 0.0;
    const double last = n + 1 == nodes_ ? 1.0 : 0.0;
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      pivot[i] = first * end[i] + last * dry_end[i];
      x[i] = first * end[i] * oil_K[i] + last * dry_end[i] * dry_K[i];
    }
    for (std::size_t rod = n == 0 ? 0 : n - 1; rod < n + 1 && rod + 1 < nodes_; ++rod) {
      const double* const through = s.through_W_K[rod];
      const double* const to_side = s.to_side_W_K[rod];
      const double* const ambient_K = rod < wet_rods_ ? oil_K : dry_K;
#pragma GCC ivdep
      for (std::size_t i = 0; i < lanes; ++i) {
        pivot[i] += through[i] + to_side[i];
        x[i] += to_side[i] * ambient_K[i];
      }
    }
  }
  for (std::size_t c = 0; c < contacts_.size(); ++c) {
    const Contact& contact = contacts_[c];
    const double* const into_shaft = contact.values[contact_row::into_shaft];
    const double* const body = contact.values[contact_row::body];
    const double* const current = contact.values[contact_row::current];
    const double* const body_K = contact.body_in_oil ? oil_K : dry_K;
    double* const pivot = s.pivot_W_K[contact.node];
    double* const x = s.node_K[contact.node];
    double* const power = s.power_W[c];
    if (contact.law != Law::film) {
      const double* const load = contact.values[contact_row::load];
      const double* const half_d = shaft_[shaft_row::half_diameter];
      const double* const share = oil.force_share[c];
      const double* const law = contact.values[contact_row::law];
      if (contact.law == Law::constant) {
#pragma GCC ivdep
        for (std::size_t i = 0; i < lanes; ++i)
          power[i] = law[i] * load[i] * share[i] * omega * half_d[i];
      } else {
        const double* const middle = contact.values[contact_row::law + 1];
        const double* const fast = contact.values[contact_row::law + 2];
        const double* const filled = contact.values[contact_row::law + 3];
        const double* const least_Pa = contact.values[contact_row::law + 4];
        const double* const pressure_Pa = contact.values[contact_row::law + 5];
#pragma GCC ivdep
        for (std::size_t i = 0; i < lanes; ++i) {
          const double u_m_s = omega * half_d[i];
          const double friction =
              filled[i] * contact::unfilled_ptfe_friction<LaneMath>(
                              {law[i], middle[i], fast[i], filled[i], least_Pa[i]},
                              share[i] * pressure_Pa[i], u_m_s);
          power[i] = friction * load[i] * share[i] * u_m_s;
        }
      }
#pragma GCC ivdep
      for (std::size_t i = 0; i < lanes; ++i) x[i] += into_shaft[i] * power[i];
    }
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      pivot[i] += into_shaft[i] * body[i];
      x[i] += into_shaft[i] * (body[i] * body_K[i] + current[i]);
    }
  }
  factorise_chain<lanes>(nodes_, s.through_W_K[0], s.pivot_W_K[0]);
  solve_chain<lanes>(nodes_, s.through_W_K[0], s.pivot_W_K[0], s.node_K[0]);

  for (std::size_t f = 0; f < films_.size(); ++f) {
    const Contact& film = contacts_[films_[f]];
    double* const column = s.per_W_K[f * nodes_];
    std::fill(column, column + nodes_ * lanes, 0.0);
    std::copy(film.values[contact_row::into_shaft], film.values[contact_row::into_shaft] + lanes,
              s.per_W_K[f * nodes_ + film.node]);
    solve_chain<lanes>(nodes_, s.through_W_K[0], s.pivot_W_K[0], column);
  }
  for (std::size_t f = 0; f < films_.size(); ++f) {
    const Contact& film = contacts_[films_[f]];
    const double* const into_shaft = film.values[contact_row::into_shaft];
    const double* const per_both = film.values[contact_row::per_both];
    const double* const current = film.values[contact_row::current];
    const double* const body_K = film.body_in_oil ? oil_K : dry_K;
    const double* const node_K = s.node_K[film.node];
    double* const base = s.base_K[f];
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i)
      base[i] =
          into_shaft[i] * node_K[i] + (1.0 - into_shaft[i]) * body_K[i] + current[i] * per_both[i];
    for (std::size_t g = 0; g < films_.size(); ++g) {
      const double* const per_W = s.per_W_K[g * nodes_ + film.node];
      const double own = f == g ? 1.0 : 0.0;
      double* const resistance = s.resistance_K_W[f * films_.size() + g];
#pragma GCC ivdep
      for (std::size_t i = 0; i < lanes; ++i)
        resistance[i] = into_shaft[i] * per_W[i] + own * per_both[i];
    }
  }
}

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
  const double omega = dry.omega_rad_s;
  const double log_omega = LaneMath::log(omega);
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
    for (std::size_t i = 0; i < lanes; ++i) {
      unity_W[i] = load[i] * share[i] * omega * half_d[i];
      unity[i] = resistance[i] * unity_W[i];
      power[i] = unity_W[i] * friction[i];
      theta[i] = idle[i] + unity[i] * friction[i];
    }
  }
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) trouble[i] = 0.0;

  double sweep_moved = films == 0 ? 0.0 : numerics::no_limit;
  for (int sweep = 0; sweep_moved > settled_K && sweep < most_sweeps; ++sweep) {
    sweep_moved = 0.0;
    for (std::size_t f = 0; f < films; ++f) {
      const Contact& film = contacts_[films_[f]];
      const double* const idle = s.base_K[f];
      std::copy(idle, idle + lanes, base);
      for (std::size_t g = 0; g < films; ++g) {
        if (g == f) continue;
        const double* const resistance = s.resistance_K_W[f * films + g];
        const double* const power = s.power_W[films_[g]];
#pragma GCC ivdep
        for (std::size_t i = 0; i < lanes; ++i) base[i] += resistance[i] * power[i];
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
      for (std::size_t i = 0; i < lanes; ++i) {
        before[i] = theta[i];
        theta[i] = theta[i] > base[i] ? theta[i] : base[i];
      }
      double largest = numerics::no_limit;
      for (int n = 0; n < newton_steps && largest > step_tolerance_K; ++n) {
        ++s.evaluations;
        largest = 0.0;
        // In two loops, the second's samples begin while the first's are under way.
#pragma GCC ivdep
        for (std::size_t i = 0; i < lanes; ++i) {
          const material::LogViscosity eta =
              material::log_viscosity<LaneMath>(oil_at(constants, i), theta[i]);
          log_eta[i] = eta.log_eta;
          thinning[i] = eta.thinning_per_K;
        }
#pragma omp simd reduction(max : largest)
        for (std::size_t i = 0; i < lanes; ++i) {
          const FilmFriction now = film_friction_at<LaneMath>(
              {mu_b[i], factor[i], transition[i], exponent[i]}, {log_eta[i], thinning[i]},
              log_omega + log_per_force[i] - log_share[i]);
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
      for (std::size_t i = 0; i < lanes; ++i) {
        power[i] = unity_W[i] * friction[i];
        const double way = std::abs(theta[i] - before[i]);
        farthest = way > farthest ? way : farthest;
        trouble[i] = moved[i] <= step_tolerance_K ? trouble[i] : 1.0;
      }
      sweep_moved = farthest > sweep_moved ? farthest : sweep_moved;
    }
    if (films == 1) break;  // the others' heat is fixed
  }
  if (films > 1 && sweep_moved > settled_K) std::fill(trouble, trouble + lanes, 1.0);

  // The bound of loop_gain_bound(): 1 and more has no steady state.
  for (std::size_t f = 0; f < films; ++f) {
    std::fill(moved, moved + lanes, 0.0);
    for (std::size_t g = 0; g < films; ++g) {
      const double* const resistance = s.resistance_K_W[f * films + g];
      const double* const unity_W = s.unity_W[g];
      const double* const per_K = s.friction_per_K[g];
#pragma GCC ivdep
      for (std::size_t i = 0; i < lanes; ++i) {
        const double slope = unity_W[i] * per_K[i];
        moved[i] += resistance[i] * (slope > 0.0 ? slope : 0.0);
      }
    }
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) trouble[i] = moved[i] < 1.0 ? trouble[i] : 1.0;
  }
}

// Temperatures and heat flows from settled powers.
[[gnu::always_inline]] inline void WideShaft::flows(const WideOilSide& oil,
                                                    WideShaftState& s) const {
  const double* const oil_K = oil.oil_K[0];
  const double* const dry_K = dry_[dry_row::dry];
  for (std::size_t f = 0; f < films_.size(); ++f) {
    const double* const power = s.power_W[films_[f]];
    for (std::size_t n = 0; n < nodes_; ++n) {
      const double* const per_W = s.per_W_K[f * nodes_ + n];
      double* const node_K = s.node_K[n];
#pragma GCC ivdep
      for (std::size_t i = 0; i < lanes; ++i) node_K[i] += per_W[i] * power[i];
    }
  }
  double* const into_oil = s.into_oil_W[0];
  const double* const end = s.end_W_K[0];
  const double* const first_K = s.node_K[0];
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) into_oil[i] = end[i] * (first_K[i] - oil_K[i]);
  for (std::size_t rod = 0; rod < wet_rods_; ++rod) {
    const double* const to_side = s.to_side_W_K[rod];
    const double* const here_K = s.node_K[rod];
    const double* const next_K = s.node_K[rod + 1];
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i)
      into_oil[i] += to_side[i] * (here_K[i] + next_K[i] - 2.0 * oil_K[i]);
  }
  for (std::size_t c = 0; c < contacts_.size(); ++c) {
    const Contact& contact = contacts_[c];
    const double* const body = contact.values[contact_row::body];
    const double* const shaft = contact.values[contact_row::shaft];
    const double* const per_both = contact.values[contact_row::per_both];
    const double* const current = contact.values[contact_row::current];
    const double* const body_K = contact.body_in_oil ? oil_K : dry_K;
    const double* const node_K = s.node_K[contact.node];
    const double* const power = s.power_W[c];
    const double in_oil = contact.body_in_oil ? 1.0 : 0.0;
    double* const contact_K = s.contact_K[c];
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      contact_K[i] =
          (power[i] + current[i] + shaft[i] * node_K[i] + body[i] * body_K[i]) * per_both[i];
      into_oil[i] += in_oil * body[i] * (contact_K[i] - body_K[i]);
    }
  }
}

void WideShaft::settle(const WideOilSide& oil, const WideDrySide& dry,
                       WideShaftState& state) const {
  const bool turns = dry.omega_rad_s > 0.0;
  double trouble = 0.0;
  numerics::run_at_width(width_, [&] {
    network(oil, dry, state);
    if (turns) {
      settle_films(oil, dry, state);
      const double* const marked = state.trouble[0];
      for (std::size_t i = 0; i < lanes; ++i) trouble += marked[i];
    } else {
      for (const std::size_t c : films_) std::fill(state.power_W[c], state.power_W[c] + lanes, 0.0);
    }
    flows(oil, state);
  });
  if (trouble > 0.0)
    for (std::size_t i = 0; i < lanes; ++i)
      if (state.trouble[0][i] > 0.0) settle_alone(i, oil, dry, state);
}

[[gnu::noinline]] void WideShaft::settle_alone(std::size_t lane, const WideOilSide& oil,
                                               const WideDrySide& dry,
                                               WideShaftState& state) const {
  const Surroundings around{Temperature::from_value(oil.oil_K[0][lane]),
                            Temperature::from_value(dry_[dry_row::dry][lane])};
  const ShaftState found =
      solve(system(lane), AngularVelocity::from_value(dry.omega_rad_s), around);
  for (std::size_t c = 0; c < contacts_.size(); ++c) {
    state.power_W[c][lane] = found.contacts[c].power.value();
    state.contact_K[c][lane] = found.contacts[c].contact.value();
  }
  for (std::size_t f = 0; f < films_.size(); ++f)
    state.friction[f][lane] = found.contacts[films_[f]].friction;
  state.into_oil_W[0][lane] = into_oil(system(lane), found).value();
}

}  // namespace ohmdrag::component
