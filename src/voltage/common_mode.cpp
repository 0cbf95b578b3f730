#include "ohmdrag/voltage/common_mode.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/special_functions/sinc.hpp>
#include <cmath>
#include <complex>
#include <numbers>
#include <stdexcept>

#include "voltage/carrier_duties.hpp"

namespace ohmdrag::voltage {

namespace {

using std::numbers::pi;

void require_link(Voltage dc_link) {
  if (!(dc_link > Voltage{}))
    throw std::invalid_argument("common mode: the link voltage must be positive");
}

void require_linear(double modulation) {
  if (!(modulation >= 0.0 && modulation <= linear_modulation_limit() * (1.0 + 1e-12)))
    throw std::invalid_argument("common mode: the modulation index must be within 0 and 2/sqrt(3)");
}

void require_defined(const Trapezoid& shape) {
  if (!(shape.rise > Time{} && shape.width >= shape.rise &&
        shape.period >= shape.width + shape.rise))
    throw std::invalid_argument("trapezoid: needs 0 < rise <= width <= period - rise");
}

void require_defined(const Ringing& ringing) {
  if (!(ringing.frequency > Frequency{} && ringing.share_of_step >= 0.0 && ringing.quality > 0.5))
    throw std::invalid_argument(
        "ringing: needs a positive frequency, a share of at least 0 and a quality above 0.5");
}

void require_frequency(Frequency frequency) {
  if (!(frequency >= Frequency{}))
    throw std::invalid_argument("spectrum: the frequency must not be negative");
}

double sinc_of(double x) { return std::abs(boost::math::sinc_pi(x)); }

}  // namespace

double linear_modulation_limit() { return 2.0 / std::numbers::sqrt3; }

CommonModeLevels common_mode_levels(Voltage dc_link) {
  require_link(dc_link);
  return {.zero_vector = dc_link / 2.0, .active_vector = dc_link / 6.0};
}

Voltage edge_step(Voltage dc_link, int legs) {
  require_link(dc_link);
  if (legs < 1 || legs > 3) throw std::invalid_argument("common mode: legs must be 1, 2 or 3");
  return dc_link * (legs / 3.0);
}

double zero_vector_share(double modulation) {
  require_linear(modulation);
  return 1.0 - 1.5 * std::numbers::sqrt3 / pi * modulation;
}

Voltage common_mode_rms(Voltage dc_link, double modulation) {
  require_link(dc_link);
  return dc_link * std::sqrt(1.0 / 36.0 + 2.0 / 9.0 * zero_vector_share(modulation));
}

Voltage carrier_component(Voltage dc_link, double modulation, ModulationKind kind) {
  require_link(dc_link);
  require_linear(modulation);
  if (kind == ModulationKind::sine_triangle) {
    if (modulation > 1.0)
      throw std::invalid_argument("carrier component: sine-triangle needs 0 <= M <= 1");
    return dc_link * (2.0 / pi * boost::math::cyl_bessel_j(0, pi * modulation / 2.0));
  }
  const double outer = std::numbers::sqrt3 * pi / 4.0 * modulation;
  const double middle = 3.0 * pi / 4.0 * modulation;
  const double integral = boost::math::quadrature::gauss<double, 15>::integrate(
      [&](double p) {
        return (2.0 * std::cos(outer * std::cos(p)) + std::cos(middle * std::sin(p))) / 3.0;
      },
      -pi / 6.0, pi / 6.0);
  return dc_link * (2.0 / pi * integral / (pi / 3.0));
}

SpectralVoltage pulse_spectrum(const Trapezoid& trapezoid, Frequency frequency) {
  require_defined(trapezoid);
  require_frequency(frequency);
  const double across_width = pi * double(frequency * trapezoid.width);
  const double across_rise = pi * double(frequency * trapezoid.rise);
  return trapezoid.amplitude * trapezoid.width * (sinc_of(across_width) * sinc_of(across_rise));
}

Voltage harmonic_amplitude(const Trapezoid& trapezoid, int n) {
  if (n < 1) throw std::invalid_argument("harmonic: n must be at least 1");
  return 2.0 * pulse_spectrum(trapezoid, double(n) / trapezoid.period) / trapezoid.period;
}

Frequency first_corner(const Trapezoid& trapezoid) {
  require_defined(trapezoid);
  return 1.0 / (pi * trapezoid.width);
}

Frequency second_corner(const Trapezoid& trapezoid) {
  require_defined(trapezoid);
  return 1.0 / (pi * trapezoid.rise);
}

Voltage harmonic_envelope(const Trapezoid& trapezoid, Frequency frequency) {
  require_frequency(frequency);
  const double above_first = std::max(1.0, double(frequency / first_corner(trapezoid)));
  const double above_second = std::max(1.0, double(frequency / second_corner(trapezoid)));
  const double flat_share = 2.0 * double(trapezoid.width / trapezoid.period);
  return trapezoid.amplitude * (flat_share / (above_first * above_second));
}

SpectralVoltage ringing_spectrum(const Ringing& ringing, Voltage step, Frequency frequency) {
  require_defined(ringing);
  require_frequency(frequency);
  const double w_r = 2.0 * pi * ringing.frequency.value();
  const double alpha = w_r / (2.0 * ringing.quality);
  const std::complex<double> decay{alpha, 2.0 * pi * frequency.value()};
  const Time transform = Time::from_value(w_r / std::abs(decay * decay + w_r * w_r));
  return ringing.share_of_step * step * transform;
}

Voltage ringing_line_amplitude(const Ringing& ringing, Voltage step, Frequency repetition,
                               Frequency frequency) {
  require_frequency(repetition);
  return 2.0 * repetition * ringing_spectrum(ringing, step, frequency);
}

std::array<double, 3> leg_references(ModulationKind kind, double modulation, double angle_rad) {
  require_linear(modulation);
  // The three cosines out of one with its sine.
  const double along = modulation * std::cos(angle_rad);
  const double across = modulation * (0.5 * std::numbers::sqrt3 * std::sin(angle_rad));
  std::array<double, 3> reference{along, -0.5 * along + across, -0.5 * along - across};
  const auto [lowest, highest] = std::minmax_element(reference.begin(), reference.end());
  const double shift = kind == ModulationKind::space_vector
                           ? -0.5 * (*lowest + *highest)
                           : std::max(0.0, -1.0 - *lowest) - std::max(0.0, *highest - 1.0);
  for (double& leg : reference) {
    leg += shift;
    // A leg at the end of its range is there whatever the rounding of the sum.
    constexpr double rounding = 2e-12;
    if (1.0 - std::abs(leg) < rounding) leg = std::copysign(1.0, leg);
  }
  return reference;
}

CarrierDuties carrier_duties(ModulationKind kind, double modulation, double angle_rad) {
  CarrierDuties duties;
  for (const double reference : leg_references(kind, modulation, angle_rad)) {
    const double duty = 0.5 * (1.0 + reference);
    if (duty == 1.0) ++duties.high;
    if (duty == 0.0 || duty == 1.0) continue;
    auto& of = duties.switching;
    std::size_t place = duties.count++;
    for (; place > 0 && of[place - 1] < duty; --place) of[place] = of[place - 1];
    of[place] = duty;
  }
  return duties;
}

Staircase carrier_staircase(Voltage dc_link, Frequency carrier, double modulation, double angle_rad,
                            ModulationKind kind) {
  require_link(dc_link);
  if (!(carrier > Frequency{}))
    throw std::invalid_argument("common mode: the carrier frequency must be positive");

  const Time period = 1.0 / carrier;
  const Voltage up = edge_step(dc_link, 1);
  const CarrierDuties duties = carrier_duties(kind, modulation, angle_rad);
  Staircase result;
  result.start = -0.5 * dc_link + double(duties.high) * up;
  result.count = 2 * static_cast<int>(duties.count);
  for (std::size_t i = 0; i < duties.count; ++i) {
    const double duty = duties.switching[i];
    result.storage[i] = {0.5 * (1.0 - duty) * period, up};
    result.storage[2 * duties.count - 1 - i] = {0.5 * (1.0 + duty) * period, -up};
  }
  return result;
}

}  // namespace ohmdrag::voltage
