#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "ohmdrag/energy/quick_march.hpp"

/// The inner loop of QuickMarch in plain numbers.
namespace ohmdrag::energy {

/// A shaft where the oil is now, and what it has gathered.
struct WalkedShaft {
  // Contacts, out of a panel of a ShaftTable; none, or solved elsewhere: null.
  const double* coefficients = nullptr;
  double middle_K = 0.0;
  std::size_t figures = component::ShaftTable::figure_step;
  component::ShaftTable::Aligned
      energy_J;  ///< [bucket][figure]: into the oil, then of the contacts

  // Bearings: the power of the viscosity by a cubic of T - from.
  double viscous_Nm = 0.0;  ///< of all of them where bearing::viscous_scale() is 1
  double from_K = 0.0;
  std::array<double, 4> viscosity_power{};
  std::vector<double> scaled_rad;  ///< [bucket]: angle turned, times the scale
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

/// As many walks as stand side by side in a vector.
inline constexpr std::size_t most_side_by_side = 4;

/// Takes every walk over the same number of stretches, at least one: until the first of them has
/// come to its end or its oil has left its limits. What one finds does not hang on the others.
///
/// \param to  where all of them end in any case
/// \pre one to most_side_by_side walks over the same steps, places and loads of the same bearings,
///      into sumps that differ in their temperature and other heat alone, at the same stretch
void walk(std::span<TableWalk* const> walks, std::size_t to, numerics::LaneWidth width);

}  // namespace ohmdrag::energy
