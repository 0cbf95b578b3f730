#include "ohmdrag/voltage/carrier_places.hpp"

#include <algorithm>
#include <bit>
#include <numbers>
#include <numeric>
#include <stdexcept>
#include <utility>

#include "ohmdrag/voltage/common_mode.hpp"
#include "voltage/carrier_duties.hpp"
#include "voltage/carrier_lanes.hpp"

namespace ohmdrag::voltage {

namespace {

bool is_hold(double length_s, const Carrier& carrier) {
  return length_s >= rises_per_hold * carrier.rise.value();
}

/// The intervals of one carrier period.
struct Period {
  std::array<double, CarrierPlaces::stretches> length_s{}, step_V{};
  unsigned holds = 0;  ///< a bit for each that counts, and above these the number of all
};

/// As carrier_staircase() lays the edges: up, and down in the reverse order.
Period period_at(const Carrier& carrier, double angle_rad) {
  const CarrierDuties duties = carrier_duties(carrier.kind, carrier.modulation, angle_rad);
  const double period_s = (1.0 / carrier.frequency).value();
  const double up_V = edge_step(carrier.dc_link, 1).value();
  const std::size_t legs = duties.count, edges = 2 * legs;
  Period period;
  period.holds = unsigned(edges) << CarrierPlaces::stretches;
  for (std::size_t i = 0; i < legs; ++i) {
    const double duty = duties.switching[i];
    const bool lowest = i + 1 == legs;
    // Until the next leg goes up, or until this one comes down again; likewise after its way down.
    period.length_s[i] = (lowest ? duty : 0.5 * (duty - duties.switching[i + 1])) * period_s;
    period.length_s[edges - 1 - i] =
        (i == 0 ? 1.0 - duty : 0.5 * (duties.switching[i - 1] - duty)) * period_s;
    period.step_V[i] = up_V;
    period.step_V[edges - 1 - i] = -up_V;
  }
  for (std::size_t i = 0; i < edges; ++i)
    if (is_hold(period.length_s[i], carrier)) period.holds |= 1u << i;
  return period;
}

struct Place {
  double angle_rad;
  Period period;
};

/// Both sides of the place between two others where the intervals that count as holds change.
std::pair<Place, Place> around_change(const Carrier& carrier, Place low, Place high) {
  constexpr double apart_rad = 1e-7;
  constexpr unsigned number_of_all = 1u << CarrierPlaces::stretches;
  constexpr int secants = 12;  // more than a smooth length ever asks for
  const unsigned holds_before = low.period.holds;
  for (int step = 0; high.angle_rad - low.angle_rad > apart_rad; ++step) {
    double angle_rad = std::midpoint(low.angle_rad, high.angle_rad);
    const unsigned changed = low.period.holds ^ high.period.holds;
    if (step < secants && std::has_single_bit(changed) && changed < number_of_all) {
      // One length passes the least one: where the secant says, a little to the farther side, so
      // that both sides close in.
      const auto i = static_cast<std::size_t>(std::countr_zero(changed));
      const auto excess_s = [&](const Place& place) {
        return place.period.length_s[i] - rises_per_hold * carrier.rise.value();
      };
      const double of_low = excess_s(low), width_rad = high.angle_rad - low.angle_rad;
      const double share = of_low / (of_low - excess_s(high));
      const double aside_rad = share < 0.5 ? 0.4 * apart_rad : -0.4 * apart_rad;
      const double secant_rad = low.angle_rad + share * width_rad + aside_rad;
      if (secant_rad > low.angle_rad && secant_rad < high.angle_rad) angle_rad = secant_rad;
    }
    const Place middle{angle_rad, period_at(carrier, angle_rad)};
    (middle.period.holds == holds_before ? low : high) = middle;
  }
  return {low, high};
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
  blocks_.reserve(3);  // of most carriers no more
  std::size_t taken = 0;
  const auto write = [&](std::size_t l, const Period& period) {
    Block& block = blocks_.back();
    for (std::size_t i = 0; i < stretches; ++i) {
      block.length_s[i][l] = period.length_s[i];
      block.step_V[i][l] = period.step_V[i];
      block.is_hold[i][l] = (period.holds >> i & 1u) != 0u ? 1.0 : 0.0;
    }
  };
  const auto take = [&](const Period& period) {
    if (taken % lanes == 0) blocks_.emplace_back();
    write(taken++ % lanes, period);
  };
  double before_rad = 0.0;
  Period before = period_at(carrier, before_rad);
  take(before);
  for (int part = 0; part <= parts; ++part) {
    const double angle_rad = std::min((part + 0.5) / parts, 1.0) * end_rad;
    const Period here = period_at(carrier, angle_rad);
    if (before.holds != here.holds) {
      const auto [low, high] = around_change(carrier, {before_rad, before}, {angle_rad, here});
      take(low.period);
      take(high.period);
    }
    take(here);
    before_rad = angle_rad;
    before = here;
  }
  for (; taken % lanes != 0; ++taken) write(taken % lanes, before);
}

}  // namespace ohmdrag::voltage
