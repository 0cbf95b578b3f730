#pragma once

namespace ohmdrag::rig {

/// A parameter that a run told.
template <class Q>
struct Estimate {
  Q value;
  Q standard_error;
  Q half_width;  ///< of the 95 % interval
};

}  // namespace ohmdrag::rig
