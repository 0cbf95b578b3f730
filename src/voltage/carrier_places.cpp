#include "ohmdrag/voltage/carrier_places.hpp"

#include <algorithm>
#include <numbers>
#include <numeric>
#include <stdexcept>

#include "ohmdrag/voltage/common_mode.hpp"
#include "voltage/carrier_lanes.hpp"

namespace ohmdrag::voltage {

namespace {

bool is_hold(double length_s, const Carrier& carrier) {
  return length_s >= rises_per_hold * carrier.rise.value();
}

/// The intervals of one carrier period.
struct Period {
  std::array<double, CarrierPlaces::stretches> length_s{}, step_V{};
  unsigned holds = 0;  ///< a bit for each that counts, and one for their number
};

Period period_at(const Carrier& carrier, double angle_rad) {
  const Staircase staircase = carrier_staircase(carrier.dc_link, carrier.frequency,
                                                carrier.modulation, angle_rad, carrier.kind);
  const auto edges = staircase.edges();
  const double period_s = (1.0 / carrier.frequency).value();
  Period period;
  period.holds = 1u << edges.size();
  for (std::size_t i = 0; i < edges.size(); ++i) {
    const double next_s =
        i + 1 == edges.size() ? edges[0].time.value() + period_s : edges[i + 1].time.value();
    period.length_s[i] = next_s - edges[i].time.value();
    period.step_V[i] = edges[i].step.value();
    if (is_hold(period.length_s[i], carrier)) period.holds |= 1u << i;
  }
  return period;
}

}  // namespace

void require_defined(const Carrier& carrier) {
  if (!(carrier.dc_link > Voltage{} && carrier.frequency > Frequency{} && carrier.rise > Time{}))
    throw std::invalid_argument("carrier: link voltage, frequency and rise must be positive");
  // Of six stretches that fill the period the longest then is a hold.
  if (!(6.0 * rises_per_hold * double(carrier.rise * carrier.frequency) <= 1.0))
    throw std::invalid_argument("carrier: the edges fill the period, no voltage is held");
}

CarrierPlaces::CarrierPlaces(const Carrier& carrier) : carrier_(carrier) {
  require_defined(carrier);
  constexpr int parts = 12;
  constexpr double end_rad = std::numbers::pi / 6.0;
  std::size_t taken = 0;
  const auto take = [&](const Period& period) {
    if (taken % lanes == 0) blocks_.emplace_back();
    Block& block = blocks_.back();
    // To the end of the block: whatever follows overwrites it.
    for (std::size_t l = taken++ % lanes; l < lanes; ++l)
      for (std::size_t i = 0; i < stretches; ++i) {
        block.length_s[i][l] = period.length_s[i];
        block.step_V[i][l] = period.step_V[i];
        block.is_hold[i][l] = is_hold(period.length_s[i], carrier) ? 1.0 : 0.0;
      }
  };
  double before_rad = 0.0;
  Period before = period_at(carrier, before_rad);
  take(before);
  for (int part = 0; part <= parts; ++part) {
    const double angle_rad = std::min((part + 0.5) / parts, 1.0) * end_rad;
    const Period here = period_at(carrier, angle_rad);
    if (before.holds != here.holds) {
      double low_rad = before_rad, high_rad = angle_rad;
      Period low = before, high = here;
      while (high_rad - low_rad > 1e-7) {
        const double middle_rad = std::midpoint(low_rad, high_rad);
        const Period middle = period_at(carrier, middle_rad);
        const bool below = middle.holds == before.holds;
        (below ? low_rad : high_rad) = middle_rad;
        (below ? low : high) = middle;
      }
      take(low);
      take(high);
    }
    take(here);
    before_rad = angle_rad;
    before = here;
  }
}

}  // namespace ohmdrag::voltage
