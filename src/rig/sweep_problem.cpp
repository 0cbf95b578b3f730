#include "rig/sweep_problem.hpp"

#include <cmath>
#include <numeric>
#include <stdexcept>

namespace ohmdrag::rig {

namespace {

using Complex = std::complex<double>;
using numerics::FitParameter;
using numerics::LeastSquaresFit;
using enum CircuitPart;

/// A search that goes on longer runs after something that is not there.
constexpr int most_steps = 150;
/// Relative residuals below are rounding, whatever the search says.
constexpr double rounding = 1e-11;

double& at(CircuitSizes& sizes, CircuitPart part) { return sizes[static_cast<std::size_t>(part)]; }
double at(const CircuitSizes& sizes, CircuitPart part) {
  return sizes[static_cast<std::size_t>(part)];
}

}  // namespace

std::vector<CircuitPart> parts_of(SweepModel model) {
  switch (model) {
    case SweepModel::resistance:
      return {resistance};
    case SweepModel::with_inductance:
      return {resistance, inductance};
    case SweepModel::beside_capacitance:
      return {resistance, capacitance};
    case SweepModel::inductance_beside_capacitance:
      return {resistance, inductance, capacitance};
    case SweepModel::with_film:
      return {resistance, film_resistance, film_capacitance};
    case SweepModel::inductance_with_film:
      break;
  }
  return {resistance, inductance, film_resistance, film_capacitance};
}

voltage::GroundingPath path_of(const CircuitSizes& sizes) {
  voltage::GroundingPath path{Resistance::from_value(at(sizes, resistance)),
                              Inductance::from_value(at(sizes, inductance)),
                              {},
                              Capacitance::from_value(at(sizes, capacitance))};
  if (at(sizes, film_resistance) > 0.0)
    path.films.push_back({Resistance::from_value(at(sizes, film_resistance)),
                          Capacitance::from_value(at(sizes, film_capacitance))});
  return path;
}

CircuitPoint circuit_at(const CircuitSizes& sizes, double w_rad_s) {
  const Complex jw{0.0, w_rad_s};
  const double r = at(sizes, resistance), l = at(sizes, inductance), c = at(sizes, capacitance);
  const double rf = at(sizes, film_resistance);
  const Complex charging = jw * rf * at(sizes, film_capacitance), film = 1.0 + charging;
  const Complex branch = r + jw * l + rf / film;
  const Complex beside = 1.0 + jw * c * branch;
  const Complex passed = 1.0 / (beside * beside);  // dZ over d branch
  CircuitPoint point{branch / beside, {}};
  const auto slope = [&](CircuitPart part) -> Complex& {
    return point.slope[static_cast<std::size_t>(part)];
  };
  slope(resistance) = passed * r;
  slope(inductance) = passed * jw * l;
  slope(capacitance) = -jw * c * point.ohm * point.ohm;
  slope(film_resistance) = passed * rf / (film * film);
  slope(film_capacitance) = -passed * rf * charging / (film * film);
  return point;
}

SweepProblem::SweepProblem(const Sweep& sweep, SweepModel model)
    : sweep_(sweep), model_(model), parts_(parts_of(model)) {}

CircuitSizes SweepProblem::sizes(const std::vector<double>& parameters) const {
  CircuitSizes out{};
  for (std::size_t j = 0; j < parts_.size(); ++j) at(out, parts_[j]) = std::exp(parameters[j]);
  return out;
}

LeastSquaresFit SweepProblem::from(const std::vector<double>& start, numerics::Loss loss,
                                   const std::vector<std::size_t>& points) const {
  std::vector<std::size_t> taken = points;
  if (taken.empty()) {
    taken.resize(sweep_.size());
    std::iota(taken.begin(), taken.end(), std::size_t{0});
  }
  const std::size_t n = parts_.size();
  const auto evaluate = [&](std::span<const double> parameters, std::span<double> residuals,
                            std::span<double> slopes) {
    const CircuitSizes here = sizes({parameters.begin(), parameters.end()});
    for (std::size_t i = 0; i < taken.size(); ++i) {
      const SweepPoint& measured = sweep_[taken[i]];
      const CircuitPoint model = circuit_at(here, angular_frequency(measured));
      const double size = std::abs(measured.ohm);
      const Complex missed = (model.ohm - measured.ohm) / size;
      residuals[2 * i] = missed.real();
      residuals[2 * i + 1] = missed.imag();
      for (std::size_t j = 0; j < n; ++j) {
        const Complex slope = model.slope[static_cast<std::size_t>(parts_[j])] / size;
        slopes[2 * i * n + j] = slope.real();
        slopes[(2 * i + 1) * n + j] = slope.imag();
      }
    }
  };
  std::vector<FitParameter> parameters;
  for (const double value : start) parameters.push_back({.start = value});
  LeastSquaresFit fit = numerics::least_squares(evaluate, 2 * taken.size(), parameters,
                                                {.loss = loss, .most_steps = most_steps});
  if (fit.deviation < rounding) fit.converged = true;
  return fit;
}

LeastSquaresFit SweepProblem::from_scratch() const {
  LeastSquaresFit best;
  for (const CircuitSizes& guess : guesses(sweep_, model_)) {
    std::vector<double> start;
    for (const CircuitPart part : parts_) start.push_back(std::log(at(guess, part)));
    LeastSquaresFit fit = from(start, numerics::Loss::squares);
    const bool better =
        best.parameter.empty() || (fit.converged && !best.converged) ||
        (fit.converged == best.converged && fit.sum_of_squares < best.sum_of_squares);
    if (better) best = std::move(fit);
  }
  return best;
}

}  // namespace ohmdrag::rig
