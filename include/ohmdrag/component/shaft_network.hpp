#pragma once

#include <boost/container/small_vector.hpp>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "ohmdrag/contact/convection.hpp"
#include "ohmdrag/contact/force_loss.hpp"
#include "ohmdrag/contact/friction.hpp"
#include "ohmdrag/contact/shaft_heat.hpp"
#include "ohmdrag/material/lubricant.hpp"

/// Everything that rubs on one shaft, solved together: friction makes heat, heat thins the oil of a
/// lip, and contacts on one shaft warm each other.
namespace ohmdrag::component {

/// The elastic share of a contact's force goes with the modulus of its body.
struct Softening {
  double elastic_share = 0.0;     ///< of the force at 20 degC, 0 to 1; the rest is a spring's
  contact::ModulusTable modulus;  ///< over that at 20 degC
};

/// One lip, ring or brush.
struct ShaftContact {
  std::string id;
  contact::FrictionLaw law;
  Length contact_width;                      ///< > 0, along the shaft: band of the heat
  LineForce line_force;                      ///< > 0 for a mixed film; at 20 degC, as the load
  Force load;                                ///< >= 0, total radial force
  std::optional<ThermalResistance> to_body;  ///< lip or holder behind the contact; none: no heat
  bool body_in_oil = true;                   ///< that heat goes to the oil, else to the dry side
  Length position;                           ///< along the shaft, growing from oil to dry side
  std::optional<Softening> softening = {};   ///< none: the force does not feel temperature
  Power current_heat{};                      ///< >= 0, of a current through the contact
};

/// A round shaft from its oil-wetted end through the seal to its dry end.
struct ShaftSystem {
  Length diameter;                     ///< > 0
  Length bore{};                       ///< 0: solid; gives off no heat
  ThermalConductivity conductivity;    ///< > 0
  std::vector<ShaftContact> contacts;  ///< sorted by position
  Length wet_until;                    ///< position of the seal: oil before, air beyond
  /// From the seal to a section held at oil temperature (a bearing seat). None: endless.
  std::optional<Length> oil_side_length;
  /// From the seal to the end, which gives off no heat. None: endless.
  std::optional<Length> dry_side_length;
  contact::Convection oil_side;
  contact::Convection dry_side;
  material::LubricantProperties lubricant;
};

struct Surroundings {
  Temperature oil;
  Temperature dry;  ///< air around the dry side
};

/// Force of a contact over that at 20 degC, 1 - e + e E(T)/E(20 degC).
///
/// Validity  T is that of the oil for a body in oil, else that of the dry side: a lip laid on a hot
///           shaft is warmer and presses less, so the friction is not underrated.
/// Source    derived: spring and elastic share in parallel.
/// \throws std::invalid_argument as contact::modulus_ratio.
double force_share(const ShaftContact& contact, const Surroundings& around);

struct ContactState {
  double friction = 0.0;
  Torque torque;            ///< sign of the speed: it opposes rotation; at rest the limit n -> +0
  Power power;              ///< torque times speed, never negative; 0 at rest; without current heat
  Temperature contact;      ///< mean of the band
  Temperature shaft_under;  ///< of the shaft section, without the constriction of the band
  Power into_shaft;
  Power into_body;
};

struct ShaftState {
  boost::container::small_vector<ContactState, 4> contacts;  ///< in the order of the system
  Power into_oil_side;  ///< from the shaft surface and its held end; negative: the oil heats it
  Power into_dry_side;
  AngularVelocity speed;
  Surroundings surroundings;
  HeatTransferCoefficient oil_film;
  HeatTransferCoefficient dry_film;
  /// Bound of the thermal loop gain: 1 would mean that a contact runs away. For a single mixed film
  /// R dP/dtheta.
  double loop_gain = 0.0;
};

/// Film coefficients of the shaft's surface on either side.
struct ShaftFilms {
  HeatTransferCoefficient oil, dry;
};

/// The shaft's heat flow, which is linear in the powers: theta_i = idle_i + sum_j R_ij P_j.
///
/// Nodes stand at the contacts and at the seal. Between them the shaft is a cooled rod, exact as a
/// two-port (g coth mL, g / sinh mL); beyond them an end: endless g, free g tanh mL, held g coth
/// mL. A contact sits on its node behind its band resistance, with its body beside it. Contacts at
/// one position share a node.
///
/// Validity  film coefficients uniform along each side; see contact::TurningCylinder and
///           contact::band_resistance.
/// Limits    contacts far apart do not feel each other (exp(-x m)); contacts at one place act as
///           one; without power the shaft carries heat from the warmer to the colder side.
/// Source    derived: one-dimensional fins and superposition.
class ThermalNetwork {
 public:
  /// \throws std::invalid_argument for lengths, conductivities, widths or forces that are not
  ///         positive, unsorted contacts, or a contact beyond the end of the shaft.
  ThermalNetwork(const ShaftSystem& system, AngularVelocity speed, const Surroundings& around);
  /// \param films  of this shaft at its speed in these surroundings; no contact changes them
  ThermalNetwork(const ShaftSystem& system, const Surroundings& around, const ShaftFilms& films);

  std::size_t size() const { return idle_K_.size(); }
  /// Contact temperature without any friction, heat of currents included: not the oil temperature
  /// in general.
  Temperature idle(std::size_t contact) const { return Temperature::from_value(idle_K_[contact]); }
  /// Rise of one contact per watt in another (or itself). Symmetric, never negative.
  ThermalResistance resistance(std::size_t contact, std::size_t heated) const {
    return ThermalResistance::from_value(resistance_K_W_[contact * size() + heated]);
  }
  HeatTransferCoefficient oil_film() const { return films_.oil; }
  HeatTransferCoefficient dry_film() const { return films_.dry; }
  const ShaftFilms& films() const { return films_; }

  /// Fills temperatures and heat flows of a state whose powers are set.
  void spread_heat(ShaftState& state) const;

 private:
  /// Turns nodal sources [W] into nodal temperatures [K], in place.
  void solve_nodes(double* heat_to_temperature) const;

  struct Rod {
    double to_side_W_K;  ///< g tanh(mL/2), each node to the surroundings
    bool wet;
  };
  struct Seat {
    std::size_t node;
    double into_shaft;  ///< share of the power that enters the shaft
    double body_W_K;
    double shaft_W_K;
    double body_K;
    double current_W;  ///< heat of a current through the contact
  };
  boost::container::small_vector<double, 4> idle_K_;
  boost::container::small_vector<double, 16> resistance_K_W_;
  boost::container::small_vector<Seat, 4> seats_;
  boost::container::small_vector<Rod, 4> rods_;            ///< between neighbouring nodes
  boost::container::small_vector<double, 4> through_W_K_;  ///< of the rods, g / sinh mL
  boost::container::small_vector<double, 5> pivot_W_K_;    ///< factorised nodal matrix, inverted
  boost::container::small_vector<double, 5> source_W_;     ///< nodal sources without friction
  double oil_end_W_K_ = 0.0;
  double dry_end_W_K_ = 0.0;
  double oil_K_ = 0.0;
  double dry_K_ = 0.0;
  ShaftFilms films_;
};

/// Friction and temperatures of every contact at one speed.
///
/// Constant friction fixes its power. A mixed film's power depends on its own contact temperature
/// through the oil's viscosity; its root theta = idle + sum R P(theta) is found by Newton, and
/// where that fails in a bracket that always holds the root. Several mixed films are taken in turn
/// until none moves.
///
/// Limits    speed 0: no power, idle temperatures. Reversed speed: reversed torques, same powers.
///           Where friction rises with temperature two steady states may exist (cool on its film,
///           hot on solid contact): a cold start takes the cool one as long as it exists, a warm
///           start may keep the one it comes from.
/// \param warm_start  a state of the same system nearby; saves iterations and, where the steady
///                    state is unique, moves the result by less than 1e-9 relative.
/// \throws std::invalid_argument as ThermalNetwork and contact::check.
/// \throws std::domain_error "thermally unstable" if the loop gain of the state reaches 1.
ShaftState solve(const ShaftSystem& system, AngularVelocity speed, const Surroundings& around,
                 const ShaftState* warm_start = nullptr);

/// The same with a network that was built for this system, speed and surroundings.
ShaftState solve(const ThermalNetwork& network, const ShaftSystem& system, AngularVelocity speed,
                 const Surroundings& around, const ShaftState* warm_start = nullptr);

/// Everything the oil receives: the shaft's oil side and the bodies that stand in oil.
Power into_oil(const ShaftSystem& system, const ShaftState& state);

/// G of a contact at its own temperature and at that of the oil; none for constant friction.
struct Duty {
  double contact = 0.0;
  double bulk = 0.0;
};
std::optional<Duty> duty(const ShaftSystem& system, const ShaftState& state, std::size_t contact);

/// A formula outside its range, and at which contact (none: the shaft).
struct ShaftFlag {
  std::optional<std::size_t> contact;
  numerics::RangeFlag flag;
};
/// Ranges of friction, viscosity, band, convection and loop gain (from 0.5). Kept out of solve(),
/// which is called a million times a study.
std::vector<ShaftFlag> flags(const ShaftSystem& system, const ShaftState& state);

}  // namespace ohmdrag::component
