#include <algorithm>
#include <cmath>
#include <utility>

#include "ohmdrag/material/lubricant.hpp"
#include "study/duty_columns.hpp"
#include "study/fatigue.hpp"
#include "study/samples.hpp"

namespace ohmdrag::study {
namespace {

const bearing::LifeFactorLaw& law_of(bool roller) {
  return roller ? bearing::roller_life_law : bearing::ball_life_law;
}

/// 1/a_ISO over the bracket of its law: damage over basic damage.
class HarmTable {
 public:
  explicit HarmTable(bool roller)
      : grid_(0.0, 1.0, cells), values_(grid_.values([&](double bracket) {
          return bracket > 0.0 ? 10.0 * std::pow(bracket, -law_of(roller).life_power) : 0.0;
        })) {}

  /// \pre bracket <= 1
  double at(double bracket) const {
    constexpr double least = 1.0 / bearing::LifeFactorLaw::largest_factor;
    return bracket <= 0.0 ? least : std::max(least, grid_.place(bracket).of(values_.data()));
  }

  /// Of numbers alone.
  static const HarmTable& of(bool roller) {
    static const HarmTable balls(false), rollers(true);
    return roller ? rollers : balls;
  }

 private:
  static constexpr std::size_t cells = 256;
  numerics::CubicGrid grid_;
  std::vector<double> values_;
};

/// effect(kappa) (e_C C_u)^q over the logarithm of kappa: with P^-q what the bracket lacks of 1.
/// Cut where the law changes its band and where the contamination factor reaches its end.
class EffectTable {
 public:
  EffectTable(const bearing::Cleanliness& oil, Length pitch_diameter, Force fatigue_limit,
              bool roller) {
    const bearing::LifeFactorLaw& law = law_of(roller);
    // Where a of the contamination factor is 1.
    const double diameter_mm = pitch_diameter.value() * 1e3;
    const double clean = std::pow(oil.factor * std::pow(diameter_mm, 0.55), -1.0 / 0.68);
    std::vector<double> cuts{least_kappa, 0.4, 1.0, law.thickest, most_kappa};
    if (clean > least_kappa && clean < most_kappa) cuts.push_back(clean);
    std::ranges::sort(cuts);
    for (std::size_t i = 1; i < cuts.size(); ++i) {
      if (!(cuts[i] > cuts[i - 1])) continue;
      const double from = std::log(cuts[i - 1]), to = std::log(cuts[i]);
      const auto cells = std::max<std::size_t>(4, static_cast<std::size_t>((to - from) / 0.06));
      Piece piece{to, {from, to, cells}, {}};
      // The band of a cut is that of its piece.
      const double inside = std::sqrt(cuts[i - 1] * cuts[i]);
      piece.values = piece.grid.values([&](double log_kappa) {
        const double kappa = std::exp(std::lerp(log_kappa, std::log(inside), 1e-9));
        const double contamination = bearing::contamination_factor(oil, kappa, pitch_diameter);
        return law.effect(kappa) *
               std::pow(contamination * fatigue_limit.value(), law.margin_power);
      });
      pieces_.push_back(std::move(piece));
    }
  }

  /// Nearer to 0.1 the effect begins with an infinite slope.
  static constexpr double least_kappa = 0.13, most_kappa = 200.0;

  /// \pre least_kappa <= kappa <= most_kappa
  double at(double log_kappa) const {
    std::size_t p = 0;
    while (p + 1 < pieces_.size() && log_kappa > pieces_[p].to) ++p;
    return pieces_[p].grid.place(log_kappa).of(pieces_[p].values.data());
  }

 private:
  struct Piece {
    double to;
    numerics::CubicGrid grid;
    std::vector<double> values;
  };
  std::vector<Piece> pieces_;
};

FatigueColumn column_of(FatigueColumn::Inputs inputs, const BearingModel& bearing,
                        const std::vector<energy::Stretch>& stretches) {
  FatigueColumn column{.inputs = std::move(inputs), .rows = {}};
  column.rows.reserve(stretches.size());
  const double exponent = law_of(bearing.roller).margin_power;
  for (const energy::Stretch& stretch : stretches) {
    const AngularVelocity speed = stretch.speed[bearing.shaft];
    const Force load =
        fatigue_load(bearing, column.inputs.axial_factor, stretch.torque[bearing.shaft]);
    FatigueColumn::Row row{basic_damage(bearing, load, speed, stretch.dt), 0.0, 0.0, 0.0, false};
    column.basic_damage += row.basic_damage;
    if (speed != AngularVelocity{} && !stretch.parked) {
      row.per_reference =
          1.0 / bearing::reference_viscosity(speed, column.inputs.pitch_diameter).value();
      row.log_per_reference = std::log(row.per_reference);
      if (load > Force{}) {
        row.load_root = std::pow(load.value(), -exponent);
        row.overloaded = bearing::outside_life_load(bearing.dynamic_rating, load).has_value();
      }
    }
    column.rows.push_back(row);
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

void OilFatigue::accumulate(const WorldModel& model, std::span<const energy::Stretch> stretches,
                            std::span<const std::shared_ptr<const FatigueColumn>> columns,
                            const OilColumns& oil, std::span<const double> oil_K,
                            std::vector<BearingSample>& bearings) const {
  if (!cleanliness_) return;
  const auto exactly = [&](std::size_t i, std::size_t b, BearingSample& sum) {
    add(model, b, stretches[i],
        material::kinematic_viscosity(model.oil, Temperature::from_value(oil_K[i])), sum);
  };
  constexpr std::size_t fewest_stretches = 64;  // a table costs as much as so many
  const bool few = stretches.size() < fewest_stretches;
  std::vector<OilColumns::Viscosity> viscosity(stretches.size());
  for (std::size_t i = 0; i < stretches.size(); ++i)
    if (oil.holds(oil_K[i])) viscosity[i] = oil.viscosity(oil_K[i]);
  for (std::size_t b = 0; b < bearings_.size(); ++b) {
    const bool roller = model.bearings[b].roller;
    const Rolling& rolling = bearings_[b];
    const HarmTable& harm = HarmTable::of(roller);
    const EffectTable effect(*cleanliness_, rolling.pitch_diameter, rolling.fatigue_limit, roller);
    BearingSample& sum = bearings[b];
    double kappa_s = 0.0, damage = 0.0, turning_s = 0.0, overloaded_s = 0.0;
    for (std::size_t i = 0; i < stretches.size(); ++i) {
      const FatigueColumn::Row& row = columns[b]->rows[i];
      if (row.per_reference == 0.0) continue;
      if (few || proven_ep_additive_ || !oil.holds(oil_K[i])) {
        exactly(i, b, sum);
        continue;
      }
      const OilColumns::Viscosity& nu = viscosity[i];
      const double kappa = nu.viscosity_m2_s * row.per_reference;
      if (!(kappa >= EffectTable::least_kappa && kappa <= EffectTable::most_kappa)) {
        exactly(i, b, sum);
        continue;
      }
      const double dt_s = stretches[i].dt.value();
      turning_s += dt_s;
      kappa_s += kappa * dt_s;
      if (row.load_root == 0.0) continue;
      const double lacking = effect.at(nu.log_viscosity + row.log_per_reference) * row.load_root;
      damage += row.basic_damage * harm.at(1.0 - lacking);
      if (row.overloaded) overloaded_s += dt_s;
    }
    sum.turning_s += turning_s;
    sum.kappa_s += kappa_s;
    sum.modified_damage += damage / reliability_factor_;
    sum.overloaded_s += overloaded_s;
  }
}

}  // namespace ohmdrag::study
