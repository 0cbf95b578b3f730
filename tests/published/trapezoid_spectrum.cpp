#include <numbers>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/common_mode.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;

// Exercise 3.4Z on the trapezoidal pulse, Technical University of Munich, signal representation:
// X(f) = A dt si(pi dt f) si(pi dt r f) with dt = t1 + t2 and the roll-off r = (t2 - t1)/(t2 + t1).
// For t1 = 4 ms, t2 = 6 ms, A = 1 V: dt = 10 ms, r = 0.2, X(0) = 10 mV/Hz.
TEST_CASE("the trapezoidal pulse has the transform of the exercise", "[formula]") {
  const double t1_s = 4e-3, t2_s = 6e-3;
  const double width_s = t1_s + t2_s, roll_off = (t2_s - t1_s) / (t2_s + t1_s);
  const Trapezoid pulse{.amplitude = 1.0_V,
                        .width = Time::from_value(width_s),
                        .rise = Time::from_value(roll_off * width_s),
                        .period = 1.0_s};
  CHECK_THAT(pulse.width.value(), near(10e-3, 1e-12));
  CHECK_THAT(roll_off, near(0.2, 1e-12));
  CHECK_THAT(pulse_spectrum(pulse, 0.0_Hz), near(SpectralVoltage::from_value(10e-3), 1e-12));
  // Zeros of the two factors: at 1/dt and at 1/(r dt).
  CHECK(std::abs(pulse_spectrum(pulse, 100.0_Hz).value()) < 1e-17);
  CHECK(std::abs(pulse_spectrum(pulse, 500.0_Hz).value()) < 1e-17);
}

// Corners 1/(pi tau) and 1/(pi t_r): trapezoid nomogram, Design and Development of Medical
// Electronic Instrumentation, ch. 4; knee 1/(pi t_r) and slopes after Paul, Introduction to
// Electromagnetic Compatibility, as quoted.
TEST_CASE("the envelope of a trapezoid bends where the nomogram bends", "[formula]") {
  const Trapezoid wave{.amplitude = 800.0_V, .width = 50.0_us, .rise = 50.0_ns, .period = 100.0_us};
  CHECK_THAT(first_corner(wave), near(6.3662_kHz, 1e-4));
  CHECK_THAT(second_corner(wave), near(6.3662_MHz, 1e-4));
  const auto fall_dB = [&](Frequency from, Frequency to) {
    return 20.0 * std::log10(double(harmonic_envelope(wave, to) / harmonic_envelope(wave, from)));
  };
  CHECK_THAT(fall_dB(0.1_kHz, 1.0_kHz), ohmdrag::test::within(0.0, 1e-9));
  CHECK_THAT(fall_dB(0.1_MHz, 1.0_MHz), ohmdrag::test::within(-20.0, 1e-9));
  CHECK_THAT(fall_dB(10.0_MHz, 100.0_MHz), ohmdrag::test::within(-40.0, 1e-9));
}
