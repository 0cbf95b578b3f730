#include <algorithm>
#include <cmath>

#include "ohmdrag/numerics/least_squares.hpp"
#include "ohmdrag/rig/impedance_sweep.hpp"

namespace ohmdrag::rig {

namespace {

using Complex = std::complex<double>;

constexpr double elements_per_decade = 3.0;
/// What follows itself by more than this is no noise, if it is also more than so many standard
/// deviations of a chance correlation and so large a share of |Z|.
constexpr double least_lag = 0.3, chance_deviations = 3.0, least_contradiction = 0.002;

/// A point without what lies across, and how much a deviation there counts in |Z|.
struct Branch {
  double w_rad_s;
  Complex ohm;
  double weight_per_ohm;
};

/// Points of one frequency as their mean.
Sweep merged(const Sweep& ordered) {
  constexpr double same = 1e-5;
  Sweep out;
  for (std::size_t begin = 0, end = 0; begin < ordered.size(); begin = end) {
    Complex sum = 0.0;
    const Frequency first = ordered[begin].frequency;
    for (end = begin; end < ordered.size() && ordered[end].frequency <= first * (1.0 + same); ++end)
      sum += ordered[end].ohm;
    out.push_back({first, sum / static_cast<double>(end - begin)});
  }
  return out;
}

std::vector<Branch> branches_of(const Sweep& points, double across_F) {
  std::vector<Branch> out;
  for (const SweepPoint& point : points) {
    const double w = angular_frequency(point);
    const Complex branch = 1.0 / (1.0 / point.ohm - Complex{0.0, w * across_F});
    out.push_back({w, branch, std::abs(point.ohm) / std::norm(branch)});
  }
  return out;
}

/// Time constants, evenly over the logarithm of the band; fewer where the points would not tell.
std::vector<double> time_constants(const std::vector<Branch>& points) {
  const double first = 1.0 / points.back().w_rad_s, last = 1.0 / points.front().w_rad_s;
  const double decades = std::log10(last / first);
  const double most = static_cast<double>(points.size()) / 2.0;
  const auto count =
      static_cast<std::size_t>(std::max(1.0, std::min(elements_per_decade * decades, most)));
  std::vector<double> out;
  for (std::size_t k = 0; k < count; ++k)
    out.push_back(first * std::pow(last / first,
                                   (static_cast<double>(k) + 0.5) / static_cast<double>(count)));
  return out;
}

/// What each member of the chain is at a frequency, per its size.
std::vector<Complex> members_at(double w, const std::vector<double>& times, double top) {
  std::vector<Complex> out{1.0, {0.0, w / top}};
  for (const double time : times) out.push_back(1.0 / Complex{1.0, w * time});
  return out;
}

/// Correlation of complex values with their next.
double lag_one_of(const std::vector<Complex>& values) {
  double along = 0.0, squares = 0.0;
  for (std::size_t i = 0; i < values.size(); ++i) {
    squares += std::norm(values[i]);
    if (i + 1 < values.size()) along += std::real(values[i] * std::conj(values[i + 1]));
  }
  return squares > 0.0 ? along / squares : 0.0;
}

}  // namespace

KramersKronigCheck kramers_kronig_check(const Sweep& sweep, Capacitance across) {
  const Sweep ordered = merged(sorted(sweep));
  const std::vector<Branch> points = branches_of(ordered, across.value());
  const std::vector<double> times = time_constants(points);
  const std::size_t members = times.size() + 2;
  std::vector<std::vector<Complex>> rows;
  for (const Branch& point : points)
    rows.push_back(members_at(point.w_rad_s, times, points.back().w_rad_s));

  const double size = std::abs(points[points.size() / 2].ohm);  // keeps the unknowns near one
  const auto evaluate = [&](std::span<const double> at, std::span<double> residuals,
                            std::span<double> slopes) {
    for (std::size_t i = 0; i < points.size(); ++i) {
      Complex missed = -points[i].ohm;
      for (std::size_t k = 0; k < members; ++k) {
        const Complex member = rows[i][k] * size * points[i].weight_per_ohm;
        missed += at[k] * rows[i][k] * size;
        slopes[2 * i * members + k] = member.real();
        slopes[(2 * i + 1) * members + k] = member.imag();
      }
      missed *= points[i].weight_per_ohm;
      residuals[2 * i] = missed.real();
      residuals[2 * i + 1] = missed.imag();
    }
  };
  const std::vector<numerics::FitParameter> start(members);
  const auto fit = numerics::least_squares(evaluate, 2 * points.size(), start);

  KramersKronigCheck check;
  check.elements = times.size();
  std::vector<Complex> missed;
  for (std::size_t i = 0; i < points.size(); ++i) {
    missed.emplace_back(fit.residual[2 * i], fit.residual[2 * i + 1]);
    if (std::abs(missed.back()) < check.largest) continue;
    check.largest = std::abs(missed.back());
    check.worst_at = ordered[i].frequency;
  }
  const auto n = static_cast<double>(points.size());
  check.rms = std::sqrt(fit.sum_of_squares / (2.0 * n));
  check.lag_one = lag_one_of(missed);
  check.contradicts = check.rms > least_contradiction &&
                      check.lag_one > std::max(least_lag, chance_deviations / std::sqrt(2.0 * n));
  return check;
}

}  // namespace ohmdrag::rig
