// What the design of a contact makes of its friction, heat, resistance and force.
#include <cmath>
#include <numbers>

#include "ohmdrag/material/lubricant.hpp"
#include "study/service_case.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

constexpr double pi = std::numbers::pi;

/// 0.3 mm of interference on 4 mm of 7 um fibres that lean by 45 degrees; 30 % of the face.
study::RingElement fibre_ring() {
  study::RingElement ring = ring_of(std::monostate{});
  ring.line_force = {};
  ring.contact_width = known(1.0_mm);
  study::FibreEntry fibres;
  fibres.diameter = known(7.0_um);
  fibres.free_length = known(4.0_mm);
  fibres.young_modulus = known(230.0_GPa);
  fibres.density = known(1760.0_kg_m3);
  fibres.lean_deg = known(45.0);
  fibres.packing = known(0.3);
  fibres.share_in_contact = known(0.5);
  fibres.interference = known(0.3_mm);
  fibres.dynamic_stiffening = known(2.0);
  ring.fibres = fibres;
  return ring;
}

/// N = 3 E I delta/(L^3 sin^2) of each fibre, as many as the face holds over half of them: N/m.
double fibre_line_force(double interference_m) {
  const double I = pi * std::pow(7e-6, 4) / 64.0;
  const double N = 3.0 * 230e9 * I * interference_m / (std::pow(4e-3, 3) * 0.5);
  const double fibres_per_m2 = 0.3 / (0.25 * pi * 7e-6 * 7e-6);
  return 0.5 * fibres_per_m2 * 1e-3 * N;
}

/// A ring in oil: residual oil 10, its film a mixed one.
study::RingElement wet_ring(double transition_duty) {
  study::RingElement ring = ring_of(std::monostate{});
  ring.law = study::MixedFilmEntry{known(0.15), known(5.5), known(transition_duty), known(0.5)};
  ring.oil = study::OilEntry{known(10.0), known(0.5_um)};
  return ring;
}

}  // namespace

// --- current, friction --------------------------------------------------------------------------

TEST_CASE("a current heats the contact by what a watt does, and costs no watts", "[study]") {
  const auto run = [](double friction, std::optional<Current> current) {
    study::BrushElement element = brush_of(behind_a_spring(8.0_mm));
    element.law = study::ConstantFrictionEntry{known(friction)};
    study::Grounding brush = grounding_with(element);
    if (current) brush.current = known(*current);
    // A seal of constant friction, so that all temperatures go with the heat.
    return answer(with(seal_with(lip_of(std::monostate{})), brush));
  };
  const auto degC = [](const study::VariantFindings& findings, const char* contact) {
    return watts(findings, contact).contact_temperature_degC->mid;
  };
  const auto cold = run(0.2, {}), rubbing = run(0.6, {});
  const auto two = run(0.2, 2.0_A), four = run(0.2, 4.0_A);

  const double more_W = watts(rubbing, "grounding").own_W.mid - watts(cold, "grounding").own_W.mid;
  CHECK(more_W == Approx(0.4 * 0.75 * surface_m_s));
  for (const char* contact : {"seal", "grounding"}) {
    CAPTURE(contact);
    const double K_per_W = (degC(rubbing, contact) - degC(cold, contact)) / more_W;
    REQUIRE(K_per_W > 0.0);
    CHECK(degC(two, contact) - degC(cold, contact) == Approx(2.0 * K_per_W));
    CHECK(degC(four, contact) - degC(cold, contact) == Approx(4.0 * K_per_W));
    CHECK(watts(four, contact).own_W.mid == Approx(watts(cold, contact).own_W.mid));
  }
  CHECK(flag(watts(two, "grounding").flags, "current-heat").find("by 2 W") != std::string::npos);
  CHECK(flag(watts(cold, "grounding").flags, "current-heat").empty());
}

// R. B. Lewis as quoted on a trade page: mu = k C p^(-0.2), p in lbf/in2, C = 0.45 above 0.5 m/s.
TEST_CASE("dry PTFE rubs by the 0.8th power of its force", "[study]") {
  const auto friction_of = [](LineForce force) {
    study::LipElement lip = lip_of(std::monostate{});
    lip.line_force = known(force);
    lip.contact_width = known(1.0_mm);
    lip.law = study::PtfeFrictionEntry{known(0.12), known(0.35), known(0.45), known(0.5),
                                       known(Pressure::from_value(50e3))};
    const auto findings = answer(with(seal_with(lip), {}));
    return watts(findings, "seal").torque_Nm.mid / (force.value() * pi * 0.045 * 0.0225);
  };
  const double once = friction_of(80.0_N_m), twice = friction_of(160.0_N_m);
  CHECK(once == Approx(0.5 * 0.45 * std::pow(80e3 / 6894.757, -0.2)));
  CHECK(twice / once == Approx(std::pow(2.0, -0.2)));
  // Below the least pressure friction stays.
  CHECK(friction_of(20.0_N_m) == Approx(friction_of(40.0_N_m)));
}

// --- oil ----------------------------------------------------------------------------------------

TEST_CASE("a ring in oil conducts by the force that the oil leaves it at the worst point",
          "[study]") {
  study::Case c = with({}, grounding_with(wet_ring(2e-3)));
  study::OperatingPoint slow = c.points[0];
  slow.id = "slow";
  slow.shaft_speed = known(300.0_rpm);
  c.points = {slow, c.points[0]};
  const auto findings = answer(c);
  const auto& fast = watts(findings, "grounding", 1);

  // The duty at the printed contact temperature; the friction of the budget tells whether it is
  // right.
  const double kelvin = fast.contact_temperature_degC->mid + 273.15;
  const material::LubricantProperties oil{material::Walther(25.0_mm2_s, 5.3_mm2_s, 0.7),
                                          835.0_kg_m3,
                                          0.135_W_mK,
                                          SpecificHeat::from_value(2150.0),
                                          2.3,
                                          PerPressure::from_value(1.6e-8)};
  const double eta = material::dynamic_viscosity(oil, Temperature::from_value(kelvin)).value();
  const double duty = eta * surface_m_s / 15.0;
  const double share = std::exp(-std::sqrt(duty / 2e-3));
  const double friction = 0.15 * share + (1.0 - share) * 5.5 * std::cbrt(duty * 4e-3 / 0.2e-3);
  REQUIRE(share > 0.05);
  REQUIRE(share < 0.95);
  CHECK(fast.own_W.mid == Approx(friction * 15.0 * pi * 0.045 * surface_m_s).epsilon(1e-6));
  CHECK(life(findings, "grounding").resistance_ohm->mid ==
        Approx(10.0 * ring_ohm(15.0 * share, 0.045)).epsilon(1e-6));
  CHECK_FALSE(flag(fast.flags, "oil-wetted").empty());
}

TEST_CASE("a ring that floats on its oil is open", "[study]") {
  const auto findings = answer(with({}, grounding_with(wet_ring(1e-10))));
  const auto& row = life(findings, "grounding");
  CHECK(std::isinf(row.resistance_ohm->mid));
  CHECK(std::isinf(row.resistance_end_ohm->mid));
  CHECK_FALSE(flag(watts(findings, "grounding").flags, "oil-wetted").empty());
}

// --- fibres -------------------------------------------------------------------------------------

TEST_CASE("the force of a ring follows from its fibres", "[study]") {
  const auto findings = answer(with({}, grounding_with(fibre_ring())));
  CHECK(life(findings, "grounding").line_force_N_per_mm.mid ==
        Approx(1e-3 * fibre_line_force(0.3e-3)));
  CHECK_FALSE(flag(watts(findings, "grounding").flags, "run-out-missing").empty());

  study::Grounding pressed = grounding_with(fibre_ring());
  pressed.interference = known(0.2_mm);
  CHECK(life(answer(with({}, pressed)), "grounding").line_force_N_per_mm.mid ==
        Approx(1e-3 * fibre_line_force(0.2e-3)));

  // A line force that the variant states outranks the fibres.
  study::Grounding stated = grounding_with(fibre_ring());
  stated.line_force = known(0.006_N_mm);
  CHECK(life(answer(with({}, stated)), "grounding").line_force_N_per_mm.mid == Approx(0.006));
}

TEST_CASE("fibres lose force as their own interference wears off", "[study]") {
  study::RingElement ring = fibre_ring();
  study::PadService service;
  service.wear = wear(1e-7);
  ring.service = service;
  const auto findings = answer(with({}, grounding_with(ring)));
  const auto& row = life(findings, "grounding");
  const double whole = fibre_line_force(0.3e-3) / 0.3e-3 * 1e-16 * way_m / 1e-3;
  CHECK(row.line_force_end_N_per_mm.mid / row.line_force_N_per_mm.mid == Approx(std::exp(-whole)));
  CHECK(row.wear_um->mid == Approx(300.0 * (1.0 - std::exp(-whole))));
}

TEST_CASE("run-out takes force off the fibres once a turn, and opens them in the end", "[study]") {
  for (const double run_out_mm : {0.03, 0.20, 0.31}) {
    CAPTURE(run_out_mm);
    study::Case c = with({}, grounding_with(fibre_ring()));
    c.shafts[0].run_out = known(Length::from_value(1e-3 * run_out_mm));
    const auto findings = answer(c);
    const auto& flags = watts(findings, "grounding").flags;
    // Half the reading moves the shaft, twice as stiff as slowly pressed.
    const double left = std::max(0.0, 1.0 - 2.0 * 0.5 * run_out_mm / 0.3);
    const std::string text = flag(flags, "least-force-of-a-turn");
    CAPTURE(text);
    CHECK(numbers_in(text).at(0) == Approx(1e-3 * fibre_line_force(0.3e-3) * left).epsilon(6e-3));
    CHECK((text.find("OPENS once a turn") != std::string::npos) == (left == 0.0));
    // 45 degrees and 4 mm follow a slow shaft: twice the eccentricity is needed at least.
    const std::string follow = flag(flags, "fibres-follow");
    CAPTURE(follow);
    CHECK(numbers_in(follow).at(0) == Approx(6000.0));  // then the 1 of 1/min
    CHECK(numbers_in(follow).at(2) >= 0.99 * run_out_mm);
    CHECK((follow.find("TOO LITTLE") != std::string::npos) == (numbers_in(follow).at(2) > 0.3));
  }
}

TEST_CASE("fibres of another ring than the grounding one are judged by their own interference",
          "[study]") {
  study::ExtraDrag second;
  second.id = "second";
  second.element = element_of(fibre_ring());
  second.shaft = "rotor";
  second.position = known(20.0_mm);
  study::Grounding first = grounding_with(fibre_ring());
  first.interference = known(0.05_mm);
  study::Case c = with({}, first, {second});
  c.shafts[0].run_out = known(0.1_mm);
  const auto findings = answer(c);
  CHECK(flag(watts(findings, "grounding").flags, "least-force-of-a-turn").find("OPENS") !=
        std::string::npos);
  // 0.3 mm of its own: a third of the force goes, it stays closed.
  CHECK(flag(watts(findings, "second").flags, "least-force-of-a-turn").find("OPENS") ==
        std::string::npos);
}
