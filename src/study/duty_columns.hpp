#pragma once

#include <array>
#include <memory>
#include <span>
#include <vector>

#include "ohmdrag/numerics/lane_rows.hpp"
#include "study/model.hpp"

/// A duty laid out by what no oil temperature changes, and the oil by what no speed changes: a
/// stretch is then a few products. Laid out once for all variants, much of it once for all draws.
///
/// Columns hold a duty in blocks of numerics::lanes stretches that are computed side by side: a row
/// of a LaneRows is a block. What lies beyond the last stretch weighs nothing.
namespace ohmdrag::study {

class ElectricModel;
class SourceModel;

/// Blocks that hold so many stretches.
constexpr std::size_t blocks_of(std::size_t stretches) {
  return (stretches + numerics::lanes - 1) / numerics::lanes;
}

/// Powers of eta u by which the films of one kind of bearing grow.
struct FilmPowers {
  double minimum = 0.0, central = 0.0;
  bool operator==(const FilmPowers&) const = default;
};
/// Balls and rollers.
inline constexpr std::size_t most_film_kinds = 2;
using FilmKinds = std::array<FilmPowers, most_film_kinds>;

/// The oil of a world in one draw over its temperature.
///
/// Limits    outside -40 to 200 degC it holds nothing: whoever asks computes.
/// Accuracy  1e-6 of each value from 15 degC up, 2e-5 at -40 degC: cubics between nodes 1 K apart.
/// Source    as the functions of material it reads; derived: the remainder of numerics::CubicGrid.
/// \throws as material::permittivity_share() in its cold.
class OilColumns {
 public:
  explicit OilColumns(const WorldModel& model);

  /// What is held, each over all pieces of the temperature.
  enum Figure : std::size_t {
    viscosity_m2_s,
    log_viscosity,  ///< of the same
    heating,        ///< (eta beta/k)^0.62 of bearing::inlet_heating_factor(), at u = 1
    minimum_film,   ///< eta to that power, then what a film of the kind holds of charge: the share
    capacitance,    ///< of permittivity that is left over eta to the central power
    second_minimum_film,
    second_capacitance,
    figures
  };
  static Figure minimum_of(std::size_t kind) { return Figure(minimum_film + 2 * kind); }
  static Figure capacitance_of(std::size_t kind) { return Figure(capacitance + 2 * kind); }

  /// A cubic by its rising coefficients.
  struct Cubic {
    double c0, c1, c2, c3;
    double at(double x) const { return c0 + x * (c1 + x * (c2 + x * c3)); }
  };
  /// As plain numbers, for lanes: of x = (T - from_K) per_K a figure is the cubic() of a piece at
  /// x - piece. A piece reaches from the node it is named after to the third one beyond.
  struct Pieces {
    double from_K, per_K;
    double last;                 ///< index of the last piece
    const double* coefficients;  ///< [figure][power][piece]
    Cubic cubic(Figure figure, double piece) const {
      const double* const c = coefficients + static_cast<std::size_t>(figure) * 4 * most_nodes +
                              static_cast<std::size_t>(piece);
      return {c[0], c[most_nodes], c[2 * most_nodes], c[3 * most_nodes]};
    }
  };
  Pieces pieces() const;

  static bool holds(double oil_K) { return oil_K >= coldest_K && oil_K <= hottest_K; }
  /// \pre holds(oil_K)
  double at(double oil_K, Figure figure) const;

  /// Kinds of films of the world, those not used all zero.
  const FilmKinds& kinds() const { return kinds_; }
  /// Index of the kind of a bearing's films.
  std::size_t kind_of(const bearing::FilmModel& film) const;

 private:
  static constexpr double coldest_K = 233.15, hottest_K = 473.15;
  static constexpr std::size_t nodes = 241, most_nodes = 256;  ///< a whole number of blocks

  FilmKinds kinds_{};
  std::size_t used_ = 0;
  std::vector<double> coefficients_;
};

/// What the fatigue of one bearing takes of every stretch.
struct FatigueColumn {
  /// All that the column hangs on beside the stretches.
  struct Inputs {
    std::size_t shaft;
    energy::LoadCurve loads;
    Force dynamic_rating, static_rating;
    double static_factor;
    bool roller;
    std::optional<double> axial_factor;
    Length pitch_diameter;
    bool operator==(const Inputs&) const = default;
  };
  Inputs inputs;
  numerics::LaneRows damage;             ///< basic; 0 where nothing turns, parks or presses
  numerics::LaneRows log_per_reference;  ///< ln(1/nu1), nu1 in m2/s
  numerics::LaneRows weighted;           ///< dt/nu1; 0 where nothing turns
  numerics::LaneRows load_root;          ///< P^-q, q that of the load margin in a_ISO
  numerics::LaneRows loaded_s;           ///< dt where it turns under load
  double turning_s = 0.0;
  double overloaded_s = 0.0;  ///< more than half the dynamic rating
  double basic_damage = 0.0;  ///< of all stretches
};

/// Columns of all bearings in one draw.
/// \param like  those of the same stretches in another draw: taken over where nothing differs
using FatigueColumns = std::vector<std::shared_ptr<const FatigueColumn>>;
FatigueColumns fatigue_columns(const WorldModel& model,
                               const std::vector<energy::Stretch>& stretches, const Draw& draw,
                               const FatigueColumns& like);

/// What the films on the electrified shaft and its source take of every stretch, in every draw.
struct FilmColumns {
  /// Between two of the film models of a bearing.
  struct Place {
    std::vector<int> first;
    numerics::LaneRows share;
  };
  numerics::LaneRows dt_s;         ///< 0 where the shaft stands or the stretch is parked
  std::vector<bool> turns;         ///< by block, whether any of it does
  numerics::LaneRows speed_rad_s;  ///< magnitude; 1 where dt_s is 0
  numerics::LaneRows heating;      ///< to the power 1.24: of the inlet heating
  /// Speed to the powers of the films, by kind: the second one is 1 over it.
  std::array<numerics::LaneRows, most_film_kinds> minimum, capacitance;
  numerics::LaneRows modulation, verdict_legs;
  std::vector<Place> places;  ///< of each bearing of the shaft
  FilmKinds kinds{};
};
FilmColumns film_columns(const WorldModel& model, std::size_t shaft, const SourceModel& source,
                         const std::vector<energy::Stretch>& stretches, const OilColumns& oil);

/// Where the stretches of a duty stand in a grid of speeds: the column below each, and the share of
/// the way to the next.
struct ColumnPlaces {
  numerics::LaneRows column, along;
};

/// With all that hangs on the draw.
struct StrikeColumns {
  /// What a bearing's films are at eta u to their powers of 1.
  struct Bearing {
    numerics::LaneRows minimum_m, capacitance_F, area_m2, unloaded;
    std::size_t kind = 0;
    double heating = 0.0;        ///< (u/omega)^1.24
    double per_roughness = 0.0;  ///< film ratio over minimum film, 1/m
  };
  std::shared_ptr<const FilmColumns> films;
  std::array<numerics::LaneRows, 3> edges_per_s;  ///< of one, two and three legs
  ColumnPlaces among_speeds;                      ///< of StressSpeeds
  std::vector<Bearing> bearings;                  ///< of the shaft, with films
};
/// \param films  of the same stretches; null: to be laid out
StrikeColumns strike_columns(const WorldModel& model, const ElectricModel& electric,
                             const std::vector<energy::Stretch>& stretches, const OilColumns& oil,
                             std::shared_ptr<const FilmColumns> films);

}  // namespace ohmdrag::study
