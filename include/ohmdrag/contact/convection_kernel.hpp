#pragma once

/// Arithmetic of convection for inner loops, over the functions of numerics::LibraryMath (one
/// sample) or numerics::LaneMath (many side by side). The laws, their sources and ranges are in
/// convection.hpp; here nothing is checked.
namespace ohmdrag::contact {

/// Ra = g beta rise d^3 Pr / nu^2.
[[gnu::always_inline]] inline double rayleigh_number(double diameter_m, double rise_K,
                                                     double nu_m2_s, double prandtl,
                                                     double expansion_per_K) {
  constexpr double standard_gravity_m_s2 = 9.80665;
  return standard_gravity_m_s2 * expansion_per_K * rise_K * diameter_m * diameter_m * diameter_m *
         prandtl / (nu_m2_s * nu_m2_s);
}

/// A turning cylinder's Nu^3 over its speed: free + turning omega^2. Both cubes need no root.
struct NusseltCubes {
  double free;
  double turning_s2;
};
template <class Math>
[[gnu::always_inline]] inline NusseltCubes nusselt_cubes(double diameter_m, double rise_K,
                                                         double nu_m2_s, double prandtl,
                                                         double expansion_per_K) {
  const double rayleigh = rayleigh_number(diameter_m, rise_K, nu_m2_s, prandtl, expansion_per_K);
  const double log_term = Math::log(1.0 + Math::exp((9.0 / 16.0) * Math::log(0.559 / prandtl)));
  const double root =
      0.60 + 0.387 * Math::exp((1.0 / 6.0) * Math::log(rayleigh) - (8.0 / 27.0) * log_term);
  const double root_2 = root * root;
  const double reynolds_s = diameter_m * diameter_m / (2.0 * nu_m2_s);
  return {.free = root_2 * root_2 * root_2,
          .turning_s2 = 0.133 * 0.133 * 0.133 * prandtl * reynolds_s * reynolds_s};
}

}  // namespace ohmdrag::contact
