#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "component/rod.hpp"
#include "component/wide_kernel.hpp"
#include "component/wide_shaft_rows.hpp"
#include "ohmdrag/component/wide_shaft.hpp"
#include "ohmdrag/contact/convection_kernel.hpp"
#include "ohmdrag/numerics/lane_math.hpp"

namespace ohmdrag::component {

using numerics::LaneMath;
using numerics::lanes;

WideOilSide WideShaft::oil_side() const {
  numerics::LaneRoom room(3 + 2 * contacts_.size());
  WideOilSide side{.oil_K = room.take(1),
                   .film_cubes = room.take(2),
                   .force_share = room.take(contacts_.size()),
                   .log_share = room.take(contacts_.size())};
  std::fill_n(side.force_share[0], contacts_.size() * lanes, 1.0);
  side.room = std::move(room);
  return side;
}

WideDrySide WideShaft::dry_side() const {
  const std::size_t rods = nodes_ - 1 - wet_rods_;
  numerics::LaneRoom room(3 + 2 * rods);
  WideDrySide side{.omega_rad_s = room.take(1),
                   .log_omega = room.take(1),
                   .through_W_K = room.take(rods),
                   .to_side_W_K = room.take(rods),
                   .end_W_K = room.take(1)};
  side.room = std::move(room);
  return side;
}

WideShaftState WideShaft::state() const {
  const std::size_t films = films_.size();
  const std::size_t contacts = contacts_.size();
  numerics::LaneRoom room(2 * contacts + 4 * nodes_ + films * (nodes_ + films + 5) + 7);
  WideShaftState state{.power_W = room.take(contacts),
                       .contact_K = room.take(contacts),
                       .into_oil_W = room.take(1),
                       .loop_gain = room.take(1),
                       .friction = room.take(films),
                       .through_W_K = room.take(nodes_ - 1),
                       .to_side_W_K = room.take(nodes_ - 1),
                       .pivot_W_K = room.take(nodes_),
                       .node_K = room.take(nodes_),
                       .per_W_K = room.take(films * nodes_),
                       .base_K = room.take(films + 1),
                       .resistance_K_W = room.take(films * films),
                       .friction_per_K = room.take(films),
                       .unity_K = room.take(films),
                       .unity_W = room.take(films),
                       .moved_K = room.take(1),
                       .before_K = room.take(1),
                       .log_eta = room.take(1),
                       .thinning_per_K = room.take(1),
                       .end_W_K = room.take(1),
                       .trouble = room.take(1)};
  state.room = std::move(room);
  return state;
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
  std::array<double, lanes> omega_rad_s;
  omega_rad_s.fill(std::abs(speed.value()));
  fill(side, omega_rad_s.data());
}

void WideShaft::fill(WideDrySide& side, const double* omega_rad_s) const {
  std::copy(omega_rad_s, omega_rad_s + lanes, side.omega_rad_s[0]);
  side.turns = omega_rad_s[0] > 0.0;
  numerics::run_at_width(width_, [&] {
    const double* const omega = side.omega_rad_s[0];
    double* const log_omega = side.log_omega[0];
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) log_omega[i] = LaneMath::log(omega[i]);
    const double* const at_rest = dry_[dry_row::at_rest];
    const double* const turning = dry_[dry_row::turning];
    const double* const fin = shaft_[shaft_row::fin];
    const double* const per_m = shaft_[shaft_row::per_m];
    const double* const end_m = shaft_[shaft_row::dry_end];
    double* const end = side.end_W_K[0];
    double* const root = side.end_W_K[0];  // until the rods are done
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i)
      root[i] = root_of_film(at_rest[i] + turning[i] * omega[i] * omega[i]);
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

}  // namespace ohmdrag::component
