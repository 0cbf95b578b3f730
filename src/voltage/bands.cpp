#include "ohmdrag/voltage/bands.hpp"

#include <algorithm>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <stdexcept>

namespace ohmdrag::voltage {

namespace {

/// Without films |a| has one maximum. With C = C_T + C_across, y = w^2 L C and k = R^2 C/L,
/// |a|^2 = (C_T/C)^2 [1 + (2y - 1)/((1 - y)^2 + k y)], stationary at 2 y^2 - 2 y - k = 0.
std::optional<Frequency> strongest_amplification(const ShaftNode& node, const GroundingPath& path) {
  const auto resonance = path_resonance(node, path);
  if (!resonance) return std::nullopt;
  const double r_ohm = direct_resistance(path).value();
  const double c_F = loaded_node(node, path).total.value();
  const double k = r_ohm * r_ohm * c_F / path.inductance.value();
  return *resonance * std::sqrt(0.5 * (1.0 + std::sqrt(1.0 + 2.0 * k)));
}

/// With films: the largest of a fine scan over the logarithm of the frequency, then refined.
Frequency strongest_in(const ShaftNode& node, const GroundingPath& path, const Band& band) {
  constexpr double parts_per_decade = 60.0;
  const double log_from = std::log(band.from.value()), log_to = std::log(band.to.value());
  const int parts = 1 + static_cast<int>((log_to - log_from) * parts_per_decade / std::log(10.0));
  const auto less_V = [&](double log_f) {
    return -std::abs(attenuation(node, path, Frequency::from_value(std::exp(log_f))));
  };
  const double step = (log_to - log_from) / parts;
  double best = log_from;
  for (int i = 1; i <= parts; ++i)
    if (less_V(log_from + i * step) < less_V(best)) best = log_from + i * step;
  constexpr int bits = 26;  // half the digits of a double: all that a maximum can give
  const auto [log_f, value] = boost::math::tools::brent_find_minima(
      less_V, std::max(log_from, best - step), std::min(log_to, best + step), bits);
  static_cast<void>(value);
  return Frequency::from_value(std::exp(log_f));
}

bool has_films(const GroundingPath& path) {
  return std::ranges::any_of(path.films,
                             [](const Film& film) { return film.capacitance > Capacitance{}; });
}

}  // namespace

BandReduction band_reduction(const ShaftNode& node, const MaybePath& path, const Band& band) {
  if (!(band.from > Frequency{} && band.to >= band.from))
    throw std::invalid_argument("band: needs 0 < from <= to");
  BandReduction worst{.reduction_dB = -attenuation_dB(node, path, band.from),
                      .weakest_at = band.from};
  const auto consider = [&](Frequency frequency) {
    const double reduction_dB = -attenuation_dB(node, path, frequency);
    if (reduction_dB < worst.reduction_dB) worst = {reduction_dB, frequency};
  };
  consider(band.to);
  if (path && has_films(*path)) {
    if (band.to > band.from) consider(strongest_in(node, *path, band));
  } else if (path) {
    const auto strongest = strongest_amplification(node, *path);
    if (strongest && *strongest > band.from && *strongest < band.to) consider(*strongest);
  }
  // -20 lg 1 is a negative zero.
  worst.reduction_dB += 0.0;
  return worst;
}

}  // namespace ohmdrag::voltage
