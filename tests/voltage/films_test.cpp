#include <cmath>
#include <numbers>

#include "ohmdrag/voltage/bands.hpp"
#include "ohmdrag/voltage/edge_response.hpp"
#include "ohmdrag/voltage/held_voltage.hpp"
#include "support/near.hpp"
#include "voltage/path_march.hpp"
#include "voltage/reference.hpp"
#include "voltage/step_modes.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::voltage;
using ohmdrag::test::carrier;
using ohmdrag::test::near;
using ohmdrag::test::node;
using ohmdrag::test::one_leg;
using ohmdrag::test::within;

namespace {

const GroundingPath filmed{1.0_ohm, 0.0_nH, {{10.0_kohm, 100.0_pF}}};
const GroundingPath filmed_with_strap{1.0_ohm, 50.0_nH, {{50.0_ohm, 400.0_pF}}};
const GroundingPath many{
    2.0_ohm, 30.0_nH, {{20.0_ohm, 300.0_pF}, {200.0_ohm, 1.0_nF}, {5.0_ohm, 5.0_nF}}, 50.0_pF};

}  // namespace

TEST_CASE("an edge into films agrees with a fine march", "[derived]") {
  const auto path = GENERATE(filmed, filmed_with_strap, many);
  const bool rings = GENERATE(false, true);
  const Time rise = 50.0_ns;
  const Ringing ringing{2.0_MHz, 0.3, 10.0};
  const double swing_V = 100.0 / (1000.0 + path.across.value() * 1e12) * one_leg.value();
  const double w = 2.0 * std::numbers::pi * 2e6, alpha = w / 20.0;
  CAPTURE(path.films.size(), rings);
  test::PathMarch march(node, path);
  const double dt_s = rise.value() / std::ceil(rise.value() / march.fine_step_s());
  double peak_V = 0.0, at_rise_V = 0.0, at_end_V = 0.0, end_s = 0.0;
  for (long n = 0; double(n) * dt_s < 1.2e-6; ++n) {
    const bool in_ramp = (double(n) + 0.5) * dt_s < rise.value();
    march.step(double(n) * dt_s, dt_s, [&](double t_s) {
      if (in_ramp) return swing_V / rise.value();
      const double t = t_s - rise.value();
      return rings ? 0.3 * swing_V * std::exp(-alpha * t) *
                         (w * std::cos(w * t) - alpha * std::sin(w * t))
                   : 0.0;
    });
    end_s = double(n + 1) * dt_s;
    at_end_V = march.v_V();
    peak_V = std::max(peak_V, std::abs(at_end_V));
    if (std::abs(end_s - rise.value()) < 0.5 * dt_s) at_rise_V = at_end_V;
  }
  const Time end = Time::from_value(end_s);
  CHECK_THAT(response_at(node, path, one_leg, rise, rise).value(), near(at_rise_V, 1e-5));
  if (rings) {
    CHECK_THAT(edge_peak_with_ringing(node, path, one_leg, rise, ringing).value(),
               near(peak_V, 1e-3));
    CHECK_THAT(ringing_response_at(node, path, one_leg, rise, ringing, end).value(),
               within(at_end_V, 1e-4 * peak_V));
  } else {
    CHECK_THAT(edge_peak(node, path, one_leg, rise).value(), near(peak_V, 1e-3));
    CHECK_THAT(response_at(node, path, one_leg, rise, end).value(),
               within(at_end_V, 1e-4 * peak_V));
  }
}

TEST_CASE("films that are none change nothing", "[derived]") {
  const GroundingPath plain{5.0_ohm, 50.0_nH};
  const GroundingPath short_film{5.0_ohm, 50.0_nH, {{0.0_ohm, 1.0_nF}}};
  const GroundingPath leak{3.0_ohm, 50.0_nH, {{2.0_ohm, 0.0_nF}}};
  const GroundingPath large{5.0_ohm, 50.0_nH, {{1.0_kohm, Capacitance::from_value(1.0)}}};
  for (const GroundingPath& path : {short_film, leak, large}) {
    CHECK_THAT(edge_peak(node, path, one_leg, 20.0_ns),
               near(edge_peak(node, plain, one_leg, 20.0_ns), 1e-6));
    CHECK_THAT(attenuation_dB(node, path, 2.0_MHz),
               within(attenuation_dB(node, plain, 2.0_MHz), 1e-6));
  }
  CHECK_THAT(*inductive_corner(leak), near(*inductive_corner(plain), 1e-12));
  // A film without a capacitance that counts is a resistance.
  const GroundingPath fast{3.0_ohm, 50.0_nH, {{2.0_ohm, Capacitance::from_value(1e-18)}}};
  CHECK_THAT(edge_peak(node, fast, one_leg, 20.0_ns),
             near(edge_peak(node, plain, one_leg, 20.0_ns), 1e-5));
}

TEST_CASE("two equal films are one with twice the resistance", "[derived]") {
  const GroundingPath two{1.0_ohm, 50.0_nH, {{50.0_ohm, 400.0_pF}, {50.0_ohm, 400.0_pF}}};
  const GroundingPath one{1.0_ohm, 50.0_nH, {{100.0_ohm, 200.0_pF}}};
  const GroundingPath nearly{1.0_ohm, 50.0_nH, {{50.0_ohm, 400.0_pF}, {50.0_ohm, 400.001_pF}}};
  CHECK_THAT(edge_peak(node, two, one_leg, 20.0_ns),
             near(edge_peak(node, one, one_leg, 20.0_ns), 1e-9));
  CHECK_THAT(edge_peak(node, nearly, one_leg, 20.0_ns),
             near(edge_peak(node, one, one_leg, 20.0_ns), 1e-5));
}

TEST_CASE("an edge is continuous where two modes of a path with films meet", "[derived]") {
  const auto with = [](double r_ohm) {
    return GroundingPath{Resistance::from_value(r_ohm), 50.0_nH, {{50.0_ohm, 400.0_pF}}};
  };
  const auto swings = [&](double r_ohm) {
    return std::ranges::any_of(StepModes(node, with(r_ohm)).all(),
                               [](const StepMode& mode) { return mode.rate_per_s.imag() != 0.0; });
  };
  double low = 0.1, high = 200.0;
  REQUIRE(swings(low));
  REQUIRE_FALSE(swings(high));
  for (int i = 0; i < 80; ++i) (swings(0.5 * (low + high)) ? low : high) = 0.5 * (low + high);
  const auto peak_V = [&](double r_ohm) {
    return edge_peak(node, with(r_ohm), one_leg, 20.0_ns).value();
  };
  for (const double offset : {1e-14, 1e-11, 1e-8, 1e-6, 1e-4})
    CHECK_THAT(peak_V(low * (1.0 + offset)),
               near(peak_V(low * (1.0 - offset)), 2.0 * offset + 1e-7));
}

TEST_CASE("films straight on the node", "[derived]") {
  // One film adds its capacitance to the node and its resistance to the path.
  const GroundingPath alone{0.0_ohm, 0.0_nH, {{100.0_ohm, 400.0_pF}}};
  const GroundingPath same{100.0_ohm, 0.0_nH, {}, 400.0_pF};
  CHECK_THAT(edge_peak(node, alone, one_leg, 50.0_ns),
             near(edge_peak(node, same, one_leg, 50.0_ns), 1e-9));
  CHECK_THAT(held_after_discharge(node, alone, carrier).value(),
             within(held_after_discharge(node, same, carrier).value(), 1e-9));
  // Two: as with a resistance that hardly counts.
  const GroundingPath two{0.0_ohm, 0.0_nH, {{100.0_ohm, 400.0_pF}, {20.0_ohm, 100.0_pF}}};
  GroundingPath nearly = two;
  nearly.resistance = 0.001_ohm;
  CHECK_THAT(edge_peak(node, two, one_leg, 50.0_ns),
             near(edge_peak(node, nearly, one_leg, 50.0_ns), 1e-4));
}

TEST_CASE("what lies across the path adds to the node", "[derived]") {
  const ShaftNode larger{node.winding_rotor, node.total + 250.0_pF};
  const GroundingPath plain{3.0_ohm, 50.0_nH};
  const GroundingPath loaded{3.0_ohm, 50.0_nH, {}, 250.0_pF};
  CHECK_THAT(edge_peak(node, loaded, one_leg, 20.0_ns),
             near(edge_peak(larger, plain, one_leg, 20.0_ns), 1e-12));
  CHECK_THAT(held_voltage(node, loaded, carrier), near(held_voltage(larger, plain, carrier), 1e-9));
  CHECK_THAT(*path_resonance(node, loaded), near(*path_resonance(larger, plain), 1e-12));
  // Against the shaft without a path, which has not the capacitance.
  for (const Frequency& f : {0.1_MHz, 3.0_MHz, 20.0_MHz, 300.0_MHz})
    CHECK_THAT(std::abs(attenuation(node, loaded, f)),
               near(0.8 * std::abs(attenuation(larger, plain, f)), 1e-9));
  CHECK_THAT(std::abs(attenuation(node, loaded, 100000.0_MHz)), near(0.8, 1e-4));
}

TEST_CASE("corner and resonance of a path with films", "[derived]") {
  const Frequency corner = *inductive_corner(filmed_with_strap);
  const double w = 2.0 * std::numbers::pi * corner.value();
  CHECK_THAT(w * 50e-9, near(impedance_ohm(filmed_with_strap, corner).real(), 1e-9));
  const Frequency resonance = *path_resonance(node, filmed_with_strap);
  CHECK_THAT(impedance_ohm(filmed_with_strap, resonance).imag(),
             near(1.0 / (2.0 * std::numbers::pi * resonance.value() * 1e-9), 1e-9));
  CHECK_FALSE(inductive_corner(filmed));
  CHECK_THAT(direct_resistance(many), near(227.0_ohm, 1e-12));
  CHECK_THAT(direct_resistance(with_resistances(many, 3.0)), near(681.0_ohm, 1e-12));
  CHECK(with_resistances(many, 3.0).films[0].capacitance == many.films[0].capacitance);
}

TEST_CASE("the weakest frequency with films is found by a scan too", "[derived]") {
  const auto path = GENERATE(filmed, filmed_with_strap, many);
  const Band band{"wide", 0.1_MHz, 100.0_MHz};
  double smallest_dB = INFINITY;
  for (int i = 0; i <= 20000; ++i)
    smallest_dB = std::min(
        smallest_dB, -attenuation_dB(node, path, band.from * std::pow(1e3, double(i) / 20000.0)));
  CHECK_THAT(band_reduction(node, path, band).reduction_dB, within(smallest_dB, 1e-3));
}

TEST_CASE("held voltage of a film agrees with a march in time", "[derived]") {
  const GroundingPath path{1.0_kohm, 0.0_nH, {{10.0_kohm, 500.0_pF}}};
  double worst_V = 0.0;
  for (const double angle_rad : test::hold_places_rad(0.8)) {
    const Staircase stairs = carrier_staircase(carrier.dc_link, carrier.frequency, 0.8, angle_rad);
    test::PathMarch march(node, path);
    const auto edges = stairs.edges();
    for (int period = 0; period < 4; ++period)
      for (std::size_t i = 0; i < edges.size(); ++i) {
        // A ramp far shorter than every time constant for a step.
        constexpr double ramp_s = 1e-9;
        const double next_s =
            i + 1 < edges.size() ? edges[i + 1].time.value() : edges[0].time.value() + 100e-6;
        const double length_s = next_s - edges[i].time.value();
        march.step(0.0, ramp_s, [&](double) { return 0.1 * edges[i].step.value() / ramp_s; });
        const int steps = 1 + static_cast<int>(length_s / march.fine_step_s());
        for (int k = 0; k < steps; ++k)
          march.step(0.0, (length_s - ramp_s) / steps, [](double) { return 0.0; });
        if (period == 3 && length_s >= rises_per_hold * carrier.rise.value())
          worst_V = std::max(worst_V, std::abs(march.v_V()));
      }
  }
  CHECK_THAT(held_voltage(node, path, carrier).value(), near(worst_V, 2e-3));
  CHECK(held_after_discharge(node, path, carrier) >= held_voltage(node, path, carrier));
}

TEST_CASE("a film holds what a bare contact lets go", "[derived]") {
  const GroundingPath bare{1.0_ohm, 50.0_nH};
  const GroundingPath open_film{1.0_ohm, 50.0_nH, {{Resistance::from_value(1e9), 1.0_pF}}};
  CHECK(held_after_discharge(node, open_film, carrier) > 79.0_V);
  CHECK(held_after_discharge(node, bare, carrier) < 0.1_V);
  // A film with a large capacitance lets the edges pass and the shaft follows slowly.
  CHECK(edge_peak(node, GroundingPath{1.0_ohm, 0.0_nH, {{1.0_kohm, 100.0_nF}}}, one_leg, 50.0_ns) <
        0.05 * 0.1 * one_leg);
}

TEST_CASE("a film that punctures", "[derived]") {
  const Film film{10.0_kohm, 100.0_pF};
  CHECK(punctured(film, 0.2_V, 0.3_V).resistance == film.resistance);
  CHECK_THAT(punctured(film, 3.0_V, 0.3_V).resistance, near(1.0_kohm, 1e-12));
  CHECK(punctured(film, 3.0_V, 0.3_V).capacitance == film.capacitance);
  CHECK_THROWS_AS(punctured(film, 3.0_V, 0.0_V), std::invalid_argument);
}

TEST_CASE("an undefined film is refused", "[derived]") {
  const GroundingPath negative{1.0_ohm, 0.0_nH, {{-1.0_ohm, 1.0_pF}}};
  CHECK_THROWS_AS(edge_peak(node, negative, one_leg, 50.0_ns), std::invalid_argument);
  const GroundingPath hollow{1.0_ohm, 0.0_nH, {}, Capacitance::from_value(-1e-12)};
  CHECK_THROWS_AS(attenuation(node, hollow, 1.0_MHz), std::invalid_argument);
  CHECK_THROWS_AS(with_resistances(filmed, -1.0), std::invalid_argument);
}
