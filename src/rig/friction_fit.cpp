#include "ohmdrag/rig/friction_fit.hpp"

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "ohmdrag/quantity/distribution.hpp"
#include "rig/friction_choice.hpp"
#include "rig/friction_remarks.hpp"

namespace ohmdrag::rig {

namespace {

/// AICc has to speak for a run-in by this much, and its term to begin with this share, before
/// readings are left out until it has fallen to the last.
constexpr double run_in_gain = no_support, run_in_begins = 0.02, run_in_ends = 0.01;
constexpr double same_speed = 0.03;
/// Of one element's share p of the torque of two, uniform from 0.3 to 0.7: standard deviation of
/// 2p.
const double share_scatter = 0.4 * 2.0 / std::sqrt(12.0);

/// What is told of the chosen form: its constants, then the torques of its curve.
struct Outputs {
  std::vector<double> value;
  std::vector<std::vector<double>> slopes;  ///< over the parameters of the fit
};

class Fitter {
 public:
  explicit Fitter(const FrictionRun& run) : run_(run), problem_(run, out_.notes) {}

  FrictionFit fit() {
    forms_ = friction_forms(run_, problem_.mean_friction(), out_.notes);
    nuisance_.sweeps = problem_.two_sweeps();
    leave_out_run_in();
    choice_ = choose_form(problem_, forms_, nuisance_, out_.notes);
    form_ = choice_.tried[choice_.chosen].form;
    fit_ = problem_.fit(*form_, nuisance_, numerics::Loss::huber);
    if (!fit_.converged) throw std::invalid_argument("the search for the law finds no end");
    at_ = problem_.columns(*form_, nuisance_);
    find_speeds();
    tell_specimens();
    tell_sweeps();
    tell_law();
    tell_points();
    tell_compared();
    add_friction_remarks(run_, problem_, choice_, out_);
    return std::move(out_);
  }

 private:
  void leave_out_run_in() {
    const auto& data = problem_.data();
    const bool timed = std::ranges::all_of(data, [&](const FrictionDatum& datum) {
      return run_.points[datum.point].time.has_value();
    });
    const FrictionForm& form =
        forms_.front().parameters.size() > 1 && forms_.size() > 1 && problem_.distinct_speeds() < 3
            ? forms_[1]
            : forms_.front();
    Nuisance with = nuisance_;
    with.run_in = true;
    const std::size_t needed = problem_.columns(form, with).count + 3;
    if (!timed || data.size() < needed) return;
    const auto plain = problem_.fit(form, nuisance_, numerics::Loss::squares);
    const auto rising = problem_.fit(form, with, numerics::Loss::squares);
    const std::size_t at = problem_.columns(form, nuisance_).count;
    if (!plain.aicc || !rising.aicc || !rising.untold.empty() ||
        !(*plain.aicc - *rising.aicc >= run_in_gain))
      return;
    const double rise = rising.parameter[at], time_s = rising.parameter[at + 1];
    double first_s = data.front().time_s;
    for (const FrictionDatum& datum : data) first_s = std::min(first_s, datum.time_s);
    if (rise * std::exp(-first_s / time_s) < run_in_begins || !(rise > rising.half_width(at)))
      return;
    FrictionFit::RunIn run_in{
        {rise, rising.standard_error(at), rising.half_width(at)},
        {Time::from_value(time_s), Time::from_value(rising.standard_error(at + 1)),
         Time::from_value(rising.half_width(at + 1))},
        Time::from_value(time_s * std::log(rise / run_in_ends)),
        0};
    FrictionProblem settled = problem_.from(run_in.ended.value());
    if (settled.data().size() >= std::max(fewest_friction_points, needed)) {
      run_in.left_out = data.size() - settled.data().size();
      problem_ = std::move(settled);
      nuisance_.sweeps = problem_.two_sweeps();
    } else {
      nuisance_ = with;
    }
    out_.run_in = run_in;
  }

  void find_speeds() {
    std::vector<FrictionDatum> sorted = problem_.data();
    std::ranges::sort(sorted, {}, [](const FrictionDatum& d) { return d.state.speed_m_s; });
    double viscosities = 0.0;
    std::size_t count = 0;
    for (const FrictionDatum& datum : sorted) {
      if (states_.empty() ||
          datum.state.speed_m_s > (1.0 + same_speed) * states_.back().speed_m_s) {
        states_.push_back(datum.state);
        viscosities = 0.0;
        count = 0;
      }
      viscosities += datum.state.viscosity_Pa_s;
      ++count;
      states_.back().viscosity_Pa_s = viscosities / static_cast<double>(count);
    }
    const auto turning = [&](double speed_m_s) {
      return AngularVelocity::from_value(2.0 * speed_m_s / run_.diameter.value());
    };
    out_.least_speed = turning(sorted.front().state.speed_m_s);
    out_.highest_speed = turning(sorted.back().state.speed_m_s);
    for (const FrictionDatum& datum : problem_.data()) {
      const auto& t = run_.points[datum.point].temperature;
      if (!t) continue;
      if (!out_.temperatures) out_.temperatures = {*t, *t};
      out_.temperatures->first = std::min(out_.temperatures->first, *t);
      out_.temperatures->second = std::max(out_.temperatures->second, *t);
    }
  }

  void tell_specimens() {
    const std::size_t n = problem_.specimens().size();
    out_.resolved_pairs = problem_.resolved_pairs();
    if (n > 1) {
      double squares = 0.0, noise = 0.0;
      std::vector<double> slopes(at_.count);
      for (std::size_t i = 0; i < n; ++i) {
        std::ranges::fill(slopes, 0.0);
        const double level = FrictionProblem::level(i, n, at_.levels, fit_.parameter, slopes);
        const double error = std::sqrt(variance(slopes));
        out_.specimens.push_back({problem_.specimens()[i], {level, error, student() * error}});
        squares += (level - 1.0) * (level - 1.0);
        noise += error * error / static_cast<double>(n);
      }
      tell_scatter(squares, noise);
    }
    if (run_.elements == 2 && !out_.resolved_pairs && n < 3) {
      out_.part_scatter = share_scatter;
      out_.part_scatter_interval.reset();
    }
  }

  /// Method of moments: what the levels scatter beyond their own errors.
  void tell_scatter(double squares, double noise) {
    const double degrees = static_cast<double>(problem_.specimens().size()) - 1.0;
    // Means of two scatter less than one.
    const double parts = run_.elements == 2 && !out_.resolved_pairs ? 2.0 : 1.0;
    const auto beyond = [&](double variance) {
      return std::sqrt(parts * std::max(0.0, variance - noise));
    };
    const boost::math::chi_squared distribution(degrees);
    out_.part_scatter = beyond(squares / degrees);
    out_.part_scatter_interval = {beyond(squares / quantile(distribution, 0.975)),
                                  beyond(squares / quantile(distribution, 0.025))};
    // Of the mean, half width and standard error, with Student's t of so few parts.
    const double of_mean = std::sqrt(std::max(0.0, squares / degrees - noise) / (degrees + 1.0));
    parts_error_ = of_mean;
    parts_half_ = numerics::student_95(degrees) * of_mean;
  }

  void tell_sweeps() {
    if (!nuisance_.sweeps) return;
    const std::size_t j = at_.sweeps;
    out_.hysteresis = {fit_.parameter[j], fit_.standard_error(j), fit_.half_width(j)};
  }

  double student() const {
    return numerics::student_95(static_cast<double>(fit_.degrees_of_freedom));
  }

  double variance(const std::vector<double>& slopes) const {
    double sum = 0.0;
    for (std::size_t i = 0; i < at_.count; ++i)
      for (std::size_t j = 0; j < at_.count; ++j)
        if (slopes[i] != 0.0 && slopes[j] != 0.0)
          sum += slopes[i] * slopes[j] * fit_.covariance[i * at_.count + j];
    return sum;
  }

  Outputs outputs(std::span<const double> parameters, double force_factor) const {
    Outputs out;
    const std::size_t constants = form_->parameters.size();
    for (std::size_t j = 0; j < constants; ++j) {
      out.value.push_back(parameters[j]);
      out.slopes.emplace_back(at_.count)[j] = 1.0;
    }
    std::vector<double> of_law(constants);
    const double force_N_m = run_.line_force.value() * force_factor, d = run_.diameter.value();
    for (FrictionState state : states_) {
      state.line_force_N_m = force_N_m;
      const double unit = force_N_m * std::numbers::pi * d * 0.5 * d;
      out.value.push_back(unit * form_->friction(parameters.first(constants), state, of_law));
      auto& slopes = out.slopes.emplace_back(at_.count);
      for (std::size_t j = 0; j < constants; ++j) slopes[j] = unit * of_law[j];
    }
    return out;
  }

  /// What the outputs move by with each thing that all readings share.
  std::vector<std::vector<double>> common_moves(const Outputs& from) const {
    std::vector<std::vector<double>> moves;
    const auto add = [&](const FrictionProblem& moved, double force_factor) {
      const auto fit = moved.fit(*form_, nuisance_, numerics::Loss::huber);
      const Outputs to = outputs(fit.parameter, force_factor);
      auto& move = moves.emplace_back();
      for (std::size_t k = 0; k < from.value.size(); ++k)
        move.push_back(to.value[k] - from.value[k]);
    };
    if (run_.force_uncertainty > 0.0)
      add(problem_.with_force(1.0 + run_.force_uncertainty), 1.0 + run_.force_uncertainty);
    const auto& tare = problem_.tare_errors_Nm();
    for (std::size_t knot = 0; knot < tare.size(); ++knot)
      if (tare[knot] > 0.0) add(problem_.with_tare(knot, tare[knot]), 1.0);
    if (out_.hysteresis && std::abs(out_.hysteresis->value) > out_.hysteresis->half_width)
      add(problem_.with_torque(1.0 + std::abs(out_.hysteresis->value) / std::sqrt(12.0)), 1.0);
    return moves;
  }

  /// Correlations of the constants, out of the noise and of what all readings share.
  std::vector<double> correlation_of(const Outputs& from,
                                     const std::vector<std::vector<double>>& moves) const {
    const std::size_t constants = form_->parameters.size();
    std::vector<double> covariance(constants * constants), correlation(constants * constants);
    for (std::size_t i = 0; i < constants; ++i)
      for (std::size_t j = 0; j < constants; ++j) {
        double sum = fit_.covariance[i * at_.count + j];
        for (const auto& move : moves) sum += move[i] * move[j];
        if (form_->parameters[i].level && form_->parameters[j].level)
          sum += from.value[i] * from.value[j] * parts_error_ * parts_error_;
        covariance[i * constants + j] = sum;
      }
    for (std::size_t i = 0; i < constants; ++i)
      for (std::size_t j = 0; j < constants; ++j) {
        const double scale =
            std::sqrt(covariance[i * (constants + 1)] * covariance[j * (constants + 1)]);
        correlation[i * constants + j] = i == j        ? 1.0
                                         : scale > 0.0 ? covariance[i * constants + j] / scale
                                                       : 0.0;
      }
    return correlation;
  }

  void tell_law() {
    out_.law = form_->law;
    out_.title = form_->title;
    out_.held = form_->held;
    const Outputs from = outputs(fit_.parameter, 1.0);
    const std::vector<std::vector<double>> moves = common_moves(from);
    out_.correlation = correlation_of(from, moves);
    std::vector<double> common(from.value.size());
    for (const auto& move : moves)
      for (std::size_t k = 0; k < common.size(); ++k) common[k] += move[k] * move[k];
    const auto estimate = [&](std::size_t k, bool level) {
      const double noise = variance(from.slopes[k]), value = from.value[k];
      const double parts = level ? value * parts_error_ : 0.0;
      const double parts_half = level ? value * parts_half_ : 0.0;
      return Estimate<double>{
          value, std::sqrt(noise + common[k] + parts * parts),
          std::sqrt(student() * student() * noise + normal_95 * normal_95 * common[k] +
                    parts_half * parts_half)};
    };
    const std::size_t constants = form_->parameters.size();
    for (std::size_t j = 0; j < constants; ++j) {
      const FormParameter& parameter = form_->parameters[j];
      LawParameter told{parameter.key, parameter.name, parameter.level, {}};
      if (tells(fit_, j)) told.value = estimate(j, parameter.level);
      out_.parameters.push_back(std::move(told));
    }
    for (std::size_t k = 0; k < states_.size(); ++k) {
      const auto torque = estimate(constants + k, true);
      out_.curve.push_back(
          {AngularVelocity::from_value(2.0 * states_[k].speed_m_s / run_.diameter.value()),
           {Torque::from_value(torque.value), Torque::from_value(torque.standard_error),
            Torque::from_value(torque.half_width)}});
    }
  }

  void tell_points() {
    for (std::size_t i = 0; i < problem_.data().size(); ++i) {
      const FrictionDatum& datum = problem_.data()[i];
      FittedPoint point;
      point.read = run_.points[datum.point];
      point.torque = Torque::from_value(datum.torque_Nm);
      point.modelled = Torque::from_value(datum.torque_Nm - fit_.residual[i] * datum.error_Nm);
      point.far_off = std::ranges::find(choice_.far_off, i) != choice_.far_off.end();
      out_.points.push_back(std::move(point));
    }
  }

  void tell_compared() {
    const FrictionProblem clean = problem_.without(choice_.far_off);
    for (const TriedForm& one : choice_.tried) {
      double squares = 0.0;
      for (std::size_t i = 0; i < one.fit.residual.size(); ++i)
        squares += std::pow(one.fit.residual[i] * clean.data()[i].error_Nm, 2);
      ComparedLaw law;
      law.title = one.form->title;
      law.sought = one.form->parameters.size();
      law.aicc = one.aicc;
      law.above_least = one.above_least;
      law.weight = one.weight;
      law.rms =
          Torque::from_value(std::sqrt(squares / static_cast<double>(one.fit.residual.size())));
      law.chosen = one.form == form_;
      out_.compared.push_back(std::move(law));
    }
    std::ranges::stable_sort(out_.compared, {}, &ComparedLaw::above_least);
    out_.outside_tare = problem_.outside_tare();
  }

  const FrictionRun& run_;
  FrictionFit out_;
  FrictionProblem problem_;
  std::vector<FrictionForm> forms_;
  Nuisance nuisance_;
  FormChoice choice_;
  const FrictionForm* form_ = nullptr;
  numerics::LeastSquaresFit fit_;
  FrictionProblem::Columns at_{};
  std::vector<FrictionState> states_;  ///< of the curve, at the stated force
  double parts_error_ = 0.0, parts_half_ = 0.0;
};

}  // namespace

FrictionFit fit_friction(const FrictionRun& run) { return Fitter(run).fit(); }

}  // namespace ohmdrag::rig
