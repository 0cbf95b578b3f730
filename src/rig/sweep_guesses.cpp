#include <algorithm>
#include <cmath>
#include <numbers>

#include "rig/sweep_problem.hpp"

namespace ohmdrag::rig {

namespace {

using enum CircuitPart;

double median(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

/// What the eye sees in a sweep.
class Outline {
 public:
  explicit Outline(const Sweep& sweep) : points_(sorted(sweep)) {
    w_low_ = angular_frequency(points_.front());
    w_high_ = angular_frequency(points_.back());
    constexpr double decade = 10.0;
    std::vector<double> sizes;
    double least_real = 0.0;
    for (const SweepPoint& point : points_) {
      if (angular_frequency(point) <= decade * w_low_) sizes.push_back(std::abs(point.ohm));
      if (point.ohm.real() > 0.0 && (least_real == 0.0 || point.ohm.real() < least_real))
        least_real = point.ohm.real();
    }
    low_plateau_ = median(sizes);
    least_real_ = least_real > 0.0 ? least_real : low_plateau_;
  }

  double w_high() const { return w_high_; }
  double w_between(double share) const { return w_low_ * std::pow(w_high_ / w_low_, share); }
  double low_plateau() const { return low_plateau_; }
  double least_real() const { return least_real_; }

  /// From the lowest frequencies that show one; else one that would hardly show.
  double inductance() const {
    std::vector<double> first;
    constexpr double shows = 0.35;  // tangent of 20 degrees
    constexpr std::size_t enough = 3;
    for (const SweepPoint& point : points_)
      if (first.size() < enough && point.ohm.imag() > shows * std::abs(point.ohm.real()))
        first.push_back(point.ohm.imag() / angular_frequency(point));
    return first.empty() ? 0.1 * least_real_ / w_high_ : median(first);
  }
  /// Where the magnitude peaks, or above the band.
  double resonance() const {
    const auto peak = std::ranges::max_element(
        points_, {}, [](const SweepPoint& point) { return std::abs(point.ohm); });
    const bool inside = peak != points_.begin() && peak != points_.end() - 1;
    constexpr double above = 2.0;
    return inside ? angular_frequency(*peak) : above * w_high_;
  }

 private:
  Sweep points_;
  double w_low_ = 0.0, w_high_ = 0.0, low_plateau_ = 0.0, least_real_ = 0.0;
};

void set(CircuitSizes& sizes, CircuitPart part, double value) {
  sizes[static_cast<std::size_t>(part)] = value;
}

}  // namespace

std::vector<CircuitSizes> guesses(const Sweep& sweep, SweepModel model) {
  const Outline outline(sweep);
  CircuitSizes plain{};
  set(plain, resistance, outline.low_plateau());
  set(plain, inductance, outline.inductance());
  std::vector<CircuitSizes> out;
  const auto with = [&](std::initializer_list<std::pair<CircuitPart, double>> parts) {
    out.push_back(plain);
    for (const auto& [part, value] : parts) set(out.back(), part, value);
  };
  switch (model) {
    case SweepModel::resistance:
    case SweepModel::with_inductance:
      with({});
      break;
    case SweepModel::beside_capacitance:
      for (const double share : {0.4, 0.8, 1.2})
        with({{capacitance, 1.0 / (outline.low_plateau() * outline.w_between(share))}});
      break;
    case SweepModel::inductance_beside_capacitance: {
      const double w0 = outline.resonance();
      with({{capacitance, 1.0 / (w0 * w0 * outline.inductance())}});
      break;
    }
    case SweepModel::with_film:
    case SweepModel::inductance_with_film: {
      constexpr double least_film = 0.1;
      const double film = std::max(outline.low_plateau() - outline.least_real(),
                                   least_film * outline.low_plateau());
      for (const double share : {0.15, 0.4, 0.65, 0.9})
        with({{resistance, outline.least_real()},
              {film_resistance, film},
              {film_capacitance, 1.0 / (film * outline.w_between(share))}});
      break;
    }
  }
  return out;
}

}  // namespace ohmdrag::rig
