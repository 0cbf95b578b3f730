#include "ohmdrag/voltage/edge_response.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "support/march.hpp"
#include "support/near.hpp"
#include "voltage/reference.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::near;
using ohmdrag::test::node;
using ohmdrag::test::one_leg;
using ohmdrag::test::within;

namespace {

struct Marched {
  double peak_V = 0.0;
  double at_rise_V = 0.0;
  double at_end_V = 0.0;
  double end_s = 0.0;
};

/// \param slope  of the node voltage that the source alone would give, at a time in or after the
/// ramp
template <class SourceSlope>
Marched marched(const GroundingPath& path, double rise_s, double end_s, SourceSlope&& slope) {
  test::NodeMarch march{path.resistance.value(), path.inductance.value(), node.total.value()};
  const double natural_s = std::sqrt(march.l_H * march.c_F);
  double dt_s = std::min({natural_s, march.l_H / std::max(march.r_ohm, 1e-9), rise_s}) / 50.0;
  dt_s = rise_s / std::ceil(rise_s / dt_s);
  Marched out;
  const auto ramp_steps = static_cast<long>(std::lround(rise_s / dt_s));
  const auto steps = static_cast<long>(end_s / dt_s);
  for (long i = 0; i < steps; ++i) {
    march.step(double(i) * dt_s, dt_s, [&](double t_s) { return slope(t_s, i < ramp_steps); });
    out.peak_V = std::max(out.peak_V, std::abs(march.v_V));
    if (i + 1 == ramp_steps) out.at_rise_V = march.v_V;
  }
  out.at_end_V = march.v_V;
  out.end_s = double(steps) * dt_s;
  return out;
}

}  // namespace

TEST_CASE("the closed-form edge agrees with a fine march at every damping", "[derived]") {
  const auto r = GENERATE(0.0_ohm, 0.5_ohm, 3.0_ohm, 14.0_ohm, 14.142135623730951_ohm, 14.3_ohm,
                          50.0_ohm, 300.0_ohm);
  const auto rise = GENERATE(20.0_ns, 50.0_ns, 200.0_ns);
  const GroundingPath path{r, 50.0_nH};
  CAPTURE(r.value(), rise.value());
  const double slope_V_per_s = 0.1 * one_leg.value() / rise.value();
  const double end_s = 3.0 * rise.value() + 60e-9;
  const Marched slow = marched(path, rise.value(), end_s,
                               [&](double, bool in_ramp) { return in_ramp ? slope_V_per_s : 0.0; });
  CHECK_THAT(edge_peak(node, path, one_leg, rise), near(Voltage::from_value(slow.peak_V), 1e-3));
  CHECK_THAT(response_at(node, path, one_leg, rise, rise).value(), within(slow.at_rise_V, 1e-6));
}

TEST_CASE("a ringing edge agrees with a fine march", "[derived]") {
  const auto path = GENERATE(GroundingPath{1.0_ohm, 50.0_nH}, GroundingPath{50.0_ohm, 100.0_nH},
                             GroundingPath{5.0_ohm, 2000.0_nH});
  const auto ringing = GENERATE(Ringing{2.0_MHz, 0.3, 10.0}, Ringing{22.5_MHz, 0.4, 5.0});
  const Time rise = 50.0_ns;
  CAPTURE(path.resistance.value(), ringing.frequency.value());
  const double step_V = 0.1 * one_leg.value();
  const double w = 2.0 * std::numbers::pi * ringing.frequency.value();
  const double alpha = w / (2.0 * ringing.quality);
  const auto slope = [&](double t_s, bool in_ramp) {
    if (in_ramp) return step_V / rise.value();
    const double t = t_s - rise.value();
    return ringing.share_of_step * step_V * std::exp(-alpha * t) *
           (w * std::cos(w * t) - alpha * std::sin(w * t));
  };
  const Marched slow = marched(path, rise.value(), 1.5e-6, slope);
  CHECK_THAT(edge_peak_with_ringing(node, path, one_leg, rise, ringing),
             near(Voltage::from_value(slow.peak_V), 1e-3));
  CHECK_THAT(
      ringing_response_at(node, path, one_leg, rise, ringing, Time::from_value(slow.end_s)).value(),
      within(slow.at_end_V, 1e-4 * slow.peak_V));
}

TEST_CASE("a ringing without amplitude changes nothing", "[derived]") {
  const auto path = GENERATE(MaybePath{}, MaybePath{GroundingPath{1.0_ohm, 50.0_nH}},
                             MaybePath{GroundingPath{50.0_ohm, 0.0_nH}});
  CHECK_THAT(edge_peak_with_ringing(node, path, one_leg, 20.0_ns, {2.0_MHz, 0.0, 10.0}),
             near(edge_peak(node, path, one_leg, 20.0_ns), 1e-6));
}

TEST_CASE("a ringing on an ungrounded shaft comes through by the ratio", "[derived]") {
  const Ringing ringing{2.0_MHz, 0.3, 1000.0};
  CHECK_THAT(edge_peak_with_ringing(node, std::nullopt, one_leg, 50.0_ns, ringing),
             near(0.1 * 1.3 * one_leg, 1e-3));
}

TEST_CASE("a source that rings exactly on the path's mode has a response", "[derived]") {
  // R/2L = pi f/Q and the damped frequency equal: the forced part alone would be infinite.
  const GroundingPath path{1.0_ohm, 50.0_nH};
  const double alpha = 1.0 / (2.0 * 50e-9);
  const double w_d = std::sqrt(1.0 / (50e-9 * 1e-9) - alpha * alpha);
  const auto peak_at = [&](double detuning) {
    const Ringing ringing{Frequency::from_value(detuning * w_d / (2.0 * std::numbers::pi)), 0.3,
                          w_d / (2.0 * alpha)};
    return edge_peak_with_ringing(node, path, one_leg, 50.0_ns, ringing);
  };
  CHECK_THAT(peak_at(1.0), near(peak_at(1.001), 5e-3));
}

TEST_CASE("bounds of an undamped path", "[derived]") {
  const double w0 = 1.0 / std::sqrt(50e-9 * 1e-9);
  const GroundingPath path{0.0_ohm, 50.0_nH};
  const double step_V = 0.1 * one_leg.value();
  // Largest after the ramp 2 g |sin(w0 t_r/2)|, during it g for w0 t_r >= pi/2.
  const Time rise = 20.0_ns;
  const double g_V = step_V / (rise.value() * w0);
  CHECK_THAT(edge_peak(node, path, one_leg, rise).value(),
             near(std::max(g_V, 2.0 * g_V * std::abs(std::sin(0.5 * w0 * rise.value()))), 1e-9));
}

TEST_CASE("edge peak in its limits", "[derived]") {
  const Voltage step = 0.1 * one_leg;
  CHECK_THAT(edge_peak(node, std::nullopt, one_leg, 50.0_ns), near(step, 1e-12));
  CHECK_THAT(
      edge_peak(node, GroundingPath{Resistance::from_value(1e12), 50.0_nH}, one_leg, 50.0_ns),
      near(step, 1e-9));
  CHECK(edge_peak(node, GroundingPath{0.0_ohm, 0.0_nH}, one_leg, 50.0_ns) == Voltage{});
  // R C_T << t_r: R C_wr dV/dt.
  CHECK_THAT(edge_peak(node, GroundingPath{0.01_ohm, 0.0_nH}, one_leg, 50.0_ns),
             near(Voltage::from_value(0.01 * 100e-12 * one_leg.value() / 50e-9), 1e-9));
  // A tiny inductance changes nothing, however stiff.
  CHECK_THAT(
      edge_peak(node, GroundingPath{50.0_ohm, Inductance::from_value(1e-18)}, one_leg, 50.0_ns),
      near(edge_peak(node, GroundingPath{50.0_ohm, 0.0_nH}, one_leg, 50.0_ns), 1e-6));
  // Sign and size of the step.
  CHECK_THAT(edge_peak(node, GroundingPath{5.0_ohm, 50.0_nH}, -3.0 * one_leg, 50.0_ns),
             near(3.0 * edge_peak(node, GroundingPath{5.0_ohm, 50.0_nH}, one_leg, 50.0_ns), 1e-12));
  CHECK(response_at(node, std::nullopt, one_leg, 50.0_ns, 0.0_ns) == Voltage{});
}

TEST_CASE("edge peak is continuous through critical damping", "[derived]") {
  const auto peak_at = [](double r_ohm) {
    return edge_peak(node, GroundingPath{Resistance::from_value(r_ohm), 50.0_nH}, one_leg, 20.0_ns)
        .value();
  };
  const double critical_ohm = 2.0 * std::sqrt(50.0);
  for (const double offset : {1e-12, 1e-9, 1e-6, 1e-4})
    CHECK_THAT(peak_at(critical_ohm * (1.0 + offset)),
               near(peak_at(critical_ohm * (1.0 - offset)), 2.0 * offset + 1e-9));
}

TEST_CASE("edge peak rises with what drives and with inductance", "[derived]") {
  const auto peak = [](double r_ohm, double l_nH, double c_wr_pF, double rise_ns) {
    const ShaftNode shaft{c_wr_pF * 1.0_pF, 1.0_nF};
    return edge_peak(shaft, GroundingPath{r_ohm * 1.0_ohm, l_nH * 1.0_nH}, one_leg,
                     rise_ns * 1.0_ns);
  };
  // Without inductance more resistance always means a higher spike.
  double last_V = 0.0;
  for (double r_ohm = 0.1; r_ohm < 2e4; r_ohm *= 1.3) {
    const double now_V = peak(r_ohm, 0.0, 100.0, 50.0).value();
    CHECK(now_V > last_V);
    last_V = now_V;
  }
  CHECK(peak(1.0, 100.0, 100.0, 20.0) > peak(1.0, 50.0, 100.0, 20.0));
  CHECK(peak(1.0, 50.0, 150.0, 50.0) > peak(1.0, 50.0, 100.0, 50.0));
  CHECK(peak(1.0, 50.0, 100.0, 20.0) > peak(1.0, 50.0, 100.0, 50.0));
  // With inductance it need not: the resonance falls before the resistance counts.
  CHECK(peak(3.0, 50.0, 100.0, 20.0) < peak(1.0, 50.0, 100.0, 20.0));
}

TEST_CASE("time above half of the peak", "[derived]") {
  const Time until = 16.0_us;
  // Ungrounded: from half-way up the ramp to the next edge.
  CHECK_THAT(edge_stress(node, std::nullopt, one_leg, 50.0_ns, until).duration,
             near(until - 25.0_ns, 1e-6));
  // 10 kohm: falls to one half in ln 2 of 10 us.
  CHECK_THAT(edge_stress(node, GroundingPath{10.0_kohm, 0.0_nH}, one_leg, 50.0_ns, until).duration,
             near(Time::from_value(10e-6 * std::numbers::ln2 + 25e-9), 1e-3));
  // 50 ohm, in closed form: rises with 1 - exp(-t/tau), falls with exp(-t/tau).
  const double tau_s = 50e-9, rise_s = 50e-9;
  const double rest = 1.0 - std::exp(-rise_s / tau_s);
  const double expected_s = rise_s + tau_s * std::log(1.0 - 0.5 * rest) + tau_s * std::numbers::ln2;
  CHECK_THAT(edge_stress(node, GroundingPath{50.0_ohm, 0.0_nH}, one_leg, 50.0_ns, until).duration,
             near(Time::from_value(expected_s), 1e-4));
}

TEST_CASE("time above a level agrees with a scan", "[derived]") {
  const auto path = GENERATE(GroundingPath{1.0_ohm, 50.0_nH}, GroundingPath{3.0_ohm, 100.0_nH},
                             GroundingPath{20.0_ohm, 50.0_nH});
  const Time rise = 20.0_ns;
  const Voltage level = 0.4 * edge_peak(node, path, one_leg, rise);
  // The longest unbroken stretch that contains the peak.
  double longest_at_peak_s = 0.0, stretch_s = 0.0, stretch_peak_V = 0.0, peak_V = 0.0;
  const double dt_s = 1e-11;
  double last_sign = 0.0;
  for (double t_s = 0.0; t_s < 1e-6; t_s += dt_s) {
    const double v_V = response_at(node, path, one_leg, rise, Time::from_value(t_s)).value();
    const double sign = v_V < 0.0 ? -1.0 : 1.0;
    if (std::abs(v_V) <= level.value() || sign != last_sign) stretch_s = stretch_peak_V = 0.0;
    last_sign = sign;
    if (std::abs(v_V) <= level.value()) continue;
    stretch_s += dt_s;
    stretch_peak_V = std::max(stretch_peak_V, std::abs(v_V));
    if (stretch_peak_V >= peak_V) {
      peak_V = stretch_peak_V;
      longest_at_peak_s = stretch_s;
    }
  }
  CHECK_THAT(dwell_above(node, path, one_leg, rise, level, 10.0_us).value(),
             within(longest_at_peak_s, 2.0 * dt_s));
  CHECK(dwell_above(node, path, one_leg, rise, 3.0 * level, 10.0_us) == Time{});
}

TEST_CASE("time above a level far below the peak ends where the response passes it", "[derived]") {
  // The fast of two terms has faded to a hundred thousandth of the peak, as has the level.
  const ShaftNode small{84.5_pF, 870.0_pF};
  const GroundingPath path{24.8_ohm, 6.26_nH};
  const Time rise = 104.0_ns, until = 50.0_us;
  const Voltage level = GENERATE(4e-5, 1e-3, 1e-7) * 1.0_V;
  const Time above = dwell_above(small, path, 233.0_V, rise, level, until);
  CAPTURE(level.value(), above.value());
  const auto at = [&](double share) {
    return response_at(small, path, 233.0_V, rise, share * above);
  };
  CHECK(at(0.5) > level);
  CHECK(at(0.999) > level);
  CHECK(at(1.001) < level);
}

TEST_CASE("an undefined edge is refused", "[derived]") {
  const GroundingPath path{1.0_ohm, 50.0_nH};
  CHECK_THROWS_AS(edge_peak(node, path, one_leg, 0.0_ns), std::invalid_argument);
  CHECK_THROWS_AS(edge_peak(node, path, one_leg, Time::from_value(NAN)), std::invalid_argument);
  CHECK_THROWS_AS(edge_peak({1.0_nF, 0.5_nF}, path, one_leg, 50.0_ns), std::invalid_argument);
  CHECK_THROWS_AS(edge_stress(node, path, one_leg, 50.0_ns, 50.0_ns), std::invalid_argument);
  CHECK_THROWS_AS(dwell_above(node, path, one_leg, 50.0_ns, 0.0_V, 1.0_us), std::invalid_argument);
  CHECK_THROWS_AS(edge_peak_with_ringing(node, path, one_leg, 50.0_ns, {2.0_MHz, 0.3, 0.4}),
                  std::invalid_argument);
}
