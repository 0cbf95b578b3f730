#include "ohmdrag/voltage/harmonic_envelope.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace ohmdrag::voltage {

namespace {

using std::numbers::pi;

void require_positive(Frequency frequency) {
  if (!(frequency > Frequency{}))
    throw std::invalid_argument("envelope: the frequency must be positive");
}

/// What a ramp of any place adds: its step over pi f T, less above 1/(pi duration).
Voltage ramp_envelope(Voltage step, Time duration, Time period, Frequency frequency) {
  const double corner = pi * double(frequency * duration);
  return step / (pi * double(frequency * period) * std::max(1.0, corner));
}

}  // namespace

Voltage harmonic_envelope(const Waveform& waveform, Frequency frequency) {
  require_defined(waveform);
  require_positive(frequency);
  Voltage sum;
  const auto& corners = waveform.corners;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const bool last = i + 1 == corners.size();
    const Corner& to = last ? corners.front() : corners[i + 1];
    const Time end = last ? to.at + waveform.period : to.at;
    const Voltage step = Voltage::from_value(std::abs((to.value - corners[i].value).value()));
    sum += ramp_envelope(step, end - corners[i].at, waveform.period, frequency);
  }
  for (const Oscillation& wave : waveform.oscillations) {
    const Ringing ringing{wave.frequency, 1.0, wave.quality};
    const Voltage amplitude = Voltage::from_value(std::abs(wave.amplitude.value()));
    sum += ringing_line_amplitude(ringing, amplitude, 1.0 / waveform.period, frequency);
  }
  return sum;
}

Voltage harmonic_envelope(const InverterSource& source, Frequency frequency) {
  require_defined(source);
  require_positive(frequency);
  const Time period = 1.0 / source.carrier;
  Voltage sum = ramp_envelope(source.dc_link, source.rise, period, frequency) +
                ramp_envelope(source.dc_link, source.fall, period, frequency);
  if (source.ringing)
    sum += 2.0 * ringing_line_amplitude(*source.ringing, source.dc_link, source.carrier, frequency);
  return sum;
}

}  // namespace ohmdrag::voltage
