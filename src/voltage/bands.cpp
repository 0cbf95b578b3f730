#include "ohmdrag/voltage/bands.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace ohmdrag::voltage {

namespace {

/// Where |a| has its only maximum. With y = w^2 L C_T and k = R^2 C_T/L,
/// |a|^2 = 1 + (2y - 1)/((1 - y)^2 + k y), stationary at 2 y^2 - 2 y - k = 0.
std::optional<Frequency> strongest_amplification(const ShaftNode& node, const GroundingPath& path) {
  const auto resonance = path_resonance(node, path);
  if (!resonance) return std::nullopt;
  const double r_ohm = path.resistance.value();
  const double k = r_ohm * r_ohm * node.total.value() / path.inductance.value();
  return *resonance * std::sqrt(0.5 * (1.0 + std::sqrt(1.0 + 2.0 * k)));
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
  if (path) {
    const auto strongest = strongest_amplification(node, *path);
    if (strongest && *strongest > band.from && *strongest < band.to) consider(*strongest);
  }
  // -20 lg 1 is a negative zero.
  worst.reduction_dB += 0.0;
  return worst;
}

}  // namespace ohmdrag::voltage
