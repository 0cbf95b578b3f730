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
///   "a ± b"      normal,      95 % between a-b and a+b, cut at the physical range of the key;
///   "a … b"      uniform,     between a and b, nothing outside;
///   "a … m … b"  triangular,  between a and b, m the most frequent value;
///   "a ×/÷ f"    log-normal,  95 % between a/f and a*f, median a.
/// "within c … d" behind ± or ×/÷ cuts what lies outside c and d and draws the rest as before.
enum class Shape { exact, normal, uniform, triangular, log_normal };

struct Distribution {
  Shape shape = Shape::exact;
  double mid = 0.0;         ///< SI; the median before any cut
  double half_width = 0.0;  ///< normal, uniform, triangular: SI; log_normal: ln f
  double floor = -1e300;    ///< no draw below this (SI)
  double ceiling = 1e300;   ///< no draw above this (SI)
  /// Triangular: how far the mode lies off the centre, in half widths, -1 ... 1.
  double lean = 0.0;
  /// Normal, log-normal: where it was written to be cut, in half widths from mid on the scale on
  /// which it is symmetric, so that a scaled distribution keeps its cut.
  double cut_below = -1e300, cut_above = 1e300;

  /// A triangle by its corners.
  /// \throws std::invalid_argument unless low <= mode <= high and low < high.
  static Distribution triangle(double low, double mode, double high);

  /// Triangular: the most frequent value.
  double mode() const;

  /// The value below which a share u of the draws lies, 0 < u < 1.
  /// Truncation rescales u, so u = 0.5 of an untruncated distribution is its mid.
  /// \throws std::invalid_argument if u is outside (0, 1), if floor and ceiling leave nothing of
  ///         the distribution, or if a log-normal one has no positive mid.
  double quantile(double u) const;
  /// 2.5 %, 50 % and 97.5 % points.
  Interval interval() const;

  /// The share of the draws below a value: the inverse of quantile(), 0 or 1 beyond its ends.
  /// Accuracy  1e-12.
  double share_below(double value) const;
  /// Standard deviation of what is drawn, in SI; of a log-normal one that of the logarithm.
  /// Accuracy  1e-3, by the middles of 2000 strata.
  double standard_deviation() const;
};

/// The standard normal quantile.
/// \throws std::invalid_argument if u is outside (0, 1).
double normal_quantile(double u);

}  // namespace ohmdrag
