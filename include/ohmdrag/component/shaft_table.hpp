#pragma once

#include <array>
#include <cstddef>
#include <deque>
#include <optional>
#include <span>
#include <vector>

#include "ohmdrag/component/speed_grid.hpp"
#include "ohmdrag/component/wide_shaft.hpp"
#include "ohmdrag/numerics/aligned_doubles.hpp"

/// The settled contacts of one shaft, solved ahead for the thousands of stretches of a duty.
namespace ohmdrag::component {

/// solve() over speed and oil temperature, with the dry side held.
///
/// What a shaft takes has no memory (contacts settle within a stretch), so it is a function of
/// speed and oil alone. The oil's way is cut into panels, up to 42 K wide and ended where the
/// modulus of a body in oil bends. When the oil first enters a panel, the shaft is solved there at
/// six Chebyshev temperatures and at the speeds of its grid, many points side by side (WideShaft):
/// friction torques and heat into the oil become polynomials over the temperature and, through the
/// nodes of the grid, cubics over the speed.
///
/// Validity  one steady state: a panel in which a loop gain passes 0.5, or in which a contact
///           cannot be solved, is not tabulated.
/// Limits    a temperature that is held is solved there, with nothing between temperatures.
/// Accuracy  of the energies of lips and rings over a drive cycle 3.2e-7, measured with WLTC class
/// 3b
///           and 2000 invented samples; tests/energy/quick_march_test.cpp holds some to 1e-6. Each
///           panel is held against solves away from its points, and solved more finely, or not
///           tabulated, where a power or the heat into the oil is off by more than 1e-4 of the
///           largest power of the panel.
/// Source    derived: interpolation at Chebyshev points.
class ShaftTable {
 public:
  static constexpr std::size_t oil_points = 6;
  /// Figures of a row come in so many at a time; a shaft with more is not tabulated.
  static constexpr std::size_t figure_step = 4, most_figures = 2 * figure_step;

  /// Rows of figures on their own cache lines.
  using Aligned = numerics::AlignedDoubles;

  /// A range of oil temperatures.
  struct Panel {
    double low_K, high_K, middle_K;
    bool tabulated = false;
    /// [node][power of T - middle][figure]: the heat into the oil, W, then the
    /// magnitudes of the contacts' torques, N m, then zeros.
    Aligned coefficients = {};
  };

  /// Refers to both, which must outlive it.
  ShaftTable(const ShaftSystem& system, const SpeedGrid& grid, Temperature dry,
             numerics::LaneWidth width = numerics::widest_lanes());

  /// The panel that holds a temperature, at the same address as long as the table lives.
  /// \param held  this temperature comes again and again
  const Panel& panel(Temperature oil, bool held);
  /// Length of a row of figures: a multiple of figure_step.
  std::size_t figures() const { return figures_; }

  /// Fills the torques of the contacts and returns the heat into the oil, W; nothing where the
  /// shaft has to be solved.
  std::optional<double> at(const SpeedGrid::Place& speed, Temperature oil, bool held,
                           std::span<double> torque_Nm);

 private:
  /// Points of a panel go in pairs of oil temperatures: half a block at one, half at the other.
  static constexpr std::size_t half_block = numerics::lanes / 2, pairs = oil_points / 2;
  struct Speeds {
    std::vector<double> solved_rad_s;  ///< filled up to half blocks
    std::vector<SpeedGrid::Spread> spreads;
    std::vector<WideDrySide> dry;  ///< by half block, its speeds twice
  };
  /// The shaft in every lane and what of it no oil changes.
  struct Shaft {
    Shaft(const ShaftTable& table);

    WideShaft lanes;
    WideDrySide apart;  ///< standstill, and speeds between the solved ones
    std::array<double, numerics::lanes> apart_rad_s;
    std::array<WideOilSide, pairs> oil;
    WideOilSide oil_apart;
    WideShaftState state;
    std::array<std::optional<Speeds>, 2> speeds;
    Aligned values;               ///< [standstill, solved speeds][oil point][figure]
    std::vector<double> between;  ///< [probe][figure]: what lies between them
  };

  Panel panel_around(double oil_K) const;
  bool tabulate(Panel& panel, bool finely);
  const Speeds& speeds(bool finely);
  /// False where a loop gain is too large.
  bool settle(const WideOilSide& oil, const WideDrySide& dry);
  bool solve(const Panel& panel, const Speeds& speeds);
  bool solve_apart(const Panel& panel);
  /// Figures of a lane as settled.
  void take(std::size_t lane, double speed_rad_s, double* figures);
  bool agrees(const Panel& panel) const;
  void read(const Panel& panel, const SpeedGrid::Place& speed, double oil_K, double* figures) const;

  const ShaftSystem* system_;
  const SpeedGrid* grid_;
  Temperature dry_;
  numerics::LaneWidth width_;
  std::size_t figures_;
  std::vector<double> bends_K_;  ///< of the moduli of bodies in oil, rising
  std::deque<Panel> panels_;
  std::optional<Shaft> shaft_;  ///< made for the first panel
  double largest_W_ = 0.0;      ///< of the panel in hand
};

}  // namespace ohmdrag::component
