#include <algorithm>
#include <cmath>
#include <limits>

#include "rig/record_analysis.hpp"

namespace ohmdrag::rig {

namespace {

/// The first swing of ringing follows within so many ramps.
constexpr std::size_t peak_within_ramps = 16;

class Viewer {
 public:
  explicit Viewer(const RecordAnalysis& analysis) : a_(analysis), v_(analysis.signal.shaft_V) {}

  RecordView view() {
    take_record();
    take_edges();
    if (a_.judged) take_counts();
    return std::move(out_);
  }

 private:
  void take_record() {
    const Signal& signal = a_.signal;
    out_.samples = v_.size();
    out_.sweeps = signal.sweeps.size();
    double duration = 0.0, squares = 0.0, largest = 0.0;
    for (const Sweep& sweep : signal.sweeps)
      duration += signal.t_s[sweep.end - 1] - signal.t_s[sweep.begin] + signal.dt_s;
    for (const double v : v_) {
      squares += v * v;
      largest = std::max(largest, std::abs(v));
    }
    out_.duration = Time::from_value(duration);
    out_.interval = Time::from_value(signal.dt_s);
    out_.noise = Voltage::from_value(signal.shaft_noise_V);
    out_.largest = Voltage::from_value(largest);
    out_.rms = Voltage::from_value(std::sqrt(squares / static_cast<double>(v_.size())));
    out_.edges = a_.edges.size();
    if (!a_.edges.empty()) out_.rise = Time::from_value(a_.rise_s);
    out_.collapses_judged = a_.judged;
    out_.smallest_collapse = Voltage::from_value(a_.least_fall_V);
  }

  void take_edges() {
    std::vector<double> steps, held, peaks;
    std::size_t fall = 0;
    for (std::size_t e = 0; e < a_.edges.size(); ++e) {
      const Step& edge = a_.edges[e];
      const std::size_t end = end_of(e);
      while (fall < a_.falls.size() && a_.falls[fall].top < edge.begin) add(a_.falls[fall++], {});
      const std::size_t first = fall;
      while (fall < a_.falls.size() && a_.falls[fall].top < end) add(a_.falls[fall++], edge.begin);
      if (const auto level = level_of(v_, edge.end + 1, edge.to)) held.push_back(std::abs(*level));
      const std::size_t last = std::min(end, edge.begin + peak_within_ramps * a_.ramp_samples());
      peaks.push_back(std::max(highest(edge.begin, last, 1.0), highest(edge.begin, last, -1.0)));
      if (std::isfinite(a_.shaft_step_V[e])) steps.push_back(std::abs(a_.shaft_step_V[e]));
      if (a_.judged) try_film(e, end, first, fall);
    }
    while (fall < a_.falls.size()) add(a_.falls[fall++], {});
    if (!steps.empty()) out_.step = Voltage::from_value(median_of(steps));
    if (!held.empty()) out_.held = Voltage::from_value(median_of(held));
    if (!peaks.empty()) out_.peak = Voltage::from_value(median_of(peaks));
  }

  std::size_t end_of(std::size_t e) const {
    const bool last = e + 1 == a_.edges.size() || a_.edges[e + 1].sweep != a_.edges[e].sweep;
    return last ? a_.signal.sweeps[a_.edges[e].sweep].end : a_.edges[e + 1].begin;
  }

  void add(const Fall& fall, std::optional<std::size_t> edge_begin) {
    Collapse collapse;
    collapse.at = Time::from_value(a_.signal.t_s[fall.top]);
    collapse.voltage = Voltage::from_value(fall.before_V);
    collapse.stood = Voltage::from_value(std::abs(fall.before_V));
    collapse.dwell =
        Time::from_value(edge_begin ? a_.signal.t_s[fall.top] - a_.signal.t_s[*edge_begin]
                                    : std::numeric_limits<double>::quiet_NaN());
    collapse.evidence = fall.rising ? Evidence::broke_at : Evidence::broke_below;
    out_.collapses.push_back(collapse);
  }

  /// The highest mean of three neighbours on one side of zero.
  double highest(std::size_t begin, std::size_t end, double sign) const {
    double top = 0.0;
    for (std::size_t i = begin + 1; i + 1 < end; ++i)
      top = std::max(top, sign * (v_[i - 1] + v_[i] + v_[i + 1]) / 3.0);
    return top;
  }

  /// What stands before an edge, as it is.
  double standing(const Step& edge) const {
    constexpr std::size_t samples = 8;
    double sum = 0.0;
    std::size_t n = 0;
    for (std::size_t i = edge.begin + 1; i-- > edge.from && n < samples; ++n) sum += v_[i];
    return sum / static_cast<double>(n);
  }

  void try_film(std::size_t e, std::size_t end, std::size_t first_fall, std::size_t past_falls) {
    const Step& edge = a_.edges[e];
    const double before = standing(edge), after = before + a_.shaft_step_V[e];
    const bool struck = past_falls > first_fall;
    if (!std::isfinite(after)) return;
    if (!struck && a_.idle[e]) {
      ++out_.idle_edges;
      return;
    }
    // Less of the same sign is no strain: the film has stood more.
    if (!struck && before * after > 0.0 && std::abs(after) < std::abs(before)) return;
    const double sign = after > 0.0 ? 1.0 : -1.0;
    Trial trial{Evidence::held, {}};
    if (struck) {
      trial = struck_trial(a_.falls[first_fall], e, before, sign);
      Collapse& collapse = out_.collapses[out_.collapses.size() - (past_falls - first_fall)];
      // What broke before the sign turned was the film of the edge before.
      if (!(trial.voltage.value() > 0.0)) return;
      collapse.evidence = trial.evidence;
      collapse.stood = trial.voltage;
    } else {
      const std::size_t last = std::min(end, edge.begin + peak_within_ramps * a_.ramp_samples());
      const auto level = level_of(v_, edge.end + 1, edge.to);
      trial.voltage = Voltage::from_value(
          std::max(level ? sign * *level : 0.0, highest(edge.begin, last, sign)));
    }
    if (trial.voltage.value() > 0.0) out_.trials.push_back(trial);
  }

  /// What a collapse says of the film. While |v| still reaches new heights it breaks at its
  /// strength; as the edge begins, or after a peak, it may have been weaker.
  Trial struck_trial(const Fall& fall, std::size_t e, double before_V, double sign) const {
    const Step& edge = a_.edges[e];
    const double top = sign * v_[fall.top];
    // What the ramp rises by in a sample; of a ramp of few samples all of it.
    const double rise_V =
        std::abs(a_.shaft_step_V[e]) *
        std::min(1.0, 0.8 * a_.signal.dt_s / std::max(edge.rise_s, a_.signal.dt_s));
    if (fall.top <= edge.begin || top < sign * before_V + 0.5 * rise_V)
      return {Evidence::broke_below, Voltage::from_value(std::max(top, sign * before_V) + rise_V)};
    double highest_before = sign * v_[edge.begin];
    for (std::size_t i = edge.begin; i < fall.top; ++i)
      highest_before = std::max(highest_before, sign * v_[i]);
    if (top > highest_before) {
      const double last_rise = std::max(0.0, top - sign * v_[fall.top - 1]);
      return {Evidence::broke_at, Voltage::from_value(top + 0.5 * last_rise)};
    }
    const std::size_t last = std::min(fall.top, edge.begin + peak_within_ramps * a_.ramp_samples());
    return {Evidence::broke_below,
            Voltage::from_value(
                std::max(std::abs(fall.before_V), highest(edge.begin, last + 1, sign)))};
  }

  void take_counts() {
    CountInterval count = poisson_interval(out_.collapses.size());
    for (double* part : {&count.value, &count.low, &count.high}) *part /= out_.duration.value();
    out_.rate_per_s = count;
    std::size_t struck = 0;
    for (const Trial& trial : out_.trials)
      if (trial.evidence != Evidence::held) ++struck;
    if (!out_.trials.empty()) out_.struck_share = binomial_interval(struck, out_.trials.size());
  }

  const RecordAnalysis& a_;
  const std::vector<double>& v_;
  RecordView out_;
};

}  // namespace

RecordView view_of(const RecordAnalysis& analysis) { return Viewer(analysis).view(); }

}  // namespace ohmdrag::rig
