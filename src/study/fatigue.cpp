#include "study/fatigue.hpp"

#include "ohmdrag/bearing/damage_sum.hpp"
#include "ohmdrag/bearing/tapered_load.hpp"
#include "ohmdrag/material/lubricant.hpp"
#include "study/model.hpp"
#include "study/samples.hpp"

namespace ohmdrag::study {
namespace {

Force fatigue_limit_of(const BearingModel& bearing, const BearingType& type, Length pitch_diameter,
                       const Draw& draw) {
  if (type.fatigue_load_limit) return draw(*type.fatigue_load_limit);
  return bearing.roller ? bearing::roller_fatigue_limit(bearing.static_rating, pitch_diameter)
                        : bearing::ball_fatigue_limit(bearing.static_rating, pitch_diameter);
}

bearing::Cleanliness cleanliness_of(const OilCleanliness& oil, bool debris, const Draw& draw) {
  const CleanlinessClass& now = debris && oil.with_debris ? *oil.with_debris : oil.usual;
  return {.factor = draw(oil.within_class) * draw(now.factor), .diameter = draw(now.diameter)};
}

}  // namespace

std::optional<double> axial_factor_of(const BearingType& type, const Draw& draw) {
  if (type.family != BearingType::Family::tapered_roller) return std::nullopt;
  return draw(type.axial_factor.value());
}

Force fatigue_load(const BearingModel& bearing, const std::optional<double>& axial_factor,
                   Torque torque) {
  if (!axial_factor) return bearing.equivalent_load(torque);
  const energy::BearingLoads loads = bearing.loads.at(torque);
  return bearing::tapered_roller_equivalent_load(loads.radial, loads.axial, *axial_factor);
}

double basic_damage(const BearingModel& bearing, Force load, AngularVelocity speed, Time dt) {
  if (speed == AngularVelocity{} || !(load > Force{})) return 0.0;
  const double exponent =
      bearing.roller ? bearing::roller_life_exponent : bearing::ball_life_exponent;
  return bearing::damage(dt, bearing::basic_life(bearing.dynamic_rating, load, exponent, speed));
}

std::vector<double> fatigue_of(const WorldModel& model,
                               const std::vector<energy::Stretch>& stretches, const Draw& draw) {
  std::vector<double> result;
  for (std::size_t b = 0; b < model.bearings.size(); ++b) {
    const BearingModel& bearing = model.bearings[b];
    const auto axial_factor = axial_factor_of(model.world->bearings[b].type, draw);
    double damage = 0.0;
    for (const energy::Stretch& stretch : stretches)
      damage +=
          basic_damage(bearing, fatigue_load(bearing, axial_factor, stretch.torque[bearing.shaft]),
                       stretch.speed[bearing.shaft], stretch.dt);
    result.push_back(damage);
  }
  return result;
}

OilFatigue::OilFatigue(const WorldModel& model, const Variant& variant, const Draw& draw) {
  const auto& oil = model.world->sump.cleanliness;
  if (!oil) return;
  const bool debris = variant.grounding && variant.grounding->debris_reaches_oil;
  cleanliness_ = cleanliness_of(*oil, debris, draw);
  proven_ep_additive_ = oil->proven_ep_additive;
  reliability_factor_ = bearing::reliability_factor(model.world->service.reliability);
  for (std::size_t b = 0; b < model.bearings.size(); ++b) {
    const BearingType& type = model.world->bearings[b].type;
    const Length pitch_diameter = draw(type.pitch_diameter);
    bearings_.push_back({axial_factor_of(type, draw), pitch_diameter,
                         fatigue_limit_of(model.bearings[b], type, pitch_diameter, draw)});
  }
}

void OilFatigue::add(const WorldModel& model, std::size_t b, const energy::Stretch& stretch,
                     KinematicViscosity nu, BearingSample& sum) const {
  const BearingModel& bearing = model.bearings[b];
  const Rolling& rolling = bearings_[b];
  const AngularVelocity speed = stretch.speed[bearing.shaft];
  if (speed == AngularVelocity{}) return;
  const double dt_s = stretch.dt.value();
  const double kappa = bearing::viscosity_ratio(nu, speed, rolling.pitch_diameter);
  sum.turning_s += dt_s;
  sum.kappa_s += kappa * dt_s;
  const Force load = fatigue_load(bearing, rolling.axial_factor, stretch.torque[bearing.shaft]);
  if (!(load > Force{})) return;
  const bearing::LifeFactor factor = life_factor(b, bearing.roller, kappa, load);
  const double damage =
      basic_damage(bearing, load, speed, stretch.dt) / (reliability_factor_ * factor.value);
  sum.modified_damage += damage;
  if (factor.outside) {
    sum.thin_s += dt_s;
    sum.thin_modified_damage += damage;
  }
  if (bearing::outside_life_load(bearing.dynamic_rating, load)) sum.overloaded_s += dt_s;
}

bearing::LifeFactor OilFatigue::life_factor(std::size_t b, bool roller, double kappa,
                                            Force load) const {
  const Rolling& rolling = bearings_[b];
  const double contamination =
      bearing::contamination_factor(*cleanliness_, kappa, rolling.pitch_diameter);
  const double margin = contamination * (rolling.fatigue_limit / load).value();
  const auto factor_at = [&](double ratio) {
    return roller ? bearing::roller_life_factor(ratio, margin)
                  : bearing::ball_life_factor(ratio, margin);
  };
  const bearing::LifeFactor factor = factor_at(kappa);
  if (!proven_ep_additive_) return factor;
  return bearing::with_ep_additive(factor, factor_at(1.0), kappa, contamination);
}

void OilFatigue::accumulate(const WorldModel& model, const energy::Stretch& stretch,
                            Temperature oil, std::vector<BearingSample>& bearings) const {
  if (!cleanliness_) return;
  const KinematicViscosity nu = material::kinematic_viscosity(model.oil, oil);
  for (std::size_t b = 0; b < bearings_.size(); ++b) add(model, b, stretch, nu, bearings[b]);
}

}  // namespace ohmdrag::study
