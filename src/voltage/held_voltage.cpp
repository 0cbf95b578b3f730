#include "ohmdrag/voltage/held_voltage.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <numeric>
#include <stdexcept>
#include <vector>

#include "ohmdrag/voltage/common_mode.hpp"
#include "voltage/step_modes.hpp"

namespace ohmdrag::voltage {

namespace {

/// From edge i of a carrier period to the next.
double length_s(const Staircase& staircase, std::size_t i, const Carrier& carrier) {
  const auto edges = staircase.edges();
  const bool last = i + 1 == edges.size();
  const double next_s =
      last ? edges[0].time.value() + (1.0 / carrier.frequency).value() : edges[i + 1].time.value();
  return next_s - edges[i].time.value();
}

bool is_hold(double length_s, const Carrier& carrier) {
  return length_s >= rises_per_hold * carrier.rise.value();
}

/// Which intervals of a carrier period count, a bit for each.
unsigned holds_of(const Staircase& staircase, const Carrier& carrier) {
  unsigned holds = 1u << staircase.edges().size();
  for (std::size_t i = 0; i < staircase.edges().size(); ++i)
    if (is_hold(length_s(staircase, i, carrier), carrier)) holds |= 1u << i;
  return holds;
}

/// The periodic steady state of one carrier period.
class CarrierPeriod {
 public:
  CarrierPeriod(const StepModes& modes, const Staircase& staircase, const Carrier& carrier)
      : modes_(modes) {
    const auto edges = staircase.edges();
    const double period_s = (1.0 / carrier.frequency).value();
    for (std::size_t i = 0; i < edges.size(); ++i) {
      const double lasts_s = length_s(staircase, i, carrier);
      stretches_.push_back({.length_s = lasts_s,
                            .step_V = modes.ratio() * edges[i].step.value(),
                            .is_hold = is_hold(lasts_s, carrier)});
    }
    before_next_.resize(stretches_.size() * modes.all().size());
    decay_.resize(before_next_.size());
    for (std::size_t k = 0; k < modes.all().size(); ++k) solve(k, period_s);
  }

  double held_V() const {
    double largest_V = 0.0;
    for (std::size_t i = 0; i < stretches_.size(); ++i)
      if (stretches_[i].is_hold) largest_V = std::max(largest_V, std::abs(end_of(i)));
    return largest_V;
  }

  /// Discharge at the end of each hold in turn: what stands before the following edges. The sudden
  /// loss of the node's voltage is one more step; what the path had stored goes on. Films straight
  /// on the node take part in its steps and in its loss.
  double held_after_discharge_V() const {
    const std::size_t modes = modes_.all().size();
    double largest_V = held_V();
    double at_once = 0.0;
    for (const StepMode& mode : modes_.all()) at_once += mode.weight.real();
    std::vector<std::complex<double>> left(modes);
    for (std::size_t struck = 0; struck < stretches_.size(); ++struck) {
      if (!stretches_[struck].is_hold) continue;
      const double removed_V = end_of(struck) / at_once;
      // The step response since, stretch by stretch.
      for (std::size_t k = 0; k < modes; ++k) left[k] = modes_.all()[k].weight;
      for (std::size_t i = 1; i < stretches_.size(); ++i) {
        const std::size_t later = (struck + i) % stretches_.size();
        double response = 0.0;
        for (std::size_t k = 0; k < modes; ++k) {
          left[k] = product(left[k], decay_[later * modes + k]);
          response += left[k].real();
        }
        if (stretches_[later].is_hold)
          largest_V = std::max(largest_V, std::abs(end_of(later) - removed_V * response));
      }
    }
    return largest_V;
  }

 private:
  /// One stretch between two edges.
  struct Stretch {
    double length_s = 0.0;
    double step_V = 0.0;  ///< of the edge that begins it, on the shaft
    bool is_hold = false;
  };

  /// Without the care for infinities that the library takes.
  static std::complex<double> product(std::complex<double> a, std::complex<double> b) {
    return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
  }

  /// The state before the first edge that one period reproduces: z = z exp(p T) + what the steps
  /// leave. As they sum to zero, they may count exp - 1 instead of exp: slow modes keep their
  /// digits.
  void solve(std::size_t k, double period_s) {
    const StepMode& mode = modes_.all()[k];
    std::complex<double> left;
    double since_end_s = period_s;
    for (const Stretch& stretch : stretches_) {
      left += mode.weight * stretch.step_V * exp_less_one(mode.rate_per_s * since_end_s);
      since_end_s -= stretch.length_s;
    }
    std::complex<double> z = left / -exp_less_one(mode.rate_per_s * period_s);
    const std::size_t modes = modes_.all().size();
    for (std::size_t i = 0; i < stretches_.size(); ++i) {
      const Stretch& stretch = stretches_[i];
      std::complex<double>& decay = decay_[i * modes + k];
      decay = mode.rate_per_s.imag() == 0.0 ? std::exp(mode.rate_per_s.real() * stretch.length_s)
                                            : std::exp(mode.rate_per_s * stretch.length_s);
      z = product(z + mode.weight * stretch.step_V, decay);
      before_next_[i * modes + k] = z;
    }
  }

  /// The voltage right before the end of a stretch.
  double end_of(std::size_t stretch) const {
    const std::size_t modes = modes_.all().size();
    double sum_V = 0.0;
    for (std::size_t k = 0; k < modes; ++k) sum_V += before_next_[stretch * modes + k].real();
    return sum_V;
  }

  const StepModes& modes_;
  std::vector<Stretch> stretches_;
  std::vector<std::complex<double>> before_next_;  ///< state right before the end  [stretch][mode]
  std::vector<std::complex<double>> decay_;        ///< over the stretch            [stretch][mode]
};

void require_defined(const Carrier& carrier) {
  if (!(carrier.dc_link > Voltage{} && carrier.frequency > Frequency{} && carrier.rise > Time{}))
    throw std::invalid_argument("carrier: link voltage, frequency and rise must be positive");
  // Of six stretches that fill the period the longest then is a hold.
  if (!(6.0 * rises_per_hold * double(carrier.rise * carrier.frequency) <= 1.0))
    throw std::invalid_argument("carrier: the edges fill the period, no voltage is held");
}

/// Worst over the fundamental. Between 0 and 30 degrees the staircases repeat, mirrored or with
/// the legs exchanged: its ends, the middles of twelve equal parts, and both sides of every place
/// where an interval begins to count as a hold. The shortest holds are the fullest, so that without
/// those places the figure would depend on how near to them the middles happen to lie.
template <class Figure>
Voltage worst_over_fundamental(const ShaftNode& node, const MaybePath& path, const Carrier& carrier,
                               Figure&& figure_V) {
  const StepModes modes{node, path};
  if (!modes.forgets())
    throw std::invalid_argument("held voltage: a path without resistance has no steady state");
  if (modes.all().empty()) return {};  // shorted
  constexpr int parts = 12;
  constexpr double end_rad = std::numbers::pi / 6.0;
  const auto staircase_at = [&](double angle_rad) {
    return carrier_staircase(carrier.dc_link, carrier.frequency, carrier.modulation, angle_rad,
                             carrier.kind);
  };
  double worst_V = 0.0;
  const auto take = [&](double angle_rad) {
    worst_V = std::max(worst_V, figure_V(CarrierPeriod{modes, staircase_at(angle_rad), carrier}));
  };
  double before_rad = 0.0;
  take(before_rad);
  for (int part = 0; part <= parts; ++part) {
    const double angle_rad = std::min((part + 0.5) / parts, 1.0) * end_rad;
    double low_rad = before_rad, high_rad = angle_rad;
    const unsigned holds = holds_of(staircase_at(low_rad), carrier);
    if (holds != holds_of(staircase_at(high_rad), carrier)) {
      while (high_rad - low_rad > 1e-7) {
        const double middle_rad = std::midpoint(low_rad, high_rad);
        const bool below = holds_of(staircase_at(middle_rad), carrier) == holds;
        (below ? low_rad : high_rad) = middle_rad;
      }
      take(low_rad);
      take(high_rad);
    }
    take(angle_rad);
    before_rad = angle_rad;
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

double least_holding_modulation(const Carrier& carrier) {
  require_defined(carrier);
  return 4.0 * rises_per_hold * double(carrier.rise * carrier.frequency) / 1.5;
}

Time hold_duration(Frequency carrier) {
  if (!(carrier > Frequency{}))
    throw std::invalid_argument("carrier: the frequency must be positive");
  return 0.5 / carrier;
}

}  // namespace ohmdrag::voltage
