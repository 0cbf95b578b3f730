#include "study/contact_course.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "ohmdrag/component/wide_shaft.hpp"

namespace ohmdrag::study {

using numerics::lanes;

std::vector<std::vector<double>> contact_course_K(const component::ShaftSystem& system,
                                                  std::size_t shaft,
                                                  std::span<const energy::Stretch> duty,
                                                  std::span<const double> oil_K, Temperature dry) {
  std::vector<std::vector<double>> course(system.contacts.size(), {oil_K.begin(), oil_K.end()});
  std::vector<std::size_t> turning;
  for (std::size_t i = 0; i < duty.size(); ++i)
    if (!duty[i].parked && duty[i].speed[shaft] != AngularVelocity{}) turning.push_back(i);
  if (turning.empty() || course.empty()) return course;

  component::WideShaft wide({system});
  std::array<double, lanes> at_K, omega_rad_s;
  at_K.fill(dry.value());
  wide.set_dry(at_K.data());
  component::WideOilSide oil_side = wide.oil_side();
  component::WideDrySide dry_side = wide.dry_side();
  component::WideShaftState state = wide.state();
  for (std::size_t first = 0; first < turning.size(); first += lanes) {
    const std::size_t count = std::min(lanes, turning.size() - first);
    for (std::size_t i = 0; i < lanes; ++i) {
      const std::size_t stretch = turning[first + std::min(i, count - 1)];
      at_K[i] = oil_K[stretch];
      omega_rad_s[i] = std::abs(duty[stretch].speed[shaft].value());
    }
    wide.fill(oil_side, at_K.data());
    wide.fill(dry_side, omega_rad_s.data());
    // From cold: where two steady states exist, what the stretches before had is no matter.
    for (std::size_t f = 0; f < state.friction.rows(); ++f)
      std::fill_n(state.friction[f], lanes, 0.0);
    wide.settle(oil_side, dry_side, state);
    for (std::size_t c = 0; c < course.size(); ++c)
      for (std::size_t i = 0; i < count; ++i) course[c][turning[first + i]] = state.contact_K[c][i];
  }
  return course;
}

}  // namespace ohmdrag::study
