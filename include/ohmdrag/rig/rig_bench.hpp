#pragma once

#include <variant>

#include "ohmdrag/component/shaft_network.hpp"

/// Contacts on the short shaft of a rig, solved as those of an application are.
namespace ohmdrag::rig {

/// Air around the contacts whose temperature is known.
struct MeasuredAir {
  Temperature temperature;
};
/// Air shut in with the contacts, which gives what it takes up to the room.
struct EnclosedAir {
  Temperature room;
  ThermalConductance conductance;  ///< > 0, from the air through the enclosure to the room
  Power other_heat{};              ///< into that air, of a motor or a lamp
};
using RigAir = std::variant<MeasuredAir, EnclosedAir>;

struct RigBench {
  component::ShaftSystem shaft;
  Temperature held;  ///< of its oil, or of the spindle that holds its end
  RigAir air;
};

struct RigState {
  component::ShaftState shaft;
  Temperature air;
  Power friction;         ///< with the heat of currents
  Power into_held_side;   ///< oil or spindle, and the bodies that stand there
  Power into_air;         ///< friction - into_held_side
  Power through_housing;  ///< of enclosed air: into_air and other heat
};

/// A rig at a steady speed.
///
///     enclosed:  T_air = T_room + [Q_air(T_air) + Q_other]/G
///
/// Validity  as component::solve; the enclosed air is of one temperature; the far end of the shaft
///           gives off no heat.
/// Limits    G -> infinity: air of the room. No speed, all temperatures alike: no heat at all.
/// Accuracy  that of the film coefficients, +-30 % in air; an enclosure's conductance is a guess
///           until its air was measured.
/// Source    derived: heat balance; root by numerics::bracketed_root.
/// \throws std::invalid_argument as component::solve, or unless the conductance is positive.
/// \throws std::domain_error "thermally unstable" as component::solve.
RigState rig_state(const RigBench& bench, AngularVelocity speed);

}  // namespace ohmdrag::rig
