#pragma once

#include "ohmdrag/study/members.hpp"

namespace ohmdrag::study {

/// [machine_size.<id>]: the capacitances of machines of a size, for those who have not measured
/// theirs.
struct MachineSize {
  Uncertain<Capacitance> winding_rotor;
  Uncertain<Capacitance> rotor_frame;
  Uncertain<Capacitance> winding_frame;  ///< loads the inverter; no part in the shaft voltage
};

template <Of<MachineSize> S, class F>
void for_each_member(S& s, F&& f) {
  f("winding_rotor", s.winding_rotor);
  f("rotor_frame", s.rotor_frame);
  f("winding_frame", s.winding_frame);
}

}  // namespace ohmdrag::study
