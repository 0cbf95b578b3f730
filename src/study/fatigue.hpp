#pragma once

#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/energy/march.hpp"
#include "ohmdrag/numerics/lane_rows.hpp"
#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/draws.hpp"

/// Rolling fatigue over a duty, step by step (Palmgren and Miner).
namespace ohmdrag::study {

struct BearingModel;
struct BearingSample;
struct FatigueColumn;
class OilColumns;
struct WorldModel;

/// Share of the basic rating life per bearing. It sees load and speed alone: the same for every
/// variant and oil temperature.
std::vector<double> fatigue_of(const WorldModel& model,
                               const std::vector<energy::Stretch>& stretches, const Draw& draw);

/// Y of tapered rollers, none for all others.
std::optional<double> axial_factor_of(const BearingType& type, const Draw& draw);
/// Equivalent load at a shaft torque.
/// \param axial_factor  axial_factor_of() the bearing
Force fatigue_load(const BearingModel& bearing, const std::optional<double>& axial_factor,
                   Torque torque);
/// Share of the basic rating life that a stretch consumes.
double basic_damage(const BearingModel& bearing, Force load, AngularVelocity speed, Time dt);

/// Modified rating life of the bearings of one variant in one draw: its damage goes with the oil.
///
///     damage = dt n/(1e6 a1 a_ISO L10),  a_ISO of kappa = nu(oil)/nu1 and of e_C C_u/P
///
/// Limits    nothing turns or nothing presses: no damage. kappa below 0.1: a_ISO as at 0.1, counted
///           apart. C_u where the bearing states none: static rating over 22 (balls) or 8.2
///           (rollers), by ball_fatigue_limit() and roller_fatigue_limit(). A proven EP additive:
///           bearing::with_ep_additive().
/// Validity  of bearing::ball_life_factor() and roller_life_factor(): wear, corrosion and
/// electrical
///           erosion are no part of it.
/// Source    bearing/rating_life.hpp; the sum step by step: bearing/damage_sum.hpp. Debris of a
///           grounding element makes the oil one class dirtier: assumed.
class OilFatigue {
 public:
  OilFatigue(const WorldModel& model, const Variant& variant, const Draw& draw);

  /// Of one world: the same oil does the same to the bearings.
  bool operator==(const OilFatigue&) const = default;

  /// Adds a stretch to the bearings; does nothing where the case does not say how clean the oil is.
  /// \param model  the one it was made of
  void accumulate(const WorldModel& model, const energy::Stretch& stretch, Temperature oil,
                  std::vector<BearingSample>& bearings) const;

  /// The same of a whole duty, out of tables over the viscosity ratio: within 1e-5 of it.
  /// \param oil_K  at the start of each stretch, in blocks; what fills the last one counts for
  /// nothing
  void accumulate(const WorldModel& model, std::span<const energy::Stretch> stretches,
                  std::span<const std::shared_ptr<const FatigueColumn>> columns,
                  const OilColumns& oil, const numerics::LaneRows& oil_K,
                  std::vector<BearingSample>& bearings) const;

 private:
  void add(const WorldModel& model, std::size_t bearing, const energy::Stretch& stretch,
           KinematicViscosity nu, BearingSample& sum) const;
  bearing::LifeFactor life_factor(std::size_t bearing, bool roller, double kappa, Force load) const;

  struct Rolling {
    std::optional<double> axial_factor;  ///< of tapered rollers
    Length pitch_diameter;
    Force fatigue_limit;
    bool operator==(const Rolling&) const = default;
  };
  std::optional<bearing::Cleanliness> cleanliness_;
  bool proven_ep_additive_ = false;
  double reliability_factor_ = 1.0;
  std::vector<Rolling> bearings_;
};

}  // namespace ohmdrag::study
