#include <algorithm>
#include <cmath>

#include "ohmdrag/bearing/film.hpp"
#include "ohmdrag/voltage/strike_kernel.hpp"
#include "study/electric.hpp"
#include "study/stress_lanes.hpp"

namespace ohmdrag::study {

using numerics::LaneRows;
using numerics::lanes;

/// One variant along one duty.
class StrikeCourse {
 public:
  StrikeCourse(const ElectricModel& electric, const StrikeColumns& columns, const OilColumns& oil)
      : electric_(electric), columns_(columns), oil_(oil), width_(numerics::widest_lanes()) {
    for (std::size_t c = 0; c < credit_us.size(); ++c)
      root_credit_[c] = std::sqrt(credit_us[c] * 1e-6);
    const auto stands_apart = [&](std::size_t b) {
      const BearingModel& bearing = electric.model_->bearings[b];
      return bearing.in_series || bearing.ceramic;
    };
    side_by_side_ = electric.others_.empty() && !electric.density_law_ &&
                    std::ranges::none_of(electric.bearings_, stands_apart);
  }

  void follow(std::span<const energy::Stretch> stretches, const LaneRows& oil_K, NodeCourse* nodes,
              std::vector<BearingSample>& places) {
    if (side_by_side_)
      follow_blocks(stretches, oil_K, nodes, places);
    else
      add_each(0, stretches.size(), stretches, oil_K, places);
  }

 private:
  StrikeLaw law() const {
    const FilmStrength& strength = electric_.model_->strength;
    return {.base_F = (electric_.winding_rotor_ + electric_.rotor_frame_).value(),
            .at_05_V_m = strength.band.at_05.value(),
            .at_50_V_m = strength.band.at_50.value(),
            .drawn_V_m = strength.drawn.value(),
            .root_credit = root_credit_,
            .root_drawn = std::sqrt(electric_.t0_.value()),
            .per_edge_width = 1.0 / electric_.edge_width_,
            .alike = electric_.grid_.same_edges()};
  }

  std::vector<StruckBearing> struck_bearings() const {
    std::vector<StruckBearing> result;
    for (const std::size_t b : electric_.bearings_) {
      const BearingModel& bearing = electric_.model_->bearings[b];
      if (bearing.stated_capacitance)
        result.push_back({0.0, 0.0, bearing.stated_capacitance->value()});
      else
        result.push_back({1.0, bearing.unloaded_element.value(), bearing.rings.value()});
    }
    return result;
  }

  void follow_blocks(std::span<const energy::Stretch> stretches, const LaneRows& oil_K,
                     NodeCourse* kept, std::vector<BearingSample>& places) {
    const StrikeLaw of_variant = law();
    const std::vector<StruckBearing> bearings = struck_bearings();
    std::vector<StrikeSums> sums(bearings.size());
    const StressLanes grid(electric_.grid_, electric_.winding_rotor_);
    const bool open = electric_.grid_.open();
    const ShaftStresses& unit = electric_.grid_.of_unit();
    StressBlock stresses;
    if (open) stand_alone(unit, stresses);
    const FilmColumns& films = *columns_.films;
    const bool known = kept && kept->oil_K == oil_K && kept->bearings == bearings &&
                       kept->base_F == of_variant.base_F;
    if (kept && !kept->blocks)
      kept->blocks = std::make_unique_for_overwrite<NodeBlock[]>(films.dt_s.rows());
    bool all_held = true;
    NodeBlock passing;
    for (std::size_t at = 0; at < films.dt_s.rows(); ++at) {
      if (!films.turns[at]) continue;
      NodeBlock& node = kept ? kept->blocks[at] : passing;
      if (!known && !find_films(columns_, bearings, oil_, oil_K[at], of_variant.base_F, at, width_,
                                node, sums)) {
        all_held = false;
        add_each(at * lanes, std::min((at + 1) * lanes, stretches.size()), stretches, oil_K,
                 places);
        continue;
      }
      if (open)
        share_out(electric_.winding_rotor_.value(), unit.rising.voltage.value(),
                  unit.falling.voltage.value(), unit.held.voltage.value(), width_, node, stresses);
      else
        grid.find(films.speed_rad_s, columns_.among_speeds, at, width_, node, stresses);
      find_strikes(columns_, of_variant, at, width_, node, stresses, sums);
    }
    if (known)
      for (std::size_t b = 0; b < sums.size(); ++b) sums[b].conducting_s = kept->conducting_s[b];
    else if (kept)
      keep(all_held ? oil_K : LaneRows{}, bearings, of_variant.base_F, sums, *kept);
    for (std::size_t b = 0; b < sums.size(); ++b) sums[b].add_to(places[electric_.bearings_[b]]);
  }

  static void keep(const LaneRows& oil_K, const std::vector<StruckBearing>& bearings, double base_F,
                   const std::vector<StrikeSums>& sums, NodeCourse& nodes) {
    nodes.oil_K = oil_K;
    nodes.bearings = bearings;
    nodes.base_F = base_F;
    nodes.conducting_s.clear();
    for (const StrikeSums& sum : sums) nodes.conducting_s.push_back(sum.conducting_s);
  }

  /// Durations without a path are the same everywhere.
  static void stand_alone(const ShaftStresses& unit, StressBlock& stresses) {
    const auto set = [](const voltage::Stress& stress, LaneStress& row) {
      std::ranges::fill(row.per_root_duration.of, 1.0 / std::sqrt(stress.duration.value()));
    };
    set(unit.rising, stresses.rising);
    set(unit.falling, stresses.falling);
    set(unit.held, stresses.held);
  }

  void add_each(std::size_t from, std::size_t to, std::span<const energy::Stretch> stretches,
                const LaneRows& oil_K, std::vector<BearingSample>& places) {
    for (std::size_t i = from; i < to; ++i)
      add(i, stretches[i], oil_K[i / lanes][i % lanes], places);
  }

  /// A stretch of a shaft on which more can be struck than bare bearings: films out of the columns,
  /// all else as of a single stretch.
  void add(std::size_t i, const energy::Stretch& stretch, double oil_K,
           std::vector<BearingSample>& places) {
    const std::size_t at = i / lanes, lane = i % lanes;
    if (!(columns_.films->dt_s[at][lane] > 0.0)) return;
    const Temperature oil = Temperature::from_value(oil_K);
    ElectricState& now = state_;
    if (!oil_.holds(oil_K)) {
      electric_.accumulate(stretch, oil, now, places);
      return;
    }
    now.paths.clear();
    now.places.clear();
    now.speed = stretch.speed[electric_.shaft_];
    now.turning = true;
    add_bearings(at, lane, oil_K);
    electric_.add_other_paths(now, oil, stretch.torque[electric_.shaft_]);
    const double dt = stretch.dt.value();
    now.struck = voltage::weakest_path(now.paths);
    if (!now.struck) {
      for (std::size_t p = 0; p < now.paths.size(); ++p)
        if (now.paths[p].conducting) places[now.places[p]].conducting_s += dt;
      return;
    }
    now.modulation = columns_.films->modulation[at][lane];
    now.verdict_legs = static_cast<int>(columns_.films->verdict_legs[at][lane]);
    now.node = voltage::shaft_node(electric_.winding_rotor_, electric_.rotor_frame_,
                                   voltage::capacitance(now.paths));
    now.stresses = electric_.grid_.at(now.node, now.speed);
    BearingSample& struck = places[now.places[*now.struck]];
    const voltage::DischargePath& path = now.paths[*now.struck];
    const voltage::ThresholdBand band = voltage::threshold_at_shaft(path)->band;
    add_verdicts({band.at_05.value(), band.at_50.value(), path.film_ratio}, now.stresses,
                 now.verdict_legs, dt, struck);
    const auto edges = [&](std::size_t legs) {
      return Frequency::from_value(columns_.edges_per_s[legs - 1][at][lane]);
    };
    electric_.add_discharges(now, electric_.rates(now, {edges(1), edges(2), edges(3)}), dt, struck);
  }

  void add_bearings(std::size_t at, std::size_t lane, double oil_K) {
    const double heating = oil_.at(oil_K, OilColumns::heating) * columns_.films->heating[at][lane];
    for (std::size_t b = 0; b < electric_.bearings_.size(); ++b) {
      const StrikeColumns::Bearing& columns = columns_.bearings[b];
      const double heated = bearing::inlet_heating_factor(heating * columns.heating);
      const double minimum_m = heated * oil_.at(oil_K, OilColumns::minimum_of(columns.kind)) *
                               columns.minimum_m[at][lane];
      const double film_F = oil_.at(oil_K, OilColumns::capacitance_of(columns.kind)) *
                            columns.capacitance_F[at][lane] / heated;
      bearing::FilmState state{};
      state.minimum_inner = Length::from_value(minimum_m);
      state.film_ratio = minimum_m * columns.per_roughness;
      state.area_inner = Area::from_value(columns.area_m2[at][lane]);
      state.capacitance = Capacitance::from_value(film_F);
      state.conducting = state.film_ratio < 1.0;
      state.unloaded = columns.unloaded[at][lane];
      const std::size_t place = electric_.bearings_[b];
      state_.paths.push_back(
          electric_.model_->bearings[place].path(state, electric_.model_->strength));
      state_.places.push_back(place);
    }
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
      const double held_credit = voltage::credit_factor(root_credit_[c], per_root_held);
      const double edge_credit = voltage::credit_factor(root_credit_[c], per_root_edge);
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
  const OilColumns& oil_;
  numerics::LaneWidth width_;
  std::array<double, credit_us.size()> root_credit_{};
  bool side_by_side_ = false;  ///< bare bearings are all that could be struck
  ElectricState state_;
};

void ElectricModel::accumulate(std::span<const energy::Stretch> stretches,
                               const StrikeColumns& columns, const OilColumns& oil,
                               const LaneRows& oil_K, std::vector<BearingSample>& paths,
                               NodeCourse* nodes) const {
  StrikeCourse(*this, columns, oil).follow(stretches, oil_K, nodes, paths);
}

}  // namespace ohmdrag::study
