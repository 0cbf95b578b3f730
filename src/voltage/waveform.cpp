#include "ohmdrag/voltage/waveform.hpp"

#include <algorithm>
#include <array>
#include <boost/math/special_functions/sinc.hpp>
#include <cmath>
#include <numbers>
#include <span>
#include <stdexcept>

namespace ohmdrag::voltage {

namespace {

using Complex = std::complex<double>;
using std::numbers::pi;
constexpr Complex j{0.0, 1.0};

/// A straight piece of the line that is not level.
struct Piece {
  double middle;    ///< in periods
  double duration;  ///< in periods
  double rise_V;
};

template <class Visit>
void for_each_piece(const Waveform& waveform, const Visit& visit) {
  const auto& corners = waveform.corners;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const bool last = i + 1 == corners.size();
    const Corner& to = last ? corners.front() : corners[i + 1];
    const Time end = last ? to.at + waveform.period : to.at;
    visit(corners[i].at, corners[i].value, end, to.value);
  }
}

std::vector<Piece> sloping_pieces(const Waveform& waveform) {
  std::vector<Piece> pieces;
  for_each_piece(waveform, [&](Time from, Voltage before, Time to, Voltage after) {
    if (before == after) return;
    pieces.push_back({.middle = double((from + to) / waveform.period) / 2.0,
                      .duration = double((to - from) / waveform.period),
                      .rise_V = (after - before).value()});
  });
  return pieces;
}

double mean_V(const Waveform& waveform) {
  const double period_s = waveform.period.value();
  double area = 0.0;
  for_each_piece(waveform, [&](Time from, Voltage before, Time to, Voltage after) {
    area += ((before + after) * (to - from)).value() / 2.0;
  });
  for (const Oscillation& wave : waveform.oscillations) {
    const double w_r = 2.0 * pi * wave.frequency.value();
    const double alpha = w_r / (2.0 * wave.quality);
    area += wave.amplitude.value() * w_r / (alpha * alpha + w_r * w_r);
  }
  return area / period_s;
}

/// exp(-2 pi j n x) without the rounding of the product n x.
Complex turned(int n, double x) {
  const double product = n * x;
  const double turns = (product - std::floor(product)) + std::fma(double(n), x, -product);
  return std::polar(1.0, -2.0 * pi * turns);
}

/// Spectrum of an oscillation that begins at zero, without its delay.
Complex from_zero_V(const Oscillation& wave, double period_s, int n) {
  const double w_r = 2.0 * pi * wave.frequency.value();
  const Complex decay{w_r / (2.0 * wave.quality), 2.0 * pi * n / period_s};
  return 2.0 / period_s * wave.amplitude.value() * w_r / (decay * decay + w_r * w_r);
}

/// exp(-2 pi j n x) for consecutive n out of two tables: each factor is exact, so nothing adds up.
class Turns {
 public:
  static constexpr int block = 64;
  explicit Turns(double x) : x_(x) {
    for (int i = 0; i < block; ++i) {
      const Complex turn = turned(i, x);
      cos_[std::size_t(i)] = turn.real();
      sin_[std::size_t(i)] = turn.imag();
    }
  }
  /// Writes the turns of harmonics first to first + block - 1.
  void write(int first, std::array<double, block>& real, std::array<double, block>& imag) const {
    const Complex anchor = turned(first, x_);
    const double a = anchor.real(), b = anchor.imag();
    for (std::size_t i = 0; i < block; ++i) {
      real[i] = a * cos_[i] - b * sin_[i];
      imag[i] = a * sin_[i] + b * cos_[i];
    }
  }

 private:
  double x_;
  std::array<double, block> cos_{}, sin_{};
};

/// Harmonics real and imaginary apart, in whole blocks, so that the loops over them vectorise.
struct Sums {
  std::vector<double> real, imag;
  explicit Sums(std::size_t size) : real(size), imag(size) {}
};

/// Leaves harmonic 0 undefined: it is the mean.
void add_piece(const Piece& piece, Sums& sums) {
  constexpr std::size_t block = Turns::block;
  const Turns middle(piece.middle), half(piece.duration / 2.0);
  std::array<double, block> real{}, imag{}, half_real{}, half_sin{};
  for (std::size_t first = 0; first < sums.real.size(); first += block) {
    middle.write(int(first), real, imag);
    half.write(int(first), half_real, half_sin);
    // 2 dv sinc(pi n h/T) / (2 pi j n): the turn by half a duration holds minus the sine.
    const double per_square = -piece.rise_V / (pi * pi * piece.duration);
    // The sine of a small angle is taken from its series: the product of tables has lost its
    // digits.
    const bool small = pi * double(first + block) * piece.duration < 0.05;
    for (std::size_t i = 0; i < block; ++i) {
      const double n = double(first + i);
      const double x = pi * n * piece.duration, x2 = x * x;
      const double sine =
          small ? -x * (1.0 - x2 / 6.0 * (1.0 - x2 / 20.0 * (1.0 - x2 / 42.0))) : half_sin[i];
      const double factor = per_square * sine / (n * n);
      // Division by j turns (re, im) into (im, -re).
      sums.real[first + i] += factor * imag[i];
      sums.imag[first + i] -= factor * real[i];
    }
  }
}

/// Oscillations of one frequency and quality differ by amplitude and delay alone.
void add_oscillations(std::span<const Oscillation> alike, Time period, Sums& sums) {
  constexpr std::size_t block = Turns::block;
  Sums delays(sums.real.size());
  std::array<double, block> real{}, imag{};
  for (const Oscillation& wave : alike) {
    const Turns delay(double(wave.from / period));
    const double amplitude = wave.amplitude.value();
    for (std::size_t first = 0; first < sums.real.size(); first += block) {
      delay.write(int(first), real, imag);
      for (std::size_t i = 0; i < block; ++i) {
        delays.real[first + i] += amplitude * real[i];
        delays.imag[first + i] += amplitude * imag[i];
      }
    }
  }
  const double period_s = period.value();
  const double w_r = 2.0 * pi * alike.front().frequency.value();
  const double alpha = w_r / (2.0 * alike.front().quality);
  const double gain = 2.0 / period_s * w_r, w_0 = 2.0 * pi / period_s;
  for (std::size_t n = 0; n < sums.real.size(); ++n) {
    const double w = w_0 * double(n);
    const double below = alpha * alpha - w * w + w_r * w_r, beside = 2.0 * alpha * w;
    const double scale = gain / (below * below + beside * beside);
    sums.real[n] += scale * (delays.real[n] * below + delays.imag[n] * beside);
    sums.imag[n] += scale * (delays.imag[n] * below - delays.real[n] * beside);
  }
}

}  // namespace

void require_defined(const Waveform& waveform) {
  if (!(waveform.period > Time{} && std::isfinite(waveform.period.value())))
    throw std::invalid_argument("waveform: the period must be positive");
  Time before = Time::from_value(-1.0);
  for (const Corner& corner : waveform.corners) {
    if (!(corner.at >= Time{} && corner.at > before && corner.at < waveform.period &&
          std::isfinite(corner.value.value())))
      throw std::invalid_argument(
          "waveform: the times of its corners must rise and lie within the period");
    before = corner.at;
  }
  for (const Oscillation& wave : waveform.oscillations)
    if (!(wave.from >= Time{} && wave.from < waveform.period && wave.frequency > Frequency{} &&
          wave.quality > 0.5 && std::isfinite(wave.amplitude.value())))
      throw std::invalid_argument(
          "waveform: an oscillation must begin within the period and have a positive frequency and "
          "a quality above 0.5");
}

Voltage value_at(const Waveform& waveform, Time time) {
  require_defined(waveform);
  const double period_s = waveform.period.value();
  const auto within = [period_s](double t_s) {
    const double rest = t_s - std::floor(t_s / period_s) * period_s;
    return rest >= 0.0 && rest < period_s ? rest : 0.0;
  };
  const double now_s = within(time.value());
  double sum_V = 0.0;
  if (const auto& corners = waveform.corners; !corners.empty()) {
    const auto after = std::upper_bound(corners.begin(), corners.end(), now_s,
                                        [](double t, const Corner& c) { return t < c.at.value(); });
    const bool wraps = after == corners.begin() || after == corners.end();
    const Corner& from = after == corners.begin() ? corners.back() : *std::prev(after);
    const Corner& to = wraps ? corners.front() : *after;
    const double length_s = (to.at - from.at).value() + (wraps ? period_s : 0.0);
    const double into_s =
        after == corners.begin() ? now_s + period_s - from.at.value() : now_s - from.at.value();
    sum_V = from.value.value() + (to.value - from.value).value() * into_s / length_s;
  }
  for (const Oscillation& wave : waveform.oscillations) {
    const double w_r = 2.0 * pi * wave.frequency.value();
    const Complex rate{-w_r / (2.0 * wave.quality), w_r};
    const double since_s = within(now_s - wave.from.value());
    sum_V += wave.amplitude.value() *
             std::imag(std::exp(rate * since_s) / (1.0 - std::exp(rate * period_s)));
  }
  return Voltage::from_value(sum_V);
}

std::complex<double> harmonic_V(const Waveform& waveform, int n) {
  require_defined(waveform);
  if (n < 0) throw std::invalid_argument("waveform: the number of a harmonic must not be negative");
  if (n == 0) return mean_V(waveform);
  Complex sum;
  for (const Piece& piece : sloping_pieces(waveform))
    sum += piece.rise_V * boost::math::sinc_pi(pi * n * piece.duration) * turned(n, piece.middle) /
           (pi * n * j);
  for (const Oscillation& wave : waveform.oscillations)
    sum += from_zero_V(wave, waveform.period.value(), n) *
           turned(n, double(wave.from / waveform.period));
  return sum;
}

std::vector<std::complex<double>> harmonics_V(const Waveform& waveform, int up_to) {
  require_defined(waveform);
  if (up_to < 0)
    throw std::invalid_argument("waveform: the number of a harmonic must not be negative");
  const std::size_t count = std::size_t(up_to) + 1;
  Sums sums((count + Turns::block - 1) / Turns::block * Turns::block);
  for (const Piece& piece : sloping_pieces(waveform)) add_piece(piece, sums);

  std::vector<Oscillation> waves = waveform.oscillations;
  const auto kind = [](const Oscillation& wave) { return std::pair(wave.frequency, wave.quality); };
  std::stable_sort(waves.begin(), waves.end(),
                   [&](const auto& a, const auto& b) { return kind(a) < kind(b); });
  for (auto from = waves.begin(); from != waves.end();) {
    const auto to = std::find_if(from, waves.end(),
                                 [&](const auto& wave) { return kind(wave) != kind(*from); });
    add_oscillations({from, to}, waveform.period, sums);
    from = to;
  }

  std::vector<Complex> result(count);
  for (std::size_t n = 0; n < count; ++n) result[n] = {sums.real[n], sums.imag[n]};
  result[0] = mean_V(waveform);
  return result;
}

}  // namespace ohmdrag::voltage
