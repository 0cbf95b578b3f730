#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/voltage/waveform.hpp"

namespace ohmdrag::voltage {

namespace {

using Complex = std::complex<double>;
using std::numbers::pi;

/// An oscillation in the periodic steady state: Im(scale exp(rate t)), t in [0, T) from its begin.
struct Steady {
  double from_s;
  Complex scale_V;
  Complex rate;
};

Steady steady(const Oscillation& wave, double period_s) {
  const double w_r = 2.0 * pi * wave.frequency.value();
  const Complex rate{-w_r / (2.0 * wave.quality), w_r};
  return {.from_s = wave.from.value(),
          .scale_V = wave.amplitude.value() / (1.0 - std::exp(rate * period_s)),
          .rate = rate};
}

/// Integral of Im(p exp(r t)) Im(q exp(s t)) from 0 to `until`.
double product(Complex p, Complex r, Complex q, Complex s, double until_s) {
  const auto integral = [until_s](Complex rate) { return (std::exp(rate * until_s) - 1.0) / rate; };
  return 0.5 * std::real(p * std::conj(q) * integral(r + std::conj(s)) - p * q * integral(r + s));
}

/// Integral of a(t) b(t) over a period; b begins `lag` after a.
double cross(const Steady& a, const Steady& b, double period_s) {
  double lag_s = b.from_s - a.from_s;
  if (lag_s < 0.0) lag_s += period_s;
  const double rest_s = period_s - lag_s;
  return product(a.scale_V, a.rate, b.scale_V * std::exp(b.rate * rest_s), b.rate, lag_s) +
         product(a.scale_V * std::exp(a.rate * lag_s), a.rate, b.scale_V, b.rate, rest_s);
}

/// Integral of a straight line times Im(scale exp(rate t)), t from 0 to `until`.
double under_line(double value_V, double slope, Complex scale_V, Complex rate, double until_s) {
  const Complex at_end =
      std::exp(rate * until_s) * ((value_V + slope * until_s) / rate - slope / (rate * rate));
  return std::imag(scale_V * (at_end - value_V / rate + slope / (rate * rate)));
}

/// Integral of a straight piece, from_s to to_s, times an oscillation that may begin within it.
double under_piece(double from_s, double to_s, double value_V, double slope, const Steady& wave,
                   double period_s) {
  double since_s = std::fmod(from_s - wave.from_s, period_s);
  if (since_s < 0.0) since_s += period_s;
  double sum = 0.0;
  // A piece from the last corner to the first is shorter than a period, so it holds one begin.
  const double until_begin_s = std::min(to_s - from_s, period_s - since_s);
  sum += under_line(value_V, slope, wave.scale_V * std::exp(wave.rate * since_s), wave.rate,
                    until_begin_s);
  if (const double rest_s = to_s - from_s - until_begin_s; rest_s > 0.0)
    sum += under_line(value_V + slope * until_begin_s, slope, wave.scale_V, wave.rate, rest_s);
  return sum;
}

}  // namespace

SquareVoltage mean_square(const Waveform& waveform) {
  require_defined(waveform);
  const double period_s = waveform.period.value();
  std::vector<Steady> waves;
  for (const Oscillation& wave : waveform.oscillations) waves.push_back(steady(wave, period_s));

  double sum = 0.0;
  const auto& corners = waveform.corners;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const bool last = i + 1 == corners.size();
    const Corner& next = last ? corners.front() : corners[i + 1];
    const double from_s = corners[i].at.value();
    const double to_s = next.at.value() + (last ? period_s : 0.0);
    const double a = corners[i].value.value(), b = next.value.value();
    sum += (to_s - from_s) * (a * a + a * b + b * b) / 3.0;
    for (const Steady& wave : waves)
      sum += 2.0 * under_piece(from_s, to_s, a, (b - a) / (to_s - from_s), wave, period_s);
  }
  for (std::size_t i = 0; i < waves.size(); ++i) {
    sum += cross(waves[i], waves[i], period_s);
    for (std::size_t k = i + 1; k < waves.size(); ++k)
      sum += 2.0 * cross(waves[i], waves[k], period_s);
  }
  return SquareVoltage::from_value(sum / period_s);
}

SquareVoltage mean_square_above(const Waveform& waveform, int n_max) {
  require_defined(waveform);
  const double period_s = waveform.period.value();
  double highest = 0.0;
  for (const Oscillation& wave : waveform.oscillations)
    highest = std::max(highest, wave.frequency.value() * period_s);
  if (!(n_max > highest))
    throw std::invalid_argument("mean square above: n_max must lie above every oscillation");
  double bound = 0.0;
  const auto& corners = waveform.corners;
  const auto slope_before = [&](std::size_t i) {
    const Corner& from = corners[(i + corners.size() - 1) % corners.size()];
    double length_s = (corners[i].at - from.at).value();
    if (i == 0) length_s += period_s;
    return (corners[i].value - from.value).value() / length_s;
  };
  for (std::size_t i = 0; i < corners.size(); ++i)
    bound += std::abs(slope_before((i + 1) % corners.size()) - slope_before(i)) * period_s /
             (4.0 * pi * pi);
  for (const Oscillation& wave : waveform.oscillations) {
    const double turns = wave.frequency.value() * period_s;
    const double nearness = turns / n_max;
    bound += std::abs(wave.amplitude.value()) * turns / (2.0 * pi * (1.0 - nearness * nearness));
  }
  return SquareVoltage::from_value(2.0 * bound * bound / (3.0 * std::pow(double(n_max), 3)));
}

}  // namespace ohmdrag::voltage
