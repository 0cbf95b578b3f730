#include "rig/endurance_pool.hpp"

#include <limits>
#include <numeric>

namespace ohmdrag::rig {

namespace {

constexpr int starts = 40;  ///< values of ln(tau) that are tried first
/// ln(tau) so close to an end of its range has run into it.
constexpr double at_the_end = 0.05;
constexpr double huber_knee = 1.345;  ///< as numerics::Loss::huber

/// Level and growth of a specimen that a straight line gives at this tau, and their misfit.
struct LineStart {
  double level = 0.0, growth = 0.0, squares = 0.0;
};

/// The laws are straight in the progress q: ln Z of the power law, Z of the logarithmic one, 1/Z of
/// the saturating one. Weights make small residuals those of ln Z.
LineStart line_start(const EnduranceSeries& series, GrowthLaw law, double reference_s,
                     double log_time) {
  const double sign = law == GrowthLaw::power ? 0.0 : law == GrowthLaw::logarithmic ? 1.0 : -1.0;
  double w0 = 0.0, wq = 0.0, wqq = 0.0, wz = 0.0, wqz = 0.0;
  for (std::size_t j = 0; j < series.time_s.size(); ++j) {
    const double q = progress(law, series.time_s[j], reference_s, log_time).value;
    const double z = sign == 0.0 ? series.ln_ohm[j] : std::exp(sign * series.ln_ohm[j]);
    const double weight = sign == 0.0 ? 1.0 : 1.0 / (z * z);
    w0 += weight;
    wq += weight * q;
    wqq += weight * q * q;
    wz += weight * z;
    wqz += weight * q * z;
  }
  const double determinant = w0 * wqq - wq * wq;
  const double slope = determinant > 0.0 ? (w0 * wqz - wq * wz) / determinant : 0.0;
  const double begin = (wz - slope * wq) / w0;
  LineStart start;
  if (sign == 0.0) {
    start.level = begin;
    start.growth = slope;
  } else {
    // A line that crosses zero is no start: then without growth.
    const bool sound = begin > 0.0 && begin + slope > 0.0;
    start.level = sign * std::log(sound ? begin : wz / w0);
    start.growth = sound ? sign * std::log((begin + slope) / begin) : 0.0;
  }
  for (std::size_t j = 0; j < series.time_s.size(); ++j) {
    const double r = start.level +
                     growth(law, start.growth, series.time_s[j], reference_s, log_time).value -
                     series.ln_ohm[j];
    start.squares += r * r;
  }
  return start;
}

class Pool {
 public:
  Pool(const EnduranceData& data, GrowthLaw law) : data_(data), law_(law) {}

  PooledFit run() const {
    if (law_ == GrowthLaw::none) return fitted(std::nullopt);
    const double low = std::log(least_time * data_.reference_s);
    const double high = std::log(largest_time * data_.reference_s);
    double best = low, least = std::numeric_limits<double>::infinity();
    for (int k = 0; k < starts; ++k) {
      const double log_time = low + (high - low) * (k + 0.5) / starts;
      double squares = 0.0;
      for (const EnduranceSeries& series : data_.specimens)
        squares += line_start(series, law_, data_.reference_s, log_time).squares;
      if (squares < least) {
        least = squares;
        best = log_time;
      }
    }
    PooledFit free = fitted(best, numerics::FitParameter{best, low, high});
    const double found = free.fit.parameter.back();
    const bool inside = found - low > at_the_end && high - found > at_the_end;
    if (free.fit.converged && inside && free.fit.untold.empty()) return free;
    return fitted(std::clamp(found, low, high));
  }

 private:
  PooledFit fitted(std::optional<double> log_time,
                   std::optional<numerics::FitParameter> free = {}) const {
    PooledFit out;
    out.law = law_;
    out.reference_s = data_.reference_s;
    out.with_time = free.has_value();
    out.log_time = log_time.value_or(0.0);
    std::vector<numerics::FitParameter> parameters;
    for (const EnduranceSeries& series : data_.specimens) {
      if (law_ == GrowthLaw::none) {
        parameters.push_back({std::accumulate(series.ln_ohm.begin(), series.ln_ohm.end(), 0.0) /
                              static_cast<double>(series.ln_ohm.size())});
        continue;
      }
      const LineStart start = line_start(series, law_, data_.reference_s, out.log_time);
      parameters.push_back({start.level});
      parameters.push_back({start.growth});
    }
    if (free) parameters.push_back(*free);
    out.fit = numerics::least_squares(
        [&](auto at, auto residuals, auto slopes) { evaluate(out, at, residuals, slopes); },
        data_.readings, parameters, {.loss = numerics::Loss::huber});
    if (free) out.log_time = out.fit.parameter.back();
    return out;
  }

  void evaluate(const PooledFit& form, std::span<const double> at, std::span<double> residuals,
                std::span<double> slopes) const {
    const std::size_t n = at.size(), stride = form.stride();
    const double log_time = form.with_time ? at[n - 1] : form.log_time;
    std::fill(slopes.begin(), slopes.end(), 0.0);
    std::size_t datum = 0;
    for (std::size_t i = 0; i < data_.specimens.size(); ++i) {
      const EnduranceSeries& series = data_.specimens[i];
      const double g = stride == 2 ? at[2 * i + 1] : 0.0;
      for (std::size_t j = 0; j < series.time_s.size(); ++j, ++datum) {
        const Growth now = growth(law_, g, series.time_s[j], data_.reference_s, log_time);
        residuals[datum] = at[stride * i] + now.value - series.ln_ohm[j];
        double* const row = slopes.data() + datum * n;
        row[stride * i] = 1.0;
        if (stride == 2) row[2 * i + 1] = now.over_growth;
        if (form.with_time) row[n - 1] = now.over_log_time;
      }
    }
  }

  const EnduranceData& data_;
  GrowthLaw law_;
};

}  // namespace

double PooledFit::noise() const {
  const auto degrees = static_cast<double>(fit.degrees_of_freedom);
  if (fit.outliers.empty()) return std::sqrt(fit.sum_of_squares / degrees);
  return fit.deviation * std::sqrt(static_cast<double>(fit.residual.size()) / degrees);
}

PooledFit fit_pooled(const EnduranceData& data, GrowthLaw law) { return Pool(data, law).run(); }

double misfit(const PooledFit& pooled, double noise) {
  double sum = 0.0;
  for (const double r : pooled.fit.residual) {
    const double u = std::abs(r) / noise;
    sum += u <= huber_knee ? u * u : huber_knee * (2.0 * u - huber_knee);
  }
  return sum;
}

}  // namespace ohmdrag::rig
