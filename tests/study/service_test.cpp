// Contacts over their service: what the law of a contact makes of the hours of a case.
#include <cmath>
#include <numbers>

#include "study/service_case.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;

namespace {

constexpr double pi = std::numbers::pi;

study::Duty constant_running(const char* id, AngularVelocity speed, Time hours_per_year,
                             Temperature oil) {
  study::Duty result;
  result.id = id;
  result.shaft = "rotor";
  result.shaft_speed = known(speed);
  result.hours_per_year = known(hours_per_year);
  result.oil_temperature = known(oil);
  return result;
}

}  // namespace

// --- wear ---------------------------------------------------------------------------------------

TEST_CASE("a brush behind a spring wears by k p s and keeps its force", "[study]") {
  const auto findings = answer(with({}, grounding_with(brush_of(behind_a_spring(8.0_mm)))));
  const auto& row = life(findings, "grounding");
  const double pressure = 0.75 / 25e-6;
  const double wear_m = 2e-15 * pressure * way_m;
  CHECK(*row.hours == Approx(1000.0));
  CHECK(*row.way_km == Approx(1e-3 * way_m));
  CHECK(row.wear_um->mid == Approx(1e6 * wear_m));
  CHECK(row.worn_out_after_h->mid == Approx(1000.0 * 8e-3 / wear_m));
  CHECK(row.line_force_N_per_mm.mid == Approx(0.75 / (pi * 45.0)));
  CHECK(row.line_force_middle_N_per_mm.mid == Approx(0.75 / (pi * 45.0)));
  CHECK(row.line_force_end_N_per_mm.mid == Approx(0.75 / (pi * 45.0)));
  CHECK(row.contact_width_mm.mid == Approx(5.0));
  CHECK(row.contact_width_end_mm.mid == Approx(5.0));
  // 1700 kg/m3 of 25 mm2 times the wear, in 1000 h.
  CHECK(row.debris_mg_per_1000h->mid == Approx(1e6 * 1700.0 * 25e-6 * wear_m));
  // The shaft sees 5 mm of brush for a part of the turn only: k_s F/(pi d) s / b.
  CHECK(row.shaft_groove_um->mid == Approx(1e6 * 5e-19 * 0.75 / (pi * 0.045) * way_m / 5e-3));
  CHECK(flag(row.flags, "worn-out").empty());
  CHECK(flag(row.flags, "open-at-end").empty());
  CHECK_FALSE(flag(row.flags, "remembered-ageing").empty());
  const auto& brush = watts(findings, "grounding");
  CHECK(brush.own_end_of_service_W->mid == Approx(brush.own_W.mid));
}

TEST_CASE("a brush that is worn out neither presses nor rubs nor conducts", "[study]") {
  const auto findings = answer(with({}, grounding_with(brush_of(behind_a_spring(1.0_mm)))));
  const auto& row = life(findings, "grounding");
  CHECK(row.wear_um->mid == Approx(1000.0));
  CHECK(row.worn_out_after_h->mid == Approx(1000.0 * 1e-3 / (2e-15 * 30e3 * way_m)));
  CHECK(row.line_force_N_per_mm.mid > 0.0);
  CHECK(row.line_force_middle_N_per_mm.mid == 0.0);
  CHECK(row.line_force_end_N_per_mm.mid == 0.0);
  CHECK(std::isfinite(row.resistance_ohm->mid));
  CHECK(std::isinf(row.resistance_middle_ohm->mid));
  CHECK(std::isinf(row.resistance_end_ohm->high));
  CHECK(flag(row.flags, "worn-out").starts_with("worn out after 330 of 1000 running hours"));
  CHECK_FALSE(flag(row.flags, "open-at-end").empty());
  const auto& brush = watts(findings, "grounding");
  CHECK(brush.own_W.mid > 0.0);
  CHECK(brush.own_end_of_service_W->mid == 0.0);
}

TEST_CASE("a brush that is worn out grooves the shaft no deeper", "[study]") {
  const auto whole = answer(with({}, grounding_with(brush_of(behind_a_spring(8.0_mm)))));
  const auto short_lived = answer(with({}, grounding_with(brush_of(behind_a_spring(1.0_mm)))));
  const auto& row = life(short_lived, "grounding");
  CHECK(row.shaft_groove_um->mid ==
        Approx(life(whole, "grounding").shaft_groove_um->mid * row.worn_out_after_h->mid / 1000.0));
}

TEST_CASE("a ring unloads itself by its own wear, half of the way in the middle", "[study]") {
  const auto findings = answer(with({}, grounding_with(ring_of(felt()))));
  const auto& row = life(findings, "grounding");
  const double whole = 15.0 / 3e-3 * 3e-15 * way_m / 4e-3;
  CHECK(row.line_force_N_per_mm.mid == Approx(0.015));
  CHECK(row.line_force_middle_N_per_mm.mid == Approx(0.015 * std::exp(-0.5 * whole)));
  CHECK(row.line_force_end_N_per_mm.mid == Approx(0.015 * std::exp(-whole)));
  const double wear_um = 3000.0 * (1.0 - std::exp(-whole));
  CHECK(row.wear_um->mid == Approx(wear_um));
  CHECK(row.shaft_groove_um->mid == Approx(wear_um * 5e-10 / 3e-6));
  CHECK(row.debris_mg_per_1000h->mid == Approx(1e6 * 1700.0 * 1e-6 * wear_um * 4e-3 * pi * 0.045));
  CHECK_FALSE(row.worn_out_after_h);
  // Constant friction: what is left of the force is left of the watts.
  const auto& ring = watts(findings, "grounding");
  CHECK(ring.own_W.mid == Approx(0.2 * 15.0 * pi * 0.045 * surface_m_s));
  CHECK(ring.own_end_of_service_W->mid == Approx(ring.own_W.mid * std::exp(-whole)));
}

TEST_CASE("the resistance follows the force that is left and grows with age", "[study]") {
  const auto findings = answer(with({}, grounding_with(ring_of(felt()))));
  const auto& row = life(findings, "grounding");
  const auto by_hand = [](double N_per_mm) { return ring_ohm(1e3 * N_per_mm, 0.045); };
  CHECK(row.resistance_ohm->mid == Approx(by_hand(row.line_force_N_per_mm.mid)));
  CHECK(row.resistance_middle_ohm->mid ==
        Approx(std::sqrt(2.0) * by_hand(row.line_force_middle_N_per_mm.mid)));
  CHECK(row.resistance_end_ohm->mid == Approx(2.0 * by_hand(row.line_force_end_N_per_mm.mid)));

  // A stated resistance is that of the new contact and changes as the law does.
  study::Grounding stated = grounding_with(ring_of(felt()));
  stated.resistance = known(5.0_ohm);
  const auto fixed = answer(with({}, stated));
  const auto& own = life(fixed, "grounding");
  CHECK(own.resistance_ohm->mid == Approx(5.0));
  CHECK(own.resistance_end_ohm->mid ==
        Approx(5.0 * row.resistance_end_ohm->mid / row.resistance_ohm->mid));
}

TEST_CASE("a ring that has lost nine tenths of its force is taken as open", "[study]") {
  study::PadService soft = felt();
  soft.wear = wear(5e-5);
  const auto findings = answer(with({}, grounding_with(ring_of(soft))));
  const auto& row = life(findings, "grounding");
  CHECK(row.line_force_end_N_per_mm.mid < 0.1 * row.line_force_N_per_mm.mid);
  CHECK(std::isinf(row.resistance_end_ohm->mid));
  CHECK_FALSE(flag(row.flags, "open-at-end").empty());
}

// --- how long, how far --------------------------------------------------------------------------

TEST_CASE("without a law of its service, or without hours, a contact stays as it is", "[study]") {
  study::Case timeless = with({}, grounding_with(ring_of(felt())));
  timeless.service = {};
  for (const study::Case& c : {with({}, grounding_with(ring_of(std::monostate{}))), timeless}) {
    const auto findings = answer(c);
    const auto& row = life(findings, "grounding");
    CHECK_FALSE(row.hours);
    CHECK_FALSE(row.way_km);
    CHECK_FALSE(row.wear_um);
    CHECK_FALSE(row.debris_mg_per_1000h);
    CHECK(row.line_force_N_per_mm.mid == Approx(0.015));
    CHECK(row.line_force_middle_N_per_mm.mid == row.line_force_N_per_mm.mid);
    CHECK(row.line_force_end_N_per_mm.mid == row.line_force_N_per_mm.mid);
    CHECK_FALSE(flag(row.flags, "no-service").empty());
    CHECK(flag(row.flags, "remembered-ageing").empty());
    CHECK_FALSE(watts(findings, "grounding").own_end_of_service_W);
    // Films and debris still grow on it: the factor of its resistance stays.
    CHECK(row.resistance_end_ohm->mid == Approx(2.0 * row.resistance_ohm->mid));
  }
}

TEST_CASE("hours are shared among the points that turn", "[study]") {
  study::Case c = with({}, grounding_with(ring_of(felt())));
  study::OperatingPoint slow = c.points[0];
  slow.id = "slow";
  slow.shaft_speed = known(2000.0_rpm);
  study::OperatingPoint back = slow;
  back.id = "back";
  back.shaft_speed = known(-2000.0_rpm);
  study::OperatingPoint rest = slow;
  rest.id = "rest";
  rest.shaft_speed = known(0.0_rpm);
  c.points = {c.points[0], slow, back, rest};
  const auto findings = answer(c);
  const auto& row = life(findings, "grounding");
  CHECK(*row.hours == Approx(1000.0));
  CHECK(*row.way_km == Approx(1e-3 * way_m * (6000.0 + 2000.0 + 2000.0) / 3.0 / 6000.0));
}

TEST_CASE("duties age a contact by their hours a year and the years", "[study]") {
  study::Case c = with({}, grounding_with(ring_of(felt())));
  c.service = {};
  c.service.years = known(4.0);
  c.duties = {constant_running("day", 6000.0_rpm, 100.0_h, 70.0_degC),
              constant_running("night", 1500.0_rpm, 300.0_h, 40.0_degC)};
  const auto findings = answer(c);
  const auto& row = life(findings, "grounding");
  CHECK(*row.hours == Approx(1600.0));
  CHECK(*row.way_km == Approx(1e-3 * way_m * (0.4 + 1.2 / 4.0)));

  // Hours of the case go before its years.
  study::Case hours = c;
  hours.service.hours = known(800.0_h);
  CHECK(*life(answer(hours), "grounding").hours == Approx(800.0));
  CHECK(*life(answer(hours), "grounding").way_km == Approx(0.5 * *row.way_km));

  // The mean that ages lies between the contact temperatures of both, nearer to the hotter.
  study::OperatingPoint night = c.points[0];
  night.id = "night";
  night.shaft_speed = known(1500.0_rpm);
  night.oil_temperature = known(40.0_degC);
  c.points.push_back(night);
  const auto at = answer(c);
  const double hot = watts(at, "grounding", 0).contact_temperature_degC->mid + 273.15;
  const double cool = watts(at, "grounding", 1).contact_temperature_degC->mid + 273.15;
  const double rate = 0.25 * std::exp(-10825.0 / hot) + 0.75 * std::exp(-10825.0 / cool);
  CHECK(*row.ageing_temperature_degC == Approx(-10825.0 / std::log(rate) - 273.15).epsilon(1e-6));
}

TEST_CASE("a part that is replaced ages from one change to the next", "[study]") {
  study::Grounding ring = grounding_with(ring_of(felt()));
  ring.replaced_every = known(250.0_h);
  study::Seal seal = seal_with(lip_of(wedge()));
  seal.replaced_every = known(4000.0_h);  // later than the end: no effect
  const auto findings = answer(with(seal, ring));
  const double whole = 15.0 / 3e-3 * 3e-15 * way_m / 4e-3;
  const auto& row = life(findings, "grounding");
  CHECK(*row.hours == Approx(250.0));
  CHECK(*row.way_km == Approx(0.25e-3 * way_m));
  CHECK(row.line_force_end_N_per_mm.mid == Approx(0.015 * std::exp(-0.25 * whole)));
  CHECK(*life(findings, "seal").hours == Approx(1000.0));
  // Its debris per hour is that of the quarter, not a quarter of it.
  CHECK(row.debris_mg_per_1000h->mid ==
        Approx(4e6 * 1700.0 * 3e-3 * (1.0 - std::exp(-0.25 * whole)) * 4e-3 * pi * 0.045));
}

TEST_CASE("the first hours of a dry contact cost more, by the factor of running-in", "[study]") {
  const auto own_W = [](std::optional<Time> running) {
    study::Case c = with({}, grounding_with(ring_of(felt())));
    if (running) c.points[0].running_time = known(*running);
    const auto findings = answer(c);
    const auto& row = watts(findings, "grounding");
    // The end of service is run in.
    CHECK(row.own_end_of_service_W->mid ==
          Approx(watts(answer(with({}, grounding_with(ring_of(felt())))), "grounding")
                     .own_end_of_service_W->mid));
    return row.own_W.mid;
  };
  const double run_in = own_W({});
  CHECK(own_W(0.0_h) / run_in == Approx(1.3));
  CHECK(own_W(5.0_h) / run_in == Approx(1.0 + 0.3 * std::exp(-1.0)));
  CHECK(own_W(1000.0_h) / run_in == Approx(1.0));
}

// --- what reads it ------------------------------------------------------------------------------

TEST_CASE("a requirement at the end of service sees the aged path", "[study]") {
  study::Case c = with({}, grounding_with(ring_of(felt())));
  study::Requirement fresh;
  fresh.id = "new";
  fresh.max = known(30.0);
  fresh.band = {Frequency::from_value(1e4)};
  study::Requirement aged = fresh;
  aged.id = "end";
  aged.end_of_service = true;
  c.requirements = {fresh, aged};
  const auto findings = answer(c);
  const auto& row = life(findings, "grounding");
  // 10 nH at 10 kHz are 0.6 mohm: the resistance is all of it.
  CHECK(findings.requirements[0].value.mid == Approx(row.resistance_ohm->mid).epsilon(1e-4));
  CHECK(findings.requirements[1].value.mid == Approx(row.resistance_end_ohm->mid).epsilon(1e-4));
  CHECK(findings.requirements[0].met);
  CHECK_FALSE(findings.requirements[1].met);

  // A worn-out brush meets no limit at the end.
  study::Case brush = with({}, grounding_with(brush_of(behind_a_spring(1.0_mm))));
  brush.requirements = {aged};
  const auto open = answer(brush).requirements.at(0);
  CHECK(std::isinf(open.value.mid));
  CHECK_FALSE(open.met);
}

TEST_CASE("the same case ages the same, draw by draw", "[study]") {
  study::RingElement ring = ring_of(felt());
  std::get<study::PadService>(ring.service).wear.contact.wear_rate =
      times(mm3_per_Nm(3e-6), 3.0, "wear.invented");
  study::Case c = with(seal_with(lip_of(wedge())), grounding_with(ring));
  c.shafts[0].deviation = known(Length::from_value(-80e-6), "shaft.rotor.fit");
  c.shafts[0].deviation->spread.shape = Shape::uniform;
  c.shafts[0].deviation->spread.half_width = 80e-6;
  c.samples = 20;
  const auto once = answer(c), again = answer(c);
  for (const char* contact : {"seal", "grounding"}) {
    const auto& a = life(once, contact);
    const auto& b = life(again, contact);
    CHECK(a.line_force_end_N_per_mm.low == b.line_force_end_N_per_mm.low);
    CHECK(a.line_force_end_N_per_mm.high == b.line_force_end_N_per_mm.high);
    CHECK(a.wear_um->mid == b.wear_um->mid);
    CHECK(a.line_force_N_per_mm.high > a.line_force_N_per_mm.low);
  }
  const auto& row = life(once, "grounding");
  CHECK(row.resistance_end_ohm->high > row.resistance_end_ohm->low);
}
