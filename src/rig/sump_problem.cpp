#include "rig/sump_problem.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace ohmdrag::rig {

namespace {

using numerics::FitParameter;

constexpr std::size_t seeds = 4;  // capacity, conductance, air stream, start of the piece
constexpr std::size_t capacity_seed = 0, air_seed = 2, start_seed = 3;
using D = numerics::Dual<seeds>;

/// The air stream is fitted where its share varies by more than this, standard deviation over
/// mean; common practice, no source.
constexpr double least_air_variation = 0.25;
/// The heat capacity is sought within this factor of the first guess: oil that has settled would
/// fit as well with none or with an infinite one.
constexpr double widest_search = 1e6;

SumpSteps steps_of(const SumpPiece& piece, const SumpRun& run) {
  SumpSteps steps;
  for (const Temperature& t : piece.sump) steps.measured_K.push_back(t.value());
  for (std::size_t i = 0; i + 1 < piece.time.size(); ++i) {
    steps.dt_s.push_back((piece.time[i + 1] - piece.time[i]).value());
    steps.heat_W.push_back(run.heat_known ? piece.heat[i].value() : 1.0);
    steps.ambient_K.push_back(0.5 * (piece.ambient[i].value() + piece.ambient[i + 1].value()));
    steps.air.push_back(run.air && !piece.speed.empty()
                            ? std::pow((piece.speed[i] / run.air->at).value(), run.air->exponent)
                            : 0.0);
  }
  return steps;
}

}  // namespace

SumpProblem::SumpProblem(const SumpRun& run, std::vector<std::string>& notes) {
  for (const SumpPiece& piece : run.pieces) pieces_.push_back(steps_of(piece, run));
  heat_ = kind_of_heat(run, notes);
  with_air_ = air_can_be_told(run, notes);
}

std::size_t SumpProblem::samples() const {
  std::size_t sum = 0;
  for (const SumpSteps& piece : pieces_) sum += piece.measured_K.size();
  return sum;
}

double SumpProblem::duration_s() const {
  double sum = 0.0;
  for (const SumpSteps& piece : pieces_)
    sum += std::accumulate(piece.dt_s.begin(), piece.dt_s.end(), 0.0);
  return sum;
}

double SumpProblem::mean_air() const {
  double sum = 0.0;
  for (const SumpSteps& piece : pieces_)
    for (std::size_t i = 0; i < piece.dt_s.size(); ++i) sum += piece.air[i] * piece.dt_s[i];
  return sum / duration_s();
}

Heat SumpProblem::kind_of_heat(const SumpRun& run, std::vector<std::string>& notes) const {
  if (!run.heat_known) {
    notes.emplace_back(
        "Nobody knows the heat: it is taken as constant, and the log tells the time constant and "
        "the final rise alone.");
    return Heat::unknown;
  }
  for (const SumpSteps& piece : pieces_)
    for (const double heat : piece.heat_W)
      if (heat != 0.0) return Heat::known;
  notes.emplace_back(
      "No heat comes in: the log tells the time constant alone, not heat capacity and "
      "conductance.");
  return Heat::none;
}

bool SumpProblem::air_can_be_told(const SumpRun& run, std::vector<std::string>& notes) const {
  if (!run.air) return false;
  if (heat_ != Heat::known) {
    notes.emplace_back("The air stream is not fitted: the heat is not known.");
    return false;
  }
  const double mean = mean_air();
  double square = 0.0;
  for (const SumpSteps& piece : pieces_)
    for (std::size_t i = 0; i < piece.dt_s.size(); ++i)
      square += (piece.air[i] - mean) * (piece.air[i] - mean) * piece.dt_s[i];
  if (mean > 0.0 && std::sqrt(square / duration_s()) > least_air_variation * mean) return true;
  notes.emplace_back(
      "The air stream is not fitted: the speed varies too little over the log. The conductance is "
      "that of its mean speed.");
  return false;
}

std::size_t SumpProblem::column_of(std::size_t seed, std::size_t piece) const {
  const std::size_t bodies = (heat_ == Heat::none ? 1 : 2) + (with_air_ ? 1 : 0);
  if (seed == start_seed) return bodies + piece;
  return heat_ == Heat::none ? 0 : seed;
}

bool SumpProblem::sought(std::size_t seed) const {
  return !(seed == capacity_seed && heat_ == Heat::none) && !(seed == air_seed && !with_air_);
}

std::vector<FitParameter> SumpProblem::start() const {
  double low = pieces_.front().measured_K.front(), high = low, heat_J = 0.0;
  for (const SumpSteps& piece : pieces_) {
    for (const double t : piece.measured_K) {
      low = std::min(low, t);
      high = std::max(high, t);
    }
    for (std::size_t i = 0; i < piece.dt_s.size(); ++i)
      heat_J += std::abs(piece.heat_W[i]) * piece.dt_s[i];
  }
  // As if all heat had stayed, and with a time constant as long as the log.
  const double capacity = heat_ == Heat::none ? 1.0 : heat_J / (high - low);
  std::vector<FitParameter> result;
  if (heat_ != Heat::none)
    result.push_back(
        {.start = capacity, .low = capacity / widest_search, .high = capacity * widest_search});
  result.push_back({.start = capacity / duration_s()});
  if (with_air_) result.push_back({.start = 0.0});
  for (const SumpSteps& piece : pieces_) result.push_back({.start = piece.measured_K.front()});
  return result;
}

void SumpProblem::evaluate(std::span<const double> at, std::span<double> residuals,
                           std::span<double> slopes) const {
  std::ranges::fill(slopes, 0.0);
  std::size_t datum = 0;
  for (std::size_t p = 0; p < pieces_.size(); ++p) {
    const auto seeded = [&](std::size_t seed, double otherwise) {
      return sought(seed) ? D::parameter(at[column_of(seed, p)], seed) : D(otherwise);
    };
    const std::vector<D> model = temperatures<D>(
        pieces_[p], {seeded(0, 1.0), seeded(1, 0.0), seeded(2, 0.0), seeded(3, 0.0)});
    for (std::size_t i = 0; i < model.size(); ++i, ++datum) {
      residuals[datum] = pieces_[p].measured_K[i] - model[i].value;
      for (std::size_t seed = 0; seed < seeds; ++seed)
        if (sought(seed)) slopes[datum * at.size() + column_of(seed, p)] = -model[i].slope[seed];
    }
  }
}

}  // namespace ohmdrag::rig
