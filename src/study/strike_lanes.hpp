#pragma once

#include <array>
#include <memory>
#include <vector>

#include "ohmdrag/numerics/lane_width.hpp"
#include "study/oil_lanes.hpp"
#include "study/samples.hpp"

/// Discharges of a block of stretches computed side by side: of a shaft whose bearings neither
/// stand behind insulation nor roll on ceramic, which is the usual one.
namespace ohmdrag::study {

/// What all stretches of a variant have in common.
struct StrikeLaw {
  double base_F;                                     ///< of the node without its bearings
  double at_05_V_m, at_50_V_m, drawn_V_m;            ///< fields at which a film breaks down
  std::array<double, credit_us.size()> root_credit;  ///< of the credits that stand side by side
  double root_drawn;                                 ///< of the credit in this draw, s^0.5
  double per_edge_width;
  bool alike;  ///< rising and falling edges are
};

/// How a bearing adds to the node: share of its films, farads an unloaded element, farads beside.
struct StruckBearing {
  double films, unloaded_F, beside_F;
  bool operator==(const StruckBearing&) const = default;
};

/// A voltage on the shaft, and one over the root of how long it stands.
struct LaneStress {
  LaneRow voltage_V, per_root_duration;
};

/// A gap so wide that nothing strikes over it: of a shaft that no film insulates.
inline constexpr double unbridged_m = 1e9;

/// What films make of the shaft in a block. The bearing with the lowest threshold is struck, unless
/// one conducts.
struct NodeBlock {
  LaneRow live_s;  ///< time in which something can be struck
  LaneRow total_F, log_F;
  LaneRow gap_m;  ///< over which the field of the bearing struck stands
  LaneRow area_m2, film_ratio, struck;
};

/// What the source leaves on the shaft in a block.
struct StressBlock {
  LaneStress rising, falling, held;
};

/// Sums of one bearing over the blocks, lane by lane, so that no width of vector changes their
/// order.
struct StrikeSums {
  LaneRow conducting_s, expected_s, discharges, energy_J, dose_J_m2;
  std::array<LaneRow, credit_us.size()> striking_s;

  void add_to(BearingSample& sample) const;
};

/// The same along a duty, kept for variants that share its oil and its bearings.
struct NodeCourse {
  numerics::LaneRows oil_K;  ///< at the start of each stretch; none: nothing is kept yet
  std::vector<StruckBearing> bearings;
  double base_F = 0.0;
  std::unique_ptr<NodeBlock[]> blocks;  ///< as many as the columns have, once and for all
  std::vector<LaneRow> conducting_s;    ///< by bearing
};

/// Films of a block, and the node they make. False, and nothing is added, if the oil does not hold
/// a temperature.
bool find_films(const StrikeColumns& columns, std::span<const StruckBearing> bearings,
                const OilColumns& oil, const double* oil_K, double base_F, std::size_t at,
                numerics::LaneWidth width, NodeBlock& node, std::vector<StrikeSums>& sums);

/// Verdicts and discharges of a block.
void find_strikes(const StrikeColumns& columns, const StrikeLaw& law, std::size_t at,
                  numerics::LaneWidth width, const NodeBlock& node, const StressBlock& stresses,
                  std::vector<StrikeSums>& sums);

/// Stresses of a shaft without a path: all goes with the ratio of the node.
/// \param winding_rotor_F  that the source couples through
void share_out(double winding_rotor_F, double rising_V, double falling_V, double held_V,
               numerics::LaneWidth width, const NodeBlock& node, StressBlock& stresses);

/// Edges a second of a source by its modulation, the mean of its rise and fall.
/// \param spacing  4 t_r f_sw/sqrt(3) of either
void find_edges(const numerics::LaneRows& modulation, std::array<double, 2> spacing,
                double carrier_Hz, numerics::LaneWidth width,
                std::array<numerics::LaneRows, 3>& edges_per_s);

/// Figures of the film models of a bearing, one more than there are models: the last one twice.
struct UnitFilms {
  std::vector<double> minimum_m, area_m2, capacitance_F, unloaded;
};
/// Of every stretch, with the powers of its speed.
void find_unit_films(const UnitFilms& models, const FilmColumns::Place& places,
                     const numerics::LaneRows& minimum, const numerics::LaneRows& capacitance,
                     numerics::LaneWidth width, StrikeColumns::Bearing& bearing);

}  // namespace ohmdrag::study
