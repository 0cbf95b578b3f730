#pragma once

#include <cmath>
#include <complex>

/// Products, quotients and sizes of complex numbers without the care for infinities that the
/// library takes, and so without its calls.
namespace ohmdrag::voltage {

inline std::complex<double> product(std::complex<double> a, std::complex<double> b) {
  return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

/// \pre b is real or of a size whose square is a number
inline std::complex<double> quotient(std::complex<double> a, std::complex<double> b) {
  if (b.imag() == 0.0) return {a.real() / b.real(), a.imag() / b.real()};
  const double per_square = 1.0 / (b.real() * b.real() + b.imag() * b.imag());
  return product(a, {b.real() * per_square, -b.imag() * per_square});
}

/// \pre z is real or of a size whose square is a number
inline double size(std::complex<double> z) {
  if (z.imag() == 0.0) return std::abs(z.real());
  return std::sqrt(z.real() * z.real() + z.imag() * z.imag());
}

}  // namespace ohmdrag::voltage
