#include "ohmdrag/energy/wide_march.hpp"

#include <oneapi/tbb/global_control.h>

#include <cmath>

#include "bench/march_case.hpp"
#include "component/reference_shaft.hpp"
#include "support/cycles.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::energy;

namespace {

constexpr std::size_t count = 70;  // two full blocks and a part of one

WideSample lip_and_ring(std::size_t i) { return bench::sample_of(bench::inputs_of(i)); }

/// Two lips in the oil and a brush; the second lip has another modulus and so other corners.
WideSample two_lips(std::size_t i) {
  WideSample sample = lip_and_ring(i);
  auto& contacts = sample.shaft.contacts;
  component::ShaftContact second = contacts[0];
  second.id = "second";
  second.position = 3.0_mm;
  second.softening->modulus = {{from_celsius(0.0), 1.4}, {from_celsius(35.0), 0.9}};
  contacts = {contacts[0], second, test::ring(10.0_N_m, 25.0_mm)};
  contacts[2].to_body = std::nullopt;
  sample.shaft.wet_until = 4.0_mm;
  return sample;
}

/// A dry lip of PTFE in place of the ring.
WideSample with_ptfe(std::size_t i) {
  WideSample sample = lip_and_ring(i);
  component::ShaftContact& ring = sample.shaft.contacts[1];
  ring.law = contact::PtfeContact{.friction = {.slow_coefficient = 0.12,
                                               .middle_coefficient = 0.35,
                                               .fast_coefficient = 0.45,
                                               .filled_factor = 1.2,
                                               .least_pressure = Pressure::from_value(5e4)},
                                  .contact_width = 4.0_mm};
  ring.line_force = 200.0_N_m;
  ring.load = contact::radial_load(ring.line_force, sample.shaft.diameter);
  return sample;
}

std::vector<Stretch> driven() {
  return stretches(duty::steps(test::wltc_3b(), test::midsize_car()),
                   std::vector<Gearing>{{.ratio = 9.0, .rolling_circumference = 2.1_m}});
}
constexpr std::size_t phases = 4;

Ledger alone(const WideSample& sample, std::span<const Stretch> duty) {
  DriveUnit unit{.shafts = {sample.shaft}, .parts = {}};
  for (std::size_t c = 0; c < sample.shaft.contacts.size(); ++c)
    unit.parts.push_back({sample.shaft.contacts[c].id, ContactPart{0, c}});
  const std::array dry{sample.dry};
  return march(unit, duty, phases, sample.sump, dry);
}

/// Largest relative differences of a wide march from march(), of some samples.
void check_against_alone(const WideLedger& wide, WideSample (*sample)(std::size_t),
                         std::span<const Stretch> duty, double relative) {
  for (const std::size_t i : {std::size_t{0}, std::size_t{31}, std::size_t{32}, count - 1}) {
    INFO("sample " << i);
    const Ledger ledger = alone(sample(i), duty);
    double whole_J = 0.0;
    for (std::size_t c = 0; c < wide.contacts; ++c) whole_J += ledger.whole().of_part(c).value();
    for (std::size_t phase = 0; phase < phases; ++phase)
      for (const auto drive :
           {duty::Drive::standstill, duty::Drive::traction, duty::Drive::recuperation})
        for (std::size_t c = 0; c < wide.contacts; ++c) {
          const double alone_J =
              ledger.phases[phase].by_part[c][static_cast<std::size_t>(drive)].value();
          CHECK(wide.of_contact_J(phase, drive, c)[i] ==
                Approx(alone_J).epsilon(4.0 * relative).margin(relative * 1e-3 * whole_J));
        }
    for (std::size_t c = 0; c < wide.contacts; ++c)
      CHECK(wide.whole_J(c, i) ==
            Approx(ledger.whole().of_part(c).value()).epsilon(relative).margin(0));
    CHECK(wide.oil_at_end_K[i] == Approx(ledger.oil_at_end.value()).epsilon(relative).margin(0));
    CHECK(wide.into_sump_J[i] ==
          Approx(ledger.into_sump.value()).epsilon(relative).margin(relative * whole_J));
  }
}

bool same(const WideLedger& a, const WideLedger& b) {
  return a.contact_J == b.contact_J && a.oil_at_end_K == b.oil_at_end_K &&
         a.into_sump_J == b.into_sump_J;
}

}  // namespace

TEST_CASE("a wide march gives every sample its own march", "[derived]") {
  const auto duty = driven();
  for (auto* const sample : {lip_and_ring, two_lips, with_ptfe})
    check_against_alone(wide_march(count, sample, duty, 0, phases, {.form = WideForm::solved}),
                        sample, duty, 1e-11);
}

TEST_CASE("tables of speed and oil stand for the march of a cycle", "[derived]") {
  // The tolerance of the comparison with a second model over the same cycle.
  const auto duty = driven();
  check_against_alone(wide_march(count, lip_and_ring, duty, 0, phases), lip_and_ring, duty, 1e-6);
  check_against_alone(wide_march(count, two_lips, duty, 0, phases), two_lips, duty, 1e-6);
  // The law of dry PTFE has corners in speed, which no polynomial follows.
  check_against_alone(wide_march(count, with_ptfe, duty, 0, phases), with_ptfe, duty, 1e-4);
  const WideLedger tabulated = wide_march(count, lip_and_ring, duty, 0, phases);
  CHECK(tabulated.effort.solves < 500 * count);
}

TEST_CASE("a wide march gives the same bits at every width and for any number of threads",
          "[derived]") {
  const auto duty = driven();
  for (const WideForm form : {WideForm::solved, WideForm::tabulated}) {
    const WideLedger first = wide_march(count, two_lips, duty, 0, phases,
                                        {.form = form, .width = numerics::LaneWidth::two});
    for (const numerics::LaneWidth width : numerics::lane_widths())
      for (const std::size_t threads : {1, 2}) {
        const oneapi::tbb::global_control limit(
            oneapi::tbb::global_control::max_allowed_parallelism, threads);
        CHECK(same(wide_march(count, two_lips, duty, 0, phases, {.form = form, .width = width}),
                   first));
      }
  }
}

TEST_CASE("a wide march knows soaks, stated oil, other surroundings and a held sump", "[derived]") {
  std::vector<Stretch> duty = driven();
  duty.resize(400);
  duty[100].parked = true;
  duty[100].dt = Time::from_value(3600.0);
  duty[150].ambient = from_celsius(-15.0);
  duty[150].dt = Time::from_value(600.0);
  for (std::size_t s = 300; s < 310; ++s) duty[s].oil = from_celsius(85.0);
  for (const WideForm form : {WideForm::solved, WideForm::tabulated}) {
    const double relative = form == WideForm::solved ? 1e-10 : 1e-6;
    check_against_alone(wide_march(count, lip_and_ring, duty, 0, phases, {.form = form}),
                        lip_and_ring, duty, relative);
    const auto held = [](std::size_t i) {
      WideSample sample = lip_and_ring(i);
      sample.sump.held = true;
      return sample;
    };
    check_against_alone(wide_march(count, held, duty, 0, phases, {.form = form}), held, duty,
                        relative);
  }
}

TEST_CASE("few speeds are solved at those speeds", "[derived]") {
  std::vector<Stretch> duty;
  for (const double speed_rad_s : {0.0, 120.0, 700.0, -120.0, 700.0})
    duty.push_back({.dt = Time::from_value(40.0),
                    .distance = {},
                    .phase = 1,
                    .speed = {AngularVelocity::from_value(speed_rad_s)},
                    .torque = {Torque{}}});
  // Only the oil is interpolated.
  check_against_alone(wide_march(count, lip_and_ring, duty, 0, phases), lip_and_ring, duty, 1e-7);
}

TEST_CASE("a wide march refuses what it would answer wrongly", "[derived]") {
  const auto duty = driven();
  CHECK_THROWS_AS(wide_march(0, lip_and_ring, duty, 0, phases), std::invalid_argument);
  CHECK_THROWS_AS(wide_march(count, lip_and_ring, duty, 0, 0), std::invalid_argument);
  CHECK_THROWS_AS(wide_march(count, lip_and_ring, duty, 0, 1), std::invalid_argument);
  CHECK_THROWS_AS(wide_march(count, lip_and_ring, duty, 1, phases), std::invalid_argument);
  std::vector<Stretch> other_air = duty;
  other_air[3].dry = {from_celsius(20.0)};
  CHECK_THROWS_AS(wide_march(count, lip_and_ring, other_air, 0, phases), std::invalid_argument);
  const auto refused = [&](auto change) {
    CHECK_THROWS_AS(wide_march(
                        count,
                        [&](std::size_t i) {
                          WideSample sample = lip_and_ring(i);
                          if (i == 40) change(sample);
                          return sample;
                        },
                        duty, 0, phases),
                    std::invalid_argument);
  };
  refused([](WideSample& s) { s.shaft.contacts.pop_back(); });
  refused([](WideSample& s) { s.sump.air->exponent = 0.9; });
  refused([](WideSample& s) { s.sump.node.heat_capacity = {}; });
  refused([](WideSample& s) { s.dry = {}; });
  refused([](WideSample& s) { s.shaft.diameter = {}; });
}
