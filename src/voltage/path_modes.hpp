#pragma once

#include "ohmdrag/voltage/coupling.hpp"
#include "ohmdrag/voltage/path.hpp"

/// The free motion of the shaft node on its path, exact for every damping. Kernel of
/// edge_response.cpp and held_voltage.cpp; SI throughout.
namespace ohmdrag::voltage {

/// \throws std::invalid_argument if R or L is negative.
void require_defined(const GroundingPath& path);

/// State of the node: v' = s - q and, with inductance, q' = w0^2 v - 2 alpha q.
struct NodeState {
  double v_V = 0.0;
  double q_V_per_s = 0.0;  ///< path current over C_T; kept 0 where the path has no inductance
};

/// x(t) = [vv vq; qv qq] x(0) without drive.
struct Propagator {
  double vv = 1.0, vq = 0.0, qv = 0.0, qq = 0.0;

  NodeState operator()(const NodeState& x) const {
    return {vv * x.v_V + vq * x.q_V_per_s, qv * x.v_V + qq * x.q_V_per_s};
  }
};

enum class Damping { none_connected, shorted, first_order, under, over };

class PathModes {
 public:
  PathModes(const ShaftNode& node, const MaybePath& path);

  Damping damping() const { return damping_; }
  Propagator after(double t_s) const;
  /// State after a constant slope s of BVR * v_cm has acted on a node at rest.
  NodeState ramped(double slope_V_per_s, double t_s) const;
  /// First time after 0 at which the free motion from x is stationary; infinity if there is none.
  double first_stationary_s(const NodeState& x) const;
  /// First time after 0 at which v is stationary under a constant slope from rest.
  double first_stationary_in_ramp_s() const;
  /// Time between two stationary points; infinity unless under-damped.
  double half_swing_s() const;

  double alpha_per_s() const { return alpha_; }
  double resonance_squared() const { return w0_squared_; }
  double fastest_per_s() const;  ///< rate of the fastest mode
  double slowest_per_s() const;  ///< decay rate of the slowest mode

 private:
  Damping damping_ = Damping::none_connected;
  double alpha_ = 0.0;       // R/2L, 1/s
  double w0_squared_ = 0.0;  // 1/(L C_T), 1/s2
  double swing_ = 0.0;       // |alpha^2 - w0^2|^(1/2): w_d or beta, 1/s
  double rate_ = 0.0;        // 1/(R C_T) without inductance, 1/s
};

}  // namespace ohmdrag::voltage
