// Writes the invented logs of the friction run of cases/rig: three rings of dense conductive
// textile, one after the other on a 45 mm shaft, through eight speeds up and down, and the rig
// without a ring.
//
//   build/tests/rig/make_friction log > cases/rig/friction.csv
//   build/tests/rig/make_friction tare > cases/rig/friction-tare.csv
//
// Truth: a coefficient of 0.19 at 12 N/m; rings A, B and C at 1.05, 0.94 and 1.01 of it; 3 % more
// torque up the speeds than down. The rig itself takes 4 mN m and 0.35 mN m per 1000 1/min. A
// sample every 5 s, 40 a speed after 4 on the way there; torque noise 0.25 mN m, correlated by 0.5
// from one sample to the next; every step starts 15 % high and settles with 20 s.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <random>
#include <string>
#include <vector>

#include "ohmdrag/contact/friction.hpp"

using namespace ohmdrag;

namespace {

const std::vector<double> speeds_rpm{12, 60, 250, 1000, 3000, 6000, 9000, 12000};
constexpr double step_s = 5.0, settle_s = 20.0, settle_share = 0.15;
constexpr int on_the_way = 4, dwell = 40;
constexpr double noise_mNm = 0.25, following = 0.5, gap = 0.03;

double tare_mNm(double rpm) { return 4.0 + 0.35 * rpm / 1000.0; }

double ring_mNm() {
  const Length d = Length::from_value(0.045);
  return 1e3 *
         contact::friction_torque(0.19, contact::radial_load(LineForce::from_value(12.0), d), d)
             .value();
}

std::string comma(double value, int digits) {
  std::string text = fmt::format("{:.{}f}", value, digits);
  std::ranges::replace(text, '.', ',');
  return text;
}

/// One pass up and down the speeds; without a ring the level is zero.
class Pass {
 public:
  Pass(std::string ring, double level, unsigned seed)
      : ring_(std::move(ring)), level_(level), random_(seed) {}

  void write() {
    for (const double rpm : speeds_rpm) step(rpm, 0.5);
    for (auto rpm = speeds_rpm.rbegin(); rpm != speeds_rpm.rend(); ++rpm) step(*rpm, -0.5);
  }

 private:
  void step(double rpm, double sweep) {
    for (int i = 1; i <= on_the_way; ++i) sample(rpm_ + (rpm - rpm_) * i / (on_the_way + 1.0), 0.0);
    rpm_ = rpm;
    for (int i = 0; i < dwell; ++i)
      sample(rpm, settle_share * std::exp(-i * step_s / settle_s), sweep);
  }

  void sample(double rpm, double excess, double sweep = 0.0) {
    error_ = following * error_ + std::sqrt(1.0 - following * following) * normal_(random_);
    const double ring = level_ * ring_mNm() * (1.0 + gap * sweep) * (1.0 + excess);
    const double torque = ring + tare_mNm(rpm) + noise_mNm * error_;
    const double warm = 31.0 + level_ * ring_mNm() * rpm / 9549.0 * 1.6 + 0.1 * normal_(random_);
    fmt::print("{};{};{};{};{}\n", time_s_, comma(rpm + 0.3 * normal_(random_), 1),
               comma(torque, 2), comma(warm, 1), ring_);
    time_s_ += static_cast<int>(step_s);
  }

  std::string ring_;
  double level_;
  std::mt19937_64 random_;
  std::normal_distribution<double> normal_{0.0, 1.0};
  double error_ = 0.0, rpm_ = 0.0;
  int time_s_ = 0;
};

}  // namespace

int main(int count, char** arguments) {
  const std::string which = count == 2 ? arguments[1] : "";
  if (which != "log" && which != "tare") {
    fmt::print(stderr, "usage: make_friction log|tare\n");
    return 2;
  }
  fmt::print("# Invented: no rig turned here. Written by tests/rig/make_friction.cpp.\n");
  fmt::print("t;n;torque;temp;ring\ns;1/min;mNm;degC;\n");
  if (which == "tare") {
    Pass("none", 0.0, 7).write();
    return 0;
  }
  Pass("A", 1.05, 11).write();
  Pass("B", 0.94, 12).write();
  Pass("C", 1.01, 13).write();
  return 0;
}
