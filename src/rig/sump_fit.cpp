#include "ohmdrag/rig/sump_fit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/numerics/least_squares.hpp"
#include "ohmdrag/quantity/distribution.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "rig/sump_problem.hpp"

namespace ohmdrag::rig {

namespace {

using numerics::LeastSquaresFit;

/// Residuals that follow each other more closely are said aloud, unless they are rounding.
constexpr double close_residuals = 0.9, least_residual_K = 1e-3;

/// What the fit of a run tells.
class Fitter {
 public:
  Fitter(const SumpRun& run, SumpFit& out) : run_(run), out_(out), problem_(run, out.notes) {
    out.samples = problem_.samples();
    out.duration = Time::from_value(problem_.duration_s());
  }

  void run() {
    fit_ = numerics::least_squares(
        [this](auto at, auto residuals, auto slopes) { problem_.evaluate(at, residuals, slopes); },
        out_.samples, problem_.start(), {.loss = numerics::Loss::huber});
    if (!fit_.converged)
      throw std::invalid_argument(
          "the search finds no end: the log is not that of one warm body with a constant heat "
          "capacity and conductance");
    out_.outliers = fit_.outliers.size();
    out_.residual_rms = TemperatureDifference::from_value(
        std::sqrt(fit_.sum_of_squares / static_cast<double>(out_.samples)));
    weigh_residuals();
    report_parameters();
    report_end();
  }

 private:
  /// How many independent samples tell as much, from the residuals one sample apart.
  void weigh_residuals() {
    double products = 0.0, squares = 0.0;
    std::size_t datum = 0;
    for (const SumpSteps& piece : problem_.pieces()) {
      for (std::size_t i = 0; i < piece.measured_K.size(); ++i, ++datum) {
        squares += fit_.residual[datum] * fit_.residual[datum];
        if (i > 0) products += fit_.residual[datum] * fit_.residual[datum - 1];
      }
    }
    out_.lag_one = squares > 0.0 ? products / squares : 0.0;
    const double following = std::max(out_.lag_one, 0.0);
    const auto n = static_cast<double>(out_.samples);
    out_.effective_samples = n * (1.0 - following) / (1.0 + following);
    widening_ = n / out_.effective_samples;
    degrees_ = std::max(1.0, out_.effective_samples - static_cast<double>(fit_.parameter.size()));
    if (out_.lag_one > close_residuals && out_.residual_rms.value() > least_residual_K)
      out_.notes.push_back(fmt::format(
          "The residuals follow each other closely ({:.3f} from a sample to the next): beside "
          "noise there is something that the one-node model does not know. The intervals are "
          "widened for it, as if there were {:.0f} samples.",
          out_.lag_one, out_.effective_samples));
  }

  /// A value whose slopes over the parameters are known.
  template <class Q>
  Estimate<Q> estimate(double value, const std::vector<double>& slopes, double heat_share) const {
    double variance = 0.0;
    const std::size_t n = fit_.parameter.size();
    for (std::size_t i = 0; i < n; ++i)
      for (std::size_t j = 0; j < n; ++j)
        if (slopes[i] != 0.0 && slopes[j] != 0.0)
          variance += slopes[i] * slopes[j] * fit_.covariance[i * n + j];
    const double of_noise = std::sqrt(variance * widening_);
    const double of_heat = heat_share * run_.heat_uncertainty * value;
    return {
        Q::from_value(value), Q::from_value(std::hypot(of_noise, of_heat)),
        Q::from_value(std::hypot(numerics::student_95(degrees_) * of_noise, normal_95 * of_heat))};
  }
  std::vector<double> slope_of(std::size_t parameter) const {
    std::vector<double> slopes(fit_.parameter.size());
    slopes[parameter] = 1.0;
    return slopes;
  }
  template <class Q>
  static bool told(const Estimate<Q>& estimate) {
    return estimate.half_width.value() <= told_within * std::abs(estimate.value.value());
  }

  void report_parameters() {
    if (problem_.heat() == Heat::none) {
      // Parameter: G/C.
      const double rate = fit_.parameter[0];
      std::vector<double> slopes(fit_.parameter.size());
      slopes[0] = -1.0 / (rate * rate);
      out_.time_constant = estimate<Time>(1.0 / rate, slopes, 0.0);
      keep_time_constant();
      return;
    }
    const double capacity = fit_.parameter[0], standing = fit_.parameter[1];
    const double air = problem_.with_air() ? problem_.mean_air() : 0.0;
    const double conductance = standing + (problem_.with_air() ? air * fit_.parameter[2] : 0.0);
    std::vector<double> slopes(fit_.parameter.size());
    slopes[0] = 1.0 / conductance;
    slopes[1] = -capacity / (conductance * conductance);
    if (problem_.with_air()) slopes[2] = air * slopes[1];
    out_.time_constant = estimate<Time>(capacity / conductance, slopes, 0.0);
    if (problem_.heat() == Heat::unknown) {
      slopes = slope_of(1);
      slopes[1] = -1.0 / (conductance * conductance);
      out_.final_rise = estimate<TemperatureDifference>(1.0 / conductance, slopes, 0.0);
      if (!told(*out_.final_rise)) out_.final_rise.reset();
      keep_time_constant();
      return;
    }
    out_.heat_capacity = estimate<HeatCapacity>(capacity, slope_of(0), 1.0);
    out_.conductance = estimate<ThermalConductance>(standing, slope_of(1), 1.0);
    out_.correlation = correlation();
    if (problem_.with_air()) keep_air();
    drop_what_is_not_told(conductance);
  }

  /// Of capacity and conductance, with the heat's common share.
  double correlation() const {
    const double c = fit_.parameter[0], g = fit_.parameter[1];
    const double common = run_.heat_uncertainty * run_.heat_uncertainty * c * g;
    return (widening_ * fit_.covariance[1] + common) /
           (out_.heat_capacity->standard_error.value() * out_.conductance->standard_error.value());
  }

  void keep_air() {
    out_.air_stream = estimate<ThermalConductance>(fit_.parameter[2], slope_of(2), 1.0);
    if (out_.air_stream->value - out_.air_stream->half_width > ThermalConductance{}) return;
    out_.air_stream.reset();
    out_.notes.emplace_back(
        "The log does not tell what the air stream adds: its interval holds zero. Fit without it.");
  }

  void keep_time_constant() {
    if (told(*out_.time_constant) && out_.time_constant->value > Time{}) return;
    out_.time_constant.reset();
    out_.notes.emplace_back(
        "The log is too short to tell the time constant: let it run until the temperature visibly "
        "levels off.");
  }

  void drop_what_is_not_told(double conductance) {
    const Estimate<Time> tau = *out_.time_constant;
    const bool capacity_told = told(*out_.heat_capacity);
    const bool conductance_told = told(*out_.conductance);
    if (conductance_told && conductance < 0.0)
      throw std::invalid_argument(
          "the conductance comes out negative: the oil warms the faster the hotter it is. More "
          "heat "
          "reaches it than the log says, or the heat grows as it warms");
    if (!(told(tau) && conductance_told && capacity_told)) {
      out_.time_constant.reset();
      out_.correlation.reset();
    }
    if (!conductance_told) {
      out_.conductance.reset();
      out_.air_stream.reset();
      const double share = conductance > 0.0 ? (out_.duration / tau.value).value() : 0.0;
      out_.notes.push_back(fmt::format(
          "The log covers {} time constants: only the heat capacity over the heat is known, the "
          "conductance is not. Let it run for two time constants or more.",
          share > 0.0 ? "about " + print_number(share, 1) : "too few"));
    }
    if (!capacity_told) {
      out_.heat_capacity.reset();
      out_.notes.emplace_back(
          "The log tells no heat capacity: the oil had settled, or its heat follows its "
          "temperature. Begin with cold oil.");
    }
  }

  void report_end() {
    const std::size_t n = fit_.parameter.size();
    std::vector<double> residuals(out_.samples), slopes(out_.samples * n);
    problem_.evaluate(fit_.parameter, residuals, slopes);
    out_.end_measured = Temperature::from_value(problem_.pieces().back().measured_K.back());
    const double modelled = problem_.pieces().back().measured_K.back() - residuals.back();
    out_.end_modelled = Temperature::from_value(modelled);
    const auto last = slopes.end() - static_cast<std::ptrdiff_t>(n);
    out_.end_error =
        estimate<TemperatureDifference>(modelled, {last, slopes.end()}, 0.0).standard_error;
  }

  const SumpRun& run_;
  SumpFit& out_;
  SumpProblem problem_;
  LeastSquaresFit fit_;
  double widening_ = 1.0;
  double degrees_ = 1.0;
};

}  // namespace

SumpFit fit_sump(const SumpRun& run) {
  SumpFit fit;
  require_plausible(run, fit.notes);
  Fitter(run, fit).run();
  return fit;
}

}  // namespace ohmdrag::rig
