#pragma once

#include <cstddef>
#include <vector>

#include "ohmdrag/component/shaft_network.hpp"
#include "ohmdrag/numerics/lane_room.hpp"
#include "ohmdrag/numerics/lane_width.hpp"

namespace ohmdrag::component {

/// What of a block of shafts hangs on the oil temperature alone. Rows as named.
struct WideOilSide {
  numerics::LaneRoom room = {};    ///< of all rows
  numerics::LaneSpan oil_K;        ///< 1
  numerics::LaneSpan film_cubes;   ///< 2: h^3 at rest, and what omega^2 adds to it
  numerics::LaneSpan force_share;  ///< 1 a contact: force over that at 20 degC
  numerics::LaneSpan log_share;    ///< 1 a contact, its logarithm
};

/// What hangs on speed and dry side alone.
struct WideDrySide {
  numerics::LaneRoom room = {};    ///< of all rows
  bool turns = false;              ///< every lane; else none does
  numerics::LaneSpan omega_rad_s;  ///< 1
  numerics::LaneSpan log_omega;    ///< 1, of turning lanes
  numerics::LaneSpan through_W_K;  ///< 1 a dry rod, counted from the seal
  numerics::LaneSpan to_side_W_K;  ///< the same
  numerics::LaneSpan end_W_K;      ///< 1
};

/// A settled block and the room to settle it in.
struct WideShaftState {
  numerics::LaneRoom room = {};   ///< of all rows
  numerics::LaneSpan power_W;     ///< 1 a contact
  numerics::LaneSpan contact_K;   ///< 1 a contact
  numerics::LaneSpan into_oil_W;  ///< 1: as component::into_oil
  numerics::LaneSpan loop_gain;   ///< 1: as ShaftState::loop_gain, 0 for less
  /// 1 a film: what the next solve starts from, and what it found. Zero: from the idle shaft.
  numerics::LaneSpan friction;
  /// Newton stops below such a step; what is left is about a fiftieth of its square per kelvin.
  double step_tolerance_K = 1e-5;
  std::size_t evaluations = 0;  ///< of the films' friction so far, a block each

  // From here on scratch.
  numerics::LaneSpan through_W_K, to_side_W_K, pivot_W_K, node_K, per_W_K;
  numerics::LaneSpan base_K, resistance_K_W, friction_per_K, unity_K, unity_W, moved_K, before_K;
  numerics::LaneSpan log_eta, thinning_per_K;
  numerics::LaneSpan end_W_K, trouble;
};

/// Up to numerics::lanes shafts of one shape side by side: solve() and into_oil() of each, in the
/// same arithmetic, which the compiler turns into vector instructions.
///
/// Shafts are of one shape if they have the same number of contacts, each with the same law, body
/// or none, softening with as many points or none, at nodes in the same order; the same ends
/// (endless or not) and the same kind of convection on either side. All their numbers may differ.
///
/// Validity  as solve(). A contact that does not settle by Newton within twelve steps, or whose
///           loop gain reaches 1, is left to solve() for that shaft alone, which knows brackets and
///           refuses.
/// Limits    as solve(). Where two steady states exist it takes the one that Newton finds from the
///           cold side or from the last solve.
/// Accuracy  against solve(): 1e-12 of powers and rises. A shaft's last digits hang on its
///           neighbours in the block, which may ask for one more step of Newton; they do not hang
///           on the width of the instructions or on threads.
class WideShaft {
 public:
  /// Lanes beyond the last shaft repeat it.
  /// \throws std::invalid_argument as ThermalNetwork, for no shaft, more than numerics::lanes, or
  ///         shafts of different shapes.
  explicit WideShaft(std::vector<ShaftSystem> shafts,
                     numerics::LaneWidth width = numerics::widest_lanes());

  std::size_t shafts() const { return shafts_.size(); }
  std::size_t contacts() const { return contacts_.size(); }
  const ShaftSystem& system(std::size_t lane) const {
    return shafts_[lane < shafts_.size() ? lane : shafts_.size() - 1];
  }
  /// The dry side of every lane [K], > 0; has to be called before dry_side().
  void set_dry(const double* dry_K);

  WideOilSide oil_side() const;  ///< room for one
  WideDrySide dry_side() const;
  WideShaftState state() const;

  /// \param oil_K  numerics::lanes temperatures, > 0
  void fill(WideOilSide& side, const double* oil_K) const;
  void fill(WideDrySide& side, AngularVelocity speed) const;
  /// \param omega_rad_s  numerics::lanes speeds, either all > 0 or all 0
  void fill(WideDrySide& side, const double* omega_rad_s) const;
  /// \throws std::domain_error "thermally unstable" as solve().
  void settle(const WideOilSide& oil, const WideDrySide& dry, WideShaftState& state) const;

 private:
  enum class Law { film, constant, ptfe };
  struct Contact {
    Law law;
    std::size_t node;
    bool body_in_oil;
    std::size_t softening_points = 0;
    numerics::LaneSpan values;     // as named by the rows in wide_shaft_rows.hpp
    numerics::LaneSpan softening;  // temperatures, then ratios
  };
  void read(std::size_t lane);
  void repeat_last();
  void network(const WideOilSide& oil, const WideDrySide& dry, WideShaftState& state) const;
  void settle_films(const WideOilSide& oil, const WideDrySide& dry, WideShaftState& state) const;
  void flows(const WideOilSide& oil, WideShaftState& state) const;
  void settle_alone(std::size_t lane, const WideOilSide& oil, const WideDrySide& dry,
                    WideShaftState& state) const;

  std::vector<ShaftSystem> shafts_;
  numerics::LaneWidth width_;
  std::vector<Contact> contacts_;
  std::vector<std::size_t> films_;
  std::size_t nodes_ = 0;
  std::size_t wet_rods_ = 0;
  bool oil_end_held_ = false;
  bool dry_end_free_ = false;
  bool oil_turning_ = false;
  numerics::LaneRoom of_shafts_;  // what stands in the contacts and in these:
  numerics::LaneSpan shaft_;      // as named by the rows
  numerics::LaneSpan rods_m_;
  numerics::LaneSpan dry_;
};

}  // namespace ohmdrag::component
