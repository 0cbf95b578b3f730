#pragma once

#include <algorithm>

#include "component/nodal_chain.hpp"
#include "component/rod.hpp"
#include "component/wide_kernel.hpp"
#include "component/wide_shaft_rows.hpp"
#include "ohmdrag/component/wide_shaft.hpp"
#include "ohmdrag/contact/friction_kernel.hpp"

/// The heat flow of a block of shafts; part of wide_shaft.cpp, which compiles it for every width.
namespace ohmdrag::component {

// The nodal matrix, the nodes' temperatures without the films' power, and what a watt of each film
// adds to every node.
[[gnu::always_inline]] inline void WideShaft::network(const WideOilSide& oil,
                                                      const WideDrySide& dry,
                                                      WideShaftState& s) const {
  const double* const omega = dry.omega_rad_s[0];
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
  for (std::size_t i = 0; i < numerics::lanes; ++i)
    root[i] = root_of_film(at_rest[i] + turning[i] * omega[i] * omega[i]);
  if (oil_end_held_) {
#pragma GCC ivdep
    for (std::size_t i = 0; i < numerics::lanes; ++i)
      end[i] = fin[i] * root[i] * numerics::LaneMath::coth(per_m[i] * root[i] * end_m[i]);
  } else {
#pragma GCC ivdep
    for (std::size_t i = 0; i < numerics::lanes; ++i) end[i] = fin[i] * root[i];
  }
  for (std::size_t rod = 0; rod < wet_rods_; ++rod) {
    const double* const length_m = rods_m_[rod];
    double* const through = s.through_W_K[rod];
    double* const to_side = s.to_side_W_K[rod];
#pragma GCC ivdep
    for (std::size_t i = 0; i < numerics::lanes; ++i) {
      const RodConductance found =
          rod_of<numerics::LaneMath>(fin[i] * root[i], per_m[i] * root[i] * length_m[i]);
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
    for (std::size_t i = 0; i < numerics::lanes; ++i) {
      pivot[i] = first * end[i] + last * dry_end[i];
      x[i] = first * end[i] * oil_K[i] + last * dry_end[i] * dry_K[i];
    }
    for (std::size_t rod = n == 0 ? 0 : n - 1; rod < n + 1 && rod + 1 < nodes_; ++rod) {
      const double* const through = s.through_W_K[rod];
      const double* const to_side = s.to_side_W_K[rod];
      const double* const ambient_K = rod < wet_rods_ ? oil_K : dry_K;
#pragma GCC ivdep
      for (std::size_t i = 0; i < numerics::lanes; ++i) {
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
        for (std::size_t i = 0; i < numerics::lanes; ++i)
          power[i] = law[i] * load[i] * share[i] * omega[i] * half_d[i];
      } else {
        const double* const middle = contact.values[contact_row::law + 1];
        const double* const fast = contact.values[contact_row::law + 2];
        const double* const filled = contact.values[contact_row::law + 3];
        const double* const least_Pa = contact.values[contact_row::law + 4];
        const double* const pressure_Pa = contact.values[contact_row::law + 5];
#pragma GCC ivdep
        for (std::size_t i = 0; i < numerics::lanes; ++i) {
          const double u_m_s = omega[i] * half_d[i];
          const double friction =
              filled[i] * contact::unfilled_ptfe_friction<numerics::LaneMath>(
                              {law[i], middle[i], fast[i], filled[i], least_Pa[i]},
                              share[i] * pressure_Pa[i], u_m_s);
          power[i] = friction * load[i] * share[i] * u_m_s;
        }
      }
#pragma GCC ivdep
      for (std::size_t i = 0; i < numerics::lanes; ++i) x[i] += into_shaft[i] * power[i];
    }
#pragma GCC ivdep
    for (std::size_t i = 0; i < numerics::lanes; ++i) {
      pivot[i] += into_shaft[i] * body[i];
      x[i] += into_shaft[i] * (body[i] * body_K[i] + current[i]);
    }
  }
  factorise_chain<numerics::lanes>(nodes_, s.through_W_K[0], s.pivot_W_K[0]);
  solve_chain<numerics::lanes>(nodes_, s.through_W_K[0], s.pivot_W_K[0], s.node_K[0]);

  for (std::size_t f = 0; f < films_.size(); ++f) {
    const Contact& film = contacts_[films_[f]];
    double* const column = s.per_W_K[f * nodes_];
    std::fill(column, column + nodes_ * numerics::lanes, 0.0);
    std::copy(film.values[contact_row::into_shaft],
              film.values[contact_row::into_shaft] + numerics::lanes,
              s.per_W_K[f * nodes_ + film.node]);
    solve_chain<numerics::lanes>(nodes_, s.through_W_K[0], s.pivot_W_K[0], column);
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
    for (std::size_t i = 0; i < numerics::lanes; ++i)
      base[i] =
          into_shaft[i] * node_K[i] + (1.0 - into_shaft[i]) * body_K[i] + current[i] * per_both[i];
    for (std::size_t g = 0; g < films_.size(); ++g) {
      const double* const per_W = s.per_W_K[g * nodes_ + film.node];
      const double own = f == g ? 1.0 : 0.0;
      double* const resistance = s.resistance_K_W[f * films_.size() + g];
#pragma GCC ivdep
      for (std::size_t i = 0; i < numerics::lanes; ++i)
        resistance[i] = into_shaft[i] * per_W[i] + own * per_both[i];
    }
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
      for (std::size_t i = 0; i < numerics::lanes; ++i) node_K[i] += per_W[i] * power[i];
    }
  }
  double* const into_oil = s.into_oil_W[0];
  const double* const end = s.end_W_K[0];
  const double* const first_K = s.node_K[0];
#pragma GCC ivdep
  for (std::size_t i = 0; i < numerics::lanes; ++i) into_oil[i] = end[i] * (first_K[i] - oil_K[i]);
  for (std::size_t rod = 0; rod < wet_rods_; ++rod) {
    const double* const to_side = s.to_side_W_K[rod];
    const double* const here_K = s.node_K[rod];
    const double* const next_K = s.node_K[rod + 1];
#pragma GCC ivdep
    for (std::size_t i = 0; i < numerics::lanes; ++i)
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
    for (std::size_t i = 0; i < numerics::lanes; ++i) {
      contact_K[i] =
          (power[i] + current[i] + shaft[i] * node_K[i] + body[i] * body_K[i]) * per_both[i];
      into_oil[i] += in_oil * body[i] * (contact_K[i] - body_K[i]);
    }
  }
}

}  // namespace ohmdrag::component
