#include "ohmdrag/study/sump_run.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <stdexcept>

#include "ohmdrag/rig/sump_findings.hpp"
#include "ohmdrag/study/visit.hpp"
#include "study/service_history.hpp"
#include "study/trips.hpp"

namespace ohmdrag::study {
namespace {

/// Draws for the spread of the mean heat, and stretches that stand for a log in each: the spread
/// needs two digits.
constexpr int heat_draws = 100;
constexpr std::size_t stretches_in_a_draw = 200;

/// Half of a 95 % interval over the middle, as a standard uncertainty.
double relative_uncertainty(const UncertainNumber& number) {
  const Interval interval = number.spread.interval();
  if (interval.exact() || interval.mid == 0.0) return 0.0;
  return standard_uncertainty(interval) / std::abs(interval.mid);
}

/// The log as one duty of the case.
class LoggedDuty {
 public:
  LoggedDuty(const HeatOfCase& heat, const SumpLog& log) : question_(*heat.question) {
    const auto found = std::ranges::find(question_.variants, heat.variant, &Variant::id);
    if (found == question_.variants.end())
      throw std::invalid_argument(
          fmt::format("variant: the case has no variant \"{}\"", heat.variant));
    variant_ = &*found;
    world_ = found->world ? found->world.get() : &question_;
    if (!world_->vehicle)
      throw std::invalid_argument(
          "case: it has no [vehicle], so a road speed turns no shaft; write the heat instead");
    duty_.id = "log";
    duty_.shaft = heat.shaft;
    duty_.oil_temperature =
        Uncertain<Temperature>(log.trip.pieces.front().sump_temperature.front());
  }

  /// Mean heat of every step between two samples of a piece.
  std::vector<Power> heat_in(const duty::TripPiece& piece) const {
    const Draw middle;
    const WorldModel model(*world_, middle);
    const VariantModel unit(model, *variant_, middle, {});
    energy::LossModel losses(unit.unit);
    const DutyModel duty = of_piece(model, piece, middle);
    std::vector<Power> result;
    auto stretch = duty.stretches.begin();
    for (std::size_t i = 0; i + 1 < piece.time.size(); ++i) {
      Energy sum{};
      Time passed{};
      // A step of the log is one stretch, or several of a second at most.
      const Time step = piece.time[i + 1] - piece.time[i];
      while (stretch != duty.stretches.end() && passed < step - 0.5 * stretch->dt) {
        sum += heat_at(model, unit, losses, *stretch) * stretch->dt;
        passed += stretch->dt;
        ++stretch;
      }
      result.push_back(sum / passed);
    }
    return result;
  }

  /// Standard deviation of the mean heat over the case's draws, over its mean.
  double uncertainty(const duty::Trip& trip) const {
    std::vector<const UncertainNumber*> numbers;
    for_each_number(question_, [&](const UncertainNumber& number) { numbers.push_back(&number); });
    const Draws draws(numbers, heat_draws, question_.seed);
    double sum = 0.0, squares = 0.0;
    for (int i = 0; i < heat_draws; ++i) {
      const double mean = mean_W(trip, Draw(draws, i));
      sum += mean;
      squares += mean * mean;
    }
    const double mean = sum / heat_draws;
    return std::sqrt(std::max(0.0, squares / heat_draws - mean * mean)) / std::abs(mean);
  }

 private:
  DutyModel of_piece(const WorldModel& model, const duty::TripPiece& piece,
                     const Draw& draw) const {
    duty::Trip trip;
    trip.pieces = {piece};
    return trip_model(model, duty_, trip, draw);
  }

  Power heat_at(const WorldModel& model, const VariantModel& unit, energy::LossModel& losses,
                const energy::Stretch& stretch) const {
    std::vector<energy::PartLoss> parts(unit.unit.parts.size());
    const auto& dry = stretch.dry.empty() ? model.dry : stretch.dry;
    return losses.at({stretch.speed, stretch.torque, dry, *stretch.oil}, parts) + model.other_heat;
  }

  double mean_W(const duty::Trip& trip, const Draw& draw) const {
    const WorldModel model(*world_, draw);
    const VariantModel unit(model, *variant_, draw, {});
    energy::LossModel losses(unit.unit);
    double heat_J = 0.0, time_s = 0.0;
    for (const duty::TripPiece& piece : trip.pieces) {
      const DutyModel duty = of_piece(model, piece, draw);
      const std::size_t every = duty.stretches.size() / stretches_in_a_draw + 1;
      for (std::size_t i = 0; i < duty.stretches.size(); i += every) {
        const energy::Stretch& stretch = duty.stretches[i];
        heat_J += heat_at(model, unit, losses, stretch).value() * stretch.dt.value();
        time_s += stretch.dt.value();
      }
    }
    return heat_J / time_s;
  }

  const Case& question_;
  const Case* world_ = nullptr;
  const Variant* variant_ = nullptr;
  Duty duty_;
};

/// Means of a column over the steps between its samples.
template <class Q>
std::vector<Q> step_means(const std::vector<Q>& samples, double factor = 1.0) {
  std::vector<Q> means;
  for (std::size_t i = 0; i + 1 < samples.size(); ++i)
    means.push_back(0.5 * factor * (samples[i] + samples[i + 1]));
  return means;
}

/// Puts the heat of every step into the run, and says in words where it came from.
class Heating {
 public:
  Heating(const SumpLog& log, rig::SumpRun& run) : log_(log), run_(run) {}

  std::string operator()(const ConstantHeat& heat) {
    for (rig::SumpPiece& piece : run_.pieces)
      piece.heat.assign(piece.time.size() - 1, heat.power.nominal());
    run_.heat_uncertainty = relative_uncertainty(heat.power);
    return fmt::format("{}, constant, as stated", heat.power.read_as);
  }
  std::string operator()(const UnknownHeat&) {
    run_.heat_known = false;
    return "unknown, taken as constant";
  }
  std::string operator()(const LoggedHeat& heat) {
    for (std::size_t p = 0; p < run_.pieces.size(); ++p)
      run_.pieces[p].heat = step_means(log_.trip.pieces[p].heat, heat.factor.nominal());
    run_.heat_uncertainty = relative_uncertainty(heat.factor);
    return "column of the log";
  }
  std::string operator()(const HeatOfCase& heat) {
    const LoggedDuty duty(heat, log_);
    for (std::size_t p = 0; p < run_.pieces.size(); ++p)
      run_.pieces[p].heat = duty.heat_in(log_.trip.pieces[p]);
    run_.heat_uncertainty = duty.uncertainty(log_.trip);
    return fmt::format(
        "losses of variant {} of {} at the logged speed and temperature, with its other heat",
        heat.variant,
        std::filesystem::path(heat.question->provenance.file).lexically_normal().string());
  }

 private:
  const SumpLog& log_;
  rig::SumpRun& run_;
};

std::string log_in_words(const duty::TripReport& report) {
  std::string text = fmt::format("{} samples over {:.0f} s, median step {:.4g} s", report.samples,
                                 report.duration.value(), report.median_step.value());
  if (report.duplicates > 0)
    text +=
        fmt::format("; rows merged into the one before of the same time: {}", report.duplicates);
  const auto bridged = std::ranges::count_if(report.gaps, &duty::TripGap::bridged);
  const auto split = static_cast<std::ptrdiff_t>(report.gaps.size()) - bridged;
  if (bridged > 0) text += fmt::format("; short gaps bridged: {}", bridged);
  if (split > 0)
    text += fmt::format(
        "; long gaps, after which the oil starts anew: {}, {:.3g} % of the time is "
        "covered",
        split, 100.0 * report.covered_share);
  return text + ".";
}

/// Zero where it is unknown.
Power mean_heat(const rig::SumpRun& run) {
  Energy sum{};
  Time time{};
  for (const rig::SumpPiece& piece : run.pieces)
    for (std::size_t i = 0; i < piece.heat.size(); ++i) {
      sum += piece.heat[i] * (piece.time[i + 1] - piece.time[i]);
      time += piece.time[i + 1] - piece.time[i];
    }
  return time > Time{} ? sum / time : Power{};
}

}  // namespace

rig::RunFindings fit_run(const SumpLog& log) {
  rig::SumpRun run;
  for (const duty::TripPiece& piece : log.trip.pieces)
    run.pieces.push_back({.time = piece.time,
                          .sump = piece.sump_temperature,
                          .ambient = log.ambient ? std::vector<Temperature>(piece.time.size(),
                                                                            log.ambient->nominal())
                                                 : piece.ambient_temperature,
                          .heat = {},
                          .speed = step_means(piece.speed)});
  run.air = log.air;
  const std::string heat = std::visit(Heating(log, run), log.heat);
  rig::RunFindings head = log.head;
  head.conditions.emplace_back("Log", log_in_words(log.trip.report));
  return rig::sump_findings(std::move(head), {heat, mean_heat(run), run.heat_uncertainty}, log.air,
                            rig::fit_sump(run));
}

}  // namespace ohmdrag::study
