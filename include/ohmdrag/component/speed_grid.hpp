#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "ohmdrag/component/shaft_network.hpp"

/// The speeds of a shaft, laid out for a table of its settled contacts.
namespace ohmdrag::component {

/// What speeds the duties of a shaft bring.
class SpeedRange {
 public:
  static constexpr std::size_t few = 16;

  /// Its magnitude counts.
  void add(AngularVelocity speed);

  double top_rad_s() const { return top_rad_s_; }
  double slowest_rad_s() const { return slowest_rad_s_; }  ///< of the turning ones; 0 for none
  /// The turning ones in rising order; empty if they are more than a few.
  std::span<const double> distinct_rad_s() const { return distinct_rad_s_; }
  bool operator==(const SpeedRange&) const = default;

 private:
  double top_rad_s_ = 0.0, slowest_rad_s_ = 0.0;
  bool many_ = false;
  std::vector<double> distinct_rad_s_;
};

/// Where a shaft is solved, and how every speed in between is interpolated.
///
/// Friction and convection follow powers of the speed, and what is lost at a crawl weighs little:
/// so everything is laid out over ln(1 + omega/omega_0), omega_0 a 400th of the top speed, cut
/// where a friction law bends. Between two cuts the shaft is solved at Chebyshev points; through
/// these a polynomial gives the nodes of a fine, even grid, and neighbours of that grid a cubic.
/// Standstill is solved by itself. A range of few speeds is solved at those.
///
/// Limits    below a 2500th of the top speed, or below the slowest turning speed where that is
///           faster, a shaft is as at that speed.
class SpeedGrid {
 public:
  static constexpr std::size_t neighbours = 4;

  /// The value at a speed is the weighted sum of as many neighbouring nodes.
  struct Place {
    std::array<double, neighbours> weights{};
    std::size_t first = 0;
    double speed_rad_s = 0.0;  ///< magnitude
    bool within = false;       ///< the grid holds it
  };

  SpeedGrid(const ShaftSystem& system, const SpeedRange& speeds);
  /// \param bends_rad_s  of the friction laws
  explicit SpeedGrid(const SpeedRange& speeds, std::span<const double> bends_rad_s = {});

  Place place(AngularVelocity speed) const;
  std::size_t nodes() const { return nodes_; }

  /// Where to solve, rising; standstill, which is node 0, is not among them.
  /// \param finely  at twice as many speeds
  std::vector<double> solved_rad_s(bool finely) const;
  /// How some of the nodes come out of some of the solved speeds.
  struct Spread {
    std::size_t first_node, nodes, first_solved, solved;
    std::span<const double> weights;  ///< [node][solved]; empty: each node is one of the solved
  };
  /// For all nodes but that of standstill.
  std::vector<Spread> spreads(bool finely) const;
  /// A speed for a look at what lies between the solved ones.
  /// \param share  0 to 1, of the range
  double between(double share) const;

  /// The same nodes: what was placed on one is placed on the other.
  bool same_as(const SpeedGrid& other) const;

 private:
  /// Between two bends.
  struct Piece {
    double from, to;  ///< stretched speeds
    std::size_t first_node, nodes;
    std::size_t points;
    bool operator==(const Piece&) const = default;
  };
  double stretched(double speed_rad_s) const;
  double turned_back(double stretched) const;

  double scale_rad_s_;
  std::vector<double> few_rad_s_;  ///< with standstill; empty for many
  std::vector<Piece> pieces_;
  std::size_t nodes_ = 1;
};

}  // namespace ohmdrag::component
