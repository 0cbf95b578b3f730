#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "rig/endurance_plausible.hpp"

namespace ohmdrag::rig {

namespace {

template <class Q>
Q middle_of(std::vector<Q> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

template <class Q>
Q middle_of(const std::vector<Q>& all, std::size_t from, std::size_t to) {
  return middle_of(std::vector<Q>(all.begin() + static_cast<std::ptrdiff_t>(from),
                                  all.begin() + static_cast<std::ptrdiff_t>(to)));
}

/// Groups of neighbours that grow longer with the hours, each as its medians.
EnduranceSpecimen grouped(const EnduranceSpecimen& dense) {
  const auto readings = static_cast<double>(dense.time.size());
  const auto groups = static_cast<double>(most_readings);
  EnduranceSpecimen out;
  out.name = dense.name;
  std::size_t from = 0;
  for (double group = 1.0; group <= groups; ++group) {
    const auto end =
        static_cast<std::size_t>(std::llround(readings * std::pow(group / groups, 2.0)));
    const std::size_t to = std::clamp(end, from + 1, dense.time.size());
    out.time.push_back(middle_of(dense.time, from, to));
    out.impedance.push_back(middle_of(dense.impedance, from, to));
    if (!dense.torque.empty()) out.torque.push_back(middle_of(dense.torque, from, to));
    from = to;
    if (from == dense.time.size()) break;
  }
  return out;
}

}  // namespace

EnduranceRun thinned(const EnduranceRun& run, std::vector<std::string>& notes) {
  EnduranceRun out = run;
  for (EnduranceSpecimen& specimen : out.specimens) {
    if (specimen.time.size() <= most_readings) continue;
    notes.push_back(fmt::format(
        "Specimen {}: {} readings, taken as the medians of {} groups of neighbours, which are "
        "shorter in the first hours.",
        specimen.name, specimen.time.size(), most_readings));
    specimen = grouped(specimen);
  }
  return out;
}

}  // namespace ohmdrag::rig
