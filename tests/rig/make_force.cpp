// Writes the invented table of the force run of cases/rig: three sparse rings of conductive fibres
// on a 40 mm shaft at 3000 1/min, pressed by 1 to 8 N/m and let go again.
//
//   build/tests/rig/make_force > cases/rig/force.csv
//
// Truth: impedance of 1.4 kohm at 3 N/m, falling with force to the power 0.12; rings D, E and F at
// 0.8, 1.3 and 0.95 of it; 4 % lower when let go than when pressed. Torque of 2 mN m at 3 N/m,
// rising to the power 0.92, on top of 5 mN m of the rig. Noise 3 % of the impedance, 0.05 mN m.

#include <fmt/format.h>

#include <cmath>
#include <random>
#include <utility>
#include <vector>

int main() {
  const std::vector<double> forces{1.0, 1.4, 2.0, 3.0, 4.2, 6.0, 8.0};
  std::mt19937_64 random(23);
  std::normal_distribution<double> normal(0.0, 1.0);
  fmt::print("# Invented: no rig turned here. Written by tests/rig/make_force.cpp.\n");
  fmt::print("ring,force_N_per_mm,impedance_ohm,torque_mNm\n");
  const auto read = [&](char ring, double level, double force, double way) {
    const double impedance = 1400.0 * level * std::pow(force / 3.0, -0.12) * (1.0 + 0.04 * way) *
                             std::exp(0.03 * normal(random));
    const double torque = 5.0 + 2.0 * std::pow(force / 3.0, 0.92) + 0.05 * normal(random);
    fmt::print("{},{:.4f},{:.0f},{:.2f}\n", ring, force / 1000.0, impedance, torque);
  };
  for (const auto& [ring, level] :
       std::vector<std::pair<char, double>>{{'D', 0.8}, {'E', 1.3}, {'F', 0.95}}) {
    for (const double force : forces) read(ring, level, force, 0.5);
    for (auto force = forces.rbegin(); force != forces.rend(); ++force)
      read(ring, level, *force, -0.5);
  }
}
