#include <cmath>
#include <string>

#include "input/support.hpp"
#include "ohmdrag/input/catalogue.hpp"

using namespace ohmdrag;
using test::complaint;
using test::Folder;
using test::replaced;

namespace {

const std::string with_inverter = test::smallest + R"(
[inverter]
dc_link = "800 V"
switching_frequency = "10 kHz"
rise_time_0_100 = "50 ns"
[coupling]
winding_rotor = "100 pF"
rotor_frame = "0.7 nF"
)";

std::string with(const std::string& line) {
  return replaced(with_inverter, "[coupling]", line + "\n[coupling]");
}
std::string coupled(const std::string& lines) {
  return with_inverter.substr(0, with_inverter.find("[coupling]")) + "[coupling]\n" + lines;
}

bool warns(const study::Case& c, const std::string& words) {
  return std::ranges::any_of(c.warnings, [&](const std::string& warning) {
    return warning.find(words) != std::string::npos;
  });
}

/// An invented record: 20 samples of a square wave of 10 kHz with slow edges.
std::string record(char separator, char decimal, int rows = 20) {
  std::string text = "Model,invented\nrecord length,20\n";
  text += std::string("t") + separator + "CH1" + separator + "CH2\n";
  for (int i = 0; i <= rows; ++i) {
    std::string time = std::to_string(5 * i) + ".0";
    const double level = i % 20 < 5 || i % 20 >= 15 ? -400.0 : 400.0;
    std::string volt = std::to_string(level);
    for (std::string* cell : {&time, &volt})
      if (decimal == ',') std::ranges::replace(*cell, '.', ',');
    text += time + separator + "0" + separator + volt + "\n";
  }
  return text;
}

study::Case load(const Folder& folder, const std::string& text) {
  return input::load_case(folder.write("case.toml", text), test::options());
}

const std::string waveform =
    "waveform = { file = \"scope.csv\", time = { name = \"t\", unit = \"us\" }, voltage = { name = "
    "\"CH2\", unit = \"V\" } }";

std::string waveform_complaint(const std::string& csv, const std::string& key = waveform) {
  const Folder folder;
  folder.write("scope.csv", csv);
  try {
    load(folder, with(key));
  } catch (const input::InputError& error) {
    REQUIRE(error.problems.size() == 1);
    return input::in_words(error.problems.front());
  }
  FAIL("read without complaint");
  return {};
}

bool has(const std::string& text, const std::string& words) {
  CAPTURE(text, words);
  const bool found = text.find(words) != std::string::npos;
  CHECK(found);
  return found;
}

}  // namespace

TEST_CASE(
    "an inverter keeps to sine-triangle, equal ramps and open gates unless it says otherwise") {
  const study::Case c = test::load(with_inverter);
  CHECK(c.inverter->modulation == voltage::ModulationKind::sine_triangle);
  CHECK_FALSE(c.inverter->fall_time);
  CHECK(c.inverter->blocked_at_standstill.mid() == 0.0);
  CHECK(c.inverter->blocked_at_standstill.basis == Basis::assumed);
  CHECK_FALSE(c.inverter->waveform);
  CHECK(c.coupling->size.empty());
}

TEST_CASE("modulation, fall time and blocked gates are read") {
  const study::Case c =
      test::load(with("modulation = \"space-vector\"\nfall_time_90_10 = \"64 "
                      "ns\"\nblocked_at_standstill = \"80 %\""));
  CHECK(c.inverter->modulation == voltage::ModulationKind::space_vector);
  CHECK(c.inverter->fall_time->nominal().value() == Approx(80e-9));
  CHECK(c.inverter->blocked_at_standstill.mid() == Approx(0.8));
  CHECK(test::load(with("fall_time_100_0 = \"64 ns\"")).inverter->fall_time->mid() ==
        Approx(64e-9));
  has(complaint(with("modulation = \"six-step\"")), "sine-triangle");
  has(complaint(with("blocked_at_standstill = 1.2")), "blocked_at_standstill");
  has(complaint(with("fall_time_100_0 = \"64 ns\"\nfall_time_90_10 = \"64 ns\"")), "fall_time");
}

TEST_CASE("a later file writes the fall time in another way") {
  const study::Case c =
      test::load(with("fall_time_100_0 = \"64 ns\""), {"inverter.fall_time_90_10=\"40 ns\""});
  CHECK(c.inverter->fall_time->mid() == Approx(50e-9));
}

TEST_CASE("a machine's size stands in for what the case does not state") {
  const study::Case c = test::load(coupled("size = \"medium\"\n"));
  CHECK(c.coupling->size == "medium");
  CHECK(c.coupling->winding_rotor.mid() == Approx(85e-12));
  CHECK(c.coupling->winding_rotor.spread.interval().low > 20e-12);
  CHECK(c.coupling->winding_rotor.basis == Basis::unverified);
  CHECK(c.coupling->winding_rotor.key == "machine_size.medium.winding_rotor");
  CHECK(c.coupling->rotor_frame.mid() == Approx(1e-9));
  CHECK(warns(c, "Preset by machine size, from memory; measure"));

  const study::Case own = test::load(coupled("size = \"large\"\nwinding_rotor = \"210 pF\"\n"));
  CHECK(own.coupling->winding_rotor.mid() == Approx(210e-12));
  CHECK(own.coupling->rotor_frame.mid() == Approx(2.5e-9));
  CHECK(warns(own, "coupling rotor_frame of size large"));
  const study::Case both =
      test::load(coupled("size = \"large\"\nwinding_rotor = \"210 pF\"\nrotor_frame = \"2 nF\"\n"));
  CHECK_FALSE(warns(both, "Preset by machine size"));
}

TEST_CASE("a case has machine sizes of its own") {
  const study::Case c = test::load(
      coupled("size = \"ours\"\n[machine_size.ours]\nbasis = \"measured\"\nwinding_rotor = "
              "\"120 pF\"\nrotor_frame = \"0.9 nF\"\nwinding_frame = \"6 nF\"\n"));
  CHECK(c.coupling->winding_rotor.basis == Basis::measured);
  CHECK(c.coupling->winding_rotor.mid() == Approx(120e-12));
  has(complaint(coupled("size = \"huge\"\nwinding_rotor = \"1 nF\"\nrotor_frame = \"1 nF\"\n")),
      "there is no such size of machines");
  has(complaint(coupled("size = \"ours\"\n[machine_size.ours]\nwinding_rotor = \"120 pF\"\n"
                        "rotor_frame = \"0.9 nF\"\n")),
      "winding_frame");
}

TEST_CASE("rotor to frame is estimated over the air gap") {
  const std::string gap =
      "winding_rotor = \"100 pF\"\nair_gap = { bore = \"150 mm\", stack = \"150 mm\", gap = "
      "\"0.8 mm\", carter_factor = 1.2 }\n";
  const study::Case c = test::load(coupled(gap));
  CHECK(c.coupling->rotor_frame.mid() == Approx(0.652e-9).epsilon(2e-3));
  CHECK(rests_on_assumption(c.coupling->rotor_frame.basis));
  CHECK(c.coupling->rotor_frame.key == "coupling.air_gap");
  const Interval interval = c.coupling->rotor_frame.spread.interval();
  CHECK((interval.high - interval.low) / 2.0 ==
        Approx(0.3 * c.coupling->rotor_frame.mid()).epsilon(1e-3));
  // What the sizes leave open adds to the estimate's own, as independent parts.
  const Interval wider = test::load(coupled(replaced(gap, "\"0.8 mm\"", "\"0.8 mm ± 40 %\"")))
                             .coupling->rotor_frame.spread.interval();
  CHECK((wider.high - wider.low) / (interval.high - interval.low) ==
        Approx(5.0 / 3.0).epsilon(0.02));
  has(complaint(coupled(gap + "rotor_frame = \"1 nF\"\n")), "air_gap");
  has(complaint(coupled("winding_rotor = \"100 pF\"\n")), "rotor_frame");
  has(complaint(coupled(replaced(gap, "1.2", "0.8"))), "carter_factor");
}

TEST_CASE("the catalogue lists machines") {
  const input::Catalogue catalogue;
  const auto machines = catalogue.entries("machines");
  REQUIRE(machines.size() == 3);
  CHECK(machines[1].id == "medium");
  CHECK(machines[1].values.size() == 3);
  for (const input::ListedEntry& entry : machines) {
    CHECK(entry.basis == Basis::unverified);
    CHECK(entry.source.starts_with("from memory"));
  }
}

TEST_CASE("a record of the common mode is read with its columns, units and lines") {
  const auto [separator, decimal] = GENERATE(std::pair{',', '.'}, std::pair{';', ','},
                                             std::pair{'\t', '.'}, std::pair{'\t', ','});
  CAPTURE(separator, decimal);
  const Folder folder;
  folder.write("scope.csv", record(separator, decimal));
  const study::Case c = load(folder, with(waveform));
  REQUIRE(c.inverter->waveform);
  const voltage::Waveform& wave = c.inverter->waveform->waveform;
  CHECK(wave.period.value() == Approx(100e-6));
  CHECK(wave.corners.size() == 20);
  CHECK(wave.corners[7].value.value() == Approx(400.0));
  CHECK(c.inverter->waveform->silent_above.value() == Approx(100e3));
  CHECK(warns(c, "sampling intervals"));  // one sample an edge
  CHECK_FALSE(warns(c, "no whole number"));
  REQUIRE(c.provenance.includes.size() == 1);
  CHECK(c.provenance.includes[0].sha256.size() == 64);
}

TEST_CASE("a stated period cuts the record and is held against the carrier") {
  const Folder folder;
  folder.write("scope.csv", record(',', '.', 50));
  const std::string cut =
      replaced(waveform, "unit = \"V\" }", "unit = \"V\" }, period = \"100 us\"");
  CHECK(load(folder, with(cut)).inverter->waveform->waveform.corners.size() == 20);
  const study::Case whole = load(folder, with(waveform));
  CHECK(whole.inverter->waveform->waveform.period.value() == Approx(250e-6));
  CHECK(warns(whole, "no whole number"));
  CHECK(warns(whole, "does not close"));
}

TEST_CASE("a record that cannot be used is complained of with its line") {
  const std::string sound = record(',', '.');
  has(waveform_complaint(replaced(sound, "25.0,0,400", "25.0,0,four")), "line 9: read \"four");
  has(waveform_complaint(replaced(sound, "25.0,0,400.000000", "25.0,0")), "line 9: has no cell");
  has(waveform_complaint(replaced(sound, "25.0,", "15.0,")), "times of the samples must rise");
  has(waveform_complaint(replaced(sound, "CH1", "CH2")), "stands there twice");
  has(waveform_complaint("t,CH2\n"), "no rows");
  has(waveform_complaint("t,CH2\n0,1\n1,2\n"), "at least three samples");
  has(waveform_complaint(sound, replaced(waveform, "\"CH2\"", "\"CH3\"")), "no line names all of");
  has(waveform_complaint(sound, replaced(waveform, "\"us\"", "\"mm\"")), "no unit of a time");
  has(waveform_complaint(sound, replaced(waveform, "scope.csv", "other.csv")), "other.csv");
  has(waveform_complaint(
          sound, replaced(waveform, "unit = \"V\" }", "unit = \"V\" }, period = \"200 us\"")),
      "within the record");
  has(waveform_complaint(
          sound, replaced(waveform, "unit = \"V\" }", "unit = \"V\" }, perod = \"100 us\"")),
      "perod");
}
