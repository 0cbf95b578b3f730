// What bounds the use of a contact: each limit with its value and its margin.
#include <cmath>
#include <numbers>

#include "study/service_case.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

constexpr double pi = std::numbers::pi;

/// A limit as its flag states it: "… VALUE unit: MARGIN unit SIDE the limit of BOUND unit (basis)".
struct Said {
  double value, margin, bound;
  std::string side;
};

Said said(const std::string& text) {
  CAPTURE(text);
  static const std::regex form{
      R"(.* (-?[\d.e+-]+) \S+.*: (-?[\d.e+-]+) .* (below|above|ABOVE|BELOW) the limit of (-?[\d.e+-]+) .* \(\w.*\))"};
  std::smatch m;
  REQUIRE(std::regex_match(text, m, form));
  return {std::stod(m[1]), std::stod(m[2]), std::stod(m[4]), m[3]};
}

/// The flag of a limit holds the value to three digits and the margin to two.
void check_limit(const std::vector<study::Flag>& flags, const std::string& code, double value,
                 double bound, bool upper = true) {
  CAPTURE(code, value, bound);
  const Said limit = said(flag(flags, code));
  const double margin = upper ? bound - value : value - bound;
  CHECK(limit.value == Approx(value).epsilon(5.1e-3));
  CHECK(limit.bound == Approx(bound).epsilon(5.1e-3));
  CHECK(limit.margin == Approx(std::abs(margin)).epsilon(5.1e-2));
  const std::string kept = upper ? "below" : "above", broken = upper ? "ABOVE" : "BELOW";
  CHECK(limit.side == (margin >= 0.0 ? kept : broken));
}

study::SealLimits rubber() {
  study::SealLimits limits;
  limits.continuous_low = known(from_celsius(-30.0));
  limits.continuous_high = known(from_celsius(85.0));
  limits.short_term = known(from_celsius(120.0));
  limits.sump_high = known(from_celsius(60.0));
  limits.surface_speed = known(12.0_m_s);
  return limits;
}

study::LipSpeedChart chart() {
  return {known(35.0_mm),
          known(8000.0_rpm),
          known(75.0_mm),
          known(4000.0_rpm),
          known(15.0_m_s),
          known(Pressure::from_value(60e3)),
          known(Pressure::from_value(30e3))};
}

study::FlashEntry asperities() {
  return {known(10.0_um), known(100.0_MPa), known(11.5_W_mK), known(1700.0_kg_m3),
          known(SpecificHeat::from_value(800.0))};
}

}  // namespace

// --- limits -------------------------------------------------------------------------------------

TEST_CASE("every limit of a seal is its bound less what is there", "[study]") {
  study::Seal seal = seal_with(lip_of(wedge()));
  study::ElementLimits& limits = seal.element.limits;
  limits.material = "rubber";
  limits.of_material = rubber();
  limits.temperature = known(from_celsius(150.0));
  limits.surface_speed = known(20.0_m_s);
  limits.rotational_speed = known(5000.0_rpm);
  limits.pressure_speed = known(PressureSpeed::from_value(5e6));
  limits.speed_chart = chart();
  const auto findings = answer(with(seal, {}));
  const auto& row = watts(findings, "seal");
  const double contact = row.contact_temperature_degC->mid;
  check_limit(row.flags, "temperature-limit", contact, 150.0);
  check_limit(row.flags, "continuous-temperature", contact, 85.0);
  check_limit(row.flags, "short-term-temperature", contact, 120.0);
  check_limit(row.flags, "sump-temperature", 70.0, 60.0);
  check_limit(row.flags, "cold-temperature", contact, -30.0, /*upper=*/false);
  check_limit(row.flags, "speed-limit", surface_m_s, 20.0);
  check_limit(row.flags, "material-speed", surface_m_s, 12.0);
  check_limit(row.flags, "rotational-speed", 6000.0, 5000.0);
  // M. J. Neale, The Tribology Handbook, 2nd ed., p. B23.2: 8000 1/min at 35 mm, 4000 1/min at 75
  // mm. Surface speed linear between pi 35 mm 8000 1/min and pi 75 mm 4000 1/min: at 45 mm a
  // quarter.
  const double small = pi * 0.035 * 8000.0 / 60.0, large = pi * 0.075 * 4000.0 / 60.0;
  check_limit(row.flags, "speed-chart", surface_m_s, small + 0.25 * (large - small));
  // Force in oil of 70 degC, half of it at three quarters of its modulus, on 0.15 mm.
  const double pressure = 80.0 * (0.5 + 0.5 * 0.75) / 0.15e-3;
  check_limit(row.flags, "pressure-speed", 1e-6 * pressure * surface_m_s, 5.0);
}

TEST_CASE("no limit is flagged that nobody stated", "[study]") {
  const auto findings =
      answer(with(seal_with(lip_of(wedge())), grounding_with(ring_of(std::monostate{}))));
  for (const char* contact : {"seal", "grounding"})
    for (const study::Flag& flag : watts(findings, contact).flags) {
      CAPTURE(flag.code, flag.text);
      CHECK(flag.text.find("the limit of") == std::string::npos);
      CHECK(flag.code != "graphite-transition");
    }
}

TEST_CASE("speed counts whichever way the shaft turns", "[study]") {
  study::Seal seal = seal_with(lip_of(wedge()));
  seal.element.limits.rotational_speed = known(5000.0_rpm);
  seal.element.limits.surface_speed = known(20.0_m_s);
  seal.element.limits.pressure_speed = known(PressureSpeed::from_value(5e6));
  study::Case c = with(seal, {});
  const auto forward = answer(c);
  c.points[0].shaft_speed = known(-6000.0_rpm);
  const auto back = answer(c);
  for (const char* code : {"rotational-speed", "speed-limit", "pressure-speed"}) {
    CHECK_FALSE(flag(watts(forward, "seal").flags, code).empty());
    CHECK(flag(watts(forward, "seal").flags, code) == flag(watts(back, "seal").flags, code));
  }
}

TEST_CASE("in its first hours a contact is judged at the temperature it then has", "[study]") {
  study::Seal seal = seal_with(lip_of(wedge()));
  seal.element.limits.temperature = known(from_celsius(100.0));
  study::Case c = with(seal, {});
  const double run_in = watts(answer(c), "seal").contact_temperature_degC->mid;
  c.points[0].running_time = known(0.01_h);
  const auto findings = answer(c);
  const auto& row = watts(findings, "seal");
  REQUIRE(row.contact_temperature_degC->mid > run_in + 3.0);
  check_limit(row.flags, "temperature-limit", row.contact_temperature_degC->mid, 100.0);
}

TEST_CASE("pressure of a brush is that of its section", "[study]") {
  study::Grounding brush = grounding_with(brush_of(behind_a_spring(8.0_mm)));
  brush.element.limits.pressure_speed = known(PressureSpeed::from_value(0.3e6));
  const auto findings = answer(with({}, brush));
  check_limit(watts(findings, "grounding").flags, "pressure-speed",
              1e-6 * 0.75 / 25e-6 * surface_m_s, 0.3);
}

TEST_CASE("the room that an element needs is set against the room there is", "[study]") {
  study::Seal seal = seal_with(lip_of(wedge()));
  seal.element.limits.installation_width = known(8.0_mm);
  seal.available_width = known(7.0_mm);
  study::Grounding ring = grounding_with(ring_of(felt()));
  ring.element.limits.installation_width = known(3.0_mm);
  ring.available_width = known(7.0_mm);
  const auto findings = answer(with(seal, ring));
  check_limit(watts(findings, "seal").flags, "installation-width", 8.0, 7.0);
  check_limit(watts(findings, "grounding").flags, "installation-width", 3.0, 7.0);
}

TEST_CASE("pressure over a lip has the limit of its diameter", "[study]") {
  for (const auto& [d, bound] : {std::pair{45.0_mm, 60.0}, std::pair{80.0_mm, 30.0}}) {
    study::Seal seal = seal_with(lip_of(wedge()));
    seal.element.limits.speed_chart = chart();
    seal.over_pressure = known(Pressure::from_value(40e3));
    study::Case c = with(seal, {});
    c.shafts[0].diameter = known(d);
    const auto findings = answer(c);
    check_limit(watts(findings, "seal").flags, "lip-pressure", 40.0, bound);
  }
}

TEST_CASE("a lip has to keep the force that seals, to the end and in most parts", "[study]") {
  study::LipElement lip = lip_of(wedge());
  const auto without = answer(with(seal_with(lip), {}));
  CHECK_FALSE(flag(life(without, "seal").flags, "least-force-missing").empty());
  const double left = life(without, "seal").line_force_end_N_per_mm.low;
  for (const auto& [share, word] : {std::pair{0.9, ", above it"}, std::pair{1.1, ", BELOW it"}}) {
    lip.least_line_force = known(LineForce::from_value(1e3 * share * left));
    const auto findings = answer(with(seal_with(lip), {}));
    const std::string text = flag(life(findings, "seal").flags, "least-force");
    CAPTURE(text);
    CHECK(text.find(word) != std::string::npos);
    CHECK(text.find("Says nothing about leakage") != std::string::npos);
    CHECK(numbers_in(text).at(0) == Approx(share * left).epsilon(5.1e-3));
    CHECK(numbers_in(text).at(2) == Approx(left).epsilon(5.1e-3));
    CHECK(flag(life(findings, "seal").flags, "least-force-missing").empty());
  }
}

// --- graphite -----------------------------------------------------------------------------------

// X. Tian, F. E. Kennedy, J. Tribology 116 (1994) 167, coefficients from memory: a uniform disc of
// flux q = f p u: q a/k on the carbon, 2 q a/(k sqrt(pi (1.273 + Pe))) on the
// steel that passes below, Pe = u a/(2 kappa); the heat parts so that both are equally hot.
TEST_CASE("graphite is judged at the bulk and the flash of its asperities", "[study]") {
  const double q = 0.2 * 100e6 * surface_m_s, a = 10e-6;
  const double kappa = 46.0 / (7850.0 * 470.0);
  const double on_steel =
      2.0 * q * a / (46.0 * std::sqrt(pi * (1.273 + surface_m_s * a / (2.0 * kappa))));
  const double on_carbon = q * a / 11.5;
  const double flash = 1.0 / (1.0 / on_steel + 1.0 / on_carbon);

  study::Grounding brush = grounding_with(brush_of(behind_a_spring(8.0_mm)));
  brush.element.flash = asperities();
  struct Row {
    double begin_over, end_over;
    const char* words;
  };
  for (const Row& row : {Row{1.0, 40.0, "still lubricates"}, Row{-1.0, 40.0, "IN the transition"},
                         Row{-40.0, -1.0, "BEYOND the transition"}}) {
    const auto bare = answer(with({}, brush));
    const double bulk = watts(bare, "grounding").contact_temperature_degC->mid;
    brush.element.limits.graphite =
        study::GraphiteTransition{known(from_celsius(bulk + flash + row.begin_over)),
                                  known(from_celsius(bulk + flash + row.end_over))};
    const auto findings = answer(with({}, brush));
    const std::string text = flag(watts(findings, "grounding").flags, "graphite-transition");
    CAPTURE(text, bulk, flash);
    CHECK(text.find(row.words) != std::string::npos);
    CHECK(numbers_in(text).at(0) == Approx(bulk + flash).epsilon(5.1e-3));
    CHECK(numbers_in(text).at(1) == Approx(flash).epsilon(5.1e-2));
  }

  // Without asperities the bulk alone is judged, and the flag says so.
  brush.element.flash.reset();
  const auto bare = answer(with({}, brush));
  const std::string text = flag(watts(bare, "grounding").flags, "graphite-transition");
  CHECK(text.find("no asperities are described") != std::string::npos);
  CHECK(numbers_in(text).at(0) ==
        Approx(watts(bare, "grounding").contact_temperature_degC->mid).epsilon(5.1e-3));
}
