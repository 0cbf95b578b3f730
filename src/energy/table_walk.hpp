#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "ohmdrag/energy/quick_march.hpp"

/// The inner loop of QuickMarch in plain numbers.
namespace ohmdrag::energy {

/// As many walks as stand side by side in a vector.
inline constexpr std::size_t most_side_by_side = 4;

/// Sums by bucket, those of other walks between them where several share their memory.
struct Gathered {
  double* first = nullptr;
  std::size_t row = 0, stride = 1;

  double& operator()(std::size_t bucket, std::size_t figure = 0) const {
    return first[bucket * row + figure * stride];
  }
};

/// A shaft where the oil is now, and what it has gathered.
struct WalkedShaft {
  // Contacts, out of a panel of a ShaftTable; none, or solved elsewhere: empty.
  std::span<const double> coefficients;
  double middle_K = 0.0;
  std::size_t figures = component::ShaftTable::figure_step;  ///< of a row of coefficients
  std::size_t used = 1;                                      ///< of them: the others are zero
  Gathered energy_J;                                         ///< into the oil, then of the contacts

  // Bearings: the power of the viscosity by a cubic of T - from.
  double viscous_Nm = 0.0;  ///< of all of them where bearing::viscous_scale() is 1
  double from_K = 0.0;
  std::array<double, 4> viscosity_power{};
  Gathered scaled_rad;  ///< angle turned, times the scale
};

/// (nu/(mm2/s))^(2/3) of its oil.
[[gnu::always_inline]] inline double viscosity_power(const WalkedShaft& shaft, double oil_K) {
  const std::array<double, 4>& c = shaft.viscosity_power;
  const double t = oil_K - shaft.from_K;
  return (c[0] + t * c[1]) + t * t * (c[2] + t * c[3]);
}

struct TableWalk {
  std::vector<WalkedShaft> shafts;
  double low_K = 0.0, high_K = 0.0;  ///< between these what the shafts hold is good

  double oil_K = 0.0;
  double per_capacity_K_J = 0.0, conductance_W_K = 0.0, air_W_K = 0.0, ambient_K = 0.0;
  double other_heat_W = 0.0;
  bool moves = true;  ///< else the oil is held

  const DutyStep* steps = nullptr;
  const PlacedSpeed* places = nullptr;  ///< [stretch][shaft]
  const double* load_W = nullptr;       ///< of the bearings' loads, by stretch
  double* oil_at_K = nullptr;           ///< receives the oil at the start of each stretch

  std::size_t next = 0, to = 0;  ///< stretches to walk over

  bool has_stopped() const { return next == to || !(oil_K >= low_K && oil_K <= high_K); }
};

/// From so many walks on it pays to have a figure of all of them as one vector.
inline constexpr std::size_t fewest_in_lanes = 3;

/// What usual walks hold side by side: those of one shaft with bearings and few contacts, its oil
/// moving.
class WalkLanes {
 public:
  /// Has to be called where panels may stand whose memory was that of others before.
  void forget() { laid_in_ = {}; }
  /// For other walks, with nothing gathered. \param used  figures, the most that one of them uses
  void begin(std::size_t used, std::size_t buckets);
  /// Where a walk gathers.
  Gathered energy_J(std::size_t lane) {
    return {energy_J_.data() + lane, used_ * most_side_by_side, most_side_by_side};
  }
  Gathered scaled_rad(std::size_t lane) {
    return {scaled_rad_.data() + lane, most_side_by_side, most_side_by_side};
  }
  /// The coefficients of a walk beside those of the others, if they are not there yet.
  void lay_in(std::size_t lane, std::span<const double> coefficients);

  std::size_t used() const { return used_; }
  const double* coefficients() const { return coefficients_.data(); }

 private:
  std::size_t used_ = 0;
  component::ShaftTable::Aligned coefficients_;  ///< [node][power][figure][walk]
  std::array<const double*, most_side_by_side> laid_in_{};
  component::ShaftTable::Aligned energy_J_;    ///< [bucket][figure][walk]
  component::ShaftTable::Aligned scaled_rad_;  ///< [bucket][walk]
};

/// Takes every walk over the same number of stretches, at least one: until the first of them has
/// come to its end or its oil has left its limits. What one finds does not hang on the others.
///
/// \param to  where all of them end in any case
/// \pre one to most_side_by_side walks over the same steps, places and loads of the same bearings,
///      into sumps that differ in their temperature and other heat alone, at the same stretch
void walk(std::span<TableWalk* const> walks, std::size_t to, numerics::LaneWidth width);
/// The same of usual walks, at least fewest_in_lanes of them, each gathering on the lane of its
/// place.
void walk(std::span<TableWalk* const> walks, std::size_t to, numerics::LaneWidth width,
          WalkLanes& lanes);

}  // namespace ohmdrag::energy
