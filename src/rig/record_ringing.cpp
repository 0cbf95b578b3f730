#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>

#include "ohmdrag/numerics/least_squares.hpp"
#include "rig/record_analysis.hpp"

namespace ohmdrag::rig {

namespace {

using std::numbers::pi;

constexpr std::size_t fewest_ringing_edges = 10, most_ringing_edges = 80;
constexpr std::size_t groups = 10;
constexpr std::size_t longest_window = 8000, most_bins = 500, most_data = 12000;
/// Edges of one kind: step within so much of the median, no slower than so many medians.
constexpr double alike_within = 0.25, slowest_in_medians = 1.5;
/// The oscillation is followed for so many of its time constants.
constexpr double followed = 5.0;
/// An amplitude of fewer standard errors, or a damping less sure, is no ringing.
constexpr double least_told_in_errors = 4.0, damping_within = 0.5;

/// A sample after an edge: time since the end of its ramp, voltage over the step.
struct Datum {
  double t_s, share;
};
/// Those of one edge.
using Trace = std::vector<Datum>;

/// f, damping, cosine and sine shares, level.
constexpr std::size_t unknowns = 5;
using Parameters = std::array<double, unknowns>;

double amplitude_of(const Parameters& p) { return std::hypot(p[2], p[3]); }

class RingingSearch {
 public:
  explicit RingingSearch(const RecordAnalysis& analysis) : a_(analysis) {
    ramp_end_s_ = 0.5 * a_.rise_s / 0.8;  // a straight ramp's second half
    choose_edges();
  }

  std::size_t edges() const { return chosen_.size(); }

  std::optional<RingingFit> fit() {
    if (chosen_.size() < fewest_ringing_edges) return std::nullopt;
    take_traces(window_s_);
    Parameters start = roughly();
    if (!(start[0] > 0.0)) return std::nullopt;
    take_traces(std::min(window_s_, followed / start[1]));
    const auto whole = refined(start, groups);
    if (!whole) return std::nullopt;
    std::vector<Parameters> without;
    for (std::size_t g = 0; g < groups; ++g)
      if (const auto part = refined(*whole, g)) without.push_back(*part);
    if (without.size() < groups) return std::nullopt;
    RingingFit out;
    out.edges = chosen_.size();
    const auto frequency = jackknifed(*whole, without, [](const Parameters& p) { return p[0]; });
    const auto damping = jackknifed(*whole, without, [](const Parameters& p) { return p[1]; });
    out.frequency = {Frequency::from_value(frequency.value),
                     Frequency::from_value(frequency.standard_error),
                     Frequency::from_value(frequency.half_width)};
    out.damping = {Frequency::from_value(damping.value),
                   Frequency::from_value(damping.standard_error),
                   Frequency::from_value(damping.half_width)};
    out.quality = jackknifed(*whole, without, [](const Parameters& p) { return pi * p[0] / p[1]; });
    out.share = jackknifed(*whole, without, amplitude_of);
    if (out.share.value < least_told_in_errors * out.share.standard_error ||
        damping.half_width > damping_within * damping.value ||
        frequency.half_width > damping_within * frequency.value)
      return std::nullopt;
    return out;
  }

 private:
  void choose_edges() {
    std::vector<double> sizes, free_s;
    for (std::size_t e = 0; e < a_.edges.size(); ++e)
      if (a_.undisturbed[e] && std::isfinite(a_.shaft_step_V[e]))
        sizes.push_back(std::abs(a_.shaft_step_V[e]));
    if (sizes.empty()) return;
    const double size = median_of(sizes);
    std::vector<std::size_t> alike;
    for (std::size_t e = 0; e < a_.edges.size(); ++e) {
      const Step& edge = a_.edges[e];
      if (!a_.undisturbed[e] || edge.rise_s > slowest_in_medians * a_.rise_s ||
          !(std::abs(std::abs(a_.shaft_step_V[e]) - size) < alike_within * size))
        continue;
      alike.push_back(e);
      free_s.push_back(free_time_s(edge));
    }
    if (alike.size() < fewest_ringing_edges) return;
    // Half of the time to the next edge tells the level.
    window_s_ = std::min(0.5 * quantile_of(free_s, 0.3),
                         static_cast<double>(longest_window) * a_.signal.dt_s);
    std::vector<std::size_t> free;
    for (const std::size_t e : alike) {
      const Step& edge = a_.edges[e];
      const double since_s = a_.signal.t_s[edge.begin] - a_.signal.t_s[edge.from];
      // What rings before an edge has to have died down as well.
      if (free_time_s(edge) >= 2.0 * window_s_ && since_s >= window_s_) free.push_back(e);
    }
    const std::size_t n = std::min(free.size(), most_ringing_edges);
    for (std::size_t i = 0; i < n; ++i) chosen_.push_back(free[i * free.size() / n]);
  }

  double free_time_s(const Step& edge) const {
    return a_.signal.t_s[edge.to - 1] - edge.middle_s - ramp_end_s_;
  }

  void take_traces(double window_s) {
    traces_.clear();
    const double samples = window_s / a_.signal.dt_s * static_cast<double>(chosen_.size());
    const auto stride =
        std::max<std::size_t>(1, static_cast<std::size_t>(samples / double(most_data)));
    for (const std::size_t e : chosen_) {
      const Step& edge = a_.edges[e];
      const double level = *level_of(a_.floated_V, edge.end + 1, edge.to);
      Trace trace;
      for (std::size_t i = edge.begin; i < edge.to; i += stride) {
        const double t = a_.signal.t_s[i] - edge.middle_s - ramp_end_s_;
        if (t > window_s) break;
        // The corner of the ramp is rounded by the instrument.
        if (t < a_.signal.dt_s) continue;
        trace.push_back({t, (a_.floated_V[i] - level) / a_.shaft_step_V[e]});
      }
      traces_.push_back(std::move(trace));
    }
  }

  /// The damped sinusoid on a grid that takes most of the mean trace.
  Parameters roughly() const {
    const double bin_s = std::max(a_.signal.dt_s, window_s_ / double(most_bins));
    const auto bins = static_cast<std::size_t>(window_s_ / bin_s);
    std::vector<double> sums(bins), counts(bins);
    for (const Trace& trace : traces_)
      for (const auto& [t, share] : trace)
        if (const auto bin = static_cast<std::size_t>(t / bin_s); bin < bins) {
          sums[bin] += share;
          counts[bin] += 1.0;
        }
    Parameters best{};
    double most = 0.0;
    const double highest_Hz = 0.25 / bin_s, step_Hz = 0.3 / window_s_;
    for (double f = 1.5 / window_s_; f < highest_Hz; f += step_Hz)
      for (const double quality : {2.0, 4.0, 8.0, 16.0, 40.0}) {
        const double damping = pi * f / quality;
        double cc = 0.0, ss = 0.0, cs = 0.0, yc = 0.0, ys = 0.0;
        // The damped oscillation turns by the same factor from bin to bin.
        const std::complex<double> turn =
            std::exp(std::complex<double>(-damping, 2.0 * pi * f) * bin_s);
        std::complex<double> now = std::sqrt(turn);
        for (std::size_t b = 0; b < bins && std::norm(now) > 1e-6; ++b, now *= turn) {
          if (counts[b] == 0.0) continue;
          const double y = sums[b] / counts[b], c = now.real(), s = now.imag();
          cc += c * c, ss += s * s, cs += c * s, yc += y * c, ys += y * s;
        }
        const double det = cc * ss - cs * cs;
        if (!(det > 1e-6 * cc * ss)) continue;
        const double cosine = (yc * ss - ys * cs) / det, sine = (ys * cc - yc * cs) / det;
        if (const double taken = cosine * yc + sine * ys; taken > most) {
          most = taken;
          best = {f, damping, cosine, sine, 0.0};
        }
      }
    return best;
  }

  /// Least squares through all traces but those of one group; `groups`: through all.
  std::optional<Parameters> refined(const Parameters& start, std::size_t left_out) const {
    std::vector<Datum> data;
    for (std::size_t e = 0; e < traces_.size(); ++e)
      if (e % groups != left_out) data.insert(data.end(), traces_[e].begin(), traces_[e].end());
    if (data.size() <= 4 * unknowns) return std::nullopt;
    const auto residuals = [&](auto p, auto out, auto slopes) {
      const double w = 2.0 * pi * p[0];
      for (std::size_t i = 0; i < data.size(); ++i) {
        const double t = data[i].t_s, envelope = std::exp(-p[1] * t);
        const double c = envelope * std::cos(w * t), s = envelope * std::sin(w * t);
        out[i] = p[2] * c + p[3] * s + p[4] - data[i].share;
        double* slope = &slopes[i * unknowns];
        slope[0] = 2.0 * pi * t * (p[3] * c - p[2] * s);
        slope[1] = -t * (p[2] * c + p[3] * s);
        slope[2] = c;
        slope[3] = s;
        slope[4] = 1.0;
      }
    };
    const std::array<numerics::FitParameter, unknowns> from{{{.start = start[0], .low = 0.0},
                                                             {.start = start[1], .low = 0.0},
                                                             {.start = start[2]},
                                                             {.start = start[3]},
                                                             {.start = start[4]}}};
    const auto fit = numerics::least_squares(residuals, data.size(), from, {.most_steps = 100});
    if (!fit.converged) return std::nullopt;
    Parameters out;
    std::copy(fit.parameter.begin(), fit.parameter.end(), out.begin());
    return out;
  }

  template <class Figure>
  static Estimate<double> jackknifed(const Parameters& whole,
                                     const std::vector<Parameters>& without, Figure figure) {
    const auto n = static_cast<double>(without.size());
    double mean = 0.0, squares = 0.0;
    for (const Parameters& p : without) mean += figure(p) / n;
    for (const Parameters& p : without) squares += std::pow(figure(p) - mean, 2);
    const double error = std::sqrt(squares * (n - 1.0) / n);
    return {figure(whole), error, numerics::student_95(n - 1.0) * error};
  }

  const RecordAnalysis& a_;
  double ramp_end_s_ = 0.0, window_s_ = 0.0;
  std::vector<std::size_t> chosen_;
  std::vector<Trace> traces_;
};

}  // namespace

std::optional<RingingFit> ringing_of(const RecordAnalysis& analysis,
                                     std::vector<std::string>& notes) {
  RingingSearch search(analysis);
  auto fit = search.fit();
  if (!fit)
    notes.push_back(fmt::format(
        "Ringing after the edges is not told: {}.",
        search.edges() < fewest_ringing_edges
            ? fmt::format("it wants {} edges of one kind with time after them and without a "
                          "collapse beside them, the record has {}",
                          fewest_ringing_edges, search.edges())
            : std::string("no damped oscillation stands out of the noise there")));
  return fit;
}

}  // namespace ohmdrag::rig
