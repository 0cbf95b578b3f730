#include <algorithm>
#include <string>
#include <vector>

#include "input/support.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using test::complaint;
using test::load;
using test::near;
using test::problems_of;
using test::replaced;
using test::smallest;

namespace {

const std::string vehicle = R"toml([vehicle]
test_mass = "1800 kg"
tyre = "215/65 R16"
road_load = { f0 = "150 N", f1 = "0.3 N/(km/h)", f2 = "0.03 N/(km/h)^2" }
[vehicle.path]
mean_efficiency = 0.9
recuperation_efficiency = 0.8
[sump]
lubricant = "thin-axle-oil"
heat_capacity = "12 kJ/K"
conductance = "12 W/K"
)toml";
// A function: replaced() checks, which needs a running test.
std::string car() { return replaced(smallest, "diameter =", "ratio = 9\ndiameter =") + vehicle; }

std::string with_duty(const std::string& text, const std::string& rest) {
  return text + "[[duty]]\nid = \"d\"\n" + rest;
}

bool says(const std::string& text, const std::string& part) {
  const std::string words = complaint(text);
  CAPTURE(words);
  return words.find(part) != std::string::npos;
}

const std::string two_steps = R"(hours_per_year = "4000 h"
steps = [
  { time = "10 min", shaft_speed = "1500 rpm", torque = "20 N*m", oil_temperature = "60 degC" },
  { id = "fast", time = "5 ± 1 min", shaft_speed = "3000 rpm", oil_temperature = "70 degC" },
]
)";

}  // namespace

TEST_CASE("a stepped load profile is read step by step", "[derived]") {
  const study::Case c = load(with_duty(smallest, two_steps));
  REQUIRE(c.duties.size() == 1);
  const study::Duty& d = c.duties[0];
  REQUIRE(d.load_steps.size() == 2);
  CHECK(d.load_steps[0].id == "step-1");
  CHECK(d.load_steps[1].id == "fast");
  CHECK(d.load_steps[0].time.mid() == Approx(600.0));
  CHECK(d.load_steps[1].time.spread.half_width == Approx(60.0));
  CHECK(d.load_steps[0].torque->mid() == 20.0);
  CHECK_FALSE(d.load_steps[1].torque);
  CHECK(d.load_steps[1].oil_temperature->mid() == Approx(343.15));
  CHECK(d.profile_repeats == 1);
  CHECK_FALSE(d.start_temperature);
  CHECK(d.hours_per_year->mid() == Approx(4000.0 * 3600.0));
  // Every number has a key of its own.
  CHECK(d.load_steps[0].shaft_speed.key != d.load_steps[1].shaft_speed.key);
}

TEST_CASE("the oil of a profile is stated in one place", "[derived]") {
  const auto twice =
      problems_of(with_duty(smallest, two_steps + "oil_temperature = \"60 degC\"\n"));
  REQUIRE(twice.size() == 2);  // a complaint a step
  CHECK(input::in_words(twice[0]).find("for the whole duty as well") != std::string::npos);
  const std::string bare =
      "steps = [{ time = \"10 min\", shaft_speed = \"1500 rpm\" }]\nhours_per_year = \"1 h\"\n";
  CHECK(says(with_duty(smallest, bare), "missing; expected a temperature in every step"));
  CHECK(load(with_duty(smallest, bare + "oil_temperature = \"60 degC\"\n"))
            .duties[0]
            .oil_temperature->mid() == Approx(333.15));
  CHECK(problems_of(with_duty(smallest, bare + "oil_temperature = \"60 degC\"\nstart_temperature = "
                                               "\"20 degC\"\n"))
            .size() == 1);
}

TEST_CASE("a profile that warms up fills a shift", "[derived]") {
  const std::string warm =
      "steps = [{ time = \"50 min\", shaft_speed = \"1500 rpm\" }]\nhours_per_year = \"1 h\"\n"
      "start_temperature = \"20 degC\"\n";
  const std::string sump =
      smallest +
      "[sump]\nlubricant = \"thin-axle-oil\"\nheat_capacity = \"12 kJ/K\"\nconductance = \"12 "
      "W/K\"\n";
  // 8 h/50 min = 9.6.
  CHECK(load(with_duty(sump, warm)).duties[0].profile_repeats == 10);
  CHECK(load(with_duty(sump, warm + "repeats = 3\n")).duties[0].profile_repeats == 3);
  CHECK(says(with_duty(sump, warm + "repeats = 0\n"), "expected 1 to 100"));
  CHECK(says(with_duty(sump, replaced(warm, "50 min", "2 s")), "too short to follow a shift"));
  CHECK(says(with_duty(smallest, two_steps + "repeats = 3\n"),
             "has no effect where the oil is held"));
}

TEST_CASE("a histogram has shares that add up and oil in every bin", "[derived]") {
  const std::string bins = R"(hours_per_year = "2000 h"
histogram = [
  { share = 0.3, shaft_speed = "900 rpm", oil_temperature = "50 degC" },
  { share = 0.7, shaft_speed = "1800 rpm", oil_temperature = "65 degC", torque = "30 N*m" },
]
)";
  const study::Case c = load(with_duty(smallest, bins));
  REQUIRE(c.duties[0].load_steps.size() == 2);
  CHECK(c.duties[0].load_steps[0].id == "bin-1");
  CHECK(c.duties[0].load_steps[1].time.mid() == Approx(0.7 * 3600.0));
  CHECK(c.duties[0].load_steps[1].time.certain());
  CHECK(says(with_duty(smallest, replaced(bins, "0.3", "0.2")),
             "the shares add up to 0.9; expected 1"));
  CHECK(says(with_duty(smallest, replaced(bins, ", oil_temperature = \"50 degC\"", "")),
             "a histogram has no order in which oil could warm up"));
  CHECK_FALSE(problems_of(with_duty(smallest, bins + "start_temperature = \"20 degC\"\n")).empty());
  CHECK_FALSE(
      problems_of(with_duty(smallest, replaced(bins, "share = 0.3", "share = -0.3"))).empty());
  CHECK_FALSE(problems_of(with_duty(smallest, replaced(bins, "share = 0.3, ", ""))).empty());
  CHECK_FALSE(problems_of(with_duty(smallest, "histogram = []\n")).empty());
  CHECK_FALSE(problems_of(with_duty(smallest, "histogram = 3\n")).empty());
}

TEST_CASE("a duty has one form", "[derived]") {
  CHECK_FALSE(problems_of(with_duty(smallest, two_steps + "shaft_speed = \"900 rpm\"\n")).empty());
  CHECK(says(with_duty(smallest, "oil_temperature = \"60 degC\"\n"),
             "expected exactly one of cycle, shaft_speed, steps, histogram"));
}

TEST_CASE("cycles follow each other with soaks between", "[derived]") {
  const std::string start = "start_temperature = \"23 degC\"\n";
  const study::Case c = load(
      with_duty(car(),
                "cycle = [\"udds\", { soak = \"10 ± 1 min\" }, \"hwfet\"]\nrepeats = 2\nsoak = "
                "\"1 h\"\n" +
                    start));
  const study::Duty& d = c.duties[0];
  REQUIRE(d.cycles.size() == 4);
  CHECK(d.cycles[2].id == "udds");
  REQUIRE(d.soaks.size() == 3);
  CHECK(d.soaks[0].before_cycle == 1);
  CHECK(d.soaks[1].before_cycle == 2);
  CHECK(d.soaks[1].time.mid() == Approx(3600.0));
  CHECK(d.soaks[2].before_cycle == 3);
  // The same soak, so the same draw.
  CHECK(d.soaks[0].time.key == d.soaks[2].time.key);
  CHECK_FALSE(d.soaks[0].time.key.empty());

  CHECK(load(with_duty(car(), "cycle = \"udds\"\nrepeats = 3\n" + start)).duties[0].cycles.size() ==
        3);
  CHECK(says(with_duty(car(), "cycle = \"udds\"\nsoak = \"1 h\"\n" + start), "the rest between"));
  CHECK(says(with_duty(car(), "cycle = [\"udds\", { soak = \"1 h\" }]\n" + start),
             "a soak at the end cools nothing"));
  CHECK(says(with_duty(car(),
                       "cycle = [\"udds\", { soak = \"1 h\" }, \"udds\"]\noil_temperature = "
                       "\"60 degC\"\n"),
             "does not cool in a soak"));
  CHECK(says(with_duty(car(), "cycle = [\"udds\", 3]\n" + start), "expected the id of a cycle"));
  CHECK(says(with_duty(car(), "cycle = [\"udd\"]\n" + start), "no such cycle"));
  CHECK(says(with_duty(car(), "cycle = []\n" + start), "empty list"));
  CHECK_FALSE(
      problems_of(with_duty(car(), "cycle = [{ sok = \"1 h\" }, \"udds\"]\n" + start)).empty());
}

TEST_CASE("several start temperatures are as many duties", "[derived]") {
  const std::string text = with_duty(
      car(), "cycle = \"udds\"\nstart_temperature = [\"-7 degC\", \"23 degC\", \"80 degC\"]\n");
  const study::Case c = load(text);
  REQUIRE(c.duties.size() == 3);
  CHECK(c.duties[0].id == "d@-7C");
  CHECK(c.duties[1].id == "d@23C");
  CHECK(c.duties[2].id == "d@80C");
  CHECK(c.duties[0].family == "d");
  CHECK(c.duties[2].start_temperature->mid() == Approx(353.15));
  CHECK(c.duties[0].start_temperature->key != c.duties[1].start_temperature->key);

  // The mix names the duty as written, or each of its starts.
  const std::string service = "[service]\ndistance = \"200000 km\"\n";
  const study::Case shared = load(text + service + "mix = { d = 1 }\n");
  REQUIRE(shared.service.mix.size() == 3);
  CHECK(shared.service.mix.at("d@23C") == Approx(1.0 / 3.0));
  const study::Case each =
      load(text + service + "mix = { \"d@-7C\" = 0.1, \"d@23C\" = 0.6, \"d@80C\" = 0.3 }\n");
  CHECK(each.service.mix.at("d@-7C") == 0.1);
  CHECK_FALSE(problems_of(text + service + "mix = { \"d@20C\" = 1 }\n").empty());

  const std::string limit =
      "[[requirement]]\nid = \"r\"\nquantity = \"battery-energy-per-distance\"\nmax = \"1 "
      "Wh/km\"\npoint = ";
  CHECK(load(text + limit + "\"d\"\n").requirements[0].point == "d");
  CHECK(load(text + limit + "\"d@80C\"\n").requirements[0].point == "d@80C");
  CHECK_FALSE(problems_of(text + limit + "\"d@81C\"\n").empty());

  CHECK(says(replaced(text, "80 degC", "23 degC"), "twice"));
  CHECK(says(replaced(text, "[\"-7 degC\", \"23 degC\", \"80 degC\"]", "[]"), "empty list"));
  CHECK(says(with_duty(smallest + "[sump]\nlubricant = \"thin-axle-oil\"\nheat_capacity = \"12 "
                                  "kJ/K\"\nconductance = \"12 W/K\"\n",
                       "shaft_speed = \"900 rpm\"\nhours_per_year = \"10 h\"\nstart_temperature = "
                       "[\"0 degC\", \"20 degC\"]\n"),
             "are for drive cycles"));
}

TEST_CASE("a variant may not change which duties there are", "[derived]") {
  const std::string text =
      with_duty(car(), "cycle = \"udds\"\nstart_temperature = [\"-7 degC\", \"23 degC\"]\n") +
      "[[variant]]\nid = \"other\"\nlike = \"plain\"\n";
  CHECK(load(text + "change = { \"sump.ambient\" = \"10 degC\" }\n").variants.size() == 2);
  CHECK(says(text + "change = { \"duty.d.start_temperature\" = \"0 degC\" }\n",
             "changes which duties there are"));
}

TEST_CASE("a road load may come from rolling and drag area", "[derived]") {
  const std::string text = replaced(
      car(), "{ f0 = \"150 N\", f1 = \"0.3 N/(km/h)\", f2 = \"0.03 N/(km/h)^2\" }",
      "{ rolling = \"0.0085 ± 0.001\", drag_area = \"0.55 m^2\", air_density = \"1.20 kg/m^3\" }");
  const study::Case c = load(text);
  REQUIRE(c.vehicle->by_mass);
  CHECK(c.vehicle->by_mass->rolling.mid() == 0.0085);
  CHECK(c.vehicle->by_mass->drag_area.mid() == Approx(0.55));
  CHECK(c.vehicle->by_mass->air_density.mid() == Approx(1.2));
  // Its numbers are listed, and no empty coefficient of a coast-down.
  std::vector<std::string> keys;
  study::for_each_number(c, [&](const UncertainNumber& n) { keys.push_back(n.key); });
  CHECK(std::ranges::count(keys, "vehicle.road_load.rolling") == 1);
  CHECK(std::ranges::count(keys, "") == 0);
  CHECK(std::ranges::any_of(c.warnings, [](const std::string& warning) {
    return warning.find("rolling coefficient and drag area") != std::string::npos;
  }));
  CHECK(load(replaced(text, ", air_density = \"1.20 kg/m^3\"", ""))
            .vehicle->by_mass->air_density.mid() == Approx(1.204));
  CHECK_FALSE(problems_of(replaced(text, "rolling =", "f0 = \"1 N\", rolling =")).empty());
  CHECK_FALSE(problems_of(replaced(text, ", drag_area = \"0.55 m^2\"", "")).empty());
}

TEST_CASE("a shaft may have several ratios with shift lines", "[derived]") {
  const auto box = [](const std::string& lines) { return replaced(car(), "ratio = 9", lines); };
  const study::Case c = load(
      box("ratio = [12.1, \"6.3 ± 0.1\"]\nshift_up = \"70 ± 5 km/h\"\nshift_down = \"58 km/h\""));
  const study::Shaft& shaft = c.shafts[0];
  CHECK(shaft.ratio.mid() == 12.1);
  REQUIRE(shaft.higher_gears.size() == 1);
  CHECK(shaft.higher_gears[0].ratio.mid() == 6.3);
  CHECK(in_kmh(shaft.higher_gears[0].shift_up.nominal()) == Approx(70.0));
  CHECK(in_kmh(shaft.higher_gears[0].hysteresis) == Approx(12.0));
  CHECK(load(box("ratio = [12.1, 6.3]\nshift_up = \"70 km/h\""))
            .shafts[0]
            .higher_gears[0]
            .hysteresis == Speed{});
  CHECK(load(box("ratio = [9.0]")).shafts[0].higher_gears.empty());
  CHECK(says(box("ratio = [12.1, 6.3]"), "expected one less than there are ratios"));
  CHECK(says(box("ratio = [6.3, 12.1]\nshift_up = \"70 km/h\""), "the ratios must fall"));
  CHECK(says(box("ratio = [12.1, 6.3]\nshift_up = \"70 km/h\"\nshift_down = \"75 km/h\""),
             "must not lie above"));
  CHECK(says(box("ratio = [12.1, 6.3]\nshift_up = \"70 km/h\"\nshift_down = \"60 ± 2 km/h\""),
             "no spread of its own"));
  CHECK(says(box("ratio = 9\nshift_up = \"70 km/h\""), "only between several ratios"));
  CHECK(says(box("ratio = []"), "empty list"));
  CHECK(says(box("ratio = [12, 8, 5]\nshift_up = [\"70 km/h\", \"60 km/h\"]"), "must rise"));
  // The point of the smallest case is stated in shaft speed: fine for one shaft, not for two.
  CHECK(says(box("ratio = [12.1, 6.3]\nshift_up = \"70 km/h\"") +
                 "[[shaft]]\nid = \"wheel\"\nratio = 1\ndiameter = \"40 mm\"\n",
             "has several ratios"));
}

TEST_CASE("the sump may be cooled by the air stream", "[derived]") {
  const std::string air = replaced(
      car(), "conductance = \"12 W/K\"\n",
      "conductance = \"12 W/K\"\nconductance_speed = { added = \"8 W/K\", at = \"100 km/h\" }\n");
  const study::Case c = load(air);
  REQUIRE(c.sump.air);
  CHECK(c.sump.air->added.mid() == 8.0);
  CHECK(in_kmh(c.sump.air->at.nominal()) == Approx(100.0));
  CHECK(c.sump.air->exponent.mid() == 0.7);
  CHECK(c.sump.air->exponent.basis == Basis::unverified);
  CHECK(load(replaced(air, "at = \"100 km/h\"", "at = \"100 km/h\", exponent = 0.6"))
            .sump.air->exponent.mid() == 0.6);
  CHECK(says(smallest + "[sump]\nlubricant = \"thin-axle-oil\"\nconductance_speed = { added = \"8 "
                        "W/K\", at = \"100 km/h\" }\n",
             "there is no [vehicle]"));
}
