#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "ohmdrag/numerics/least_squares.hpp"
#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "rig/record_analysis.hpp"

namespace ohmdrag::rig {

namespace {

constexpr int most_legs = 3;
/// A ratio that its own interval does not tell from zero by this factor is none.
constexpr double least_told_in_half_widths = 2.0;

constexpr auto conducts =
    "The coupling ratio is not told: the shaft does not follow the common mode. A bearing that "
    "conducts (slow, cold or mixed lubrication), a grounding contact or a probe that is not "
    "connected holds it at zero; that says nothing of the ratio and nothing of the films. "
    "Measure at a speed at which the films carry.";

/// Steps that go together, in order; `neighbour`: shares a level with the one before.
struct Pairs {
  std::vector<double> common_V, shaft_V;
  std::vector<double> leaked_Vs;
  std::vector<bool> neighbour;
};

Pairs pairs_of(const RecordAnalysis& a, std::size_t& beside_falls) {
  Pairs pairs;
  std::size_t last = 0;
  for (std::size_t e = 0; e < a.edges.size(); ++e) {
    if (!a.undisturbed[e]) ++beside_falls;
    if (!a.undisturbed[e] || a.idle[e] || !std::isfinite(a.shaft_step_V[e])) continue;
    pairs.neighbour.push_back(!pairs.shaft_V.empty() && last + 1 == e &&
                              a.edges[last].sweep == a.edges[e].sweep);
    pairs.common_V.push_back(a.edges[e].size_V);
    pairs.shaft_V.push_back(a.shaft_step_V[e]);
    pairs.leaked_Vs.push_back(a.leaked_Vs[e]);
    last = e;
  }
  return pairs;
}

/// The steps of the shaft as multiples of one unit, that of the smallest edge.
void take_multiples(Pairs& pairs, double unit_common_V, bool one_size) {
  std::vector<double> sizes;
  for (const double step : pairs.shaft_V) sizes.push_back(std::abs(step));
  double unit = quantile_of(sizes, one_size ? 0.5 : 0.2);
  constexpr int rounds = 3;
  for (int round = 0; round < rounds; ++round) {
    double products = 0.0, squares = 0.0;
    for (std::size_t i = 0; i < pairs.shaft_V.size(); ++i) {
      const double multiple = one_size ? 1.0
                                       : std::clamp(std::round(std::abs(pairs.shaft_V[i]) / unit),
                                                    1.0, double(most_legs));
      pairs.common_V[i] = std::copysign(multiple * unit_common_V, pairs.shaft_V[i]);
      products += multiple * std::abs(pairs.shaft_V[i]);
      squares += multiple * multiple;
    }
    unit = products / squares;
  }
}

/// Standard error of the slope; residuals of neighbours share a level with opposite signs.
double standard_error(const Pairs& pairs, const numerics::LeastSquaresFit& fit) {
  constexpr double huber = 1.345;
  const double limit = huber * fit.deviation;
  double plain = 0.0, products = 0.0, bend = 0.0;
  const auto pull = [&](std::size_t i) {
    return pairs.common_V[i] * std::clamp(fit.residual[i], -limit, limit);
  };
  for (std::size_t i = 0; i < pairs.common_V.size(); ++i) {
    plain += pull(i) * pull(i);
    if (pairs.neighbour[i]) products += 2.0 * pull(i - 1) * pull(i);
    if (std::abs(fit.residual[i]) <= limit) bend += pairs.common_V[i] * pairs.common_V[i];
  }
  return bend > 0.0 ? std::sqrt(std::max(plain + products, 0.5 * plain)) / bend : 0.0;
}

}  // namespace

std::optional<Estimate<double>> coupling_of(const RecordAnalysis& analysis,
                                            const ShaftVoltageRun& run, std::size_t& outliers,
                                            std::vector<std::string>& notes) {
  const bool with_common = analysis.signal.with_common();
  if (!with_common && !run.dc_link) {
    notes.emplace_back(
        "The coupling ratio is not told: neither the common mode nor the link voltage is known.");
    return std::nullopt;
  }
  std::size_t beside_falls = 0;
  Pairs pairs = pairs_of(analysis, beside_falls);
  if (pairs.shaft_V.size() < fewest_edges) {
    if (std::ranges::find(analysis.idle, true) != analysis.idle.end()) {
      notes.emplace_back(conducts);
      return std::nullopt;
    }
    notes.push_back(
        fmt::format("The coupling ratio is not told: {} edges without a collapse beside them, {} "
                    "with one; it wants {} or more. Record longer, or at a lower link voltage.",
                    pairs.shaft_V.size(), beside_falls, fewest_edges));
    return std::nullopt;
  }
  if (!with_common)
    take_multiples(pairs, run.dc_link->value() * run.legs / most_legs, run.legs == most_legs);
  const double start =
      std::inner_product(pairs.common_V.begin(), pairs.common_V.end(), pairs.shaft_V.begin(), 0.0) /
      std::inner_product(pairs.common_V.begin(), pairs.common_V.end(), pairs.common_V.begin(), 0.0);
  const numerics::FitParameter ratio{.start = start};
  const auto fit = numerics::least_squares(
      [&](auto at, auto residuals, auto slopes) {
        for (std::size_t i = 0; i < pairs.shaft_V.size(); ++i) {
          residuals[i] = pairs.shaft_V[i] - at[0] * pairs.common_V[i];
          slopes[i] = -pairs.common_V[i];
        }
      },
      pairs.shaft_V.size(), {&ratio, 1}, {.loss = numerics::Loss::huber});
  outliers = fit.outliers.size();
  const double k = fit.parameter[0];
  // The rate of the leak is one for all steps.
  const double of_leak =
      analysis.leak_error_per_s *
      std::inner_product(pairs.common_V.begin(), pairs.common_V.end(), pairs.leaked_Vs.begin(),
                         0.0) /
      std::inner_product(pairs.common_V.begin(), pairs.common_V.end(), pairs.common_V.begin(), 0.0);
  const double error = std::hypot(standard_error(pairs, fit), of_leak);
  const double t = numerics::student_95(static_cast<double>(pairs.shaft_V.size() - 1));
  if (!(std::abs(k) > least_told_in_half_widths * t * error)) {
    notes.emplace_back(conducts);
    return std::nullopt;
  }
  const double gain = run.gain_uncertainty * k;
  return Estimate<double>{k, std::hypot(error, gain / normal_95), std::hypot(t * error, gain)};
}

}  // namespace ohmdrag::rig
