#pragma once

#include <optional>

#include "ohmdrag/bearing/film.hpp"
#include "ohmdrag/component/gear_mesh.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::component {

/// The oil film between the teeth of a gear mesh as an electrical path.
struct MeshFilm {
  Length minimum;           ///< 0 at rest
  Length central;           ///< 0 at rest
  double film_ratio;        ///< of the minimum
  Length half_width;        ///< of the Hertz strip
  Area area;                ///< of the Hertz strips of all pairs of teeth in contact
  Capacitance capacitance;  ///< zero at rest: no capacitor
  bool conducting;          ///< film ratio below 1
};

/// Mean speed of both flanks through the pitch point, v_t sin(alpha_wt): what draws oil in.
Speed mesh_entrainment(const GearPair& pair, const MeshGeometry& geometry, AngularVelocity speed);

/// Film and capacitance of a loaded mesh, a line contact at the pitch point.
///
///     R = rho_redC,  Q/l = F_bt/b,  F_bt = 2 |T1|/d_b1,  u = mesh_entrainment()
///     C = eps_alpha eps_0 contact_permittivity 2 b_H l/h_c
///
/// One pair of teeth carries the whole force, as at the pitch point of spur gears; capacitance
/// counts eps_alpha pairs. b_H is half the width of the Hertz strip.
///
/// Validity  flooded, isothermal inlet; backlash and lift-off of teeth are not in it.
/// Limits    at rest no film, conducting. The film hardly feels the torque (T^-0.13).
/// Accuracy  an estimate: sharing among teeth, roughness and k_C leave a factor of two either way.
/// Source    assumed form; film as minimum_film(LineContact) and central_film(LineContact).
///
/// \param material        k_C of line contacts 3 to 11; roughness of the run-in flanks
/// \param torque          of the pinion
/// \param speed           of the pinion; neither direction matters
/// \param heating_factor  bearing::inlet_heating_factor() at mesh_entrainment()
/// \returns none without torque: no tooth presses on another.
/// \throws std::invalid_argument for members outside the ranges they name.
std::optional<MeshFilm> mesh_film(const GearPair& pair, const MeshGeometry& geometry,
                                  const bearing::FilmMaterial& material, DynamicViscosity eta,
                                  Torque torque, AngularVelocity speed,
                                  double heating_factor = 1.0);

}  // namespace ohmdrag::component
