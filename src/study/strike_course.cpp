#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>

#include "ohmdrag/bearing/film.hpp"
#include "study/duty_columns.hpp"
#include "study/electric.hpp"

namespace ohmdrag::study {
namespace {

/// What a film model holds at eta u = 1 Pa m.
struct UnitFilm {
  double minimum_m, area_m2, capacitance_F, unloaded;
};

UnitFilm unit_film(const bearing::FilmModel& film) {
  const AngularVelocity speed = AngularVelocity::from_value(1.0);
  const auto eta = DynamicViscosity::from_value(1.0 / film.entrainment(speed).value());
  const bearing::FilmState state = film.at(speed, eta);
  return {state.minimum_inner.value(), state.area_inner.value(), state.capacitance.value(),
          state.unloaded};
}

UnitFilm lerp(const UnitFilm& a, const UnitFilm& b, double share) {
  return {std::lerp(a.minimum_m, b.minimum_m, share), std::lerp(a.area_m2, b.area_m2, share),
          std::lerp(a.capacitance_F, b.capacitance_F, share),
          std::lerp(a.unloaded, b.unloaded, share)};
}

/// A bearing on the electrified shaft, its constants taken out of the film models.
struct StruckBearing {
  const BearingModel* model;
  std::size_t place;  ///< in DutySample::bearings
  std::vector<UnitFilm> films;
  std::size_t minimum_power, central_power;  ///< indices into the powers of the oil
  double heating, minimum, central;          ///< u/omega to those powers
  double per_roughness;                      ///< film ratio over minimum film, 1/m
};

StruckBearing struck_bearing(const BearingModel& model, std::size_t place, const OilColumns& oil) {
  const bearing::FilmModel& any = model.films.front();
  const AngularVelocity one = AngularVelocity::from_value(1.0);
  const double u_m = any.entrainment(one).value();
  const bearing::FilmState state = any.at(one, DynamicViscosity::from_value(1.0 / u_m));
  StruckBearing result{.model = &model,
                       .place = place,
                       .films = {},
                       .minimum_power = oil.index_of(any.minimum_exponent()),
                       .central_power = oil.index_of(any.central_exponent()),
                       .heating = std::pow(u_m, 2.0 * bearing::inlet_heating_exponent),
                       .minimum = std::pow(u_m, any.minimum_exponent()),
                       .central = std::pow(u_m, any.central_exponent()),
                       .per_roughness = state.film_ratio / state.minimum_inner.value()};
  for (const bearing::FilmModel& film : model.films) result.films.push_back(unit_film(film));
  return result;
}

}  // namespace

/// One variant along one duty.
class StrikeCourse {
 public:
  StrikeCourse(const ElectricModel& electric, const StrikeColumns& columns, const OilColumns& oil)
      : electric_(electric), columns_(columns), films_(*columns.films), oil_(oil) {
    for (const std::size_t b : electric.bearings_)
      bearings_.push_back(struck_bearing(electric.model_->bearings[b], b, oil));
    for (std::size_t c = 0; c < credit_us.size(); ++c)
      root_credit_[c] = std::sqrt(credit_us[c] * 1e-6);
    state_.paths.resize(bearings_.size());
    for (const StruckBearing& bearing : bearings_) state_.places.push_back(bearing.place);
  }

  void follow(std::span<const energy::Stretch> stretches, std::span<const double> oil_K,
              std::vector<BearingSample>& places) {
    ElectricState scratch;
    for (std::size_t i = 0; i < stretches.size(); ++i) {
      if (films_.rows[i].speed_rad_s == 0.0 || stretches[i].parked) continue;
      if (oil_.holds(oil_K[i]))
        add(i, stretches[i], oil_K[i], places);
      else
        electric_.accumulate(stretches[i], Temperature::from_value(oil_K[i]), scratch, places);
    }
  }

 private:
  void set_bearings(std::size_t i, const OilColumns::Oil& oil) {
    const FilmColumns::Row& row = films_.rows[i];
    const FilmStrength& strength = electric_.model_->strength;
    for (std::size_t b = 0; b < bearings_.size(); ++b) {
      const StruckBearing& bearing = bearings_[b];
      const FilmColumns::Place& place = films_.places[b][i];
      const UnitFilm& first = bearing.films[place.first];
      const UnitFilm film =
          place.share == 0.0 ? first : lerp(first, bearing.films[place.first + 1], place.share);
      const double heated =
          bearing::inlet_heating_factor(oil.heating * row.heating * bearing.heating);
      const double grown = heated * oil.film[bearing.minimum_power] *
                           row.film[bearing.minimum_power] * bearing.minimum;
      const double central = heated * oil.film[bearing.central_power] *
                             row.film[bearing.central_power] * bearing.central;
      bearing::FilmState state{};
      state.minimum_inner = Length::from_value(grown * film.minimum_m);
      state.film_ratio = state.minimum_inner.value() * bearing.per_roughness;
      state.area_inner = Area::from_value(film.area_m2);
      state.capacitance =
          Capacitance::from_value(oil.permittivity_share * film.capacitance_F / central);
      state.conducting = state.film_ratio < 1.0;
      state.unloaded = film.unloaded;
      state_.paths[b] = bearing.model->path(state, strength);
    }
  }

  void add(std::size_t i, const energy::Stretch& stretch, double oil_K,
           std::vector<BearingSample>& places) {
    ElectricState& now = state_;
    now.paths.resize(bearings_.size());
    now.places.resize(bearings_.size());
    now.speed = stretch.speed[electric_.shaft_];
    now.turning = true;
    set_bearings(i, oil_.at(oil_K));
    electric_.add_other_paths(now, Temperature::from_value(oil_K),
                              stretch.torque[electric_.shaft_]);
    const double dt = stretch.dt.value();
    now.struck = voltage::weakest_path(now.paths);
    if (!now.struck) {
      for (std::size_t p = 0; p < now.paths.size(); ++p)
        if (now.paths[p].conducting) places[now.places[p]].conducting_s += dt;
      return;
    }
    now.modulation = electric_.source_.modulation(now.speed);
    now.verdict_legs = electric_.source_.verdict_legs(now.modulation);
    now.node = voltage::shaft_node(electric_.winding_rotor_, electric_.rotor_frame_,
                                   voltage::capacitance(now.paths));
    now.stresses = electric_.grid_.at(now.node, now.speed);
    BearingSample& struck = places[now.places[*now.struck]];
    add_verdicts(dt, struck);
    electric_.add_discharges(now, electric_.rates(now, columns_.edges[i]), dt, struck);
  }

  /// voltage::verdict() for all credits, its headline alone: the roots of the durations are those
  /// of every credit.
  void add_verdicts(double dt, BearingSample& struck) const {
    const voltage::DischargePath& path = state_.paths[*state_.struck];
    const voltage::ThresholdBand band = voltage::threshold_at_shaft(path)->band;
    if (path.film_ratio > 0.0 && path.film_ratio <= 1.0) {  // metallic contact
      for (double& striking_s : struck.striking_by_credit_s) striking_s += dt;
      struck.striking_s += dt;
      return;
    }
    const voltage::Stress edge = state_.verdict_edge();
    const double held_V = state_.stresses.held.voltage.value(), edge_V = edge.voltage.value();
    const double held_s = state_.stresses.held.duration.value();
    const double per_root_held = 1.0 / std::sqrt(held_s);
    const double per_root_edge =
        edge_V > 0.0 ? 1.0 / std::sqrt(edge.duration.value()) : per_root_held;
    for (std::size_t c = 0; c < credit_us.size(); ++c) {
      const double held_credit =
          std::min(1.0 + root_credit_[c] * per_root_held, voltage::pulse_credit_cap);
      const double edge_credit =
          std::min(1.0 + root_credit_[c] * per_root_edge, voltage::pulse_credit_cap);
      const auto reaches = [&](Voltage threshold) {
        return held_V >= threshold.value() * held_credit ||
               edge_V >= threshold.value() * edge_credit;
      };
      if (!reaches(band.at_05)) continue;
      struck.striking_by_credit_s[c] += dt;
      if (c != headline_credit) continue;
      struck.striking_s += dt;
      if (reaches(band.at_50)) struck.expected_s += dt;
    }
  }

  const ElectricModel& electric_;
  const StrikeColumns& columns_;
  const FilmColumns& films_;
  const OilColumns& oil_;
  std::vector<StruckBearing> bearings_;
  std::array<double, credit_us.size()> root_credit_{};
  ElectricState state_;
};

void ElectricModel::accumulate(std::span<const energy::Stretch> stretches,
                               const StrikeColumns& columns, const OilColumns& oil,
                               std::span<const double> oil_K,
                               std::vector<BearingSample>& paths) const {
  StrikeCourse(*this, columns, oil).follow(stretches, oil_K, paths);
}

}  // namespace ohmdrag::study
