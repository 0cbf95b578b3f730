#pragma once

#include <optional>
#include <vector>

#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/energy/march.hpp"
#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/draws.hpp"

/// Rolling fatigue over a duty, step by step (Palmgren and Miner).
namespace ohmdrag::study {

struct BearingSample;
struct WorldModel;

/// Share of the basic rating life per bearing. It sees load and speed alone: the same for every
/// variant and oil temperature.
std::vector<double> fatigue_of(const WorldModel& model,
                               const std::vector<energy::Stretch>& stretches, const Draw& draw);

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

  /// Adds a stretch to the bearings; does nothing where the case does not say how clean the oil is.
  /// \param model  the one it was made of
  void accumulate(const WorldModel& model, const energy::Stretch& stretch, Temperature oil,
                  std::vector<BearingSample>& bearings) const;

 private:
  struct Rolling {
    std::optional<double> axial_factor;  ///< of tapered rollers
    Length pitch_diameter;
    Force fatigue_limit;
  };
  std::optional<bearing::Cleanliness> cleanliness_;
  bool proven_ep_additive_ = false;
  double reliability_factor_ = 1.0;
  std::vector<Rolling> bearings_;
};

}  // namespace ohmdrag::study
