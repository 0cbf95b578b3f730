#pragma once

#include <string>
#include <vector>

#include "ohmdrag/quantity/distribution.hpp"

/// How a variant goes: over the time of a duty and over the speed of its shafts.
namespace ohmdrag::study {

/// A contact along a duty, by the steps of its course.
struct ContactCourse {
  std::string component;  ///< as in BudgetRow
  std::vector<double> mean_degC;
  std::vector<double> highest_degC;  ///< within the step
};

/// The oil and the new contacts along a duty, everything at its middle, thinned to steps of equal
/// time; means over the running time of a step. A step in which nothing runs is left out.
struct DutyCourse {
  std::string duty;
  std::vector<double> time_s;  ///< from the begin of the duty
  std::vector<double> oil_degC;
  std::vector<ContactCourse> contacts;
};

/// A part at one speed of its shaft.
struct SpeedWattsRow {
  std::string component;  ///< as in BudgetRow
  std::string shaft;
  double shaft_speed_rpm = 0.0;
  Interval own_W;
};

/// Own watts of every part over the speed of its shaft, with oil and torque of one operating point.
/// All shafts turn faster or slower together.
struct SpeedWatts {
  std::string point;      ///< whose oil and torque it is
  double oil_degC = 0.0;  ///< there, at its middle
  int draws = 0;          ///< behind each interval: the first of the ensemble
  std::vector<SpeedWattsRow> rows;
  std::string remark;  ///< what is missing and why; empty: nothing
};

}  // namespace ohmdrag::study
