#include "ohmdrag/voltage/discharge.hpp"

#include <cmath>
#include <vector>

#include "ohmdrag/voltage/threshold.hpp"
#include "ohmdrag/voltage/verdict.hpp"
#include "support/near.hpp"
#include "voltage/reference.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;
using ohmdrag::test::within;

namespace {

const ThresholdBand band{.at_05 = 2.0_V, .at_50 = 6.0_V, .at_95 = 18.0_V};

VerdictInput input(Voltage held, Voltage edge) {
  return {.held = {held, 50.0_us},
          .edge = {edge, 0.1_us},
          .threshold = band,
          .film = FilmState{.film_ratio = 3.5, .turning = true},
          .t0 = 0.0_us,
          .fallen_factor = 0.76};
}

const DischargeLaw law{
    .threshold = 6.0_V, .t0 = 0.0_us, .width = 0.7, .capacitance = 1.0_nF, .area = 1.4_mm2};

}  // namespace

TEST_CASE("the film's share of its strength is smooth between 1 and 3", "[derived]") {
  CHECK(film_share(0.0) == 0.0);
  CHECK(film_share(1.0) == 0.0);
  CHECK_THAT(film_share(2.0), near(0.5, 1e-12));
  CHECK(film_share(3.0) == 1.0);
  CHECK(film_share(10.0) == 1.0);
  for (int i = 0; i < 40; ++i) CHECK(film_share(1.0 + 0.05 * (i + 1)) > film_share(1.0 + 0.05 * i));
  CHECK_THROWS_AS(film_share(-0.1), std::invalid_argument);
}

TEST_CASE("the threshold covers the measured first breakdowns", "[derived]") {
  // Lubricants 2024, 12, 1, table A1: first breakdown at 1.5 to 6 V in new bearings; films of
  // 0.3 um and the 5 and 50 % points of the field.
  const BreakdownBand field{3.0_V_um, 10.0_V_um, 30.0_V_um};
  const ThresholdBand volts = threshold_band(field, 0.3_um, 4.0);
  CHECK(volts.at_05 <= 2.0_V);
  CHECK(volts.at_50 >= 6.0_V - Voltage::from_value(1e-12));
  CHECK_THAT(static_threshold(10.0_V_um, 0.296_um, 4.0), near(5.92_V, 1e-12));
  CHECK(static_threshold(10.0_V_um, 0.3_um, 0.9) == Voltage{});
  CHECK_THROWS_AS(static_threshold(0.0_V_um, 0.3_um, 4.0), std::invalid_argument);
}

TEST_CASE("credit for a short pulse", "[derived]") {
  CHECK(pulse_credit(0.0_us, 10.0_ns).factor == 1.0);
  CHECK_THAT(pulse_credit(0.3_us, 0.3_us).factor, near(2.0, 1e-12));
  CHECK_FALSE(pulse_credit(0.3_us, 0.3_us).capped);
  const PulseCredit capped = pulse_credit(1.0_us, 50.0_ns);
  CHECK(capped.factor == pulse_credit_cap);
  CHECK(capped.capped);
  CHECK_THAT(capped.raw, near(1.0 + std::sqrt(20.0), 1e-12));
  CHECK_THROWS_AS(pulse_credit(0.3_us, 0.0_us), std::invalid_argument);
}

TEST_CASE("probability of an edge", "[derived]") {
  CHECK(edge_probability(6.0_V, 6.0_V, 0.7) == 0.0);
  CHECK(edge_probability(5.0_V, 6.0_V, 0.7) == 0.0);
  CHECK_THAT(edge_probability(6.0_V * 1.7, 6.0_V, 0.7), near(1.0 - std::exp(-1.0), 1e-12));
  CHECK(edge_probability(0.1_V, 0.0_V, 0.7) == 1.0);
  CHECK(edge_probability(0.0_V, 0.0_V, 0.7) == 0.0);
  CHECK(edge_probability(-9.0_V, 6.0_V, 0.7) == edge_probability(9.0_V, 6.0_V, 0.7));
}

TEST_CASE("the verdict follows the band of the threshold", "[derived]") {
  struct Row {
    Voltage held, edge;
    Verdict of_held, of_edge, headline;
    Regime regime;
  };
  const auto row = GENERATE(
      Row{1.9_V, 1.9_V, Verdict::none, Verdict::none, Verdict::none, Regime::holding},
      Row{2.0_V, 0.0_V, Verdict::possible, Verdict::none, Verdict::possible, Regime::striking},
      Row{0.0_V, 6.0_V, Verdict::none, Verdict::expected, Verdict::expected, Regime::striking},
      Row{5.9_V, 7.0_V, Verdict::possible, Verdict::expected, Verdict::expected, Regime::striking});
  const VerdictResult result = verdict(input(row.held, row.edge));
  CHECK(result.held == row.of_held);
  CHECK(result.edge == row.of_edge);
  CHECK(result.headline == row.headline);
  CHECK(result.regime == row.regime);
}

TEST_CASE("a first discharge lowers the threshold and with it the verdict", "[derived]") {
  const VerdictResult result = verdict(input(1.6_V, 0.1_V));
  CHECK(result.headline == Verdict::none);
  CHECK(result.headline_after_first == Verdict::possible);
}

TEST_CASE("a film ratio of one or less conducts", "[derived]") {
  VerdictInput slow = input(40.0_V, 40.0_V);
  slow.film = FilmState{.film_ratio = 0.8, .turning = true};
  CHECK(verdict(slow).headline == Verdict::possible);
  CHECK(verdict(slow).regime == Regime::conducting);
  slow.film = FilmState{.film_ratio = 0.0, .turning = false};
  CHECK(verdict(slow).headline == Verdict::none);
  CHECK(verdict(slow).regime == Regime::conducting);
}

TEST_CASE("credits stand side by side", "[derived]") {
  const auto rows = verdicts_by_credit(input(0.0_V, 9.0_V));
  REQUIRE(rows.size() == shown_credits_us.size());
  CHECK(rows.front().result.headline == Verdict::expected);
  CHECK(rows.back().result.headline == Verdict::possible);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CHECK_THAT(rows[i].t0.value(), near(1e-6 * shown_credits_us[i], 1e-12));
    if (i > 0) CHECK(rows[i].result.headline <= rows[i - 1].result.headline);
  }
  CHECK(rows.back().result.edge_credit.capped);
}

TEST_CASE("legs of the verdict's edge", "[derived]") {
  CHECK(verdict_legs(0.0) == 3);
  CHECK(verdict_legs(0.019) == 3);
  CHECK(verdict_legs(0.02) == 2);
  CHECK(verdict_legs(1.0) == 2);
  CHECK_THROWS_AS(verdict_legs(2.0), std::invalid_argument);
}

TEST_CASE("an undefined verdict is refused", "[derived]") {
  VerdictInput bad = input(-1.0_V, 1.0_V);
  CHECK_THROWS_AS(verdict(bad), std::invalid_argument);
  bad = input(1.0_V, 1.0_V);
  bad.fallen_factor = 1.2;
  CHECK_THROWS_AS(verdict(bad), std::invalid_argument);
  bad = input(1.0_V, 1.0_V);
  bad.threshold.at_50 = 1.0_V;
  CHECK_THROWS_AS(verdict(bad), std::invalid_argument);
}

TEST_CASE("edges of all kinds make six leg edges a carrier period", "[derived]") {
  for (const double modulation : {0.0, 0.01, 0.02, 0.1, 0.8, 1.1547})
    for (const Time& rise : {10.0_ns, 50.0_ns, 2.0_us}) {
      const EdgeRates rates = edge_rates(12.0_kHz, modulation, rise);
      CHECK_THAT(rates.one_leg + 2.0 * rates.two_legs + 3.0 * rates.three_legs,
                 near(72.0_kHz, 1e-12));
      CHECK(rates.one_leg >= Frequency{});
    }
  CHECK(edge_rates(12.0_kHz, 0.0, 50.0_ns).three_legs == 24.0_kHz);
  CHECK_THROWS_AS(edge_rates(0.0_Hz, 0.5, 50.0_ns), std::invalid_argument);
}

TEST_CASE("the rate of meeting legs agrees with a count over the fundamental", "[derived]") {
  const double modulation = 0.5;
  const Time rise = 0.5_us;
  int pairs = 0;
  constexpr int parts = 200000;
  for (int i = 0; i < parts; ++i) {
    const Staircase stairs =
        carrier_staircase(1.0_V, 10.0_kHz, modulation, (i + 0.5) / parts * 6.283185307179586);
    const auto edges = stairs.edges();
    for (std::size_t k = 1; k < edges.size(); ++k)
      if (edges[k].step == edges[k - 1].step && edges[k].time - edges[k - 1].time < rise) ++pairs;
  }
  CHECK_THAT(edge_rates(10.0_kHz, modulation, rise).two_legs.value(),
             near(1e4 * double(pairs) / parts, 1e-3));
}

TEST_CASE("rate, power and dose are sums over the edges", "[derived]") {
  const std::vector<EdgeClass> classes{{60.0_kHz, {7.0_V, 0.1_us}}, {0.1_kHz, {14.0_V, 0.1_us}}};
  const DischargeRates rates = discharge_rates(classes, {0.0_V, 50.0_us}, law);
  const double p1 = -std::expm1(-std::pow((7.0 / 6.0 - 1.0) / 0.7, 2));
  const double p2 = -std::expm1(-std::pow((14.0 / 6.0 - 1.0) / 0.7, 2));
  CHECK_THAT(rates.rate.value(), near(60e3 * p1 + 100.0 * p2, 1e-12));
  CHECK_THAT(rates.probability_per_edge, near((60e3 * p1 + 100.0 * p2) / 60100.0, 1e-12));
  // Every discharge happens at the threshold.
  CHECK_THAT(rates.power.value(), near(rates.rate.value() * 0.5e-9 * 36.0, 1e-12));
  CHECK_THAT(rates.dose_rate.value(), near(rates.power.value() / 1.4e-6, 1e-12));
  CHECK_THAT(rates.strongest, near(6.0_V, 1e-12));
}

TEST_CASE("an edge strikes once, by its peak or by what is held", "[derived]") {
  const std::vector<EdgeClass> classes{{60.0_kHz, {7.0_V, 0.1_us}}};
  const DischargeRates held = discharge_rates(classes, {60.0_V, 50.0_us}, law);
  CHECK_THAT(held.rate, near(60.0_kHz, 1e-9));
  const DischargeRates neither =
      discharge_rates(std::vector<EdgeClass>{{60.0_kHz, {5.9_V, 0.1_us}}}, {5.0_V, 50.0_us}, law);
  CHECK(neither.rate == Frequency{});
  CHECK(neither.power == Power{});
  CHECK(neither.strongest == Voltage{});
}

TEST_CASE("the credit spares short edges and does not price the discharge", "[derived]") {
  const std::vector<EdgeClass> classes{{60.0_kHz, {20.0_V, 0.3_us}}};
  DischargeLaw credited = law;
  credited.t0 = 0.3_us;
  const DischargeRates plain = discharge_rates(classes, {0.0_V, 50.0_us}, law);
  const DischargeRates spared = discharge_rates(classes, {0.0_V, 50.0_us}, credited);
  CHECK(spared.rate < plain.rate);
  CHECK_THAT(spared.strongest, near(plain.strongest, 1e-12));
  CHECK(spared.power < plain.power);
}

TEST_CASE("peak discharge current in its limits", "[derived]") {
  const auto peak = [](double l_nH, double r_ohm) {
    return peak_discharge_current(20.0_V, {l_nH * 1.0_nH, r_ohm * 1.0_ohm, 1.0_nF}).value();
  };
  CHECK_THAT(peak(100.0, 0.0), near(20.0 * std::sqrt(1e-9 / 100e-9), 1e-12));
  CHECK_THAT(peak(1e-3, 1000.0), near(0.02, 1e-4));
  // Critical from both sides.
  CHECK_THAT(peak(100.0, 20.0 * (1.0 + 1e-9)), near(20.0 / (1e8 * 100e-9) * std::exp(-1.0), 1e-7));
  CHECK_THAT(peak(100.0, 20.0 * (1.0 - 1e-9)), near(20.0 / (1e8 * 100e-9) * std::exp(-1.0), 1e-7));
  CHECK_THAT(peak(100.0, 20.0001), near(peak(100.0, 19.9999), 1e-4));
  CHECK_THROWS_AS(peak(0.0, 1.0), std::invalid_argument);
  CHECK_THAT(apparent_current_density(1.423_A, 1.369_mm2),
             near(CurrentDensity::from_value(1.0394e6), 1e-4));
  CHECK_THROWS_AS(apparent_current_density(1.0_A, 0.0_mm2), std::invalid_argument);
}

TEST_CASE("a weak film gives small discharges", "[derived]") {
  CHECK(discharge_voltage(20.0_V, 6.0_V) == 6.0_V);
  CHECK(discharge_voltage(-4.0_V, 6.0_V) == 4.0_V);
  CHECK_THROWS_AS(discharge_voltage(4.0_V, Voltage::from_value(-1.0)), std::invalid_argument);
}
