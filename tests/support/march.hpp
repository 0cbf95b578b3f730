#pragma once

#include <array>

/// Fourth-order Runge-Kutta march of the shaft node on its path: the slow, independent route to
/// what the voltage room has in closed form. SI throughout.
namespace ohmdrag::test {

struct NodeMarch {
  double r_ohm, l_H, c_F;
  double v_V = 0.0;
  double i_A = 0.0;

  /// One step under a source slope on the node, s = BVR dv_cm/dt.
  template <class Slope>
  void step(double t_s, double dt_s, Slope&& slope_V_per_s) {
    using State = std::array<double, 2>;
    const auto rate = [&](double t, const State& x) -> State {
      return {slope_V_per_s(t) - x[1] / c_F, (x[0] - r_ohm * x[1]) / l_H};
    };
    const auto moved = [](const State& x, const State& k, double h) -> State {
      return {x[0] + h * k[0], x[1] + h * k[1]};
    };
    const State x{v_V, i_A};
    const State k1 = rate(t_s, x);
    const State k2 = rate(t_s + 0.5 * dt_s, moved(x, k1, 0.5 * dt_s));
    const State k3 = rate(t_s + 0.5 * dt_s, moved(x, k2, 0.5 * dt_s));
    const State k4 = rate(t_s + dt_s, moved(x, k3, dt_s));
    v_V += dt_s / 6.0 * (k1[0] + 2.0 * k2[0] + 2.0 * k3[0] + k4[0]);
    i_A += dt_s / 6.0 * (k1[1] + 2.0 * k2[1] + 2.0 * k3[1] + k4[1]);
  }
};

}  // namespace ohmdrag::test
