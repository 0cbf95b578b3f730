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

/// Without the care for its ends that the library takes: the shares lie inside.
UnitFilm lerp(const UnitFilm& a, const UnitFilm& b, double share) {
  const auto between = [share](double from, double to) { return from + share * (to - from); };
  return {between(a.minimum_m, b.minimum_m), between(a.area_m2, b.area_m2),
          between(a.capacitance_F, b.capacitance_F), between(a.unloaded, b.unloaded)};
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
    films_now_.resize(bearings_.size());
    root_drawn_ = std::sqrt(electric.t0_.value());
    bare_ = electric.others_.empty() && !electric.density_law_ &&
            std::ranges::none_of(bearings_, [](const StruckBearing& b) {
              return b.model->in_series || b.model->ceramic;
            });
  }

  void follow(std::span<const energy::Stretch> stretches, std::span<const double> oil_K,
              std::vector<BearingSample>& places) {
    constexpr std::size_t fewest_stretches = 64;  // a few are as soon computed one by one
    const bool few = stretches.size() < fewest_stretches;
    ElectricState scratch;
    for (std::size_t i = 0; i < stretches.size(); ++i) {
      if (films_.rows[i].speed_rad_s == 0.0 || stretches[i].parked) continue;
      if (few || !oil_.holds(oil_K[i]))
        electric_.accumulate(stretches[i], Temperature::from_value(oil_K[i]), scratch, places);
      else if (bare_)
        add_bare(i, stretches[i], oil_K[i], places);
      else
        add(i, stretches[i], oil_K[i], places);
    }
  }

 private:
  /// The film of a bearing in a stretch, SI.
  struct FilmNow {
    double minimum_m, film_ratio, area_m2, capacitance_F, unloaded;
  };

  FilmNow film_now(std::size_t b, std::size_t i, const OilColumns::Oil& oil) const {
    const FilmColumns::Row& row = films_.rows[i];
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
    const double minimum_m = grown * film.minimum_m;
    return {minimum_m, minimum_m * bearing.per_roughness, film.area_m2,
            oil.permittivity_share * film.capacitance_F / central, film.unloaded};
  }

  void set_bearings(std::size_t i, const OilColumns::Oil& oil) {
    for (std::size_t b = 0; b < bearings_.size(); ++b) {
      const FilmNow film = film_now(b, i, oil);
      bearing::FilmState state{};
      state.minimum_inner = Length::from_value(film.minimum_m);
      state.film_ratio = film.film_ratio;
      state.area_inner = Area::from_value(film.area_m2);
      state.capacitance = Capacitance::from_value(film.capacitance_F);
      state.conducting = state.film_ratio < 1.0;
      state.unloaded = film.unloaded;
      state_.paths[b] = bearings_[b].model->path(state, electric_.model_->strength);
    }
  }

  /// add() where bearings without insulation are all that could be struck, the usual case: the same
  /// in a third of its time.
  void add_bare(std::size_t i, const energy::Stretch& stretch, double oil_K,
                std::vector<BearingSample>& places) {
    const OilColumns::Oil oil = oil_.at(oil_K);
    const double dt = stretch.dt.value();
    double total_F = electric_.winding_rotor_.value() + electric_.rotor_frame_.value();
    double weakest_m = std::numeric_limits<double>::infinity();  // gap over which the field stands
    std::size_t struck_at = bearings_.size();
    bool conducting = false;
    for (std::size_t b = 0; b < bearings_.size(); ++b) {
      FilmNow& film = films_now_[b];
      film = film_now(b, i, oil);
      if (film.film_ratio < 1.0) {
        conducting = true;
        places[bearings_[b].place].conducting_s += dt;
        continue;
      }
      const BearingModel& model = *bearings_[b].model;
      total_F += model.stated_capacitance
                     ? model.stated_capacitance->value()
                     : film.capacitance_F + film.unloaded * model.unloaded_element.value() +
                           model.rings.value();
      const double gap_m = 2.0 * voltage::film_share(film.film_ratio) * film.minimum_m;
      if (!(gap_m < weakest_m)) continue;
      weakest_m = gap_m;
      struck_at = b;
    }
    if (conducting || struck_at == bearings_.size()) return;
    const FilmNow& film = films_now_[struck_at];
    BearingSample& struck = places[bearings_[struck_at].place];
    const double modulation = electric_.source_.modulation(stretch.speed[electric_.shaft_]);
    const ShaftStresses stresses =
        electric_.grid_.at({electric_.winding_rotor_, Capacitance::from_value(total_F)},
                           stretch.speed[electric_.shaft_]);
    const FilmStrength& strength = electric_.model_->strength;
    add_verdicts({weakest_m * strength.band.at_05.value(), weakest_m * strength.band.at_50.value(),
                  film.film_ratio},
                 stresses, electric_.source_.verdict_legs(modulation), dt, struck);
    add_strikes(stresses, columns_.edges[i], weakest_m * strength.drawn.value(), total_F,
                film.area_m2, dt, struck);
  }

  /// voltage::discharge_rates() of a node that discharges as a whole.
  void add_strikes(const ShaftStresses& stresses, const voltage::EdgeRates& edges,
                   double threshold_V, double capacitance_F, double area_m2, double dt,
                   BearingSample& struck) const {
    struct Strike {
      double probability, at_V;
    };
    const auto strike = [&](double voltage_V, double per_root_duration) -> Strike {
      if (voltage_V == 0.0) return {0.0, 0.0};
      const double credited_V =
          threshold_V * std::min(1.0 + root_drawn_ * per_root_duration, voltage::pulse_credit_cap);
      if (!(voltage_V > credited_V)) return {0.0, std::min(voltage_V, threshold_V)};
      const double excess = (voltage_V / credited_V - 1.0) / electric_.edge_width_;
      constexpr double certain = 40.0;  // beyond, exp(-x) is below the rounding of 1
      const double square = excess * excess;
      return {square > certain ? 1.0 : -std::expm1(-square), std::min(voltage_V, threshold_V)};
    };
    const auto per_root = [](const voltage::Stress& stress) {
      return stress.voltage > Voltage{} ? 1.0 / std::sqrt(stress.duration.value()) : 0.0;
    };
    const Strike held = strike(stresses.held.voltage.value(), per_root(stresses.held));
    const std::array legs{edges.one_leg.value(), edges.two_legs.value(), edges.three_legs.value()};
    const voltage::Stress &up = stresses.rising, &down = stresses.falling;
    const bool alike = up.voltage == down.voltage && up.duration == down.duration;
    double rate_per_s = 0.0, square_V2_per_s = 0.0;
    const auto add_edges = [&](const voltage::Stress& one, double share) {
      const double per_root_duration = per_root(one);
      for (std::size_t k = 0; k < legs.size(); ++k) {
        if (legs[k] == 0.0) continue;
        const Strike edge = strike(double(k + 1) * one.voltage.value(), per_root_duration);
        const Strike& taken = edge.probability >= held.probability ? edge : held;
        const double rate = taken.probability * share * legs[k];
        rate_per_s += rate;
        square_V2_per_s += rate * taken.at_V * taken.at_V;
      }
    };
    add_edges(up, alike ? 1.0 : 0.5);
    if (!alike) add_edges(down, 0.5);
    const double power_W = 0.5 * capacitance_F * square_V2_per_s;
    struck.discharges += rate_per_s * dt;
    struck.energy_J += power_W * dt;
    struck.dose_J_m2 += power_W / area_m2 * dt;
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
    const voltage::DischargePath& path = now.paths[*now.struck];
    const voltage::ThresholdBand band = voltage::threshold_at_shaft(path)->band;
    add_verdicts({band.at_05.value(), band.at_50.value(), path.film_ratio}, now.stresses,
                 now.verdict_legs, dt, struck);
    electric_.add_discharges(now, electric_.rates(now, columns_.edges[i]), dt, struck);
  }

  /// voltage::verdict() for all credits, its headline alone: the roots of the durations are those
  /// of every credit.
  struct StruckFilm {
    double at_05_V, at_50_V;
    double film_ratio;  ///< 0: not known
  };
  void add_verdicts(const StruckFilm& film, const ShaftStresses& stresses, int legs, double dt,
                    BearingSample& struck) const {
    if (film.film_ratio > 0.0 && film.film_ratio <= 1.0) {  // metallic contact
      for (double& striking_s : struck.striking_by_credit_s) striking_s += dt;
      struck.striking_s += dt;
      return;
    }
    const voltage::Stress edge = stresses.edge(legs);
    const double held_V = stresses.held.voltage.value(), edge_V = edge.voltage.value();
    const double held_s = stresses.held.duration.value();
    const double per_root_held = 1.0 / std::sqrt(held_s);
    const double per_root_edge =
        edge_V > 0.0 ? 1.0 / std::sqrt(edge.duration.value()) : per_root_held;
    for (std::size_t c = 0; c < credit_us.size(); ++c) {
      const double held_credit =
          std::min(1.0 + root_credit_[c] * per_root_held, voltage::pulse_credit_cap);
      const double edge_credit =
          std::min(1.0 + root_credit_[c] * per_root_edge, voltage::pulse_credit_cap);
      const auto reaches = [&](double threshold_V) {
        return held_V >= threshold_V * held_credit || edge_V >= threshold_V * edge_credit;
      };
      if (!reaches(film.at_05_V)) continue;
      struck.striking_by_credit_s[c] += dt;
      if (c != headline_credit) continue;
      struck.striking_s += dt;
      if (reaches(film.at_50_V)) struck.expected_s += dt;
    }
  }

  const ElectricModel& electric_;
  const StrikeColumns& columns_;
  const FilmColumns& films_;
  const OilColumns& oil_;
  std::vector<StruckBearing> bearings_;
  std::array<double, credit_us.size()> root_credit_{};
  double root_drawn_ = 0.0;
  bool bare_ = false;  ///< add_bare() will do
  ElectricState state_;
  std::vector<FilmNow> films_now_;
};

void ElectricModel::accumulate(std::span<const energy::Stretch> stretches,
                               const StrikeColumns& columns, const OilColumns& oil,
                               std::span<const double> oil_K,
                               std::vector<BearingSample>& paths) const {
  StrikeCourse(*this, columns, oil).follow(stretches, oil_K, paths);
}

}  // namespace ohmdrag::study
