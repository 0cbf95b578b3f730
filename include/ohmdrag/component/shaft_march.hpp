#pragma once

#include <vector>

#include "ohmdrag/component/shaft_network.hpp"

namespace ohmdrag::component {

/// What a shaft stores.
struct ShaftStore {
  Density density;             ///< > 0
  SpecificHeat specific_heat;  ///< > 0
};

/// One step of a shaft in time.
struct MarchStep {
  ShaftState end;   ///< at the end of the step, heat flows included
  Energy friction;  ///< over the step, with that of currents: stored + into_oil + into_dry
  Energy stored;    ///< more heat in the shaft than before; negative while it cools
  Energy into_oil;  ///< the shaft's oil side and its held end, bodies that stand in oil
  Energy into_dry;  ///< the same of the dry side
};

/// A shaft that warms up and cools down: the rods and ends of ThermalNetwork, cut into cells that
/// store heat.
///
///     C dT/dt = s + P - K T,   C diagonal, K tridiagonal, symmetric, positive definite
///
/// Between two nodes the rod conducts as in the steady state (g / sinh mL, g tanh(mL/2) to its
/// surroundings) and stores half of its heat at either node. Cells grow from 0.5 mm at a contact or
/// at the seal; a fin has at least four. A contact itself stores nothing: a lip follows within a
/// tenth of a second, its temperature is the root of its friction over that of the shaft under it.
/// The nodes are advanced in the modes of K and C, exactly for constant heat, hence stable at any
/// step. Over a step every contact gives the power it has at the step's end.
///
/// Validity  speed and surroundings constant over a step; as ThermalNetwork.
/// Limits    a long step ends in solve() of the same speed, whatever the cells. Without power all
///           nodes relax to equal surroundings. A short step moves nothing.
/// Accuracy  1 % of the rise of a suddenly heated fin from 1 s on (40 to 3000 W/m2K). Friction of a
///           mixed film over a step: about half of what it changes over that step. Band
///           resistances are those of the steady state: in the first (d/2)^2 / (15 kappa), 2 s for
///           40 mm of steel, they are still building up and a contact comes out too hot.
/// Source    derived: finite volumes in space, eigenvalues of a symmetric tridiagonal matrix in
///           time.
class ShaftMarch {
 public:
  /// The shaft at one temperature. An endless side is cut where its rise at rest has fallen to
  /// 1 %, and goes on from there without storing.
  /// \throws std::invalid_argument as ThermalNetwork, or for a store that is not positive.
  ShaftMarch(ShaftSystem system, const ShaftStore& store, Temperature start);

  /// Goes on by `duration`. Film coefficients that did not change since the last step save most of
  /// the work.
  ///
  /// \throws std::invalid_argument as ThermalNetwork, or unless the duration is positive.
  /// \throws std::domain_error "thermally unstable" as solve(); the shaft then stays as it was.
  MarchStep step(AngularVelocity speed, const Surroundings& around, Time duration);

  std::size_t nodes() const { return node_K_.size(); }
  Length node_position(std::size_t node) const { return Length::from_value(node_m_.at(node)); }
  Temperature node_temperature(std::size_t node) const {
    return Temperature::from_value(node_K_.at(node));
  }
  /// Node under a contact.
  std::size_t node_under(std::size_t contact) const { return seats_.at(contact).node; }

 private:
  struct Seat {
    std::size_t node;
    double body_W_K;
    double shaft_W_K;
    double into_shaft;  ///< share of the power that enters the shaft
    bool body_in_oil;
    double current_W;  ///< heat of a current through the contact
  };
  /// Conduction at one pair of film coefficients and its modes.
  struct Modes {
    HeatTransferCoefficient oil_film;
    HeatTransferCoefficient dry_film;
    std::vector<double> to_oil_W_K;  ///< node to oil, bodies left out
    std::vector<double> to_dry_W_K;
    std::vector<double> rate_per_s;
    /// Column-major, C^(-1/2) times the orthonormal vectors: T = shape z, z = shape^T C T.
    std::vector<double> shape;
  };
  Modes modes(HeatTransferCoefficient oil_film, HeatTransferCoefficient dry_film) const;

  ShaftSystem system_;
  double front_m_ = 0.0;  ///< held end, or where an endless oil side is cut
  std::vector<double> node_m_;
  std::vector<double> capacity_J_K_;
  std::size_t seal_node_ = 0;
  std::vector<Seat> seats_;
  std::vector<double> node_K_;
  std::vector<double> contact_K_;
  std::vector<double> power_W_;
  Modes modes_;
};

}  // namespace ohmdrag::component
