#pragma once

#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>

/// The transcendental functions of the inner loops in two forms with one interface, so that one
/// template holds a law's arithmetic for a single sample and for many side by side ("lanes").
namespace ohmdrag::numerics {

/// Of the C library: for a single sample.
struct LibraryMath {
  static double exp(double x) { return std::exp(x); }
  static double log(double x) { return std::log(x); }
  static double tanh(double x) { return std::tanh(x); }
  static double expm1(double x) { return std::expm1(x); }
  static double asin(double x) { return std::asin(x); }
};

/// x y + z, rounded once.
[[gnu::always_inline]] inline double fused(double x, double y, double z) {
  return __builtin_fma(x, y, z);
}

/// Without branches, tables and calls, so that a compiler turns a loop over samples into vector
/// instructions. Additions, multiplications, divisions and fused() multiply-adds, each rounded:
/// where the compiler fuses no others (-ffp-contract=off), every width of vector gives the same
/// bits. Without the instruction the library rounds as it does, and takes its time.
struct LaneMath {
  /// e^x.
  ///
  /// Validity  -708 to 709; beyond them e^-708 = 3e-308 and e^709 = 8e307, NaN of NaN.
  /// Accuracy  2 ulp.
  /// Source    x = k ln 2 + r as everywhere; W. J. Cody, W. Waite, Software Manual for the
  ///           Elementary Functions (1980), from memory, for ln 2 in two parts. Coefficients
  ///           derived: (e^r - 1 - r)/r^2 through the ten Chebyshev points of |r| <= ln(2)/2,
  ///           1.6e-17 off.
  [[gnu::always_inline]] static inline double exp(double any) {
    const Power power = power_of_e(any);
    return std::bit_cast<double>(std::bit_cast<std::uint64_t>(1.0 + power.mantissa_less_one) +
                                 power.exponent_bits);
  }

  /// e^x - 1.
  ///
  /// Validity  as exp(): below -708 it is -1.
  /// Accuracy  3 ulp.
  /// Source    as exp(): 2^k (e^r - 1) + (2^k - 1).
  [[gnu::always_inline]] static inline double expm1(double any) {
    const Power power = power_of_e(any);
    const double scale =
        std::bit_cast<double>(std::bit_cast<std::uint64_t>(1.0) + power.exponent_bits);
    return scale * power.mantissa_less_one + (scale - 1.0);
  }

  /// ln x.
  ///
  /// Validity  x a normal number, 2.3e-308 to 1.8e308; NaN for all others, 0 among them.
  /// Accuracy  2 ulp.
  /// Source    x = 2^k m with m within sqrt(2) of 1, ln m = 2 artanh((m - 1)/(m + 1)), textbook.
  ///           Coefficients derived: (artanh(s)/s - 1)/s^2 over z = s^2 through the seven Chebyshev
  ///           points, 4.6e-18 off.
  [[gnu::always_inline]] static inline double log(double x) {
    constexpr std::uint64_t root_half = 0x3fe6a09e667f3bcdULL;  // bits of sqrt(1/2)
    const std::uint64_t bits = std::bit_cast<std::uint64_t>(x);
    const std::uint64_t over = bits - root_half;
    const double m = std::bit_cast<double>(bits - (over & 0xfff0000000000000ULL));
    // The exponent as a double without an instruction from integer to double: AVX2 has none.
    const double k =
        std::bit_cast<double>(((over + 0x3ff0000000000000ULL) >> 52) | 0x4330000000000000ULL) -
        (0x1p52 + 1023.0);
    const double f = m - 1.0;
    const double s = f / (m + 1.0);
    const double z = s * s;
    const double z2 = z * z;
    const double last =
        fused(z2, 0x1.2b5900de53b32p-4, fused(z, 0x1.39fe51a7c18f9p-4, 0x1.7462b51cb66b1p-4));
    const double rest = fused(z2, last, fused(z, 0x1.c71c62e3f11e6p-4, 0x1.2492492df281ap-3));
    const double q = fused(z2, rest, fused(z, 0x1.99999999952d7p-3, 0x1.5555555555558p-2));
    // ln m = 2 s + 2 s z q, and 2 s = f - s f: the leading term is exact.
    const double ln_m = fused(-s, fused(-2.0 * z, q, f), f);
    const double found = fused(k, 0x1.62e42fefa0000p-1, fused(k, 0x1.cf79abc9e3b3ap-40, ln_m));
    constexpr double nan = std::numeric_limits<double>::quiet_NaN();
    const double not_below = x >= 0x1p-1022 ? found : nan;
    return x <= 0x1.fffffffffffffp+1023 ? not_below : nan;
  }

  /// tanh x for x >= 0.
  ///
  /// Accuracy  3e-16 absolute; relative 3e-16 / x, as it is a difference to 1.
  [[gnu::always_inline]] static inline double tanh(double x) {
    const double decay = exp(-2.0 * x);
    return (1.0 - decay) / (1.0 + decay);
  }

  /// 1/tanh x for x > 0; as accurate.
  [[gnu::always_inline]] static inline double coth(double x) {
    const double decay = exp(-2.0 * x);
    return (1.0 + decay) / (1.0 - decay);
  }

  /// asin x.
  ///
  /// Validity  |x| <= 0.7078.
  /// Accuracy  2 ulp.
  /// Source    coefficients derived: (asin(x)/x - 1)/x^2 over z = x^2 through the twenty Chebyshev
  ///           points of 0 to 0.501, 3.6e-18 off.
  [[gnu::always_inline]] static inline double asin(double x) {
    constexpr double c[]{
        0x1.5555555555555p-3,  0x1.3333333333408p-4, 0x1.6db6db6d9b559p-5,  0x1.f1c71c8850e2fp-6,
        0x1.6e8b9e0a57f36p-6,  0x1.1c4f690008d70p-6, 0x1.c97cec570eceep-7,  0x1.7c49a59d90327p-7,
        0x1.2bc3eb59341f4p-7,  0x1.beb8be23810c6p-7, -0x1.b64b4bd7a5e82p-6, 0x1.697fa66b87d72p-3,
        -0x1.4c976fb4cc9d9p-1, 0x1.f38eb1e3735bdp+0, -0x1.1a7727ce7b49bp+2, 0x1.e299d63e7984fp+2,
        -0x1.2bad9237e4c62p+3, 0x1.015bb0d095df6p+3, -0x1.11bc444fda0acp+2, 0x1.14fcb48f1cc85p+0};
    const double z = x * x, z2 = z * z;
    double even = c[18], odd = c[19];
#pragma GCC unroll 9
    for (int k = 16; k >= 0; k -= 2) {
      even = fused(even, z2, c[k]);
      odd = fused(odd, z2, c[k + 1]);
    }
    return fused(x * z, fused(z, odd, even), x);
  }

 private:
  /// e^x = (1 + mantissa_less_one) 2^k, the bits of the exponent those of k.
  struct Power {
    double mantissa_less_one;
    std::uint64_t exponent_bits;
  };
  [[gnu::always_inline]] static inline Power power_of_e(double any) {
    const double not_below = any < -708.0 ? -708.0 : any;
    const double x = not_below > 709.0 ? 709.0 : not_below;
    // Adding this leaves the nearest integer in the low bits of the mantissa.
    constexpr double shift = 0x1.8p52;
    const double shifted = fused(x, 0x1.71547652b82fep+0, shift);
    const double k = shifted - shift;
    const double r = fused(-k, 0x1.cf79abc9e3b3ap-40, fused(-k, 0x1.62e42fefa0000p-1, x));
    const double r2 = r * r;
    const double r4 = r2 * r2;
    const double low = fused(r2, fused(r, 0x1.11111111109b3p-7, 0x1.5555555553d63p-5),
                             fused(r, 0x1.5555555555556p-3, 0x1.0000000000001p-1));
    const double high = fused(r4, fused(r, 0x1.af38a9b0ec855p-26, 0x1.289185613a3d6p-22),
                              fused(r2, fused(r, 0x1.71de0dae63bb3p-19, 0x1.a019b90d2ae7ap-16),
                                    fused(r, 0x1.a01a01a7c41d5p-13, 0x1.6c16c1788bd90p-10)));
    return {fused(r2, fused(r4, high, low), r), std::bit_cast<std::uint64_t>(shifted) << 52};
  }
};

}  // namespace ohmdrag::numerics
