#include "ohmdrag/voltage/held_voltage.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/voltage/common_mode.hpp"
#include "voltage/path_modes.hpp"

namespace ohmdrag::voltage {

namespace {

/// One stretch between two edges with the state right before its end.
struct Stretch {
  Propagator motion;
  double step_V = 0.0;  ///< of the edge that begins it, on the shaft
  bool is_hold = false;
  NodeState before_next{};
};

NodeState stepped(NodeState x, double step_V) { return {x.v_V + step_V, x.q_V_per_s}; }

/// The periodic steady state of one carrier period.
class CarrierPeriod {
 public:
  CarrierPeriod(const PathModes& modes, const Staircase& staircase, const Carrier& carrier,
                double ratio) {
    const auto edges = staircase.edges();
    const double period_s = (1.0 / carrier.frequency).value();
    count_ = edges.size();
    for (std::size_t i = 0; i < count_; ++i) {
      const bool last = i + 1 == count_;
      const double next_s = last ? edges[0].time.value() + period_s : edges[i + 1].time.value();
      const double length_s = next_s - edges[i].time.value();
      stretches_[i] = {.motion = modes.after(length_s),
                       .step_V = ratio * edges[i].step.value(),
                       .is_hold = length_s >= rises_per_hold * carrier.rise.value()};
    }
    NodeState state = fixed_point();
    for (std::size_t i = 0; i < count_; ++i) {
      state = stretches_[i].motion(stepped(state, stretches_[i].step_V));
      stretches_[i].before_next = state;
    }
  }

  double held_V() const {
    double largest_V = 0.0;
    for (const Stretch& stretch : stretches())
      if (stretch.is_hold) largest_V = std::max(largest_V, std::abs(stretch.before_next.v_V));
    return largest_V;
  }

  /// Discharge at the end of each hold in turn: what stands before the following edges.
  double held_after_discharge_V() const {
    double largest_V = held_V();
    for (std::size_t struck = 0; struck < count_; ++struck) {
      if (!stretches_[struck].is_hold) continue;
      NodeState removed = stretches_[struck].before_next;
      for (std::size_t i = 1; i < count_; ++i) {
        const Stretch& later = stretches_[(struck + i) % count_];
        removed = later.motion(removed);
        if (later.is_hold)
          largest_V = std::max(largest_V, std::abs(later.before_next.v_V - removed.v_V));
      }
    }
    return largest_V;
  }

 private:
  std::span<const Stretch> stretches() const { return {stretches_.data(), count_}; }

  /// State before the first edge that one period reproduces: x = P x + c.
  NodeState fixed_point() const {
    NodeState from_v{1.0, 0.0}, from_q{0.0, 1.0}, c;
    for (const Stretch& stretch : stretches()) {
      from_v = stretch.motion(from_v);
      from_q = stretch.motion(from_q);
      c = stretch.motion(stepped(c, stretch.step_V));
    }
    const double a = 1.0 - from_v.v_V, b = -from_q.v_V;
    const double d = -from_v.q_V_per_s, e = 1.0 - from_q.q_V_per_s;
    const double determinant = a * e - b * d;
    return {(e * c.v_V - b * c.q_V_per_s) / determinant,
            (a * c.q_V_per_s - d * c.v_V) / determinant};
  }

  std::array<Stretch, 6> stretches_;
  std::size_t count_ = 0;
};

void require_defined(const Carrier& carrier) {
  if (!(carrier.dc_link > Voltage{} && carrier.frequency > Frequency{} && carrier.rise > Time{}))
    throw std::invalid_argument("carrier: link voltage, frequency and rise must be positive");
  // Of six stretches that fill the period the longest then is a hold.
  if (!(6.0 * rises_per_hold * double(carrier.rise * carrier.frequency) <= 1.0))
    throw std::invalid_argument("carrier: the edges fill the period, no voltage is held");
}

/// Worst over the fundamental. Between 0 and 30 degrees the staircases repeat, mirrored or with
/// the legs exchanged; middles of twelve equal parts.
template <class Figure>
Voltage worst_over_fundamental(const ShaftNode& node, const MaybePath& path, const Carrier& carrier,
                               Figure&& figure_V) {
  const PathModes modes{node, path};
  if (path && path->resistance == Resistance{} && path->inductance > Inductance{})
    throw std::invalid_argument("held voltage: a path without resistance has no steady state");
  const double ratio = bearing_voltage_ratio(node);
  constexpr int parts = 12;
  double worst_V = 0.0;
  for (int part = 0; part < parts; ++part) {
    const double angle_rad = (part + 0.5) / parts * std::numbers::pi / 6.0;
    const Staircase staircase =
        carrier_staircase(carrier.dc_link, carrier.frequency, carrier.modulation, angle_rad);
    worst_V = std::max(worst_V, figure_V(CarrierPeriod{modes, staircase, carrier, ratio}));
  }
  return Voltage::from_value(worst_V);
}

}  // namespace

Voltage crest_voltage(const ShaftNode& node, Voltage dc_link) {
  return bearing_voltage_ratio(node) * common_mode_levels(dc_link).zero_vector;
}

Voltage rereferenced_voltage(const ShaftNode& node, Voltage dc_link) {
  return bearing_voltage_ratio(node) * edge_step(dc_link, 3);
}

Voltage held_voltage(const ShaftNode& node, const MaybePath& path, const Carrier& carrier) {
  require_defined(carrier);
  if (!path) return crest_voltage(node, carrier.dc_link);
  return worst_over_fundamental(node, path, carrier,
                                [](const CarrierPeriod& period) { return period.held_V(); });
}

Voltage held_voltage(const ShaftNode& node, const MaybePath& path, Voltage dc_link,
                     Frequency carrier, double modulation, Time rise) {
  return held_voltage(node, path, {dc_link, carrier, modulation, rise});
}

Voltage held_after_discharge(const ShaftNode& node, const MaybePath& path, const Carrier& carrier) {
  require_defined(carrier);
  if (!path) return rereferenced_voltage(node, carrier.dc_link);
  return worst_over_fundamental(node, path, carrier, [](const CarrierPeriod& period) {
    return period.held_after_discharge_V();
  });
}

Time hold_duration(Frequency carrier) {
  if (!(carrier > Frequency{}))
    throw std::invalid_argument("carrier: the frequency must be positive");
  return 0.5 / carrier;
}

}  // namespace ohmdrag::voltage
