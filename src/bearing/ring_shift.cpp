#include "bearing/ring_shift.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace ohmdrag::bearing {

namespace {

struct Energy {
  RingLanes value_J;
  RingLanes axial_N, radial_N;                         // gradient: internal minus applied force
  RingLanes axial_axial, axial_radial, radial_radial;  // Hessian, N/m
  RingLanes unbalance_N;
};

[[gnu::always_inline]] inline void add_up(const LoadedRings& rings, const RingLanes& axial_m,
                                          const RingLanes& radial_m, Energy& sum) {
  for (std::size_t l = 0; l < ring_lanes; ++l) {
    sum.value_J[l] = -rings.axial_N[l] * axial_m[l] - rings.radial_N[l] * radial_m[l];
    sum.axial_N[l] = -rings.axial_N[l];
    sum.radial_N[l] = -rings.radial_N[l];
    sum.axial_axial[l] = sum.axial_radial[l] = sum.radial_radial[l] = 0.0;
  }
  for (const RingLanes& cosines : rings.cosines)
    for (std::size_t l = 0; l < ring_lanes; ++l) {
      const double c = cosines[l];
      const double along_radius_m = rings.radial_m + radial_m[l] * c;
      const double length_m = std::sqrt(axial_m[l] * axial_m[l] + along_radius_m * along_radius_m);
      const double per_length = 1.0 / length_m;
      const double sine = axial_m[l] * per_length, cosine = along_radius_m * per_length;
      const double past_m = length_m - rings.distance_m;
      const double squeeze_m = past_m > 0.0 ? past_m : 0.0;
      const double root = rings.stiffness_N_per_m15 * std::sqrt(squeeze_m);
      const double load_N = root * squeeze_m;
      const double along = 1.5 * root;            // dQ/ds
      const double across = load_N * per_length;  // turning of the load line
      sum.value_J[l] += 0.4 * load_N * squeeze_m;
      sum.axial_N[l] += load_N * sine;
      sum.radial_N[l] += load_N * cosine * c;
      sum.axial_axial[l] += along * sine * sine + across * cosine * cosine;
      sum.axial_radial[l] += (along - across) * sine * cosine * c;
      sum.radial_radial[l] += (along * cosine * cosine + across * sine * sine) * c * c;
    }
  for (std::size_t l = 0; l < ring_lanes; ++l)
    sum.unbalance_N[l] =
        std::sqrt(sum.axial_N[l] * sum.axial_N[l] + sum.radial_N[l] * sum.radial_N[l]);
}

/// In which balls touch: enough radial shift for Stribeck's worst ball, enough axial shift for an
/// even axial load at a contact angle of about 12 degrees.
RingShift first_guess(const LoadedRings& rings) {
  const auto count = static_cast<double>(rings.cosines.size());
  const auto squeeze_m = [&](double load_N) {
    const double root = std::cbrt(load_N / (count * rings.stiffness_N_per_m15));
    return root * root;
  };
  RingShift shift{};
  for (std::size_t l = 0; l < ring_lanes; ++l) {
    if (l > 0 && rings.radial_N[l] == rings.radial_N[l - 1] &&
        rings.axial_N[l] == rings.axial_N[l - 1]) {  // at another position of the cage
      shift.radial_m[l] = shift.radial_m[l - 1];
      shift.axial_m[l] = shift.axial_m[l - 1];
      continue;
    }
    if (rings.radial_N[l] > 0.0)
      shift.radial_m[l] = (rings.distance_m - rings.radial_m + squeeze_m(5.0 * rings.radial_N[l])) /
                          std::cos(std::numbers::pi / count);
    if (rings.axial_N[l] > 0.0) {
      const double length_m = rings.distance_m + squeeze_m(5.0 * rings.axial_N[l]);
      shift.axial_m[l] = std::sqrt(length_m * length_m - rings.radial_m * rings.radial_m);
    }
  }
  return shift;
}

/// One lane's way: where it stands, where it would go and how much of that it tries.
struct Way {
  RingLanes step_axial_m, step_radial_m;
  RingLanes share;  ///< 0 where it has arrived
};

[[gnu::always_inline]] inline void take_aim(const Energy& here, const RingLanes& target_N,
                                            std::size_t l, Way& way) {
  const double ridge = 1e-12 * (here.axial_axial[l] + here.radial_radial[l]) + 1e-3;
  const double zz = here.axial_axial[l] + ridge;
  const double rr = here.radial_radial[l] + ridge;
  const double zr = here.axial_radial[l];
  const double determinant = zz * rr - zr * zr;
  way.step_axial_m[l] = -(rr * here.axial_N[l] - zr * here.radial_N[l]) / determinant;
  way.step_radial_m[l] = -(zz * here.radial_N[l] - zr * here.axial_N[l]) / determinant;
  way.share[l] = here.unbalance_N[l] <= target_N[l] ? 0.0 : 1.0;
}

/// Lane by lane as if it were alone: what one has arrived at stays.
[[gnu::always_inline]] inline void walk(const LoadedRings& rings, const RingLanes& target_N,
                                        RingShift& shift) {
  constexpr int most_energies = 1000;
  constexpr double least_share = 1e-9;  // below, at the last digits of the doubles
  Energy here, there;
  Way way;
  add_up(rings, shift.axial_m, shift.radial_m, here);
  for (std::size_t l = 0; l < ring_lanes; ++l) take_aim(here, target_N, l, way);
  for (int energies = 0; energies < most_energies; ++energies) {
    double any = 0.0;
    for (const double share : way.share) any += share;
    if (any == 0.0) break;
    RingLanes axial_m, radial_m;
    for (std::size_t l = 0; l < ring_lanes; ++l) {
      axial_m[l] = shift.axial_m[l] + way.share[l] * way.step_axial_m[l];
      radial_m[l] = shift.radial_m[l] + way.share[l] * way.step_radial_m[l];
    }
    add_up(rings, axial_m, radial_m, there);
    for (std::size_t l = 0; l < ring_lanes; ++l) {
      if (way.share[l] == 0.0) continue;
      if (there.unbalance_N[l] < here.unbalance_N[l] || there.value_J[l] < here.value_J[l]) {
        shift.axial_m[l] = axial_m[l];
        shift.radial_m[l] = radial_m[l];
        here.value_J[l] = there.value_J[l];
        here.axial_N[l] = there.axial_N[l];
        here.radial_N[l] = there.radial_N[l];
        here.axial_axial[l] = there.axial_axial[l];
        here.axial_radial[l] = there.axial_radial[l];
        here.radial_radial[l] = there.radial_radial[l];
        here.unbalance_N[l] = there.unbalance_N[l];
        take_aim(here, target_N, l, way);
      } else {
        way.share[l] = 0.5 * way.share[l] > least_share ? 0.5 * way.share[l] : 0.0;
      }
    }
  }
  shift.unbalance_N = here.unbalance_N;
}

}  // namespace

RingShift balanced_shift(const LoadedRings& rings, numerics::LaneWidth width) {
  RingLanes load_N, target_N;
  for (std::size_t l = 0; l < ring_lanes; ++l) {
    load_N[l] =
        std::sqrt(rings.axial_N[l] * rings.axial_N[l] + rings.radial_N[l] * rings.radial_N[l]);
    target_N[l] = 1e-12 * load_N[l];
  }
  RingShift shift = first_guess(rings);
  numerics::run_at_width(width, [&] { walk(rings, target_N, shift); });
  for (std::size_t l = 0; l < ring_lanes; ++l)
    if (!(shift.unbalance_N[l] <= 1e-10 * load_N[l]))
      throw std::runtime_error("load distribution: no equilibrium found");
  return shift;
}

void ball_loads(const LoadedRings& rings, const RingShift& shift, std::span<RingLanes> loads_N,
                numerics::LaneWidth width) {
  numerics::run_at_width(width, [&] {
    for (std::size_t i = 0; i < loads_N.size(); ++i)
      for (std::size_t l = 0; l < ring_lanes; ++l) {
        const double along_radius_m = rings.radial_m + shift.radial_m[l] * rings.cosines[i][l];
        const double length_m =
            std::sqrt(shift.axial_m[l] * shift.axial_m[l] + along_radius_m * along_radius_m);
        const double past_m = length_m - rings.distance_m;
        const double squeeze_m = past_m > 0.0 ? past_m : 0.0;
        loads_N[i][l] = rings.stiffness_N_per_m15 * squeeze_m * std::sqrt(squeeze_m);
      }
  });
}

}  // namespace ohmdrag::bearing
