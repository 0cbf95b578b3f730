#include "rig/endurance_torque.hpp"

#include <cmath>

#include "rig/endurance_population.hpp"

namespace ohmdrag::rig {

namespace {

/// Fewer decades tell no fall per decade; common practice, no source.
constexpr double least_decades = 1.0;

struct Fall {
  double per_decade = 0.0;
  double variance = 0.0;
  double degrees = 1.0;
};

std::optional<Fall> fall_of(const EnduranceSpecimen& specimen) {
  std::vector<double> decades, torque;
  for (std::size_t j = 0; j < specimen.torque.size(); ++j) {
    if (!(specimen.time[j].value() > 0.0) || !std::isfinite(specimen.torque[j].value())) continue;
    decades.push_back(std::log10(specimen.time[j].value()));
    torque.push_back(specimen.torque[j].value());
  }
  if (decades.size() < fewest_readings || decades.back() - decades.front() < least_decades)
    return std::nullopt;
  const auto line = numerics::least_squares(
      numerics::with_slopes<2>([&](const auto& p, std::size_t j) {
        return p[0] + p[1] * (decades[j] - decades.front()) - torque[j];
      }),
      decades.size(), std::vector<numerics::FitParameter>{{torque.front()}, {0.0}},
      {.loss = numerics::Loss::huber});
  const double begin = line.parameter[0];
  if (!(begin > 0.0)) return std::nullopt;
  const double error = line.standard_error(1) / begin;
  return Fall{-line.parameter[1] / begin, error * error,
              static_cast<double>(line.degrees_of_freedom)};
}

}  // namespace

std::optional<Interval> torque_fall(const EnduranceRun& run, std::vector<std::string>& notes) {
  CurveSample sample;
  bool measured = false;
  for (const EnduranceSpecimen& specimen : run.specimens) {
    measured = measured || !specimen.torque.empty();
    if (const auto fall = fall_of(specimen)) {
      sample.value.push_back(fall->per_decade);
      sample.noise_variance = fall->variance;  // counts where it is the only one
      sample.noise_degrees = fall->degrees;
    }
  }
  if (!measured) return std::nullopt;
  if (sample.value.empty()) {
    notes.emplace_back(
        "The torque is not measured over a decade of hours, or is not positive: how it relaxes is "
        "not told. Read it "
        "from the first hour on.");
    return std::nullopt;
  }
  const auto m = static_cast<double>(sample.value.size());
  for (const double value : sample.value) sample.mean += value / m;
  double squares = 0.0;
  for (const double value : sample.value) squares += std::pow(value - sample.mean, 2);
  if (m > 1.0) sample.deviation = std::sqrt(squares / (m - 1.0));
  return sample.middle();
}

}  // namespace ohmdrag::rig
