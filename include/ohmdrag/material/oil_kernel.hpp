#pragma once

/// Arithmetic of an oil's viscosity and density for inner loops, over the functions of
/// numerics::LibraryMath (one sample) or numerics::LaneMath (many side by side). The laws, their
/// sources and ranges are in viscosity.hpp and density.hpp; here nothing is checked.
namespace ohmdrag::material {

/// What the laws need, prepared once.
struct OilConstants {
  double log_k;           ///< ln(ln 10) + A ln 10 of Walther
  double b;               ///< B of Walther
  double constant;        ///< c of Walther, mm2/s
  double density_kg_m3;   ///< at 15 degC
  double alpha_per_K;     ///< of the density law
  double log_eta_factor;  ///< ln(1e-6 density_kg_m3)
};

struct WaltherPoint {
  double viscosity_mm2_s;
  double log_slope_per_K;  ///< -d ln(nu)/dT
};

/// nu + c = 10^(10^(A - B lg T)) = exp(k T^-B): one logarithm and two exponentials. T > 0.
template <class Math>
[[gnu::always_inline]] inline WaltherPoint walther_point(double log_k, double b, double constant,
                                                         double temperature_K) {
  const double exponent = Math::exp(log_k - b * Math::log(temperature_K));
  const double shifted = Math::exp(exponent);
  const double nu = shifted - constant;
  return {nu, shifted * exponent * b / (nu * temperature_K)};
}

/// -ln(rho/rho15) and its slope over temperature, the expansion.
struct Swelling {
  double log_ratio;
  double per_K;
};
[[gnu::always_inline]] inline Swelling oil_swelling(double alpha_per_K, double temperature_K) {
  const double swelling = alpha_per_K * (temperature_K - 288.15);
  return {swelling * (1.0 + 0.8 * swelling), alpha_per_K * (1.0 + 1.6 * swelling)};
}

/// ln(eta) [Pa s] and -d ln(eta)/dT.
struct LogViscosity {
  double log_eta;
  double thinning_per_K;
};
template <class Math>
[[gnu::always_inline]] inline LogViscosity log_viscosity(const OilConstants& oil,
                                                         double temperature_K) {
  const auto [nu, slope] = walther_point<Math>(oil.log_k, oil.b, oil.constant, temperature_K);
  const Swelling swelling = oil_swelling(oil.alpha_per_K, temperature_K);
  return {oil.log_eta_factor + Math::log(nu) - swelling.log_ratio, slope + swelling.per_K};
}

}  // namespace ohmdrag::material
