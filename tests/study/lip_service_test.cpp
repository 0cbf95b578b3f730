// Lips over their service, and what the tolerance of the shaft leaves of a force.
#include <cmath>
#include <numbers>

#include "study/service_case.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

constexpr double pi = std::numbers::pi;

study::ExtraDrag dust_lip() {
  study::LipElement lip = lip_of(felt());
  lip.line_force = known(0.02_N_mm);
  lip.contact_width = known(0.1_mm);
  lip.law = study::ConstantFrictionEntry{known(0.5)};
  study::PadService service;
  service.wear = wear(1e-4);
  service.deflection = known(0.2_mm);
  lip.service = service;
  study::ExtraDrag extra;
  extra.id = "dust";
  extra.element = element_of(lip);
  extra.shaft = "rotor";
  extra.position = known(15.0_mm);
  return extra;
}

}  // namespace

// --- lips ---------------------------------------------------------------------------------------

// The wedge by steps of the way on the square of the width, the laws written out anew.
TEST_CASE("a lip loses force to set, relaxation and wear", "[study]") {
  const auto findings = answer(with(seal_with(lip_of(wedge())), {}));
  const auto& row = life(findings, "seal");
  const auto& now = watts(findings, "seal");
  // One steady point: the temperature that ages the lip is that of its contact.
  CHECK(*row.ageing_temperature_degC == Approx(now.contact_temperature_degC->mid));

  const double T = *row.ageing_temperature_degC + 273.15;
  const double tau_s = 30000.0 * 3600.0 * std::exp(10825.0 * (1.0 / T - 1.0 / 398.15));
  const auto spring = [](double t) { return 40.0 * (1.0 - 0.05 * (1.0 - std::exp(-t / 3.6e5))); };
  const auto rubber = [&](double t, double w) {
    return 40.0 * (1.0 - 0.05 * std::log10(1.0 + t / 60.0)) * std::exp(-std::pow(t / tau_s, 0.6)) *
           (1.0 - w / 0.6e-3);
  };
  const double E = 1.0 - 0.4 * std::clamp((T - 293.15) / 80.0, 0.0, 1.0);
  const double K = 1.0 / std::tan(25.0 * pi / 180.0) + 1.0 / std::tan(45.0 * pi / 180.0);
  constexpr int steps = 20000;
  const double ds = way_m / steps;
  double b2 = 0.15e-3 * 0.15e-3, volume = 0.0, middle = 0.0;
  const auto worn = [&] { return (std::sqrt(b2) - 0.15e-3) / K; };
  for (int i = 0; i < steps; ++i) {
    const double t = 3.6e6 * (i + 0.5) / steps;
    if (i == steps / 2) middle = spring(1.8e6) + rubber(1.8e6, worn());
    const double pressing = spring(t) + E * rubber(t, worn());
    b2 += 2.0 * K * 1e-17 * pressing * ds;
    volume += 1e-17 * pressing * ds;
  }
  CHECK(row.line_force_N_per_mm.mid == Approx(0.08));
  CHECK(row.line_force_middle_N_per_mm.mid == Approx(1e-3 * middle).epsilon(2e-3));
  CHECK(row.line_force_end_N_per_mm.mid ==
        Approx(1e-3 * (spring(3.6e6) + rubber(3.6e6, worn()))).epsilon(2e-3));
  CHECK(row.contact_width_end_mm.mid == Approx(1e3 * std::sqrt(b2)).epsilon(2e-3));
  CHECK(row.wear_um->mid == Approx(1e6 * worn()).epsilon(3e-3));
  CHECK(row.shaft_groove_um->mid == Approx(1e6 * worn() * 0.05).epsilon(5e-3));
  CHECK(row.debris_mg_per_1000h->mid == Approx(1e6 * 1900.0 * volume * pi * 0.045).epsilon(2e-3));

  // In oil of 70 degC the rubber holds three quarters: watts as the hot force, new and aged.
  const double hot_new = 40.0 + 0.75 * 40.0;
  const double hot_end = spring(3.6e6) + 0.75 * rubber(3.6e6, worn());
  CHECK(now.own_W.mid == Approx(0.2 * hot_new * pi * 0.045 * surface_m_s));
  CHECK(now.own_end_of_service_W->mid / now.own_W.mid == Approx(hot_end / hot_new).epsilon(2e-3));
}

// A new lip that has the force and the band of the worn one rubs as the worn one, and is cooled so
// but for the little heat that goes into its body.
TEST_CASE("an aged lip costs what a new one of its force and band would", "[study]") {
  study::LipService steady = wedge();
  steady.modulus = curve({{20.0, 1.0}});
  study::LipElement lip = lip_of(steady);
  lip.law = study::MixedFilmEntry{known(0.5), known(5.5), known(2e-5), known(0.5)};
  const auto aged = answer(with(seal_with(lip), {}));
  const auto& row = life(aged, "seal");
  REQUIRE(row.contact_width_end_mm.mid > 1.5 * row.contact_width_mm.mid);

  study::LipElement same = lip;
  same.service = {};
  same.line_force = known(LineForce::from_value(1e3 * row.line_force_end_N_per_mm.mid));
  same.contact_width = known(Length::from_value(1e-3 * row.contact_width_end_mm.mid));
  CHECK(watts(aged, "seal").own_end_of_service_W->mid ==
        Approx(watts(answer(with(seal_with(same), {})), "seal").own_W.mid).epsilon(2e-3));
}

TEST_CASE("hot oil softens a lip, cold oil stiffens it", "[study]") {
  study::LipService stiff = wedge();
  stiff.modulus = curve({{20.0, 1.0}});
  for (const auto& [degC, ratio] : {std::pair{20.0, 1.0}, std::pair{100.0, 0.6}}) {
    study::Case soft = with(seal_with(lip_of(wedge())), {});
    study::Case hard = with(seal_with(lip_of(stiff)), {});
    soft.points[0].oil_temperature = hard.points[0].oil_temperature = known(from_celsius(degC));
    CHECK(watts(answer(soft), "seal").own_W.mid / watts(answer(hard), "seal").own_W.mid ==
          Approx(0.5 + 0.5 * ratio));
    // The table of service stays that of 20 degC.
    CHECK(life(answer(soft), "seal").line_force_N_per_mm.mid == Approx(0.08));
  }
}

TEST_CASE("a pressure over the lip adds dp times its length, and watts", "[study]") {
  double before_W = 0.0;
  for (const double kPa : {-20.0, 0.0, 10.0, 50.0}) {
    CAPTURE(kPa);
    study::Seal seal = seal_with(lip_of(wedge()));
    seal.over_pressure = known(Pressure::from_value(1e3 * kPa));
    const auto findings = answer(with(seal, {}));
    CHECK(life(findings, "seal").line_force_N_per_mm.mid == Approx(0.08 + 1.5e-3 * kPa));
    // The fluid's part does not soften: 70 N/m hot and the pressure.
    const double own_W = watts(findings, "seal").own_W.mid;
    CHECK(own_W == Approx(0.2 * (70.0 + 1.5 * kPa) * pi * 0.045 * surface_m_s));
    CHECK(own_W > before_W);
    before_W = own_W;
  }
}

TEST_CASE("a lip that the air side lifts rubs nowhere", "[study]") {
  study::Seal seal = seal_with(lip_of(wedge()));
  seal.over_pressure = known(Pressure::from_value(-100e3));
  const auto findings = answer(with(seal, {}));
  const auto& row = life(findings, "seal");
  CHECK(row.line_force_N_per_mm.mid == 0.0);
  CHECK(row.line_force_end_N_per_mm.mid == 0.0);
  CHECK(watts(findings, "seal").own_W.mid == 0.0);
}

TEST_CASE("a lip that is lifted is said to be", "[study]") {
  for (const bool ageing : {true, false}) {
    CAPTURE(ageing);
    study::Seal seal = seal_with(lip_of(wedge()));
    seal.over_pressure = known(Pressure::from_value(-100e3));
    study::Case c = with(seal, {});
    if (!ageing) c.service = {};
    const auto findings = answer(c);
    bool said = false;
    for (const auto* flags : {&life(findings, "seal").flags, &watts(findings, "seal").flags})
      for (const study::Flag& flag : *flags)
        said = said || flag.text.find("lift") != std::string::npos ||
               (flag.code.starts_with("range-") && flag.text.find("force") != std::string::npos);
    CHECK(said);
  }
}

TEST_CASE("a dust lip warms the seal and has worn clear by the end", "[study]") {
  const auto alone = answer(with(seal_with(lip_of(wedge())), {}));
  const auto both = answer(with(seal_with(lip_of(wedge())), {}, {dust_lip()}));
  const auto& dust = watts(both, "dust");
  CHECK(dust.kind == "lip-seal");
  CHECK(dust.own_W.mid == Approx(0.5 * 20.0 * pi * 0.045 * surface_m_s));
  CHECK(dust.own_end_of_service_W->mid == Approx(0.0).margin(1e-9));
  CHECK(watts(both, "seal").contact_temperature_degC->mid >
        watts(alone, "seal").contact_temperature_degC->mid + 0.5);
  CHECK(life(both, "dust").wear_um->mid == Approx(200.0));
  // Hotter rubber ages faster.
  CHECK(life(both, "seal").line_force_end_N_per_mm.mid <
        life(alone, "seal").line_force_end_N_per_mm.mid);
}

// --- the shaft's tolerance ----------------------------------------------------------------------

TEST_CASE("a smaller shaft presses the elastic part less", "[study]") {
  const Length smaller = Length::from_value(-80e-6);
  const double d = 0.04492;
  study::Case c = with(seal_with(lip_of(wedge())), grounding_with(ring_of(felt())));
  c.shafts[0].deviation = known(smaller);
  const auto findings = answer(c);
  const double lip = 0.04 + 0.04 * (1.0 - 0.08 / 1.2);
  const double ring = 0.015 * (1.0 - 0.08 / 6.0);
  CHECK(life(findings, "seal").line_force_N_per_mm.mid == Approx(lip));
  CHECK(life(findings, "grounding").line_force_N_per_mm.mid == Approx(ring));
  CHECK(*life(findings, "seal").way_km == Approx(1e-3 * way_m * d / 0.045));
  CHECK(watts(findings, "grounding").own_W.mid ==
        Approx(0.2 * 1e3 * ring * pi * d * pi * d * 100.0));

  // Behind a spring the force is the spring's, whatever the shaft.
  study::Case brush = with({}, grounding_with(brush_of(behind_a_spring(8.0_mm))));
  brush.shafts[0].deviation = known(smaller);
  CHECK(life(answer(brush), "grounding").line_force_N_per_mm.mid == Approx(0.75 / (pi * 1e3 * d)));
}

TEST_CASE("a shaft too small for the contact leaves it open, and says so", "[study]") {
  study::PadService shallow = felt();
  shallow.deflection = known(0.03_mm);
  study::Case c = with({}, grounding_with(ring_of(shallow)));
  c.shafts[0].deviation = known(Length::from_value(-80e-6));
  const auto findings = answer(c);
  const auto& row = life(findings, "grounding");
  CHECK(row.line_force_N_per_mm.mid == 0.0);
  CHECK(watts(findings, "grounding").own_W.mid == 0.0);
  CHECK(std::isinf(row.resistance_ohm->mid));
  CHECK_FALSE(flag(row.flags, "range-share-of-interference-left").empty());
}
