#include "ohmdrag/rig/rig_bench.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/numerics/root.hpp"

namespace ohmdrag::rig {

namespace {

/// Far below what any contact feels.
constexpr double air_tolerance_K = 1e-9;

RigState state_in(const RigBench& bench, AngularVelocity speed, Temperature air) {
  RigState state{.shaft = component::solve(bench.shaft, speed, {bench.held, air}),
                 .air = air,
                 .friction = {},
                 .into_held_side = {},
                 .into_air = {},
                 .through_housing = {}};
  for (std::size_t i = 0; i < bench.shaft.contacts.size(); ++i)
    state.friction += state.shaft.contacts[i].power + bench.shaft.contacts[i].current_heat;
  state.into_held_side = component::into_oil(bench.shaft, state.shaft);
  state.into_air = state.friction - state.into_held_side;
  return state;
}

Temperature enclosed_air(const RigBench& bench, AngularVelocity speed, const EnclosedAir& air) {
  const double room_K = air.room.value(), conductance_W_K = air.conductance.value();
  if (!(conductance_W_K > 0.0))
    throw std::invalid_argument("enclosure: the conductance to the room must be positive");
  const auto above_room_K = [&](double air_K) {
    const RigState state = state_in(bench, speed, Temperature::from_value(air_K));
    return (state.into_air + air.other_heat).value() / conductance_W_K;
  };
  // Warmer air takes up less, so the root lies between the room and what air of the room would
  // lead to. A heat that rounding makes of none is none.
  const double far_K = room_K + above_room_K(room_K);
  if (std::abs(far_K - room_K) <= air_tolerance_K) return air.room;
  if (!(far_K > 0.0))
    throw std::invalid_argument(
        "enclosure: its conductance is too small for the heat that the shaft draws out of it");
  const auto [low_K, high_K] = std::minmax(room_K, far_K);
  return Temperature::from_value(
      numerics::bracketed_root([&](double air_K) { return air_K - room_K - above_room_K(air_K); },
                               low_K, high_K, air_tolerance_K));
}

}  // namespace

RigState rig_state(const RigBench& bench, AngularVelocity speed) {
  if (const auto* measured = std::get_if<MeasuredAir>(&bench.air))
    return state_in(bench, speed, measured->temperature);
  const auto& enclosed = std::get<EnclosedAir>(bench.air);
  RigState state = state_in(bench, speed, enclosed_air(bench, speed, enclosed));
  state.through_housing = state.into_air + enclosed.other_heat;
  return state;
}

}  // namespace ohmdrag::rig
