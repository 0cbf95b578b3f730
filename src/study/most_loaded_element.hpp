#pragma once

#include "study/model.hpp"

namespace ohmdrag::study {

/// Load of the most loaded rolling element at a torque, as the films of the bearing take it.
Force most_loaded_element(const BearingModel& model, const Bearing& entry, const Draw& draw,
                          Torque torque);

}  // namespace ohmdrag::study
