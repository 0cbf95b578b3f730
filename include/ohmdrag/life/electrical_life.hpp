#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "ohmdrag/quantity/quantities.hpp"
#include "ohmdrag/voltage/discharge.hpp"

/// Laws that turn discharges into hours. None is a default: a case names its law, and every answer
/// carries what the law cannot see.
namespace ohmdrag::life {

/// Hours under a law.
struct LawLife {
  std::optional<Time> life;     ///< nothing: the law sees no electrical limit
  std::string_view blind_spot;  ///< one sentence, always printed beside the hours
};

/// Life inversely proportional to the dose rate, calibrated by one observation.
///
///     L = L_obs D_obs / D
///
/// Validity  same bearings, loads and oil in both.
/// Limits    no limit for D = 0.
/// Accuracy  that of the observation; one observation gives no scatter.
/// Source    derived: linear damage by energy over area.
///
/// \param observed_life  until the named event
/// \param observed       dose rate in the variant observed
/// \throws std::invalid_argument if the observed life or dose rate is not positive or D negative.
LawLife life_by_dose(Time observed_life, voltage::DoseRate observed, voltage::DoseRate variant);

/// Constants of the current-density law, from data.
struct CurrentDensityLaw {
  Time constant;             ///< life at J = 0
  double decades_per_A_mm2;  ///< exponent
  CurrentDensity floor;      ///< below: no electrical limit
};

/// Life at one apparent current density.
///
///     L = constant * 10^(-exponent J)
///
/// Limits    nothing below the floor.
/// Accuracy  one data set of the 1990s; +-30 % in the area is a factor of 4.5 at 1 A/mm2.
/// Source    Busse, Erdman, Kerkman, Schlegel and Skibinski, APEC 1996; constants from memory.
/// \throws std::invalid_argument if a constant is not positive or J negative.
std::optional<Time> life_at_density(const CurrentDensityLaw& law, CurrentDensity density);

/// A share of the whole driving time that strikes with this density.
struct DensityStep {
  double share;
  CurrentDensity density;
};

/// Linear damage over the steps that strike; the rest of the time consumes nothing.
/// The result is a median (assumed): see bearing::l10_from_median.
/// \throws std::invalid_argument as life_at_density and miner_life.
LawLife life_by_current_density(const CurrentDensityLaw& law, std::span<const DensityStep> steps);

/// Life in proportion to a power of the dose factor.
///
///     L = L_baseline * factor^x
///
/// \param dose_factor  nothing: no discharge, no limit
/// \throws std::invalid_argument if the baseline, factor or x is not positive.
LawLife life_by_dose_factor(Time baseline, std::optional<double> dose_factor, double power);

}  // namespace ohmdrag::life
