#pragma once

#include <string_view>

#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::duty {

/// The sizes in a tyre's marking.
struct Tyre {
  Length section_width;       ///< W, 215 mm of "215/65 R16"
  double aspect_ratio = 0.0;  ///< H/W, 0.65
  Length rim_diameter;        ///< R, 16 in = 406.4 mm
};

/// The tyre of a code such as "215/65 R16" or "215/65R16" (rims to half an inch: "R22.5").
/// \throws std::invalid_argument, with the code, if it is anything else.
Tyre tyre_from_code(std::string_view code);

/// Way of the vehicle per turn of the wheel, for speed ratios.
///
///     U = 3.05 (2 (H/W) W + R), rounded to whole millimetres
///
/// Validity  passenger-car and light-truck tyres rolling under load without slip.
/// Accuracy  the regulation's figure; slip under traction (1-2 %, common practice, no source)
///           is left out.
/// Source    UN GTR No. 15 (working text of July 2019), section 8, n/v ratios.
/// \throws std::invalid_argument if a size is not positive.
Length rolling_circumference(const Tyre& tyre);

/// U / (2 pi): the radius that turns wheel torque into road force.
/// \throws std::invalid_argument if the circumference is not positive.
Length rolling_radius(Length rolling_circumference);

/// Speed of a shaft that turns `ratio` times a wheel turn.
///
///     omega = 2 pi ratio v / U
///
/// Sign      that of v.
/// Source    UN GTR No. 15 (working text of July 2019), section 8, n/v ratios.
/// \throws std::invalid_argument if ratio or circumference is not positive.
AngularVelocity shaft_speed(Speed v, double ratio, Length rolling_circumference);

/// Its inverse: the road speed at a shaft speed.
/// \throws std::invalid_argument if ratio or circumference is not positive.
Speed road_speed(AngularVelocity omega, double ratio, Length rolling_circumference);

/// Torque of a shaft that carries the wheel force alone, without losses; drive positive.
///
///     T = F U / (2 pi ratio)
///
/// \throws std::invalid_argument if ratio or circumference is not positive.
Torque shaft_torque(Force wheel_force, double ratio, Length rolling_circumference);

/// Force of a coasting vehicle at a speed, F0 + F1 v + F2 v^2. It contains the drag of everything
/// fitted at the coast-down, seals and bearings too: losses of such parts count as differences
/// only.
struct RoadLoad {
  Force f0;
  RoadLoadLinear f1;     ///< N/(m/s)
  RoadLoadQuadratic f2;  ///< N/(m/s)^2
};

/// Road load at a speed.
///
///     F = F0 + F1 v + F2 v^2
///
/// Sign      opposes forward motion; returned positive.
/// Validity  v >= 0, level road, still air, warm vehicle.
/// Source    UN GTR No. 15 (working text of October 2013), annex on calculations,
///           section 5, cycle energy demand.
/// \throws std::invalid_argument if v is negative.
Force road_force(const RoadLoad& load, Speed v);

/// Road load of the coefficients A [lbf], B [lbf/mph], C [lbf/mph^2] that United States
/// certification uses (1 lbf = 0.45359237 kg x 9.80665 m/s2, 1 mph = 0.44704 m/s, both exact by
/// definition).
RoadLoad road_load_from_us(double a_lbf, double b_lbf_per_mph, double c_lbf_per_mph2);

/// Road load of a vehicle of which no coast-down is known.
///
///     f0 = m g Crr,  f1 = 0,  f2 = rho CdA / 2
///
/// Validity  rolling coefficient constant over speed, level road, still air. It leaves the drag of
///           seals and bearings out, which a coast-down contains.
/// Accuracy  that of the two coefficients.
/// Source    derived: rolling force as a share of the weight, air drag of an area; g = 9.80665 m/s2
///           (conventional value).
///
/// \param mass       of the vehicle                   [kg]
/// \param rolling    rolling coefficient Crr, >= 0
/// \param drag_area  CdA, >= 0                        [m2]
/// \param air        density of the air               [kg/m3]
/// \throws std::invalid_argument if mass or density is not positive, a coefficient negative.
RoadLoad road_load_from_mass(Mass mass, double rolling, Area drag_area, Density air);

/// What the wheel force of a trace needs to know of a vehicle.
struct VehicleData {
  Mass test_mass;                     ///< TM, > 0
  double rotating_mass_factor = 0.0;  ///< >= 1: what turns with the wheels is accelerated as well
  RoadLoad road_load;
};

/// Force at the wheel over a step from v0 to v1.
///
///     F = f0 + f1 (v0 + v1)/2 + f2 (v0 + v1)^2/4 + factor TM (v1 - v0)/dt
///
/// Sign      positive pulls the vehicle, negative brakes it.
/// Accuracy  road load at the mid speed; with the trapezoid's distance the kinetic energy
///           telescopes exactly, so a trip from rest to rest costs exactly its road-load work.
/// Source    UN GTR No. 15 (working text of October 2013), annex on calculations,
///           section 5, cycle energy demand (factor 1.03 there).
/// \throws std::invalid_argument if dt or the test mass is not positive, a speed is negative or the
///         factor below 1.
Force wheel_force(const VehicleData& vehicle, Speed v0, Speed v1, Time dt);

}  // namespace ohmdrag::duty
