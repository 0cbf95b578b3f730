#include "study/strike_lanes.hpp"

#include "ohmdrag/numerics/lane_math.hpp"
#include "ohmdrag/voltage/strike_kernel.hpp"

namespace ohmdrag::study {

using numerics::LaneMath;
using numerics::lanes;
using numerics::LaneWidth;

void StrikeSums::add_to(BearingSample& sample) const {
  const auto sum = [](const LaneRow& row) {
    double of = 0.0;
    for (const double value : row.of) of += value;
    return of;
  };
  sample.conducting_s += sum(conducting_s);
  sample.expected_s += sum(expected_s);
  sample.discharges += sum(discharges);
  sample.energy_J += sum(energy_J);
  sample.dose_J_m2 += sum(dose_J_m2);
  for (std::size_t c = 0; c < striking_s.size(); ++c)
    sample.striking_by_credit_s[c] += sum(striking_s[c]);
  sample.striking_s += sum(striking_s[headline_credit]);
}

namespace {

/// What discharges do in a node, before they are shared out over the bearings.
struct Discharged {
  LaneRow held_probability, held_at_V;  ///< of what is held
  LaneRow rate_per_s, square_V2_per_s;
};

/// Beyond, exp(-x^2) is below the rounding of 1: what exceeds its threshold by so many widths is
/// certain to strike.
constexpr double certain_widths = 6.4;

/// More than any ratio or voltage of a block.
constexpr double beyond_all = 1e300;

/// The least and the most of a block where something can be struck.
struct Range {
  double least, most;
};

/// V/V_th with its credit, for one leg.
[[gnu::always_inline]] inline Range over_threshold(const LaneStress& stress, double drawn_V_m,
                                                   double root_drawn, const NodeBlock& node,
                                                   LaneRow& ratio) {
  double least = beyond_all, most = 0.0;
#pragma omp simd reduction(min : least) reduction(max : most)
  for (std::size_t i = 0; i < lanes; ++i) {
    const double credited_V = drawn_V_m * node.gap_m.of[i] *
                              voltage::credit_factor(root_drawn, stress.per_root_duration.of[i]);
    const double found = stress.voltage_V.of[i] / credited_V;
    ratio.of[i] = found;
    const double low = node.live_s.of[i] > 0.0 ? found : beyond_all;
    const double high = node.live_s.of[i] > 0.0 ? found : 0.0;
    least = low < least ? low : least;
    most = high > most ? high : most;
  }
  return {least, most};
}

/// Edges that are certain to strike, or at which what is held is: all discharge at the threshold.
[[gnu::always_inline]] inline void add_certain_edges(double share, const double* edges_per_s,
                                                     double drawn_V_m, const NodeBlock& node,
                                                     Discharged& sum) {
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) {
    const double threshold_V = drawn_V_m * node.gap_m.of[i];
    const double rate_per_s = share * edges_per_s[i];
    sum.rate_per_s.of[i] += rate_per_s;
    sum.square_V2_per_s.of[i] += rate_per_s * threshold_V * threshold_V;
  }
}

/// Edges of so many legs at once: what strikes is the edge or what is held, the likelier of them.
[[gnu::always_inline]] inline void add_edges(double legs, double share, const double* edges_per_s,
                                             const LaneStress& stress, const LaneRow& ratio,
                                             const StrikeLaw& law, const NodeBlock& node,
                                             Discharged& sum) {
  const double drawn_V_m = law.drawn_V_m, per_width = law.per_edge_width;
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) {
    const double probability = voltage::strike_probability<LaneMath>(legs * ratio.of[i], per_width);
    const double threshold_V = drawn_V_m * node.gap_m.of[i];
    const double edge_V = legs * stress.voltage_V.of[i];
    const double edge_at_V = edge_V < threshold_V ? edge_V : threshold_V;
    const double held_probability = sum.held_probability.of[i], held_at_V = sum.held_at_V.of[i];
    const bool of_edge = probability >= held_probability;
    const double taken = of_edge ? probability : held_probability;
    const double at_V = of_edge ? edge_at_V : held_at_V;
    const double rate_per_s = taken * share * edges_per_s[i];
    sum.rate_per_s.of[i] += rate_per_s;
    sum.square_V2_per_s.of[i] += rate_per_s * at_V * at_V;
  }
}

[[gnu::always_inline]] inline bool any_of(const double* row) {
  double most = 0.0;
#pragma omp simd reduction(max : most)
  for (std::size_t i = 0; i < lanes; ++i) most = row[i] > most ? row[i] : most;
  return most > 0.0;
}

/// voltage::discharge_rates() of a node that discharges as a whole.
[[gnu::always_inline]] inline void find_rates(const StrikeColumns& columns, const StrikeLaw& law,
                                              std::size_t at, const NodeBlock& node,
                                              const StressBlock& stresses, Discharged& sum) {
  LaneRow rising, falling, held;
  const double drawn_V_m = law.drawn_V_m, root_drawn = law.root_drawn;
  const auto certain = [&](double least_ratio) {
    return (least_ratio - 1.0) * law.per_edge_width > certain_widths;
  };
  const Range of_held = over_threshold(stresses.held, drawn_V_m, root_drawn, node, held);
  const bool held_strikes = of_held.most > 1.0, held_is_certain = certain(of_held.least);
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) {
    sum.rate_per_s.of[i] = sum.square_V2_per_s.of[i] = 0.0;
    sum.held_probability.of[i] = sum.held_at_V.of[i] = 0.0;
  }
  if (held_strikes && !held_is_certain) {
    const double per_width = law.per_edge_width;
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const double threshold_V = drawn_V_m * node.gap_m.of[i];
      const double held_V = stresses.held.voltage_V.of[i];
      sum.held_probability.of[i] = voltage::strike_probability<LaneMath>(held.of[i], per_width);
      sum.held_at_V.of[i] = held_V < threshold_V ? held_V : threshold_V;
    }
  }
  const double share = law.alike ? 1.0 : 0.5;
  const auto add = [&](const LaneStress& stress, const LaneRow& ratio, const Range& range) {
    for (std::size_t k = 0; k < columns.edges_per_s.size(); ++k) {
      const double legs = double(k + 1);
      const double* const edges_per_s = columns.edges_per_s[k][at];
      if (!(legs * range.most > 1.0 || held_strikes) || !any_of(edges_per_s)) continue;
      if (held_is_certain || certain(legs * range.least))
        add_certain_edges(share, edges_per_s, drawn_V_m, node, sum);
      else
        add_edges(legs, share, edges_per_s, stress, ratio, law, node, sum);
    }
  };
  if (held_is_certain) {  // whatever the edges are
    add(stresses.rising, held, of_held);
    if (!law.alike) add(stresses.falling, held, of_held);
    return;
  }
  add(stresses.rising, rising,
      over_threshold(stresses.rising, drawn_V_m, root_drawn, node, rising));
  if (law.alike) return;
  add(stresses.falling, falling,
      over_threshold(stresses.falling, drawn_V_m, root_drawn, node, falling));
}

/// Seconds in which a verdict says that it strikes: voltage::verdict() for all credits, its
/// headline alone.
struct Striking {
  std::array<LaneRow, credit_us.size()> striking_s;
  LaneRow expected_s;
};

[[gnu::always_inline]] inline void find_verdicts(const double* legs, const StrikeLaw& law,
                                                 const NodeBlock& node, const StressBlock& stresses,
                                                 Striking& found) {
  LaneStress edge;
#pragma GCC ivdep
  for (std::size_t i = 0; i < lanes; ++i) {
    const double up_V = stresses.rising.voltage_V.of[i], down_V = stresses.falling.voltage_V.of[i];
    const double up = stresses.rising.per_root_duration.of[i];
    const double down = stresses.falling.per_root_duration.of[i];
    const bool of_rise = law.alike || up_V >= down_V;
    const double higher_V = of_rise ? up_V : down_V;
    const double per_root = of_rise ? up : down;
    edge.voltage_V.of[i] = legs[i] * higher_V;
    // Where nothing is left of the edge there is no pulse whose duration could count.
    edge.per_root_duration.of[i] =
        higher_V > 0.0 ? per_root : stresses.held.per_root_duration.of[i];
  }
  const double at_05_V_m = law.at_05_V_m, at_50_V_m = law.at_50_V_m;
  // Most blocks need no credit: what is held reaches the middle of the band with the largest, or
  // nothing reaches its lower end without any.
  double least_over = beyond_all, most_over = -1.0;
#pragma omp simd reduction(min : least_over) reduction(max : most_over)
  for (std::size_t i = 0; i < lanes; ++i) {
    const double held_V = stresses.held.voltage_V.of[i], edge_V = edge.voltage_V.of[i];
    const double higher_V = held_V > edge_V ? held_V : edge_V;
    const double gap_m = node.gap_m.of[i];
    const double above = held_V - voltage::pulse_credit_cap * at_50_V_m * gap_m;
    const double below = higher_V - at_05_V_m * gap_m;
    const bool metal = !(node.film_ratio.of[i] > 1.0);
    const double low = metal ? -1.0 : above, high = metal ? 1.0 : below;
    const double live_low = node.live_s.of[i] > 0.0 ? low : beyond_all;
    const double live_high = node.live_s.of[i] > 0.0 ? high : -1.0;
    least_over = live_low < least_over ? live_low : least_over;
    most_over = live_high > most_over ? live_high : most_over;
  }
  const bool always = least_over >= 0.0, never = most_over < 0.0;
  if (always || never) {
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const double dt_s = always ? node.live_s.of[i] : 0.0;
      found.expected_s.of[i] = dt_s;
      for (LaneRow& striking_s : found.striking_s) striking_s.of[i] = dt_s;
    }
    return;
  }
  for (std::size_t c = 0; c < law.root_credit.size(); ++c) {
    const double root_credit = law.root_credit[c];
    const auto reaches = [&](std::size_t i, double at_V_m) {
      const double threshold_V = at_V_m * node.gap_m.of[i];
      const double held =
          voltage::credit_factor(root_credit, stresses.held.per_root_duration.of[i]);
      const double short_one = voltage::credit_factor(root_credit, edge.per_root_duration.of[i]);
      const bool by_held = stresses.held.voltage_V.of[i] >= threshold_V * held;
      const bool by_edge = edge.voltage_V.of[i] >= threshold_V * short_one;
      return (int(by_held) | int(by_edge)) != 0;
    };
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i)
      found.striking_s[c].of[i] = reaches(i, at_05_V_m) ? node.live_s.of[i] : 0.0;
    if (c != headline_credit) continue;
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      // Metal that touches strikes, but is never more than possible.
      const double insulated_s = node.film_ratio.of[i] > 1.0 ? node.live_s.of[i] : 0.0;
      found.expected_s.of[i] = reaches(i, at_50_V_m) ? insulated_s : 0.0;
    }
  }
}

}  // namespace

void find_strikes(const StrikeColumns& columns, const StrikeLaw& law, std::size_t at,
                  LaneWidth width, const NodeBlock& node, const StressBlock& stresses,
                  std::vector<StrikeSums>& sums) {
  numerics::run_at_width(width, [&] {
    Discharged rates;
    find_rates(columns, law, at, node, stresses, rates);
    Striking verdicts;
    find_verdicts(columns.films->verdict_legs[at], law, node, stresses, verdicts);
    LaneRow discharges, energy_J, dose_J_m2;
#pragma GCC ivdep
    for (std::size_t i = 0; i < lanes; ++i) {
      const double dt_s = node.live_s.of[i];
      const double power_W = 0.5 * node.total_F.of[i] * rates.square_V2_per_s.of[i];
      discharges.of[i] = dt_s > 0.0 ? rates.rate_per_s.of[i] * dt_s : 0.0;
      energy_J.of[i] = dt_s > 0.0 ? power_W * dt_s : 0.0;
      dose_J_m2.of[i] = energy_J.of[i] / node.area_m2.of[i];
    }
    for (std::size_t b = 0; b < sums.size(); ++b) {
      StrikeSums& sum = sums[b];
      const double index = double(b);
#pragma GCC ivdep
      for (std::size_t i = 0; i < lanes; ++i) {
        const bool here = node.struck.of[i] == index;
        sum.discharges.of[i] += here ? discharges.of[i] : 0.0;
        sum.energy_J.of[i] += here ? energy_J.of[i] : 0.0;
        sum.dose_J_m2.of[i] += here ? dose_J_m2.of[i] : 0.0;
        sum.expected_s.of[i] += here ? verdicts.expected_s.of[i] : 0.0;
      }
      for (std::size_t c = 0; c < verdicts.striking_s.size(); ++c) {
#pragma GCC ivdep
        for (std::size_t i = 0; i < lanes; ++i)
          sum.striking_s[c].of[i] +=
              node.struck.of[i] == index ? verdicts.striking_s[c].of[i] : 0.0;
      }
    }
  });
}

}  // namespace ohmdrag::study
