#pragma once

#include <array>
#include <memory>
#include <span>
#include <vector>

#include "ohmdrag/numerics/cubic_grid.hpp"
#include "ohmdrag/voltage/discharge.hpp"
#include "study/model.hpp"

/// A duty laid out by what no oil temperature changes, and the oil by what no speed changes: a
/// stretch is then a few products. Laid out once for all variants, much of it once for all draws.
namespace ohmdrag::study {

/// Powers of eta u by which the films of a world grow; balls and rollers have their own.
inline constexpr std::size_t most_film_powers = 4;
using FilmPowers = std::array<double, most_film_powers>;

/// The oil of a world in one draw over its temperature.
///
/// Limits    outside -40 to 200 degC it holds nothing: whoever asks computes.
/// Accuracy  1e-6 of each value: cubics between nodes 2 K apart.
/// Source    as the functions of material it reads; derived: numerics::CubicGrid.
class OilColumns {
 public:
  explicit OilColumns(const WorldModel& model);

  struct Oil {
    double viscosity_m2_s;
    double log_viscosity;       ///< of the same
    double permittivity_share;  ///< 1 without films
    double heating;             ///< (eta beta/k)^0.62 of bearing::inlet_heating_factor(), at u = 1
    FilmPowers film;            ///< eta to the exponents()
  };
  struct Viscosity {
    double viscosity_m2_s, log_viscosity;
  };
  bool holds(double oil_K) const { return grid_.holds(oil_K); }
  /// \pre holds(oil_K)
  Oil at(double oil_K) const;
  Viscosity viscosity(double oil_K) const {
    const numerics::CubicPlace place = grid_.place(oil_K);
    return {place.of(values_.data(), figures), place.of(values_.data() + 1, figures)};
  }

  const FilmPowers& exponents() const { return exponents_; }
  /// Index of a power of the films among exponents().
  std::size_t index_of(double exponent) const;

 private:
  static constexpr std::size_t figures = 4 + most_film_powers;
  FilmPowers exponents_{};
  std::size_t used_ = 0;
  numerics::CubicGrid grid_;
  std::vector<double> values_;  ///< [node][figure]
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
  struct Row {
    double basic_damage;   ///< 0 where nothing turns or presses
    double per_reference;  ///< 1/nu1, s/m2; 0 where nothing turns
    double log_per_reference;
    double load_root;  ///< P^-q, q that of the load margin in a_ISO; 0 without load
    bool overloaded;   ///< more than half the dynamic rating
  };
  Inputs inputs;
  std::vector<Row> rows;
  double basic_damage = 0.0;  ///< of all stretches
};

/// Columns of all bearings in one draw.
/// \param like  those of the same stretches in another draw: taken over where nothing differs
using FatigueColumns = std::vector<std::shared_ptr<const FatigueColumn>>;
FatigueColumns fatigue_columns(const WorldModel& model,
                               const std::vector<energy::Stretch>& stretches, const Draw& draw,
                               const FatigueColumns& like);

/// What the films on the electrified shaft take of every stretch, in every draw.
struct FilmColumns {
  struct Row {
    double speed_rad_s;  ///< magnitude
    double heating;      ///< to the power 1.24: of the inlet heating
    FilmPowers film;     ///< speed to the powers of the films
  };
  /// Between two of the film models of a bearing.
  struct Place {
    std::size_t first;
    double share;
  };
  std::vector<Row> rows;
  std::vector<std::vector<Place>> places;  ///< [bearing of the shaft][stretch]
  FilmPowers exponents{};
};
FilmColumns film_columns(const WorldModel& model, std::size_t shaft,
                         const std::vector<energy::Stretch>& stretches, const OilColumns& oil);

/// With the edges of the source, which hang on the draw.
struct StrikeColumns {
  std::shared_ptr<const FilmColumns> films;
  std::vector<voltage::EdgeRates> edges;  ///< per stretch
};

}  // namespace ohmdrag::study
