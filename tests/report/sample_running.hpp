#pragma once

#include <limits>

#include "ohmdrag/study/course_findings.hpp"
#include "ohmdrag/study/sizing_findings.hpp"

/// Courses, watts over speed and a window built by hand: every figure is invented and none is meant
/// to be physical.
namespace ohmdrag::test {

inline study::SpeedWatts sample_speed_watts(bool grounded) {
  study::SpeedWatts watts{
      .point = "cruise", .oil_degC = 71.3, .draws = 48, .rows = {}, .remark = {}};
  for (const double share : {0.5, 1.0}) {
    watts.rows.push_back({"seal", "rotor", 8200.0 * share, {41.0 * share, 53.7, 71.0}});
    if (grounded)
      watts.rows.push_back({"grounding", "rotor", 8200.0 * share, {3.1 * share, 4.7, 6.2}});
  }
  if (grounded) watts.remark = "There is no figure at speeds at which a draw has no solution.";
  return watts;
}

inline study::DutyCourse sample_course(bool grounded) {
  study::DutyCourse course{.duty = "wltc-cold",
                           .time_s = {6.0, 18.5, 30.0},
                           .oil_degC = {23.0, 23.7, 25.1},
                           .contacts = {{"seal", {31.3, 40.9, 55.0}, {35.0, 47.7, 71.9}}}};
  if (grounded) course.contacts.push_back({"grounding", {24.0, 26.1, 29.3}, {25.0, 27.4, 33.3}});
  return course;
}

inline study::SizingFindings sample_window() {
  study::SizingFindings window;
  window.title = "Sealing and grounding of the rotor shaft, parcel-van drive unit";
  window.variant = "dense-ring";
  window.baseline = "plain";
  window.element = "dense conductive textile ring";
  window.knob = study::SizedBy::line_force;
  window.stated = 15.0;
  window.samples = 2048;
  using enum study::SizingLimit::Side;
  window.limits = {{"discharge-path",
                    "impedance-magnitude at most 400 ohm",
                    0.95,
                    too_little,
                    std::pair(9.1, 11.3),
                    {}},
                   {"watts",
                    "own power of the grounding at most 7 W, cruise",
                    0.95,
                    too_much,
                    std::pair(31.0, 25.0),
                    {}},
                   {"contact", "contact temperature at most 150 degC", 1.0, always, {}, {}},
                   {"ringing", "edge-peak at most 9 V", 0.9, between, std::pair(9.1, 11.3),
                    std::pair(45.0, 31.0)},
                   {"held", "held-voltage at most 0.1 V", 0.9, never, {}, {}}};
  for (const double force : {5.0, 11.3, 25.0, 45.0}) {
    study::SizingRow row;
    row.knob = force;
    row.line_force_N_mm = {0.8e-3 * force, 1e-3 * force, 1.2e-3 * force};
    row.line_force_at_end_N_mm = {0.5e-3 * force, 0.7e-3 * force, 0.9e-3 * force};
    row.impedance_ohm = Interval{900.0 / force, 1700.0 / force, 4100.0 / force};
    row.net_W = Interval{0.2 * force, 0.27 * force, 0.41 * force};
    row.kept = {force > 10.0 ? 0.983 : 0.41, force < 30.0 ? 0.97 : 0.13, 1.0,
                std::numeric_limits<double>::quiet_NaN(), 0.0};
    row.inside = force > 10.0 && force < 30.0 ? 0.951 : 0.0;
    window.rows.push_back(row);
  }
  window.inside = {1, 2};
  window.cheapest = 1;
  window.verdict = "0.0113 … 0.025 N/mm keep every limit.";
  window.remarks = {"The knee of the resistance lies below."};
  window.cautions = {"Beyond three times the stated force the law is extrapolated."};
  return window;
}

}  // namespace ohmdrag::test
