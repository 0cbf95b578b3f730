#pragma once

#include <optional>
#include <span>
#include <vector>

#include "ohmdrag/component/shaft_network.hpp"
#include "ohmdrag/numerics/cubic_grid.hpp"

/// The settled contacts of one shaft, solved ahead for the thousands of stretches of a duty.
namespace ohmdrag::component {

/// The speeds of a shaft, laid out for a ShaftTable: even in the cube root of the speed, which is
/// how films and convection begin, and cut where a friction law bends.
class SpeedGrid {
 public:
  /// A speed between the nodes of the grid.
  struct Place {
    double speed_rad_s = 0.0;  ///< magnitude
    numerics::CubicPlace nodes;
    bool within = false;  ///< not beyond the top speed
  };

  /// \param top  > 0
  SpeedGrid(const ShaftSystem& system, AngularVelocity top);

  Place place(AngularVelocity speed) const;
  std::size_t nodes() const { return nodes_; }

  /// Between two bends.
  struct Piece {
    numerics::CubicGrid root;  ///< over the cube root of the speed
    std::size_t first_node;
    bool wide;  ///< holds most of the range: solved at more speeds
  };
  std::span<const Piece> pieces() const { return pieces_; }
  /// The same nodes: what was placed on one is placed on the other.
  bool same_as(const SpeedGrid& other) const { return bends_ == other.bends_; }

 private:
  std::vector<double> bends_;  ///< cube roots, from rest to the top
  std::vector<Piece> pieces_;
  std::size_t nodes_ = 0;
};

/// solve() over speed and oil temperature, with the dry side held.
///
/// What a shaft takes has no memory (contacts settle within a stretch), so it is a function of
/// speed and oil alone. Over a span of oil temperatures it is solved at the Chebyshev points of
/// both axes when the oil first comes there: friction torques and heat into the oil become
/// polynomials over the temperature and over the cube root of the speed. Spans end where the
/// modulus of a body in oil bends.
///
/// Validity  one steady state: a span in which a loop gain passes 0.5, or in which a contact cannot
///           be solved, is not tabulated.
/// Limits    a temperature that is held is solved there, with nothing between temperatures.
/// Accuracy  each span is held against solve() away from its points, and solved more finely, or not
///           tabulated, where a power or the heat into the oil is off by more than 1e-4 of the
///           largest power of the span. What is summed over a duty is far nearer, as the difference
///           changes sign from point to point: 1e-5 and less over the shipped cases.
/// Source    derived: interpolation at Chebyshev points.
class ShaftTable {
 public:
  /// Refers to both, which must outlive it.
  ShaftTable(const ShaftSystem& system, const SpeedGrid& grid, Temperature dry);

  /// Fills the magnitude of the friction torque of each contact, N m, and returns the heat into the
  /// oil, W; nothing where the shaft has to be solved.
  /// \param held  this temperature comes again and again
  std::optional<double> at(const SpeedGrid::Place& speed, Temperature oil, bool held,
                           std::span<double> torque_Nm);

 private:
  struct Span {
    double from_K, to_K;
    bool tabulated = false;
    std::size_t powers = 1;               ///< of the temperature, scaled to -1 to 1
    std::vector<double> polynomial = {};  ///< [node of the speed][power][contacts, oil]
  };
  struct Solved {
    std::vector<double> figures;  ///< [speed][power][contacts, oil]
    double largest_W = 0.0;
    bool settled = true;
  };

  const Span& span_of(double oil_K, bool held);
  Span tabulate(double from_K, double to_K) const;
  bool fill(Span& span, bool finely) const;
  bool solve_piece(const SpeedGrid::Piece& piece, const Span& span, std::size_t speeds,
                   Solved& solved) const;
  bool agrees(const Span& span, double largest_W) const;
  double read(const Span& span, const SpeedGrid::Place& speed, double oil_K,
              std::span<double> torque_Nm) const;
  std::size_t figures() const { return system_->contacts.size() + 1; }

  const ShaftSystem* system_;
  const SpeedGrid* grid_;
  Temperature dry_;
  std::vector<double> bends_K_;  ///< of the moduli of bodies in oil, rising
  std::vector<Span> spans_;
  std::size_t last_ = 0;  ///< span asked for last
};

}  // namespace ohmdrag::component
