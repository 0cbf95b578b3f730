#include "ohmdrag/rig/steady_windows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>
#include <stdexcept>

#include "ohmdrag/quantity/print.hpp"

namespace ohmdrag::rig {

namespace {

constexpr double at_rest_rpm = 1.0;
constexpr double same_speed = 0.02, same_speed_rpm = 5.0;
constexpr double most_drift = 0.05;
/// A drift within so many of its standard errors is noise.
constexpr double drift_in_errors = 3.0;
/// A stretch longer than this share of the log is split into windows of half that length or more.
constexpr double long_stretch = 0.1;

struct Mean {
  double value = 0.0;
  double standard_error = 0.0;
};

double mean_of(std::span<const double> x) {
  double sum = 0.0;
  for (const double value : x) sum += value;
  return sum / static_cast<double>(x.size());
}

Mean mean_of_followers(std::span<const double> x) {
  const auto n = static_cast<double>(x.size());
  const double mean = mean_of(x);
  double squares = 0.0, products = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    squares += (x[i] - mean) * (x[i] - mean);
    if (i > 0) products += (x[i] - mean) * (x[i - 1] - mean);
  }
  if (!(squares > 0.0)) return {mean, 0.0};
  // Held below one: a window that only drifts is told apart by its drift.
  const double following = std::clamp(products / squares, 0.0, 1.0 - 2.0 / n);
  return {mean, std::sqrt(squares / (n - 1.0) / n * (1.0 + following) / (1.0 - following))};
}

/// Samples to cut from the begin: where the rest, cut further, would know its mean no better.
std::size_t settling_samples(std::span<const double> x) {
  double sum = 0.0, squares = 0.0, least = std::numeric_limits<double>::infinity();
  const double shift = mean_of(x);  // against cancellation
  std::size_t best = 0;
  for (std::size_t i = x.size(); i-- > 0;) {
    const double value = x[i] - shift;
    sum += value;
    squares += value * value;
    if (i > x.size() / 2) continue;
    const auto n = static_cast<double>(x.size() - i);
    const double marginal = (squares - sum * sum / n) / (n * n);
    if (marginal <= least) {
      least = marginal;
      best = i;
    }
  }
  return best;
}

/// How much a straight line through the samples changes over their length, and how far that may
/// come of noise alone.
Mean drift_of(std::span<const double> x) {
  const auto n = static_cast<double>(x.size());
  const double mean = mean_of(x), middle = 0.5 * (n - 1.0);
  const double spread = n * (n * n - 1.0) / 12.0;
  double slope = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i)
    slope += (static_cast<double>(i) - middle) * (x[i] - mean) / spread;
  std::vector<double> rest;
  rest.reserve(x.size());
  for (std::size_t i = 0; i < x.size(); ++i)
    rest.push_back(x[i] - slope * (static_cast<double>(i) - middle));
  // The standard error of a slope over that of a mean: sqrt(12)/n.
  return {slope * n, std::sqrt(12.0) * mean_of_followers(rest).standard_error};
}

void require_sound(const TorqueLog& log) {
  const std::size_t n = log.time.size();
  if (log.speed.size() != n || log.torque.size() != n ||
      (!log.temperature.empty() && log.temperature.size() != n))
    throw std::invalid_argument("the columns of the log differ in length");
  for (std::size_t i = 0; i < n; ++i) {
    if (!std::isfinite(log.time[i].value()) || !std::isfinite(log.speed[i].value()) ||
        !std::isfinite(log.torque[i].value()))
      throw std::invalid_argument(fmt::format("sample {} holds a value that is no number", i + 1));
    if (i > 0 && !(log.time[i] > log.time[i - 1]))
      throw std::invalid_argument(fmt::format(
          "time runs back or stands at sample {}: {} s after {} s. Are two logs joined, is it "
          "another column?",
          i + 1, print_number(log.time[i].value(), 6), print_number(log.time[i - 1].value(), 6)));
  }
}

class Finder {
 public:
  explicit Finder(const TorqueLog& log) : log_(log) {
    for (const Torque& torque : log.torque) torque_.push_back(torque.value());
  }

  SteadyWindows windows() {
    std::size_t begin = 0;
    while (begin < torque_.size()) {
      const std::size_t end = stretch_end(begin);
      if (rests(begin))
        out_.at_rest += end - begin;
      else if (end - begin < 2 * fewest_in_window)
        out_.between += end - begin;
      else
        take_stretch(begin, end);
      begin = end;
    }
    return std::move(out_);
  }

 private:
  double rpm(std::size_t i) const { return in_rpm(log_.speed[i]); }
  bool rests(std::size_t i) const { return std::abs(rpm(i)) < at_rest_rpm; }

  std::size_t stretch_end(std::size_t begin) const {
    std::size_t end = begin + 1;
    const double reference = rpm(begin);
    const double within = std::max(same_speed * std::abs(reference), same_speed_rpm);
    while (end < torque_.size() && rests(end) == rests(begin) &&
           (rests(begin) || std::abs(rpm(end) - reference) <= within))
      ++end;
    return end;
  }

  void take_stretch(std::size_t begin, std::size_t end) {
    const std::span<const double> all(torque_);
    const auto longest =
        std::max(2 * fewest_in_window,
                 static_cast<std::size_t>(long_stretch * static_cast<double>(torque_.size())));
    const std::size_t length = end - begin;
    const std::size_t parts = length > longest ? (2 * length + longest - 1) / longest : 1;
    for (std::size_t k = 0; k < parts; ++k) {
      std::size_t from = begin + k * length / parts;
      const std::size_t to = begin + (k + 1) * length / parts;
      if (k == 0) {
        const std::size_t cut = settling_samples(all.subspan(from, to - from));
        out_.settling += cut;
        from += cut;
      }
      take_window(from, to);
    }
  }

  void take_window(std::size_t from, std::size_t to) {
    const std::size_t n = to - from;
    const auto samples = std::span<const double>(torque_).subspan(from, n);
    if (n < fewest_in_window) {
      out_.between += n;
      return;
    }
    const Mean mean = mean_of_followers(samples);
    const Mean drift = drift_of(samples);
    if (std::abs(drift.value) > most_drift * std::abs(mean.value) &&
        std::abs(drift.value) > drift_in_errors * drift.standard_error) {
      out_.drifting += n;
      return;
    }
    SteadyWindow window;
    window.middle = 0.5 * (log_.time[from] + log_.time[to - 1]);
    window.speed = AngularVelocity::from_value(mean_over(from, to, log_.speed));
    window.torque = Torque::from_value(mean.value);
    window.standard_error = Torque::from_value(mean.standard_error);
    if (!log_.temperature.empty())
      window.temperature = Temperature::from_value(mean_over(from, to, log_.temperature));
    window.samples = n;
    out_.windows.push_back(window);
  }

  template <class Q>
  static double mean_over(std::size_t from, std::size_t to, const std::vector<Q>& column) {
    double sum = 0.0;
    for (std::size_t i = from; i < to; ++i) sum += column[i].value();
    return sum / static_cast<double>(to - from);
  }

  const TorqueLog& log_;
  std::vector<double> torque_;
  SteadyWindows out_;
};

}  // namespace

SteadyWindows steady_windows(const TorqueLog& log) {
  require_sound(log);
  return Finder(log).windows();
}

}  // namespace ohmdrag::rig
