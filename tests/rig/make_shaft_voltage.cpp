// Writes the invented records of cases/rig: a shaft behind a two-level inverter, without and with a
// grounding contact.
//
//   build/tests/rig/make_shaft_voltage open | gzip -9n > cases/rig/shaft-open.csv.gz
//   build/tests/rig/make_shaft_voltage grounded | gzip -9n > cases/rig/shaft-grounded.csv.gz
//
// Truth: ratio 0.055 with the probe on the shaft (56.5 pF of 1020 + 8 pF); source ringing at 1.1
// MHz with a quality of 7 and 0.3 of the step; films of a Weibull strength, median 18 V, slope 4,
// of which three in ten break late; a contact of 60 ohm on 1 nF. Noise of 0.15 V on the shaft
// and 1.5 V on the common mode, in steps of the converter of 0.25 and 4 V, a sample in 40 ns.

#include <fmt/format.h>

#include <cstdio>
#include <string_view>

#include "rig/shaft_voltage_record.hpp"

using namespace ohmdrag;

int main(int count, char** arguments) {
  const std::string_view which = count == 2 ? arguments[1] : "";
  if (which != "open" && which != "grounded") {
    fmt::print(stderr, "say open or grounded\n");
    return 2;
  }
  test::ShaftTruth truth{.link_V = 650.0,
                         .carrier_Hz = 16e3,
                         .modulation = 0.7,
                         .electrical_Hz = 200.0,
                         .rise_s = 240e-9,
                         .ratio = 0.055,
                         .ringing_Hz = 1.1e6,
                         .ringing_share = 0.3,
                         .quality = 7.0,
                         .median_V = 18.0,
                         .late_share = 0.3,
                         .interval_s = 40e-9,
                         .duration_s = 1.25e-3,
                         .start_s = 0.2e-3,
                         .common_noise_V = 1.5};
  if (which == "grounded") {
    truth.contact_s = 60e-9;
    truth.duration_s = 0.4e-3;
  }
  const rig::ShaftRecord record = test::shaft_record(truth, 46, true);
  fmt::print("# Invented: nobody measured this. Written by tests/rig/make_shaft_voltage.cpp.\n");
  fmt::print("t_us,common_V,shaft_V\n");
  for (std::size_t i = 0; i < record.time.size(); ++i)
    fmt::print("{:.2f},{:.0f},{:.2f}\n", 1e6 * (record.time[i].value() - truth.start_s),
               record.common_mode[i].value(), record.shaft[i].value());
}
