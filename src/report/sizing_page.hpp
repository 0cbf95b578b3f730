#pragma once

#include <string>

#include "ohmdrag/study/sizing_findings.hpp"
#include "report/page.hpp"

namespace ohmdrag::report {

/// How a knob is shown.
struct KnobUnit {
  std::string name, unit, key;
  double size;  ///< SI of one unit
};
KnobUnit unit_of(study::SizedBy knob);

/// Answer, remarks, what bounds the window.
void print_window(const study::SizingFindings& findings, Page& page);
/// The figures over the knob.
void print_window_figures(const study::SizingFindings& findings, Page& page);

}  // namespace ohmdrag::report
