#pragma once

#include "ohmdrag/quantity/quantities.hpp"

/// What an hour on a rig is worth of an hour in service, mechanism by mechanism.
namespace ohmdrag::rig {

/// What a contact goes through in its service.
struct ServiceDose {
  Time hours;          ///< > 0, running
  Length way;          ///< > 0, slid
  Temperature ageing;  ///< steady one that ages as fast, contact::AgeingMean
  Pressure pressure;   ///< > 0, mean of the contact
  Speed mean_speed() const { return way / hours; }
};

/// A contact on the rig at a steady speed.
struct RigHour {
  Speed sliding;        ///< > 0
  Temperature contact;  ///< above absolute zero
  Pressure pressure;    ///< > 0
};

/// Per hour, the rig over the mean hour of the service.
struct Acceleration {
  double distance;           ///< way slid: wear of a contact of equal pressure
  double pressure_velocity;  ///< p u: friction heat and wear per time; from 1 on another regime
  double ageing;             ///< rate of relaxation and of films that grow with it
};

/// Acceleration of each mechanism.
///
///     distance  u_rig/u_mean      pressure_velocity  p_rig u_rig/(p u_mean)
///     ageing    exp[T_a (1/T - 1/T_rig)],   T_a = E_a/R_g
///
/// Validity  one activation temperature for the whole service; Archard's wear, whose rate goes with
///           p u; the rig does not enter another regime of friction or wear.
/// Limits    the service's own mean speed, pressure and ageing temperature: 1 each.
/// Accuracy  distance and pressure_velocity that of speed and force; ageing within a factor that
///           E_a decides: 10 % of 90 kJ/mol are 9 % of the factor for 10 K at 100 degC.
/// Source    J. F. Archard, J. Appl. Phys. 24 (1953) 981-988; S. Arrhenius, Z. phys. Chem. 4 (1889)
///           226-248 (both from memory).
/// \throws std::invalid_argument for members outside the ranges they name.
Acceleration acceleration(const ServiceDose& service, const RigHour& rig,
                          TemperatureDifference activation);

/// Hours on the rig for the way of the service and for its ageing, and the share of the ageing that
/// has gone by when the way is done: 1 where one programme does both.
struct RigHours {
  Time for_distance;
  Time for_ageing;
  double ageing_at_distance;
};
RigHours rig_hours(const ServiceDose& service, const Acceleration& of);

/// The sliding speed at which the rig has the mean pressure-velocity of the service.
Speed speed_of_equal_pressure_velocity(const ServiceDose& service, Pressure on_rig);

/// The steady temperature at which so many hours age as much as the service.
///
/// Limits    the hours of the service: its ageing temperature.
/// \throws std::invalid_argument for hours that are not positive, or so few that no temperature
///         reaches: exp(-T_a/T) has an end.
Temperature temperature_of_equal_ageing(const ServiceDose& service, Time hours,
                                        TemperatureDifference activation);

}  // namespace ohmdrag::rig
