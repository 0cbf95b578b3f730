#include "ohmdrag/voltage/inverter_source.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>
#include <stdexcept>
#include <vector>

namespace ohmdrag::voltage {

namespace {

using std::numbers::pi;

/// One leg's change, of a third of the link.
struct LegEdge {
  double middle_s;
  double sign;
};

struct LegEdges {
  std::vector<LegEdge> edges;
  int high_before = 0;  ///< legs that are high where the period before ends
};

/// The edges of `periods` carrier periods that repeat as a whole.
template <class ReferencesAt>
LegEdges leg_edges(double carrier_period_s, int periods, const ReferencesAt& references_at) {
  LegEdges out;
  for (std::size_t leg = 0; leg < 3; ++leg) {
    // A leg is low at the ends of a carrier period unless it stays high throughout.
    bool was_high = references_at(periods - 1)[leg] == 1.0;
    if (was_high) ++out.high_before;
    for (int k = 0; k < periods; ++k) {
      const double reference = references_at(k)[leg];
      const double begin_s = k * carrier_period_s;
      const bool stays_high = reference == 1.0;
      if (stays_high != was_high) out.edges.push_back({begin_s, stays_high ? 1.0 : -1.0});
      was_high = stays_high;
      if (std::abs(reference) == 1.0) continue;
      const double duty = 0.5 * (1.0 + reference);
      out.edges.push_back({begin_s + 0.5 * (1.0 - duty) * carrier_period_s, 1.0});
      out.edges.push_back({begin_s + 0.5 * (1.0 + duty) * carrier_period_s, -1.0});
    }
  }
  std::sort(out.edges.begin(), out.edges.end(),
            [](const LegEdge& a, const LegEdge& b) { return a.middle_s < b.middle_s; });
  return out;
}

/// Share of a ramp that has passed; its ends exactly 0 and 1 so that levels are level.
double passed(double since_middle_s, double duration_s) {
  constexpr double rounding = 1e-9;
  const double share = since_middle_s / duration_s + 0.5;
  if (share < rounding) return 0.0;
  return share > 1.0 - rounding ? 1.0 : share;
}

/// Ramps and ringing of the edges of one period.
class Builder {
 public:
  Builder(const InverterSource& source, double period_s, LegEdges legs)
      : source_(source),
        period_s_(period_s),
        reach_s_(0.5 * std::max(source.rise, source.fall).value()),
        legs_(std::move(legs)) {
    high_after_.push_back(legs_.high_before);
    for (const LegEdge& edge : legs_.edges) high_after_.push_back(high_after_.back() + edge.sign);
  }

  Waveform waveform() const {
    Waveform out;
    out.period = Time::from_value(period_s_);
    for (const double at_s : corner_times())
      out.corners.push_back({Time::from_value(at_s), Voltage::from_value(level_V(at_s))});
    if (source_.ringing) add_ringing(*source_.ringing, out);
    return out;
  }

 private:
  double duration_s(const LegEdge& edge) const {
    return (edge.sign > 0.0 ? source_.rise : source_.fall).value();
  }
  double wrapped(double t_s) const {
    const double rest_s = t_s - std::floor(t_s / period_s_) * period_s_;
    return rest_s < period_s_ ? rest_s : 0.0;
  }

  std::vector<double> corner_times() const {
    std::vector<double> times_s;
    for (const LegEdge& edge : legs_.edges)
      for (const double half : {-0.5, 0.5})
        times_s.push_back(wrapped(edge.middle_s + half * duration_s(edge)));
    std::sort(times_s.begin(), times_s.end());
    // Edges of several legs that meet by design differ by rounding alone.
    const double rounding_s = 1e-14 * period_s_;
    times_s.erase(std::unique(times_s.begin(), times_s.end(),
                              [&](double a, double b) { return b - a <= rounding_s; }),
                  times_s.end());
    return times_s;
  }

  /// Edges with their middle in [from, to).
  std::span<const LegEdge> edges_in(double from_s, double to_s) const {
    const auto before = [](const LegEdge& edge, double t_s) { return edge.middle_s < t_s; };
    const auto& all = legs_.edges;
    const auto first = std::lower_bound(all.begin(), all.end(), from_s, before);
    return {first, std::lower_bound(first, all.end(), to_s, before)};
  }

  double level_V(double at_s) const {
    // Whatever began earlier than a ramp can last is complete.
    const auto under_way = edges_in(at_s - reach_s_, at_s + reach_s_);
    double high = high_after_[std::size_t(under_way.data() - legs_.edges.data())];
    for (const LegEdge& edge : under_way)
      high += edge.sign * passed(at_s - edge.middle_s, duration_s(edge));
    // A ramp may reach over the begin of the period from either side.
    for (const LegEdge& edge : edges_in(at_s - reach_s_ + period_s_, period_s_))
      high += edge.sign * (passed(at_s - edge.middle_s + period_s_, duration_s(edge)) - 1.0);
    for (const LegEdge& edge : edges_in(0.0, at_s + reach_s_ - period_s_))
      high += edge.sign * passed(at_s - edge.middle_s - period_s_, duration_s(edge));
    return source_.dc_link.value() * (high / 3.0 - 0.5);
  }

  void add_ringing(const Ringing& ringing, Waveform& out) const {
    for (const LegEdge& edge : legs_.edges)
      out.oscillations.push_back(
          {.from = Time::from_value(wrapped(edge.middle_s + 0.5 * duration_s(edge))),
           .amplitude = edge.sign * ringing.share_of_step * edge_step(source_.dc_link, 1),
           .frequency = ringing.frequency,
           .quality = ringing.quality});
  }

  InverterSource source_;
  double period_s_;
  double reach_s_;  ///< half of the longer ramp
  LegEdges legs_;
  std::vector<double> high_after_;  ///< legs that are high after so many edges
};

}  // namespace

void require_defined(const InverterSource& source) {
  if (!(source.dc_link > Voltage{} && source.carrier > Frequency{}))
    throw std::invalid_argument("inverter: link voltage and carrier must be positive");
  const Time period = 1.0 / source.carrier;
  for (const Time& ramp : {source.rise, source.fall})
    if (!(ramp > Time{} && ramp <= period))
      throw std::invalid_argument(
          "inverter: rise and fall must be positive and no longer than a carrier period");
  if (source.ringing && !(source.ringing->frequency > Frequency{} &&
                          source.ringing->share_of_step >= 0.0 && source.ringing->quality > 0.5))
    throw std::invalid_argument(
        "ringing: needs a positive frequency, a share of at least 0 and a quality above 0.5");
}

Waveform carrier_waveform(const InverterSource& source, double modulation, double angle_rad) {
  require_defined(source);
  const auto references = leg_references(source.modulation, modulation, angle_rad);
  const double period_s = 1.0 / source.carrier.value();
  const auto references_at = [&](int) -> const auto& { return references; };
  return Builder(source, period_s, leg_edges(period_s, 1, references_at)).waveform();
}

FundamentalWaveform fundamental_waveform(const InverterSource& source, double modulation,
                                         Frequency electrical_frequency) {
  require_defined(source);
  if (!(electrical_frequency > Frequency{}))
    throw std::invalid_argument("inverter: the electrical frequency must be positive");
  const double ratio = source.carrier / electrical_frequency;
  constexpr double least_ratio = 6.0, most_ratio = 1e5;
  if (!(ratio >= least_ratio && ratio <= most_ratio))
    throw std::invalid_argument(
        "inverter: the carrier must be 6 to 1e5 times the electrical frequency");
  const int periods = int(std::lround(ratio));
  InverterSource moved = source;
  moved.carrier = double(periods) * electrical_frequency;
  require_defined(moved);

  std::vector<std::array<double, 3>> references;
  for (int k = 0; k < periods; ++k)
    references.push_back(
        leg_references(source.modulation, modulation, 2.0 * pi * (k + 0.5) / periods));
  const auto references_at = [&](int k) -> const auto& { return references[std::size_t(k)]; };
  const double period_s = 1.0 / electrical_frequency.value();
  return {
      .waveform = Builder(moved, period_s, leg_edges(period_s / periods, periods, references_at))
                      .waveform(),
      .carrier_periods = periods,
      .ratio = ratio,
      .carrier = moved.carrier};
}

}  // namespace ohmdrag::voltage
