#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <utility>
#include <vector>

#include "ohmdrag/rig/shaft_voltage_fit.hpp"

/// Records of a shaft behind a two-level inverter, from the circuit and a film of random strength;
/// apart from the code that takes records apart. All invented.
namespace ohmdrag::test {

struct ShaftTruth {
  double link_V = 800.0, carrier_Hz = 12e3, modulation = 0.8, electrical_Hz = 310.0;
  double rise_s = 60e-9;  ///< 0 to 100 %
  double ratio = 0.06;    ///< shaft over common mode
  double ringing_Hz = 2.2e6, ringing_share = 0.3, quality = 8.0;
  double leak_s = 20e-3;  ///< time constant of the charge of the shaft
  // The film, drawn anew at each edge that strains it.
  bool weibull = true;
  double median_V = 22.0, shape = 4.0;     ///< shape: of ln V for a log-normal film
  double late_share = 0.0, late_s = 1e-6;  ///< of the films that break: share that breaks later
  double collapse_s = 4e-9;
  bool conducts = false;  ///< the shaft stays at zero
  /// A contact in its place: resistance times capacitance of the shaft; 0: none.
  double contact_s = 0.0;
  // The instrument.
  double interval_s = 10e-9, duration_s = 2e-3, start_s = 0.0;
  double noise_V = 0.15, resolution_V = 0.25, full_V = 1e9, offset_V = 0.0;
  double common_noise_V = 2.0, common_resolution_V = 4.0;
};

/// What the simulation did, for comparison.
struct ShaftEvents {
  std::size_t edges = 0, collapses = 0;
  std::vector<double> collapse_s;
};

namespace detail {

struct Ramp {
  double begin_s, size_V;
};

/// Edges of three legs against a triangle, once a carrier period.
inline std::vector<Ramp> ramps_of(const ShaftTruth& truth) {
  std::vector<Ramp> ramps;
  const double period = 1.0 / truth.carrier_Hz;
  const auto first = static_cast<long>(truth.start_s / period) - 1;
  const auto last = static_cast<long>((truth.start_s + truth.duration_s) / period) + 1;
  for (long n = first; n <= last; ++n)
    for (int leg = 0; leg < 3; ++leg) {
      const double angle = 2.0 * std::numbers::pi *
                           (truth.electrical_Hz * static_cast<double>(n) * period - leg / 3.0);
      const double duty = 0.5 * (1.0 + truth.modulation * std::cos(angle));
      const double middle = (static_cast<double>(n) + 0.5) * period;
      ramps.push_back({middle - 0.5 * duty * period, truth.link_V / 3.0});
      ramps.push_back({middle + 0.5 * duty * period, -truth.link_V / 3.0});
    }
  std::sort(ramps.begin(), ramps.end(),
            [](const Ramp& a, const Ramp& b) { return a.begin_s < b.begin_s; });
  return ramps;
}

inline double rounded(double value, double resolution, double full) {
  value = std::clamp(value, -full, full);
  return resolution > 0.0 ? std::round(value / resolution) * resolution : value;
}

}  // namespace detail

inline rig::ShaftRecord shaft_record(const ShaftTruth& truth, unsigned seed, bool with_common,
                                     ShaftEvents* events = nullptr) {
  std::mt19937_64 random(seed);
  std::normal_distribution<double> normal(0.0, 1.0);
  std::uniform_real_distribution<double> even(0.0, 1.0);
  const auto strength_V = [&] {
    if (!truth.weibull) return truth.median_V * std::exp(truth.shape * normal(random));
    const double scale = truth.median_V / std::pow(std::numbers::ln2, 1.0 / truth.shape);
    return scale * std::pow(-std::log(1.0 - even(random)), 1.0 / truth.shape);
  };
  const std::vector<detail::Ramp> ramps = detail::ramps_of(truth);
  rig::ShaftRecord record;
  const auto samples = static_cast<std::size_t>(truth.duration_s / truth.interval_s);
  const double damping = std::numbers::pi * truth.ringing_Hz / truth.quality;
  const double over_s = truth.rise_s + 20.0 / damping;

  std::size_t next = 0, oldest = 0;
  double settled_V = -0.5 * truth.link_V;  // of the ramps that are over
  // All ramps before the record are over: the first begins from minus half the link.
  double lost_V = truth.ratio * settled_V, film_V = 1e300, broke_s = -1.0, broke_V = 0.0;
  double due_s = 1e300, contact_V = 0.0, before_V = 0.0, driven_before = truth.ratio * settled_V;
  double strained_sign = 1.0;
  bool tried = false;
  for (std::size_t i = 0; i < samples; ++i) {
    const double t = truth.start_s + static_cast<double>(i) * truth.interval_s;
    bool new_edge = false;
    double new_size = 0.0;
    while (next < ramps.size() && ramps[next].begin_s <= t) {
      new_edge = true;
      new_size += ramps[next++].size_V;
    }
    double common = settled_V;
    while (oldest < next && t - ramps[oldest].begin_s > over_s) settled_V += ramps[oldest++].size_V;
    common = settled_V;
    for (std::size_t r = oldest; r < next; ++r) {
      const double since = t - ramps[r].begin_s;
      common += ramps[r].size_V * std::min(1.0, since / truth.rise_s);
      const double ringing_s = since - truth.rise_s;
      if (ringing_s > 0.0)
        common += truth.ringing_share * ramps[r].size_V * std::exp(-damping * ringing_s) *
                  std::sin(2.0 * std::numbers::pi * truth.ringing_Hz * ringing_s);
    }
    const double driven = truth.ratio * common;
    double shaft = driven - lost_V;
    if (broke_s >= 0.0) shaft += broke_V * std::exp(-(t - broke_s) / truth.collapse_s);
    if (truth.conducts) shaft = 0.0;
    if (truth.contact_s > 0.0) {
      contact_V = contact_V * std::exp(-truth.interval_s / truth.contact_s) +
                  (driven - driven_before) * std::exp(-0.5 * truth.interval_s / truth.contact_s);
      shaft = contact_V;
    } else if (!truth.conducts && i > 0) {
      if (new_edge) {
        due_s = 1e300;
        if (events) ++events->edges;
        // Less of the same sign strains nothing.
        const double after = before_V + truth.ratio * new_size;
        strained_sign = after > 0.0 ? 1.0 : -1.0;
        film_V =
            before_V * after > 0.0 && std::abs(after) < std::abs(before_V) ? 1e300 : strength_V();
        tried = false;
      }
      if (!tried && strained_sign * shaft >= film_V) {
        tried = true;
        due_s = even(random) < truth.late_share ? t - truth.late_s * std::log(1.0 - even(random))
                                                : -1.0;
      }
      if (tried && t >= due_s) {
        // It broke on the way from the sample before; the rest of that way is driven again.
        const bool at_once = due_s < 0.0;
        // A film drawn weaker than what stands already breaks as the edge begins.
        const double stood = shaft * before_V > 0.0 ? std::abs(before_V) : 0.0;
        broke_V = at_once ? std::copysign(std::max(film_V, stood), shaft) : shaft;
        const double way = shaft - before_V;
        const double share =
            at_once && way != 0.0 ? std::clamp((broke_V - before_V) / way, 0.0, 1.0) : 1.0;
        broke_s = t - (1.0 - share) * truth.interval_s;
        lost_V += broke_V;
        due_s = 1e300;
        if (events) ++events->collapses, events->collapse_s.push_back(broke_s);
        shaft = driven - lost_V + broke_V * std::exp(-(t - broke_s) / truth.collapse_s);
      }
      lost_V += shaft * truth.interval_s / truth.leak_s;
    }
    driven_before = driven;
    before_V = shaft;
    record.time.push_back(Time::from_value(t));
    record.shaft.push_back(
        Voltage::from_value(detail::rounded(shaft + truth.offset_V + truth.noise_V * normal(random),
                                            truth.resolution_V, truth.full_V)));
    if (with_common)
      record.common_mode.push_back(Voltage::from_value(detail::rounded(
          common + truth.common_noise_V * normal(random), truth.common_resolution_V, 1e9)));
  }
  return record;
}

}  // namespace ohmdrag::test
