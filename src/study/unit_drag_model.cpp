#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/contact/friction.hpp"
#include "ohmdrag/study/visit.hpp"
#include "study/ensemble.hpp"
#include "study/unit_drag.hpp"

namespace ohmdrag::study {
namespace {

/// Draws for the covariance of what is believed of the parts: their deviations come out to 5 %.
constexpr int belief_draws = 200;
/// Speeds and oils that lie closer together, standard deviation, tell no tilt and no warmth.
constexpr double one_speed = 0.02, one_oil_K = 1.0;
/// Where speed and oil rise together, tilt and warmth are one: 1 - r^2 of the two below this.
constexpr double least_apart = 0.05;
/// A slope that small is rounding.
constexpr double no_slope = 1e-12;

const Variant* variant_of(const Case& question, const std::string& id) {
  const auto found = std::ranges::find(question.variants, id, &Variant::id);
  return found == question.variants.end() ? nullptr : &*found;
}

bool fitted_in(const std::vector<std::string>& parts, const std::string& id) {
  return std::ranges::find(parts, id) != parts.end();
}

/// The unit with the parts of a build alone.
energy::DriveUnit built(energy::DriveUnit unit, const std::vector<std::string>& parts) {
  for (std::size_t p = unit.parts.size(); p-- > 0;)
    if (!fitted_in(parts, unit.parts[p].id)) unit = energy::without(unit, p);
  return unit;
}

void scale_friction(energy::DriveUnit& unit, const UnitDragModel::FrictionFactor& friction) {
  for (const energy::Part& part : unit.parts)
    if (const auto* here = std::get_if<energy::ContactPart>(&part.form);
        here && part.id == friction.part) {
      component::ShaftContact& contact = unit.shafts[here->shaft].contacts[here->contact];
      contact.law = contact::scaled(contact.law, friction.factor);
    }
}

/// A belief as what a draw makes of the model at one reading.
struct Departure {
  double speed = 0.0;   ///< ln(n/n_ref)
  double oil_K = 0.0;   ///< T - T_ref
  double torque = 0.0;  ///< ln of the drawn torque over the middle one
};

/// The plane through departures: level, tilt and warmth. What does not vary has no slope.
std::array<double, rig::beliefs_a_part> plane_through(const std::vector<Departure>& points) {
  const auto n = static_cast<double>(points.size());
  Departure mean;
  for (const Departure& p : points) {
    mean.speed += p.speed / n;
    mean.oil_K += p.oil_K / n;
    mean.torque += p.torque / n;
  }
  double ss = 0.0, so = 0.0, oo = 0.0, st = 0.0, ot = 0.0;
  for (const Departure& p : points) {
    const double s = p.speed - mean.speed, o = p.oil_K - mean.oil_K, t = p.torque - mean.torque;
    ss += s * s;
    so += s * o;
    oo += o * o;
    st += s * t;
    ot += o * t;
  }
  double tilt = 0.0, warmth = 0.0;
  const bool speeds = std::sqrt(ss / n) > one_speed, oils = std::sqrt(oo / n) > one_oil_K;
  const double both = ss * oo - so * so;
  if (speeds && oils && both > least_apart * ss * oo) {
    tilt = (oo * st - so * ot) / both;
    warmth = (ss * ot - so * st) / both;
  } else if (speeds) {
    tilt = st / ss;
  } else if (oils) {
    warmth = ot / oo;
  }
  const auto unless_rounding = [](double slope) {
    return std::abs(slope) < no_slope ? 0.0 : slope;
  };
  tilt = unless_rounding(tilt);
  warmth = unless_rounding(warmth);
  return {mean.torque - tilt * mean.speed - warmth * mean.oil_K, tilt, warmth};
}

}  // namespace

std::vector<std::string> drag_parts(const Case& question, const std::string& id) {
  const Variant* variant = variant_of(question, id);
  if (!variant) return {};
  const Draw middle;
  const WorldModel model(world_of(question, *variant), middle);
  std::vector<std::string> parts;
  for (const PartInfo& part : VariantModel(model, *variant, middle, {}).parts)
    parts.push_back(part.id);
  return parts;
}

UnitDragModel::UnitDragModel(const UnitDragLog& log)
    : log_(log), variant_(variant_of(*log.question, log.variant)) {
  if (!variant_)
    throw std::invalid_argument(
        fmt::format("variant: the case has no variant \"{}\"", log.variant));
  world_ = &world_of(*log.question, *variant_);
  const std::vector<std::string> known = drag_parts(*log.question, log.variant);
  for (const DragBuild& build : log.builds)
    for (const std::string& part : build.parts)
      if (!fitted_in(known, part))
        throw std::invalid_argument(
            fmt::format("build {}: variant {} has no part \"{}\"", build.id, log.variant, part));
  for (const std::string& part : known)
    if (std::ranges::any_of(log.builds,
                            [&](const DragBuild& build) { return fitted_in(build.parts, part); }))
      parts_.push_back(part);
  for (const DragBuild& build : log.builds) {
    fitted_.emplace_back();
    for (const std::string& part : parts_) fitted_.back().push_back(fitted_in(build.parts, part));
  }
}

std::vector<std::vector<double>> UnitDragModel::torques_Nm(const Draw& draw,
                                                           const FrictionFactor* friction) const {
  const WorldModel model(*world_, draw);
  const VariantModel whole(model, *variant_, draw, {});
  const std::size_t driven = model.shaft_index(log_.shaft);
  std::vector<std::vector<double>> result(log_.readings.size(), std::vector<double>(parts_.size()));
  std::vector<AngularVelocity> speed(model.ratio.size());
  const std::vector<Torque> no_load(model.ratio.size());
  for (std::size_t b = 0; b < log_.builds.size(); ++b) {
    energy::DriveUnit unit = built(whole.unit, log_.builds[b].parts);
    if (friction) scale_friction(unit, *friction);
    energy::LossModel losses(unit);
    std::vector<energy::PartLoss> loss(unit.parts.size());
    for (std::size_t i = 0; i < log_.readings.size(); ++i) {
      const DragReading& reading = log_.readings[i];
      if (reading.build != b) continue;
      for (std::size_t s = 0; s < speed.size(); ++s)
        speed[s] = model.ratio[s] / model.ratio[driven] * reading.speed;
      losses.at({speed, no_load, model.dry, reading.oil}, loss);
      for (std::size_t p = 0; p < unit.parts.size(); ++p) {
        const auto place = std::ranges::find(parts_, unit.parts[p].id) - parts_.begin();
        result[i][static_cast<std::size_t>(place)] = loss[p].power.value() / reading.speed.value();
      }
    }
  }
  return result;
}

rig::UnitDragPrior drag_prior(const UnitDragLog& log, const UnitDragModel& model,
                              const std::vector<std::vector<double>>& middle_Nm) {
  std::vector<const UncertainNumber*> numbers;
  for_each_number(*log.question,
                  [&](const UncertainNumber& number) { numbers.push_back(&number); });
  const Draws draws(numbers, belief_draws, log.question->seed);
  double reference = 0.0, reference_K = 0.0;
  for (const DragReading& reading : log.readings) {
    const auto n = static_cast<double>(log.readings.size());
    reference += std::log(reading.speed.value()) / n;
    reference_K += reading.oil.value() / n;
  }

  const std::size_t parts = model.parts().size(), beliefs = rig::beliefs_a_part * parts;
  std::vector<std::vector<double>> drawn;
  for (int d = 0; d < belief_draws; ++d) {
    const auto torques_Nm = model.torques_Nm(Draw(draws, d));
    std::vector<double> belief(beliefs);
    for (std::size_t p = 0; p < parts; ++p) {
      std::vector<Departure> points;
      for (std::size_t i = 0; i < log.readings.size(); ++i)
        if (middle_Nm[i][p] > 0.0 && torques_Nm[i][p] > 0.0)
          points.push_back({std::log(log.readings[i].speed.value()) - reference,
                            log.readings[i].oil.value() - reference_K,
                            std::log(torques_Nm[i][p] / middle_Nm[i][p])});
      if (points.empty()) continue;
      std::ranges::copy(plane_through(points),
                        belief.begin() + static_cast<std::ptrdiff_t>(rig::beliefs_a_part * p));
    }
    drawn.push_back(std::move(belief));
  }

  rig::UnitDragPrior prior{std::vector<double>(beliefs), std::vector<double>(beliefs * beliefs)};
  constexpr double n = belief_draws;
  for (const auto& belief : drawn)
    for (std::size_t i = 0; i < beliefs; ++i) prior.mean[i] += belief[i] / n;
  for (const auto& belief : drawn)
    for (std::size_t i = 0; i < beliefs; ++i)
      for (std::size_t j = 0; j < beliefs; ++j)
        prior.covariance[i * beliefs + j] +=
            (belief[i] - prior.mean[i]) * (belief[j] - prior.mean[j]) / (n - 1.0);
  return prior;
}

}  // namespace ohmdrag::study
