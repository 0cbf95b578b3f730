#include <algorithm>
#include <cmath>
#include <utility>

#include "study/duty_columns.hpp"
#include "study/fatigue.hpp"

namespace ohmdrag::study {

using numerics::LaneRows;
using numerics::lanes;

namespace {

FatigueColumn column_of(FatigueColumn::Inputs inputs, const BearingModel& bearing,
                        const std::vector<energy::Stretch>& stretches) {
  FatigueColumn column{.inputs = std::move(inputs),
                       .damage = {},
                       .log_per_reference = {},
                       .weighted = {},
                       .load_root = {},
                       .loaded_s = {}};
  for (LaneRows* rows : {&column.damage, &column.log_per_reference, &column.weighted,
                         &column.load_root, &column.loaded_s})
    *rows = LaneRows(blocks_of(stretches.size()));
  const bearing::LifeFactorLaw& law =
      bearing.roller ? bearing::roller_life_law : bearing::ball_life_law;
  for (std::size_t i = 0; i < stretches.size(); ++i) {
    const energy::Stretch& stretch = stretches[i];
    const std::size_t block = i / lanes, lane = i % lanes;
    const AngularVelocity speed = stretch.speed[bearing.shaft];
    const double dt_s = stretch.dt.value();
    const Force load =
        fatigue_load(bearing, column.inputs.axial_factor, stretch.torque[bearing.shaft]);
    const double damage = basic_damage(bearing, load, speed, stretch.dt);
    column.basic_damage += damage;
    if (speed == AngularVelocity{} || stretch.parked) continue;
    const double per_reference =
        1.0 / bearing::reference_viscosity(speed, column.inputs.pitch_diameter).value();
    column.turning_s += dt_s;
    column.log_per_reference[block][lane] = std::log(per_reference);
    column.weighted[block][lane] = per_reference * dt_s;
    if (!(load > Force{})) continue;
    column.damage[block][lane] = damage;
    column.load_root[block][lane] = std::pow(load.value(), -law.margin_power);
    column.loaded_s[block][lane] = dt_s;
    if (bearing::outside_life_load(bearing.dynamic_rating, load)) column.overloaded_s += dt_s;
  }
  return column;
}

}  // namespace

FatigueColumns fatigue_columns(const WorldModel& model,
                               const std::vector<energy::Stretch>& stretches, const Draw& draw,
                               const FatigueColumns& like) {
  FatigueColumns result;
  for (std::size_t b = 0; b < model.bearings.size(); ++b) {
    const BearingModel& bearing = model.bearings[b];
    const BearingType& type = model.world->bearings[b].type;
    FatigueColumn::Inputs inputs{.shaft = bearing.shaft,
                                 .loads = bearing.loads,
                                 .dynamic_rating = bearing.dynamic_rating,
                                 .static_rating = bearing.static_rating,
                                 .static_factor = bearing.static_factor,
                                 .roller = bearing.roller,
                                 .axial_factor = axial_factor_of(type, draw),
                                 .pitch_diameter = bearing.friction.pitch_diameter};
    if (b < like.size() && like[b]->inputs == inputs)
      result.push_back(like[b]);
    else
      result.push_back(
          std::make_shared<const FatigueColumn>(column_of(std::move(inputs), bearing, stretches)));
  }
  return result;
}

}  // namespace ohmdrag::study
