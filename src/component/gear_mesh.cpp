#include "ohmdrag/component/gear_mesh.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

namespace ohmdrag::component {

namespace {

using numerics::flag_outside;
using numerics::RangeFlag;
using std::numbers::pi;

constexpr auto mesh = "loss of a gear mesh";

void add(std::vector<RangeFlag>& flags, const std::optional<RangeFlag>& flag) {
  if (flag) flags.push_back(*flag);
}

void check_teeth(const GearPair& pair) {
  if (!(pair.pinion_teeth >= 1 && pair.wheel_teeth >= pair.pinion_teeth))
    throw std::invalid_argument("gear mesh: the wheel must have as many teeth as the pinion");
  if (!(pair.normal_module.value() > 0.0 && pair.face_width.value() > 0.0))
    throw std::invalid_argument("gear mesh: module and face width must be positive");
  if (!(pair.pressure_angle > 0.0 && pair.pressure_angle < 0.25 * pi &&
        std::abs(pair.helix_angle) < 0.25 * pi))
    throw std::invalid_argument("gear mesh: pressure and helix angle must be below 45 degrees");
}

double transverse_pressure_angle(const GearPair& pair) {
  return std::atan(std::tan(pair.pressure_angle) / std::cos(pair.helix_angle));
}

Length reference_diameter(const GearPair& pair, int teeth) {
  return static_cast<double>(teeth) * pair.normal_module / std::cos(pair.helix_angle);
}

/// Path from the pitch point to the tip over the base pitch.
double tip_contact_ratio(Length tip, Length base, double working_angle, Length base_pitch) {
  if (!(tip > base))
    throw std::invalid_argument("gear mesh: the tip must lie outside the base circle");
  const double a = (tip / base).value();
  return (std::sqrt((a - 1.0) * (a + 1.0)) - std::tan(working_angle)) * base.value() /
         (2.0 * base_pitch.value());
}

}  // namespace

GearPair unshifted_pair(int pinion_teeth, int wheel_teeth, Length normal_module,
                        double pressure_angle, double helix_angle, Length face_width) {
  GearPair pair{.pinion_teeth = pinion_teeth,
                .wheel_teeth = wheel_teeth,
                .normal_module = normal_module,
                .pressure_angle = pressure_angle,
                .helix_angle = helix_angle,
                .face_width = face_width,
                .pinion_tip_diameter = {},
                .wheel_tip_diameter = {},
                .centre_distance = {}};
  check_teeth(pair);
  const Length d_1 = reference_diameter(pair, pinion_teeth);
  const Length d_2 = reference_diameter(pair, wheel_teeth);
  pair.pinion_tip_diameter = d_1 + 2.0 * normal_module;
  pair.wheel_tip_diameter = d_2 + 2.0 * normal_module;
  pair.centre_distance = 0.5 * (d_1 + d_2);
  return pair;
}

MeshGeometry mesh_geometry(const GearPair& pair) {
  check_teeth(pair);
  const double alpha_t = transverse_pressure_angle(pair);
  const Length d_b1 = reference_diameter(pair, pair.pinion_teeth) * std::cos(alpha_t);
  const Length d_b2 = reference_diameter(pair, pair.wheel_teeth) * std::cos(alpha_t);
  // Without profile shift the ratio is cos(alpha_t) up to rounding.
  const double cos_alpha_wt = (0.5 * (d_b1 + d_b2) / pair.centre_distance).value();
  if (!(cos_alpha_wt > 0.0 && cos_alpha_wt < 1.0))
    throw std::invalid_argument("gear mesh: the centre distance must exceed both base radii");
  const double alpha_wt = std::acos(cos_alpha_wt);
  const double beta_b =
      std::asin(std::sin(std::abs(pair.helix_angle)) * std::cos(pair.pressure_angle));
  const Length p_bt = pi * d_b1 / static_cast<double>(pair.pinion_teeth);
  const double eps_1 = tip_contact_ratio(pair.pinion_tip_diameter, d_b1, alpha_wt, p_bt);
  const double eps_2 = tip_contact_ratio(pair.wheel_tip_diameter, d_b2, alpha_wt, p_bt);
  const double u = static_cast<double>(pair.wheel_teeth) / pair.pinion_teeth;
  return {.transverse_pressure_angle = alpha_t,
          .working_transverse_pressure_angle = alpha_wt,
          .base_helix_angle = beta_b,
          .pinion_tip_contact_ratio = eps_1,
          .wheel_tip_contact_ratio = eps_2,
          .loss_factor = pi * (u + 1.0) / (pair.pinion_teeth * u * std::cos(beta_b)) *
                         (1.0 - eps_1 - eps_2 + eps_1 * eps_1 + eps_2 * eps_2),
          .pinion_base_diameter = d_b1,
          .reduced_radius = pair.centre_distance * std::sin(alpha_wt) * u /
                            ((u + 1.0) * (u + 1.0) * std::cos(beta_b))};
}

MeshLoss mesh_loss(const GearPair& pair, const MeshLubrication& lubrication, Torque torque,
                   AngularVelocity speed) {
  return mesh_loss(pair, mesh_geometry(pair), lubrication, torque, speed);
}

MeshLoss mesh_loss(const GearPair& pair, const MeshGeometry& geometry,
                   const MeshLubrication& lubrication, Torque torque, AngularVelocity speed) {
  const double eta_mPas = lubrication.viscosity.value() * 1e3;
  const double ra_um = lubrication.roughness.value() * 1e6;
  if (!(eta_mPas > 0.0 && ra_um > 0.0 && lubrication.oil_factor > 0.0))
    throw std::invalid_argument("gear mesh: viscosity, roughness and oil factor must be positive");
  if (!(std::isfinite(torque.value()) && std::isfinite(speed.value())))
    throw std::invalid_argument("gear mesh: torque and speed must be finite");

  MeshLoss loss;
  loss.friction = 0.0;
  add(loss.flags, flag_outside(mesh, "contact ratio", geometry.contact_ratio(), 1.0, 2.0));
  if (speed.value() == 0.0) return loss;

  const double ratio = static_cast<double>(pair.wheel_teeth) / pair.pinion_teeth;
  const Length pitch_radius = pair.centre_distance / (ratio + 1.0);
  const double v_t_m_s = std::abs(rim_speed(speed, pitch_radius).value());
  const double v_c_m_s = 2.0 * v_t_m_s * std::sin(geometry.working_transverse_pressure_angle);
  const double line_force_N_mm =
      2e-3 * std::abs(torque.value()) / (geometry.pinion_base_diameter * pair.face_width).value();
  constexpr double least_N_mm = 150.0;  // part of the published formula
  const double rho_mm = geometry.reduced_radius.value() * 1e3;
  loss.friction = 0.048 *
                  std::pow(std::max(line_force_N_mm, least_N_mm) / (v_c_m_s * rho_mm), 0.2) *
                  std::pow(eta_mPas, -0.05) * std::pow(ra_um, 0.25) * lubrication.oil_factor;
  const Power through = torque * speed;
  loss.power = Power::from_value(std::abs(through.value()) * loss.friction * geometry.loss_factor);

  add(loss.flags, flag_outside(mesh, "pitch line speed, m/s", v_t_m_s, 0.0, 50.0));
  // Without torque there is nothing to lose, whatever the friction.
  if (torque.value() != 0.0)
    add(loss.flags, flag_outside(mesh, "tooth force over face width, N/mm, replaced by its floor",
                                 line_force_N_mm, least_N_mm, numerics::no_limit));
  return loss;
}

}  // namespace ohmdrag::component
