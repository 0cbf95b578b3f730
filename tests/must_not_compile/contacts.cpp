// Each block is one call of the contact or component room that the units must refuse. Without a
// macro the file must compile: only then does a failure of a block speak of its own line.
#include "ohmdrag/component/gas_face_seal.hpp"
#include "ohmdrag/component/gear_mesh.hpp"
#include "ohmdrag/component/published_rule.hpp"
#include "ohmdrag/component/shaft_network.hpp"
#include "ohmdrag/component/stated_loss.hpp"
#include "ohmdrag/contact/electrical.hpp"
#include "ohmdrag/contact/element_design.hpp"
#include "ohmdrag/contact/force_loss.hpp"
#include "ohmdrag/contact/friction.hpp"
#include "ohmdrag/contact/lip_wear.hpp"
#include "ohmdrag/contact/ptfe_friction.hpp"
#include "ohmdrag/contact/shaft_heat.hpp"
#include "ohmdrag/quantity/literals.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::contact;
using namespace ohmdrag::component;

const DryResistance dry{};
const Relaxation rubber{};
const ElasticRing ring{};
const GearPair gears{};
const MeshLubrication oil{};
const StatedLoss stated{};
const WearRate wear_rate{};

#if defined(TOTAL_FORCE_AS_LINE_FORCE)
Force wrong = radial_load(12.0_N, 40.0_mm);
#elif defined(LINE_FORCE_AS_SPLIT_READING)
LineForce wrong = line_force_from_split_reading(100.0_N_m, 40.0_mm);
#elif defined(LINE_FORCE_AS_LOAD)
Torque wrong = friction_torque(0.3, 100.0_N_m, 40.0_mm);
#elif defined(FRICTION_TORQUE_AS_ENERGY)
Energy wrong = friction_torque(0.3, 12.0_N, 40.0_mm);
#elif defined(DUTY_OF_KINEMATIC_VISCOSITY)
double wrong = duty_parameter(8.0_mm2_s, 6.0_m_s, 120.0_N_m);
#elif defined(DUTY_OF_ROTATIONAL_SPEED)
double wrong = duty_parameter(6.0_mPa_s, 3000.0_rpm, 120.0_N_m);
#elif defined(DUTY_OF_TOTAL_FORCE)
double wrong = duty_parameter(6.0_mPa_s, 6.0_m_s, 12.0_N);
#elif defined(LINE_FORCE_AS_PRESSURE)
auto wrong = ptfe_friction(PtfeFriction{}, 30.0_N_m, 1.0_m_s);
#elif defined(WEAR_OF_LINE_FORCE)
Volume wrong = worn_volume(wear_rate, 100.0_N_m, 1000.0_km);
#elif defined(WEAR_OVER_TIME_AS_WAY)
Volume wrong = worn_volume(wear_rate, 10.0_N, 1000.0_h);
#elif defined(WEAR_VOLUME_AS_DEPTH)
Length wrong = worn_volume(wear_rate, 10.0_N, 1000.0_km);
#elif defined(WEAR_DEPTH_OF_FORCE)
Speed wrong = wear_depth_rate(wear_rate, 10.0_N, 6.0_m_s);
#elif defined(WEAR_RATE_AS_BARE_NUMBER)
Volume wrong = worn_volume(1e-17, 10.0_N, 1000.0_km);
#elif defined(RELAXATION_AT_A_DIFFERENCE)
auto wrong = relaxation(rubber, 1000.0_h, 110.0_K);
#elif defined(RELAXATION_OVER_WAY)
auto wrong = relaxation(rubber, 1000.0_km, 110.0_degC);
#elif defined(AGEING_OF_AN_ENERGY)
double wrong = ageing_acceleration(90.0_J, 80.0_degC, 100.0_degC);
#elif defined(LINE_FORCE_AS_WEAR_RATE)
auto wrong = ring_force(ring, 10.0_N_m, 1000.0_km);
#elif defined(RUN_OUT_OF_TOTAL_FORCE)
auto wrong = least_line_force(10.0_N, 0.5_mm, RunOut{});
#elif defined(RING_RESISTANCE_OF_TOTAL_FORCE)
auto wrong = ring_resistance(dry, 10.0_N, 40.0_mm);
#elif defined(BRUSH_RESISTANCE_OF_LINE_FORCE)
auto wrong = brush_resistance(dry, 10.0_N_m);
#elif defined(CONDUCTIVITY_AS_FILM_COEFFICIENT)
ShaftFin wrong{40.0_mm, 46.0_W_mK, 40.0_W_mK};
#elif defined(CONDUCTANCE_AS_RESISTANCE)
ThermalResistance wrong = endless_fin({40.0_mm, 46.0_W_mK, 40.0_W_m2K});
#elif defined(STATED_LOSS_OVER_FREQUENCY)
auto wrong = stated_drag(stated, 100.0_Hz);
#elif defined(MESH_OF_ENERGY)
auto wrong = mesh_loss(gears, oil, 150.0_J, 3000.0_rpm);
#elif defined(RULE_OF_SURFACE_SPEED)
auto wrong = rule_loss(TorqueByDiameter{3.7e-3}, 40.0_mm, 6.0_m_s, RuleOil{});
#elif defined(RULE_OIL_OF_DYNAMIC_VISCOSITY)
RuleOil wrong{80.0_degC, 8.0_mPa_s};
#elif defined(LENGTH_AS_PRESSURE)
FaceGas wrong = air_between_faces(100.0_degC, 760.0_mm);
#elif defined(SURROUNDINGS_OF_DIFFERENCES)
Surroundings wrong{80.0_K, 40.0_K};
#else
void right() {
  const LineForce line_force = line_force_from_split_reading(4.0_N, 40.0_mm);
  const Force load = radial_load(line_force, 40.0_mm);
  (void)friction_torque(0.3, load, 40.0_mm);
  (void)duty_parameter(6.0_mPa_s, 6.0_m_s, line_force);
  (void)ptfe_friction(PtfeFriction{}, line_force / 1.0_mm, 1.0_m_s);
  const Volume volume = worn_volume(wear_rate, load, 1000.0_km);
  (void)volume;
  (void)wear_depth_rate(wear_rate, 30000.0_Pa, 6.0_m_s);
  (void)relaxation(rubber, 1000.0_h, 110.0_degC);
  (void)ageing_acceleration(10825.0_K, 80.0_degC, 100.0_degC);
  (void)ring_force(ring, wear_rate, 1000.0_km);
  (void)least_line_force(line_force, 0.5_mm, RunOut{});
  (void)ring_resistance(dry, line_force, 40.0_mm);
  (void)brush_resistance(dry, 10.0_N);
  const ThermalConductance fin = endless_fin({40.0_mm, 46.0_W_mK, 40.0_W_m2K});
  (void)fin;
  (void)stated_drag(stated, 3000.0_rpm);
  (void)mesh_loss(gears, oil, 150.0_Nm, 3000.0_rpm);
  (void)rule_loss(TorqueByDiameter{3.7e-3}, 40.0_mm, 3000.0_rpm, RuleOil{80.0_degC, 8.0_mm2_s});
  (void)air_between_faces(100.0_degC, 101325.0_Pa);
  const Surroundings around{80.0_degC, 40.0_degC};
  (void)around;
}
#endif
