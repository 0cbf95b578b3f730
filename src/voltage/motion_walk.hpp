#pragma once

#include <algorithm>
#include <boost/container/small_vector.hpp>
#include <cmath>
#include <complex>

#include "voltage/motion.hpp"
#include "voltage/plain_complex.hpp"

/// The way through a motion in time by samples. Kernel of motion.cpp; SI throughout.
namespace ohmdrag::voltage {

/// dv/dt of one term at the start.
inline std::complex<double> first_slope(const Term& term) {
  return product(term.free_V, term.rate_per_s) + term.driven_V_per_s;
}

struct Sample {
  double t_s = 0.0;
  double v_V = 0.0;
};

/// Samples of a motion at distances that grow as its fast terms die out.
class Walk {
 public:
  /// Stands nowhere until start_before().
  Walk(const Motion& motion, double longest_step_s)
      : motion_(motion), longest_step_s_(longest_step_s) {
    // What a slope adds counts for as long as the walk takes: a slow term has no other size.
    const double walked_s = 2.0 * longest_step_s;
    double largest_V = 0.0;
    for (const Term& term : motion) {
      const double rate = size(term.rate_per_s);
      steady_V_ += term.free_V.real();
      Running running;
      running.free_size_V = size(term.free_V);
      running.size_V =
          running.free_size_V + size(term.driven_V_per_s) * std::min(walked_s, 1.0 / rate);
      if (rate > 0.0) {
        running.amplitude_V = term.free_V + quotient(term.driven_V_per_s, term.rate_per_s);
        running.step_s = sample_angle / rate;
      } else {
        line_V_per_s_ += term.driven_V_per_s.real();
      }
      largest_V = std::max(largest_V, running.size_V);
      running_.push_back(running);
    }
    const double least_V = negligible * largest_V;
    unsure_V_ = least_V * static_cast<double>(motion.size());
    for (std::size_t k = 0; k < motion.size(); ++k) {
      Running& running = running_[k];
      const double decay = -motion[k].rate_per_s.real();
      if (running.size_V > least_V && running.step_s < never_s)
        running.counts_until_s = decay > 0.0 ? std::log(running.size_V / least_V) / decay : never_s;
    }
  }

  double t_s() const { return t_s_; }
  double step_s() const { return step_s_; }

  double v_V() const {
    double v = steady_V_ + rested_V_ + line_V_per_s_ * t_s_;
    for (const Still& s : still_) v += s.amplitude_V * s.grown;
    for (const Swinging& s : swinging_)
      v += s.amplitude_V.real() * s.grown.real() - s.amplitude_V.imag() * s.grown.imag();
    return v;
  }

  /// How far a sample may be off the motion: terms that no longer count stand for their end values.
  double unsure_V() const { return unsure_V_; }

  /// One step back: a stationary point right after the time lies between samples, too.
  void start_before(double t_s) {
    set_step(t_s);
    t_s_ = t_s - step_s_;
    anchor();
  }

  void advance() {
    t_s_ += step_s_;
    if (t_s_ > next_change_s_) {
      set_step(t_s_);
      anchor();
      return;
    }
    for (Still& s : still_) s.grown += s.factor + s.grown * s.factor;
    for (Swinging& s : swinging_) s.grown += s.factor + product(s.grown, s.factor);
  }

  /// No later |v| is above this; for motions that nothing drives.
  double bound_V() const {
    double sum_V = 0.0;
    for (std::size_t k = 0; k < running_.size(); ++k)
      sum_V += running_[k].free_size_V * std::exp(motion_[k].rate_per_s.real() * t_s_);
    return sum_V;
  }

  /// A time, not before `from`, up to which sign * v cannot have come down to the level. In leaps
  /// that spare many steps; `from` where the first would not.
  double above_until_s(double sign, double level_V, double from_s, double end_s) {
    constexpr double least_steps = 6.0;  // cost as much as the exponentials of a leap
    while (from_s < end_s) {
      const double leap_s = safe_leap_s(sign, level_V, from_s);
      set_step(from_s);
      if (!(leap_s > least_steps * step_s_)) break;
      from_s += leap_s;
    }
    return from_s;
  }

 private:
  /// Sample distance over 1/|rate|: a parabola through three samples of a sine misses its crest by
  /// less than 1e-4.
  static constexpr double sample_angle = 0.4;
  /// A term below this share of the largest one no longer sets the distance of samples.
  static constexpr double negligible = 3e-5;
  /// Of most motions there are no more terms.
  static constexpr std::size_t usual_terms = 6;

  struct Running {
    std::complex<double> amplitude_V;
    double free_size_V = 0.0;
    double size_V = 0.0;
    double step_s = never_s;
    double counts_until_s = -never_s;
  };
  /// A term that runs, whether it swings or not.
  template <class Number>
  struct Grown {
    Number amplitude_V;
    Number grown;   ///< exp(rate t) - 1
    Number factor;  ///< exp(rate step) - 1
  };
  using Still = Grown<double>;
  using Swinging = Grown<std::complex<double>>;

  /// How long sign * v certainly stays above a level after a time: as no term of a passive circuit
  /// grows, its slope is never steeper than now, nor is any swing higher. Negative where nothing is
  /// certain.
  double safe_leap_s(double sign, double level_V, double t_s) const {
    double v_V = steady_V_ + line_V_per_s_ * t_s, unswung_V = v_V, swings_V = 0.0;
    double fall = std::max(0.0, -sign * line_V_per_s_), swing_fall = 0.0;  // V/s, at most
    for (std::size_t k = 0; k < running_.size(); ++k) {
      const Term& term = motion_[k];
      const std::complex<double> amplitude = running_[k].amplitude_V;
      if (term.rate_per_s.real() > 0.0) return -1.0;
      if (term.rate_per_s.imag() == 0.0) {
        const double grown = std::expm1(term.rate_per_s.real() * t_s);
        v_V += amplitude.real() * grown;
        unswung_V += amplitude.real() * grown;
        fall += std::max(0.0, -sign * term.rate_per_s.real() * amplitude.real() * (1.0 + grown));
        continue;
      }
      const std::complex<double> grown = exp_less_one(term.rate_per_s * t_s);
      const double left_V = size(product(amplitude, 1.0 + grown));
      v_V += product(amplitude, grown).real();
      unswung_V -= amplitude.real();
      swings_V += left_V;
      swing_fall += left_V * size(term.rate_per_s);
    }
    return std::max((sign * v_V - level_V) / (fall + swing_fall),
                    (sign * unswung_V - swings_V - level_V) / fall);
  }

  void set_step(double at_s) {
    step_s_ = longest_step_s_;
    next_change_s_ = never_s;
    for (const Running& running : running_)
      if (running.counts_until_s > at_s) {
        step_s_ = std::min(step_s_, running.step_s);
        next_change_s_ = std::min(next_change_s_, running.counts_until_s);
      }
  }

  void anchor() {
    rested_V_ = 0.0;
    still_.clear();
    swinging_.clear();
    for (std::size_t k = 0; k < running_.size(); ++k) {
      const std::complex<double> rate = motion_[k].rate_per_s, amplitude = running_[k].amplitude_V;
      // What is faster than the steps has died out or never counted. It stands for its end value:
      // one step back it would grow beyond all bounds.
      if (!(step_s_ <= running_[k].step_s * (1.0 + 1e-9)))
        rested_V_ -= amplitude.real();
      else if (rate.imag() == 0.0)
        still_.push_back(
            {amplitude.real(), std::expm1(rate.real() * t_s_), std::expm1(rate.real() * step_s_)});
      else
        swinging_.push_back({amplitude, exp_less_one(rate * t_s_), exp_less_one(rate * step_s_)});
    }
  }

  const Motion& motion_;
  double t_s_ = 0.0;
  double longest_step_s_;
  double step_s_ = 0.0;
  double next_change_s_ = never_s;
  double steady_V_ = 0.0;
  double unsure_V_ = 0.0;
  double rested_V_ = 0.0;  ///< of the terms that have died out
  double line_V_per_s_ = 0.0;
  boost::container::small_vector<Running, usual_terms> running_;
  boost::container::small_vector<Still, usual_terms> still_;
  boost::container::small_vector<Swinging, usual_terms> swinging_;
};

}  // namespace ohmdrag::voltage
