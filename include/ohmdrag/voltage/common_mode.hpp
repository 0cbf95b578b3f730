#pragma once

#include <array>
#include <span>

#include "ohmdrag/quantity/quantities.hpp"

/// The common-mode voltage of a two-level three-phase inverter: the mean of the three leg voltages
/// against the midpoint of the link. Levels, edges and spectrum; uniform along the winding.
namespace ohmdrag::voltage {

/// Flux unit of a voltage spectrum: V/Hz = V s.
using SpectralVoltage = Quantity<decltype(si::electric_potential() * si::time())>;

/// How the three legs are told when to switch.
enum class ModulationKind {
  sine_triangle,  ///< sines; above M = 1 with the smallest common shift that keeps a leg linear
  space_vector,   ///< sines less the mean of the highest and the lowest, at every M
};

/// Magnitudes of the four levels; each occurs with both signs.
struct CommonModeLevels {
  Voltage zero_vector;    ///< all legs alike: V_dc/2
  Voltage active_vector;  ///< one leg apart: V_dc/6
};

/// Levels of v_cm = (v_a + v_b + v_c)/3 with each leg at +-V_dc/2.
///
/// Validity  two-level, three legs, midpoint of the link at frame potential.
/// Source    derived: mean of three two-valued numbers.
///
/// \param dc_link  V_dc > 0 [V]
/// \throws std::invalid_argument if V_dc is not positive.
CommonModeLevels common_mode_levels(Voltage dc_link);

/// Common-mode step when 1, 2 or 3 legs switch the same way within one rise time: legs * V_dc/3.
///
/// Source    derived, as common_mode_levels.
/// \throws std::invalid_argument if V_dc is not positive or legs is not 1, 2 or 3.
Voltage edge_step(Voltage dc_link, int legs);

/// Share of time in the zero vectors, mean over a fundamental period.
///
///     d0 = 1 - (3 sqrt(3) / (2 pi)) M
///
/// Validity  linear range 0 <= M <= 2/sqrt(3); the same for sine-triangle and symmetric
///           space-vector modulation.
/// Source    derived: mean of the largest difference between two legs.
///
/// \param modulation  M = 2 * phase amplitude / V_dc
/// \throws std::invalid_argument outside the linear range.
double zero_vector_share(double modulation);

/// Root mean square of the common-mode voltage over a fundamental period.
///
///     V_rms = V_dc sqrt(1/36 + (2/9) d0)
///
/// Limits    V_dc/2 at M = 0.
/// Source    derived: two levels, V_dc/2 for a share d0 and V_dc/6 for the rest.
/// \throws std::invalid_argument as zero_vector_share and common_mode_levels.
Voltage common_mode_rms(Voltage dc_link, double modulation);

/// Peak of the component at the carrier frequency, mean over a fundamental period.
///
///     V_1 = (2 V_dc / pi) mean of cos(pi m / 2) over the references m of the legs
///     sine-triangle   V_1 = (2 V_dc / pi) J0(pi M / 2)
///     space-vector    V_1 = (2 V_dc / pi) mean over -30 to 30 degrees of
///                     (2 cos(sqrt(3) pi M/4 cos p) + cos(3 pi M/4 sin p))/3
///
/// Validity  double-edge, natural sampling; sine-triangle 0 <= M <= 1, space-vector to 2/sqrt(3).
/// Limits    2 V_dc/pi at M = 0.
/// Accuracy  rounding; 0.001 V_dc against a sampled wave.
/// Source    sine-triangle: Holmes and Lipo, Pulse Width Modulation for Power Converters, 2003,
///           double Fourier series of the three-phase inverter (from memory); space-vector derived:
///           first harmonic of a pulse of duty (1 + m)/2, the references folded into a sixth of the
///           period.
/// \throws std::invalid_argument outside the range of M or if V_dc is not positive.
Voltage carrier_component(Voltage dc_link, double modulation,
                          ModulationKind kind = ModulationKind::sine_triangle);

/// A periodic trapezoid with equal rise and fall.
struct Trapezoid {
  Voltage amplitude;  ///< A, peak to peak
  Time width;         ///< tau > 0, between the 50 % points
  Time rise;          ///< t_r > 0, 0-100 %, t_r <= tau
  Time period;        ///< T >= tau + t_r
};

/// Magnitude of the Fourier transform of one trapezoidal pulse.
///
///     |X(f)| = A tau |sinc(pi f tau)| |sinc(pi f t_r)|,   sinc(x) = sin(x)/x
///
/// Limits    A tau at f = 0.
/// Source    product of two sinc functions: exercise 3.4Z, Technical University of Munich, signal
///           representation (transform of the trapezoidal pulse).
/// \throws std::invalid_argument for an undefined trapezoid or negative frequency.
SpectralVoltage pulse_spectrum(const Trapezoid& trapezoid, Frequency frequency);

/// Peak of harmonic n of the periodic trapezoid, c_n = (2/T) |X(n/T)|.
///
/// Limits    nulls move with 1 % of the width: use the envelope for statements of the worst case.
/// Source    as pulse_spectrum.
/// \throws std::invalid_argument for an undefined trapezoid or n < 1.
Voltage harmonic_amplitude(const Trapezoid& trapezoid, int n);

/// Where the envelope bends: f1 = 1/(pi tau).
Frequency first_corner(const Trapezoid& trapezoid);
/// Where the envelope bends again: f2 = 1/(pi t_r).
Frequency second_corner(const Trapezoid& trapezoid);

/// Upper envelope of the harmonics: 2 A tau/T to f1, -20 dB a decade to f2, -40 dB above.
///
/// Source    Paul, Introduction to Electromagnetic Compatibility (from memory; corners and slopes
///           also in the trapezoid nomogram of Design and Development of Medical Electronic
///           Instrumentation, ch. 4).
/// \throws std::invalid_argument for an undefined trapezoid or negative frequency.
Voltage harmonic_envelope(const Trapezoid& trapezoid, Frequency frequency);

/// A damped oscillation that follows an edge, as measured at the machine terminals.
struct Ringing {
  Frequency frequency;   ///< f_r > 0
  double share_of_step;  ///< V_r / edge step, >= 0
  double quality;        ///< Q > 0.5; the amplitude falls by exp(-pi/Q) a period
};

/// Spectrum of v_r = V_r exp(-alpha t) sin(2 pi f_r t), t >= 0, alpha = pi f_r / Q.
///
///     |V_r(f)| = V_r w_r / |(alpha + j w)^2 + w_r^2|
///
/// Limits    peak near f_r: V_r Q / (2 pi f_r).
/// Source    derived: Laplace transform of the damped sine.
/// \throws std::invalid_argument for an undefined ringing or negative frequency.
SpectralVoltage ringing_spectrum(const Ringing& ringing, Voltage step, Frequency frequency);

/// Line amplitude if the ringing repeats with one sign: 2 f_rep |V_r(f)|. Upper bound otherwise.
Voltage ringing_line_amplitude(const Ringing& ringing, Voltage step, Frequency repetition,
                               Frequency frequency);

/// One change of the common-mode voltage inside a carrier period.
struct CarrierEdge {
  Time time;     ///< middle of the edge, from the start of the carrier period
  Voltage step;  ///< signed
};

/// The edges of one carrier period in order of time; they sum to zero.
struct Staircase {
  std::array<CarrierEdge, 6> storage;
  int count = 0;    ///< 6; less where a leg does not switch
  Voltage start{};  ///< level at the begin of the period
  std::span<const CarrierEdge> edges() const {
    return {storage.data(), static_cast<std::size_t>(count)};
  }
};

/// References m of the three legs, -1 to 1: M cos(angle - 2 pi i/3) plus a common shift, which
/// changes no line voltage.
///
///     sine-triangle   no shift for M <= 1; above, the smallest that keeps every leg linear
///     space-vector    minus the mean of the highest and the lowest leg
///
/// Source    derived; that the second shift is that of symmetric space vectors: Holmes and Lipo,
///           2003 (from memory).
/// \throws std::invalid_argument if M is outside 0 <= M <= 2/sqrt(3).
std::array<double, 3> leg_references(ModulationKind kind, double modulation, double angle_rad);

/// The common-mode staircase of one carrier period: each leg begins low, goes up at T (1 - d)/2 and
/// down at T (1 + d)/2 with its duty d = (1 + m)/2 of leg_references.
///
/// Validity  triangular carrier much faster than the fundamental. A leg at its limit (M above 1)
///           does not switch: it stays low, or high, for the whole period.
/// Limits    M = 0: three edges of V_dc/3 at T/4, three at 3T/4.
/// Source    derived.
///
/// \param angle_rad  position in the fundamental period
/// \throws std::invalid_argument if V_dc or the carrier is not positive or M is outside
///         0 <= M <= 2/sqrt(3).
Staircase carrier_staircase(Voltage dc_link, Frequency carrier, double modulation, double angle_rad,
                            ModulationKind kind = ModulationKind::sine_triangle);

/// The largest modulation index without over-modulation, 2/sqrt(3).
double linear_modulation_limit();

}  // namespace ohmdrag::voltage
