// Break-even of the sample machine: cost of the watts and of the element over the service against
// the cost of one bearing event.

#include <catch2/catch.hpp>
#include <cmath>

#include "ohmdrag/study/evaluate.hpp"
#include "study/sample_case.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;

namespace {

/// Invented prices.
study::Prices prices() {
  study::Prices p;
  p.currency = "EUR";
  p.energy_per_kWh = 0.2;
  p.bearing_event = 1000.0;
  p.element["ohm"] = 50.0;
  p.charging_efficiency = 0.9;
  return p;
}

study::BreakEven break_even(const std::optional<study::Prices>& priced) {
  study::Case c = sample_case();
  c.samples = 20;
  c.prices = priced;
  const study::Findings findings = study::evaluate(c, study::Sections::all());
  for (const study::ExchangeRow& row : findings.trade->exchange)
    if (row.variant == "ohm") return row.break_even;
  return {};
}

/// What the element saves less what it costs, at a probability that a drive fails without it.
double net_benefit(const study::Prices& p, double probability, double kWh) {
  return probability * *p.bearing_event - kWh * *p.energy_per_kWh - p.element.at("ohm");
}

}  // namespace

TEST_CASE("at the break-even probability the element neither earns nor costs", "[derived]") {
  const study::Prices p = prices();
  const study::BreakEven even = break_even(p);
  REQUIRE(even.failure_probability);
  const Interval &probability = *even.failure_probability, &kWh = *even.kWh_per_avoided_event;
  CHECK(std::abs(net_benefit(p, probability.low, kWh.low)) < 1e-9);
  CHECK(std::abs(net_benefit(p, probability.mid, kWh.mid)) < 1e-9);
  CHECK(std::abs(net_benefit(p, probability.high, kWh.high)) < 1e-9);
  CHECK(net_benefit(p, 1.01 * probability.mid, kWh.mid) > 0.0);
  CHECK(net_benefit(p, 0.99 * probability.mid, kWh.mid) < 0.0);
}

TEST_CASE("with free energy the element alone has to pay, with a free element the energy",
          "[derived]") {
  study::Prices p = prices();
  p.energy_per_kWh = 0.0;
  const study::BreakEven of_element = break_even(p);
  CHECK(of_element.failure_probability->low == Approx(0.05).epsilon(1e-12));
  CHECK(of_element.failure_probability->high == Approx(0.05).epsilon(1e-12));
  p = prices();
  p.element.clear();
  const study::BreakEven of_energy = break_even(p);
  CHECK(of_energy.failure_probability->mid ==
        Approx(of_energy.kWh_per_avoided_event->mid * 0.2 / 1000.0).epsilon(1e-12));
  p.energy_per_kWh = 0.0;
  const study::BreakEven free = break_even(p);
  CHECK(free.failure_probability->high == 0.0);
  CHECK(free.sentence == "costs nothing at these prices");
}

TEST_CASE("break-even rises with the price of energy and element, falls with that of the event",
          "[derived]") {
  const double usual = break_even(prices()).failure_probability->mid;
  study::Prices dear_energy = prices(), dear_element = prices(), dear_event = prices();
  *dear_energy.energy_per_kWh *= 1.5;
  dear_element.element["ohm"] *= 1.5;
  *dear_event.bearing_event *= 1.5;
  CHECK(break_even(dear_energy).failure_probability->mid > usual);
  CHECK(break_even(dear_element).failure_probability->mid > usual);
  CHECK(break_even(dear_event).failure_probability->mid == Approx(usual / 1.5).epsilon(1e-12));
}

TEST_CASE("losses on the way from the plug raise the energy alone", "[derived]") {
  study::Prices lossless = prices();
  lossless.charging_efficiency = 1.0;
  CHECK(break_even(prices()).kWh_per_avoided_event->mid ==
        Approx(break_even(lossless).kWh_per_avoided_event->mid / 0.9).epsilon(1e-12));
}

TEST_CASE("without prices the energy of an event avoided is all that is said", "[derived]") {
  const study::BreakEven even = break_even(std::nullopt);
  CHECK_FALSE(even.failure_probability);
  CHECK(even.kWh_per_avoided_event->mid > 0.0);
  CHECK(even.sentence.find("kWh over the service") != std::string::npos);
}

// No life law enters: whichever is named, the figure stays.
TEST_CASE("no law of damage moves the break-even", "[derived]") {
  study::Case c = sample_case();
  c.samples = 20;
  c.prices = prices();
  study::DamageLaw law;
  law.kind = study::LawKind::relative;
  law.baseline_life = known(Time::from_value(3.6e6));
  law.power = known(1.0);
  c.laws = {law};
  const study::Findings findings = study::evaluate(c, study::Sections::all());
  CHECK(findings.trade->exchange[2].break_even.failure_probability->mid ==
        break_even(prices()).failure_probability->mid);
}
