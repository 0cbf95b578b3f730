#include "ohmdrag/rig/unit_drag_fit.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/numerics/least_squares.hpp"
#include "ohmdrag/quantity/distribution.hpp"
#include "rig/unit_drag_problem.hpp"
#include "rig/unit_drag_words.hpp"

namespace ohmdrag::rig {

namespace {

/// Huber's weights: 95 % efficient for normal noise, of whose weighted squares they keep this
/// share, 2 Phi(1.345) - 1.
constexpr double huber_scales = 1.345, kept_squares = 0.8214;
constexpr int most_rounds = 200;
constexpr double settled = 1e-6;
/// Noise below this share of the drag is rounding.
constexpr double rounding = 1e-10;
/// Noise before anything is known of it, over the drag.
constexpr double first_guess = 0.01;
/// Fewer degrees of freedom tell no noise.
constexpr double fewest_degrees = 2.0;
/// Where the standard error of a level is a larger share of what it was, the run counts as silent.
constexpr double told_below = 0.9;
/// What is left over does not follow itself more closely than noise could below this many standard
/// errors of the autocorrelation, 1/sqrt(n).
constexpr double surely_following = 2.0;
constexpr double closest_following = 0.95;

class Fitter {
 public:
  explicit Fitter(const UnitDragRun& run)
      : run_(run),
        problem_(run),
        noise_Nm_(run.noise ? run.noise->value() : first_guess * problem_.typical_Nm()),
        weights_(run.points.size(), 1.0),
        start_(problem_.parameters()) {}

  UnitDragFit fit() {
    settle();
    follow();
    out_.reference = problem_.reference();
    out_.reference_oil = problem_.reference_oil();
    out_.noise_stated = run_.noise.has_value();
    out_.noise = Torque::from_value(noise_Nm_);
    out_.calibration = problem_.calibration(at());
    share_out();
    correct_parts();
    const std::vector<double> slope = of_parameter(problem_.rest(), problem_.typical_Nm());
    out_.rest = estimate<Torque>(problem_.rest_Nm(at()), slope);
    say_what_it_means(run_, out_);
    return std::move(out_);
  }

 private:
  const std::vector<double>& at() const { return fit_.parameter; }

  /// Parameters and, in turn, noise and weights until they stay.
  void settle() {
    for (int round = 0; round < most_rounds; ++round) {
      search();
      const double before = noise_Nm_;
      look_at_noise();
      if (std::abs(noise_Nm_ - before) <= settled * before) return;
    }
    throw std::invalid_argument(
        "the search for the parts' torques finds no end; are there readings of another unit?");
  }

  void search() {
    std::vector<numerics::FitParameter> parameters;
    for (const double value : start_) parameters.push_back({.start = value});
    const std::size_t data = run_.points.size() + believed() + 1;
    fit_ = numerics::least_squares(
        [this](auto at, auto residuals, auto slopes) { residuals_of(at, residuals, slopes); }, data,
        parameters);
    if (!fit_.converged)
      throw std::invalid_argument(
          "the search for the parts' torques finds no end; are there readings of another unit?");
    start_ = fit_.parameter;
    // Undo the scale that least_squares takes from the residuals: here they have that of their own.
    const double variance = fit_.deviation * fit_.deviation;
    covariance_ = fit_.covariance;
    for (double& value : covariance_) value /= variance;
    misfit_Nm_.clear();
    std::vector<double> slopes(at().size());
    for (std::size_t i = 0; i < run_.points.size(); ++i)
      misfit_Nm_.push_back(problem_.misfit_Nm(at(), i, slopes));
  }

  /// Parameters of which something is known beforehand: all but the rest.
  std::size_t believed() const { return problem_.parameters() - 1; }

  void residuals_of(std::span<const double> at, std::span<double> residuals,
                    std::span<double> slopes) const {
    std::ranges::fill(slopes, 0.0);
    const std::size_t n = at.size(), readings = run_.points.size();
    for (std::size_t i = 0; i < readings; ++i) {
      const double scale = std::sqrt(weights_[i]) / noise_Nm_;
      const std::span<double> row = slopes.subspan(i * n, n);
      residuals[i] = scale * problem_.misfit_Nm(at, i, row);
      for (double& slope : row) slope *= scale;
    }
    std::size_t datum = readings;
    for (std::size_t j = 0; j < n; ++j) {
      if (j == problem_.rest()) continue;
      residuals[datum] = at[j];
      slopes[datum * n + j] = 1.0;
      ++datum;
    }
    residuals[datum] = 1.0;  // of nobody's: a scale of residuals that are all zero does not exist
  }

  void look_at_noise() {
    degrees_ = static_cast<double>(run_.points.size()) - spent();
    double squares = 0.0;
    for (std::size_t i = 0; i < misfit_Nm_.size(); ++i)
      squares += weights_[i] * misfit_Nm_[i] * misfit_Nm_[i];
    if (!run_.noise || beyond_stated_) {
      if (!(degrees_ >= fewest_degrees))
        throw std::invalid_argument(
            "so few readings beside so many parts tell no noise: state the noise of a reading or "
            "take more of them");
      noise_Nm_ = std::max(std::sqrt(squares / (kept_squares * degrees_)),
                           rounding * problem_.typical_Nm());
    } else if (degrees_ >= fewest_degrees) {
      const double of_stated =
          squares / (kept_squares * degrees_ * run_.noise->value() * run_.noise->value());
      // Normal approximation of chi-square over its degrees of freedom.
      if (of_stated > 1.0 + normal_95 * std::sqrt(2.0 / degrees_)) {
        beyond_stated_ = true;
        noise_Nm_ = run_.noise->value() * std::sqrt(of_stated);
        out_.warnings.push_back(beyond_stated_noise(of_stated));
      }
    }
    for (std::size_t i = 0; i < misfit_Nm_.size(); ++i) {
      const double scales = std::abs(misfit_Nm_[i]) / noise_Nm_;
      weights_[i] = scales > huber_scales ? huber_scales / scales : 1.0;
    }
  }

  /// Degrees of freedom that the parameters take from the readings: the trace of the matrix that
  /// turns readings into their fitted values.
  double spent() const {
    double trace = 0.0;
    std::vector<double> slopes(at().size());
    for (std::size_t i = 0; i < run_.points.size(); ++i) {
      problem_.misfit_Nm(at(), i, slopes);
      trace += weights_[i] * variance(slopes) / (noise_Nm_ * noise_Nm_);
    }
    return trace;
  }

  /// Widens the noise where what is left over follows itself: of n readings with the
  /// autocorrelation r, n (1 - r)/(1 + r) count.
  void follow() {
    double products = 0.0, squares = 0.0;
    for (std::size_t i = 0; i < misfit_Nm_.size(); ++i) {
      squares += misfit_Nm_[i] * misfit_Nm_[i];
      if (i > 0 && run_.points[i].build == run_.points[i - 1].build)
        products += misfit_Nm_[i] * misfit_Nm_[i - 1];
    }
    const bool rounded = noise_Nm_ <= 2.0 * rounding * problem_.typical_Nm();
    if (!(squares > 0.0) || rounded) return;
    out_.lag_one = products / squares;
    const double r = std::min(out_.lag_one, closest_following);
    if (!(r > surely_following / std::sqrt(static_cast<double>(misfit_Nm_.size())))) return;
    noise_Nm_ *= std::sqrt((1.0 + r) / (1.0 - r));
    search();
  }

  double variance(const std::vector<double>& slopes) const {
    return covariance_between(slopes, slopes);
  }
  double covariance_between(const std::vector<double>& a, const std::vector<double>& b) const {
    const std::size_t n = at().size();
    double sum = 0.0;
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = 0; j < n; ++j) sum += a[i] * covariance_[i * n + j] * b[j];
    return sum;
  }
  std::vector<double> of_parameter(std::size_t index, double slope) const {
    std::vector<double> slopes(at().size());
    slopes[index] = slope;
    return slopes;
  }

  /// Quantile of the intervals: the noise is stated, or known from the readings alone.
  double quantile() const {
    return run_.noise && !beyond_stated_ ? normal_95 : numerics::student_95(degrees_);
  }

  template <class Q>
  Estimate<Q> estimate(double value, const std::vector<double>& slopes) const {
    const double error = std::sqrt(variance(slopes));
    if constexpr (std::is_same_v<Q, double>)
      return {value, error, quantile() * error};
    else
      return {Q::from_value(value), Q::from_value(error), Q::from_value(quantile() * error)};
  }

  static CorrectedPart::Factor factor_of(double level, double error, double quantile) {
    return {std::exp(level), std::exp(level - quantile * error), std::exp(level + quantile * error),
            error};
  }

  void share_out() {
    std::vector<double> slopes(at().size());
    for (std::size_t i = 0; i < run_.points.size(); ++i) {
      const UnitDragPoint& point = run_.points[i];
      SharedOut shared{.measured = point.measured, .parts = {}, .rest = point.measured};
      for (std::size_t p = 0; p < run_.parts.size(); ++p) {
        shared.parts.push_back(run_.fitted[point.build][p]
                                   ? Torque::from_value(problem_.part_Nm(at(), p, i, 0.0, slopes))
                                   : Torque{});
        shared.rest -= shared.parts.back();
      }
      shared.outlier = std::abs(misfit_Nm_[i]) > numerics::outlier_in_scales * noise_Nm_;
      if (shared.outlier) out_.outliers.push_back(i);
      out_.points.push_back(std::move(shared));
    }
  }

  void correct_parts() {
    const auto parts_in = [this](std::size_t build) {
      return std::ranges::count(run_.fitted[build], true);
    };
    for (std::size_t b = 1; b < run_.builds.size(); ++b)
      if (parts_in(b) > parts_in(out_.fullest_build)) out_.fullest_build = b;

    const std::size_t parts = run_.parts.size();
    std::vector<std::vector<double>> level_slopes, torque_slopes;
    for (std::size_t p = 0; p < parts; ++p) {
      level_slopes.push_back(problem_.belief_slopes(beliefs_a_part * p));
      torque_slopes.emplace_back(at().size());
      out_.parts.push_back(corrected(p, level_slopes.back(), torque_slopes.back()));
    }
    for (std::size_t p = 0; p < parts; ++p)
      for (std::size_t q = 0; q < parts; ++q) {
        const double doubt =
            std::sqrt(variance(level_slopes[p])) * std::sqrt(variance(level_slopes[q]));
        out_.correlation.push_back(
            doubt > 0.0 ? covariance_between(level_slopes[p], level_slopes[q]) / doubt : 0.0);
        out_.covariance.push_back(covariance_between(torque_slopes[p], torque_slopes[q]));
      }
  }

  CorrectedPart corrected(std::size_t p, const std::vector<double>& level_slopes,
                          std::vector<double>& torque_slopes) const {
    const std::size_t beliefs = run_.prior.mean.size();
    const std::size_t level = beliefs_a_part * p, tilt = level + 1, warmth = level + 2;
    CorrectedPart part;
    part.name = run_.parts[p];
    const auto before = [&](std::size_t i) {
      return std::sqrt(run_.prior.covariance[i * beliefs + i]);
    };
    part.before = factor_of(run_.prior.mean[level], before(level), normal_95);
    const auto bend = [&](std::size_t i, Estimate<double>& was, Estimate<double>& is) {
      was = {run_.prior.mean[i], before(i), normal_95 * before(i)};
      is = estimate<double>(problem_.belief(at(), i), problem_.belief_slopes(i));
    };
    bend(tilt, part.tilt_before, part.tilt);
    bend(warmth, part.warmth_before, part.warmth);
    const double error = std::sqrt(variance(level_slopes));
    if (error < told_below * before(level))
      part.factor = factor_of(problem_.belief(at(), level), error, quantile());
    const auto leaves = [&](std::size_t i) {
      return std::abs(problem_.belief(at(), i) - run_.prior.mean[i]) > normal_95 * before(i);
    };
    part.leaves_band = before(level) > 0.0 && leaves(level);
    part.bends_otherwise =
        (before(tilt) > 0.0 && leaves(tilt)) || (before(warmth) > 0.0 && leaves(warmth));

    double mean_Nm = 0.0, readings = 0.0;
    for (const UnitDragPoint& point : run_.points)
      readings += point.build == out_.fullest_build ? 1.0 : 0.0;
    for (std::size_t i = 0; i < run_.points.size(); ++i) {
      if (run_.points[i].build != out_.fullest_build || !run_.fitted[out_.fullest_build][p])
        continue;
      mean_Nm += problem_.part_Nm(at(), p, i, 1.0 / readings, torque_slopes) / readings;
      part.torque_before_Nm += run_.points[i].model[p].value() / readings;
    }
    part.torque = estimate<Torque>(mean_Nm, torque_slopes);
    return part;
  }

  const UnitDragRun& run_;
  UnitDragProblem problem_;
  UnitDragFit out_;
  numerics::LeastSquaresFit fit_;
  double noise_Nm_;
  bool beyond_stated_ = false;
  std::vector<double> weights_, start_, misfit_Nm_, covariance_;
  double degrees_ = 1.0;
};

}  // namespace

UnitDragFit fit_unit_drag(const UnitDragRun& run) {
  require_plausible(run);
  return Fitter(run).fit();
}

}  // namespace ohmdrag::rig
