#pragma once

namespace ohmdrag {

/// Low, median and high of a figure; low and high bound its 95 % interval.
struct Interval {
  double low = 0.0;
  double mid = 0.0;
  double high = 0.0;

  bool exact() const { return low == high; }
};

/// Half of a 95 % interval of a normal distribution, in standard deviations.
inline constexpr double normal_95 = 1.959963984540054;

/// The standard uncertainty of which an interval is 95 %, as of a normal distribution.
inline double standard_uncertainty(const Interval& interval) {
  return 0.5 * (interval.high - interval.low) / normal_95;
}

/// How far a number may be off. The shape is fixed by the way it was written:
///   "a ± b"    normal,      95 % between a-b and a+b, cut at the physical range of the key;
///   "a … b"    uniform,     between a and b, nothing outside;
///   "a ×/÷ f"  log-normal,  95 % between a/f and a*f, median a.
enum class Shape { exact, normal, uniform, log_normal };

struct Distribution {
  Shape shape = Shape::exact;
  double mid = 0.0;         ///< SI
  double half_width = 0.0;  ///< normal, uniform: SI; log_normal: ln f
  double floor = -1e300;    ///< no draw below this (SI)
  double ceiling = 1e300;   ///< no draw above this (SI)

  /// The value below which a share u of the draws lies, 0 < u < 1.
  /// Truncation rescales u, so u = 0.5 of an untruncated distribution is its mid.
  /// \throws std::invalid_argument if u is outside (0, 1), if floor and ceiling leave nothing of
  ///         the distribution, or if a log-normal one has no positive mid.
  double quantile(double u) const;
  /// 2.5 %, 50 % and 97.5 % points.
  Interval interval() const;
};

/// The standard normal quantile.
/// \throws std::invalid_argument if u is outside (0, 1).
double normal_quantile(double u);

}  // namespace ohmdrag
