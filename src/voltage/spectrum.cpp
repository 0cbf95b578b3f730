#include "ohmdrag/voltage/spectrum.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <limits>
#include <numbers>
#include <stdexcept>

#include "voltage/branch.hpp"

namespace ohmdrag::voltage {

std::vector<SpectrumLine> spectrum(const ShaftNode& node, const MaybePath& path,
                                   const Waveform& waveform, Frequency up_to) {
  const double ratio = bearing_voltage_ratio(node);
  require_defined(waveform);
  const double lines_up_to = std::floor((up_to * waveform.period).value() * (1.0 + 1e-12));
  if (!(lines_up_to >= 1.0 && lines_up_to < std::numeric_limits<int>::max()))
    throw std::invalid_argument("spectrum: the frequency must reach the first harmonic");
  const auto source_V = harmonics_V(waveform, static_cast<int>(lines_up_to));

  // As attenuation(), with the branch taken apart once for all lines.
  const Branch branch(path.value_or(GroundingPath{}));
  const double loaded_F = loaded_node(node, path).total.value();
  const double total_F = node.total.value();
  const auto left = [&](Frequency frequency) {
    if (!path) return 1.0;
    const std::complex<double> s{0.0, 2.0 * std::numbers::pi * frequency.value()};
    const std::complex<double> drive = s * branch.impedance_ohm(s);
    return total_F * std::abs(drive) / std::abs(1.0 + loaded_F * drive);
  };

  std::vector<SpectrumLine> lines;
  lines.reserve(source_V.size());
  for (std::size_t n = 1; n < source_V.size(); ++n) {
    const Frequency frequency = double(n) / waveform.period;
    const double without_V = ratio * std::abs(source_V[n]);
    lines.push_back({frequency, Voltage::from_value(without_V),
                     Voltage::from_value(without_V * left(frequency))});
  }
  return lines;
}

std::vector<SpectrumBin> binned(std::span<const SpectrumLine> lines, int per_decade) {
  if (!(per_decade > 0)) throw std::invalid_argument("spectrum: bins per decade must be positive");
  std::vector<SpectrumBin> bins;
  if (lines.empty()) return bins;
  const Frequency first = lines.front().frequency;
  const auto edge = [&](int part) {
    return first * std::pow(10.0, double(part) / double(per_decade));
  };
  int part = 0;
  Frequency end = edge(1);
  for (const SpectrumLine& line : lines) {
    while (line.frequency >= end) end = edge(++part + 1);
    const Frequency from = edge(part);
    if (bins.empty() || bins.back().from != from)
      bins.push_back({from, end, line.without_path, line.with_path});
    bins.back().without_path = std::max(bins.back().without_path, line.without_path);
    bins.back().with_path = std::max(bins.back().with_path, line.with_path);
  }
  return bins;
}

}  // namespace ohmdrag::voltage
