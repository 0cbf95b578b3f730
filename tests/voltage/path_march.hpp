#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

#include "ohmdrag/voltage/path.hpp"

/// Fourth-order Runge-Kutta march of node, resistance, inductance and films: the slow route. SI
/// throughout.
namespace ohmdrag::test {

class PathMarch {
 public:
  PathMarch(const voltage::ShaftNode& node, const voltage::GroundingPath& path)
      : path_(path), c_F_(node.total.value() + path.across.value()) {
    const bool inductive = path.inductance.value() > 0.0;
    x_.assign((inductive ? 2 : 1) + path.films.size(), 0.0);
    films_at_ = inductive ? 2 : 1;
  }

  double v_V() const { return x_[0]; }

  /// Time step that resolves the fastest part.
  double fine_step_s() const {
    const double r = path_.resistance.value(), l = path_.inductance.value();
    double tau = l > 0.0 ? std::min(std::sqrt(l * c_F_), r > 0.0 ? l / r : 1.0) : r * c_F_;
    for (const auto& film : path_.films) {
      const double c = film.capacitance.value();
      tau = std::min(tau, film.resistance.value() * c);
      tau = std::min(tau, l > 0.0 ? std::sqrt(l * c) : r * c);
    }
    return 0.05 * tau;
  }

  /// \param slope_V_per_s  of C_wr/C dv_cm/dt as a function of time
  template <class Slope>
  void step(double t_s, double dt_s, Slope&& slope_V_per_s) {
    const auto k1 = rate(slope_V_per_s(t_s), x_);
    const auto k2 = rate(slope_V_per_s(t_s + 0.5 * dt_s), moved(k1, 0.5 * dt_s));
    const auto k3 = rate(slope_V_per_s(t_s + 0.5 * dt_s), moved(k2, 0.5 * dt_s));
    const auto k4 = rate(slope_V_per_s(t_s + dt_s), moved(k3, dt_s));
    for (std::size_t i = 0; i < x_.size(); ++i)
      x_[i] += dt_s / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i]);
  }

 private:
  using State = std::vector<double>;

  State rate(double slope, const State& x) const {
    double on_films_V = 0.0;
    for (std::size_t k = 0; k < path_.films.size(); ++k) on_films_V += x[films_at_ + k];
    State dx(x.size());
    const double rest_V = x[0] - on_films_V;
    const double i_A = films_at_ == 2 ? x[1] : rest_V / path_.resistance.value();
    dx[0] = slope - i_A / c_F_;
    if (films_at_ == 2)
      dx[1] = (rest_V - path_.resistance.value() * i_A) / path_.inductance.value();
    for (std::size_t k = 0; k < path_.films.size(); ++k)
      dx[films_at_ + k] = (i_A - x[films_at_ + k] / path_.films[k].resistance.value()) /
                          path_.films[k].capacitance.value();
    return dx;
  }
  State moved(const State& k, double h) const {
    State y = x_;
    for (std::size_t i = 0; i < y.size(); ++i) y[i] += h * k[i];
    return y;
  }

  voltage::GroundingPath path_;
  double c_F_;
  State x_;
  std::size_t films_at_;
};

}  // namespace ohmdrag::test
