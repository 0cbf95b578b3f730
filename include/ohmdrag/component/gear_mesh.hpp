#pragma once

#include <vector>

#include "ohmdrag/numerics/range_flag.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// Loss of a pair of cylindrical gears under load: what the watts of seals stand beside. Context,
/// not a design calculation of gears.
namespace ohmdrag::component {

/// An external pair of spur or helical gears.
struct GearPair {
  int pinion_teeth;            ///< z1 >= 1
  int wheel_teeth;             ///< z2 >= z1
  Length normal_module;        ///< m_n > 0
  double pressure_angle;       ///< alpha_n [rad], in (0, pi/4)
  double helix_angle;          ///< beta [rad], 0 for spur gears; its magnitude counts, < pi/4
  Length face_width;           ///< b > 0, common
  Length pinion_tip_diameter;  ///< d_a1, above the base circle
  Length wheel_tip_diameter;   ///< d_a2, likewise
  Length centre_distance;      ///< a_w >= (d_b1 + d_b2)/2
};

/// Fills in tips and centre distance for teeth without profile shift, one module of addendum.
/// \throws std::invalid_argument for members outside the ranges they name, among those given.
GearPair unshifted_pair(int pinion_teeth, int wheel_teeth, Length normal_module,
                        double pressure_angle, double helix_angle, Length face_width);

/// Lengths of contact and the loss factor that follows from them.
///
///     eps_1,2 = [sqrt(d_a^2 - d_b^2) - d_b tan alpha_wt] / (2 p_bt),   eps_alpha = eps_1 + eps_2
///     H_V = pi (u + 1)/(z1 u cos beta_b) (1 - eps_alpha + eps_1^2 + eps_2^2),   u = z2/z1
///
/// Validity  1 <= eps_alpha < 2; one friction coefficient along the path of contact.
///           mesh_loss() flags it.
/// Limits    finer teeth at equal contact ratios: H_V ~ 1/z1.
/// Source    loss factor of ISO/TR 14179-2 after Ohlendorf, from memory; involute geometry from
///           any textbook on gears.
struct MeshGeometry {
  double transverse_pressure_angle;          ///< alpha_t [rad]
  double working_transverse_pressure_angle;  ///< alpha_wt [rad]
  double base_helix_angle;                   ///< beta_b [rad]
  double pinion_tip_contact_ratio;           ///< eps_1
  double wheel_tip_contact_ratio;            ///< eps_2
  double contact_ratio() const { return pinion_tip_contact_ratio + wheel_tip_contact_ratio; }
  double loss_factor;  ///< H_V
  Length pinion_base_diameter;
  Length reduced_radius;  ///< rho_redC, normal section at the pitch point
};

/// \throws std::invalid_argument for members outside the ranges they name.
MeshGeometry mesh_geometry(const GearPair& pair);

struct MeshLubrication {
  DynamicViscosity viscosity;  ///< eta > 0, at oil temperature
  Length roughness;            ///< Ra > 0, mean of both flanks
  double oil_factor;  ///< X_L > 0: 1 mineral, about 0.8 PAO and ester, 0.6 to 0.75 polyglycol
};

/// Loss of the loaded mesh.
///
///     P = |T1 omega1| mu H_V
///     mu = 0.048 [(F_bt/b)/(v_C rho_redC)]^0.2 eta^-0.05 Ra^0.25 X_L
///     F_bt = 2 |T1|/d_b1,   v_C = 2 v_t sin alpha_wt
///     [F_bt/b N/mm, v_C m/s, rho_redC mm, eta mPa s, Ra um]
///
/// Below 150 N/mm the formula takes 150 N/mm, flagged with the raw value.
///
/// Sign: never negative, the same for drive and coast and both directions.
///
/// Validity  as mesh_geometry; v_t <= 50 m/s; steel gears, dip or spray lubrication. Churning and
///           windage are not in it.
/// Limits    no torque or no speed: P = 0. mu itself grows without bound as speed falls
///           (v_C^-0.2) but the loss vanishes as speed^0.8.
/// Accuracy  context only; not known better than some tens of per cent.
/// Source    mean friction of ISO/TR 14179-2 after Schlenk, from memory.
struct MeshLoss {
  double friction;  ///< mu; 0 at rest, where the formula has no limit
  Power power;
  std::vector<numerics::RangeFlag> flags;
};

/// \param torque  of the pinion
/// \param speed   of the pinion
/// \throws std::invalid_argument for members outside the ranges they name, or a torque or speed
///         that is not finite.
MeshLoss mesh_loss(const GearPair& pair, const MeshLubrication& lubrication, Torque torque,
                   AngularVelocity speed);

/// The same with a geometry computed once for this pair.
MeshLoss mesh_loss(const GearPair& pair, const MeshGeometry& geometry,
                   const MeshLubrication& lubrication, Torque torque, AngularVelocity speed);

}  // namespace ohmdrag::component
