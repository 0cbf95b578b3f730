#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "ohmdrag/bearing/friction_torque.hpp"
#include "ohmdrag/component/gas_face_seal.hpp"
#include "ohmdrag/component/gear_mesh.hpp"
#include "ohmdrag/component/measured_torque.hpp"
#include "ohmdrag/component/published_rule.hpp"
#include "ohmdrag/component/shaft_network.hpp"
#include "ohmdrag/component/stated_loss.hpp"
#include "ohmdrag/energy/load_curve.hpp"

/// Everything that drags on the shafts of one variant, and what it takes at one operating point.
namespace ohmdrag::energy {

/// A seal, ring or brush that is solved with its neighbours on the shaft.
struct ContactPart {
  std::size_t shaft;
  std::size_t contact;  ///< index into that shaft's contacts
};
struct RulePart {
  std::size_t shaft;
  component::PublishedRule rule;
  KinematicViscosity viscosity_40;
};
struct StatedPart {
  std::size_t shaft;
  component::StatedLoss loss;
};
/// A gas face seal; the gas between its faces has the temperature of the dry side.
struct FaceSealPart {
  std::size_t shaft;
  component::GasFaceSeal seal;
  Pressure gas_pressure;
};
/// A loaded pair of gears; torque and speed are those of the pinion's shaft.
struct GearPart {
  std::size_t shaft;
  component::GearPair pair;
  component::MeshGeometry geometry;  ///< of the pair, computed once
  Length roughness;                  ///< Ra, mean of both flanks
  double oil_factor;                 ///< X_L
};
/// Drag as measured over speed and, where the table names one, oil temperature.
struct MeasuredPart {
  std::size_t shaft;
  component::MeasuredTorque table;
  double factor;  ///< on every torque of the table, for what the measurement may be off
};

/// What decides which of the friction laws a bearing follows.
struct BallRolling {
  bool operator==(const BallRolling&) const = default;
};
struct CylindricalRolling {
  std::optional<double> flange_factor;  ///< f2; none: the axial load rubs nowhere
  bool operator==(const CylindricalRolling&) const = default;
};
struct TaperedRolling {
  double axial_factor;  ///< Y > 0
  bool operator==(const TaperedRolling&) const = default;
};
using Rolling = std::variant<BallRolling, CylindricalRolling, TaperedRolling>;

struct BearingPart {
  std::size_t shaft;
  Rolling rolling;
  bearing::PalmgrenConstants constants;
  LoadCurve loads;
};

struct Part {
  std::string id;
  std::variant<ContactPart, RulePart, StatedPart, FaceSealPart, GearPart, MeasuredPart, BearingPart>
      form;
};

struct DriveUnit {
  std::vector<component::ShaftSystem> shafts;
  std::vector<Part> parts;
};

/// The state of every shaft at one moment; spans run over the shafts of the unit.
struct Running {
  std::span<const AngularVelocity> speed;
  std::span<const Torque> torque;    ///< drive positive; sets bearing loads and loads gears
  std::span<const Temperature> dry;  ///< air at the dry side
  Temperature oil;
};

struct PartLoss {
  Torque torque;  ///< magnitude
  Power power;
  std::optional<Temperature> contact;
};

/// Friction of a bearing by the law of its kind; that of its flanges goes with the load.
/// \throws std::invalid_argument as that law.
bearing::FrictionTorque bearing_friction(const BearingPart& part, KinematicViscosity nu,
                                         AngularVelocity omega, const BearingLoads& loads);

/// What a part takes that gives all its heat to the oil it stands in.
/// \throws std::logic_error for a contact, which is solved with its shaft; std::domain_error if a
///         measured table refuses the point.
PartLoss loss_into_oil(const DriveUnit& unit, const Running& now, const Part& part);

/// Friction, loss and flags of a mesh with the oil of its shaft at oil temperature.
/// \throws std::invalid_argument as component::mesh_loss.
component::MeshLoss mesh_loss_at(const DriveUnit& unit, const Running& now, const GearPart& gear);

/// Evaluates a unit again and again; keeps each shaft's last state to start the next solve from.
/// One object a thread.
class LossModel {
 public:
  /// The unit must outlive the model.
  explicit LossModel(const DriveUnit& unit);

  /// Fills one loss a part, in the order of the unit, and returns the heat that reaches the sump:
  /// all of bearings, gears, rules, stated and measured losses, of the contacts what their shafts
  /// and bodies pass to the oil. That can be negative: a warm sump heats the dry side through the
  /// shaft.
  /// \throws std::invalid_argument if a span has another length than the unit; std::domain_error
  ///         if a contact is thermally unstable or a measured table refuses the point.
  Power at(const Running& now, std::span<PartLoss> losses);

  /// The shafts as last solved; empty for a shaft without contacts.
  std::span<const component::ShaftState> shafts() const { return states_; }
  /// Their heat flow at that point; none for a shaft without contacts.
  std::span<const std::optional<component::ThermalNetwork>> networks() const { return networks_; }

 private:
  const DriveUnit* unit_;
  std::vector<std::optional<component::ThermalNetwork>> networks_;
  std::vector<component::ShaftState> states_;
  bool solved_before_ = false;
};

/// The losses of a unit at one operating point.
std::vector<PartLoss> losses_at(const DriveUnit& unit, const Running& now);

/// Total with the part minus total without it, everything else reacting: what the part really
/// costs. Equals its own power unless it warms a neighbour.
Power net_power(const DriveUnit& unit, const Running& now, std::size_t part);

/// The unit without one part; contacts keep their neighbours' positions.
DriveUnit without(const DriveUnit& unit, std::size_t part);

}  // namespace ohmdrag::energy
