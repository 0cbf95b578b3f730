// Loops over stretches against the same of a single stretch: derived, nothing outside the project
// knows these figures. The laws themselves are held against published values in their own rooms.

#include "study/strike_lanes.hpp"

#include <catch2/catch.hpp>
#include <numbers>

#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/discharge.hpp"
#include "ohmdrag/voltage/verdict.hpp"
#include "study/lane_numbers.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using numerics::LaneRows;
using numerics::lanes;

namespace {

/// A block of a node on which two bearings can be struck, its stresses so many thresholds high.
struct Block {
  study::StrikeColumns columns;
  study::StrikeLaw law{.base_F = 7e-10,
                       .at_05_V_m = 3e6,
                       .at_50_V_m = 1e7,
                       .drawn_V_m = 8e6,
                       .root_credit = {},
                       .root_drawn = std::sqrt(0.25e-6),
                       .per_edge_width = 1.0 / 0.7,
                       .alike = false};
  study::NodeBlock node{};
  study::StressBlock stresses{};

  explicit Block(double thresholds, bool alike) {
    law.alike = alike;
    for (std::size_t c = 0; c < study::credit_us.size(); ++c)
      law.root_credit[c] = std::sqrt(study::credit_us[c] * 1e-6);
    study::FilmColumns films;
    films.verdict_legs = LaneRows(1, 2.0);
    columns.films = std::make_shared<const study::FilmColumns>(films);
    for (std::size_t k = 0; k < 3; ++k) columns.edges_per_s[k] = LaneRows(1);
    const auto stress = [&](study::LaneStress& of, std::size_t i, std::size_t seed) {
      const double threshold_V = law.drawn_V_m * node.gap_m.of[i];
      of.voltage_V.of[i] = threshold_V * mixed(0.2, 1.6, i, seed) * thresholds;
      of.per_root_duration.of[i] = 1.0 / std::sqrt(mixed(5e-8, 2e-5, i, seed + 1));
    };
    for (std::size_t i = 0; i < lanes; ++i) {
      columns.edges_per_s[0][0][i] = i % 5 == 0 ? 0.0 : mixed(4e4, 7e4, i, 1);
      columns.edges_per_s[1][0][i] = i % 5 == 0 ? 0.0 : mixed(1e2, 3e3, i, 2);
      columns.edges_per_s[2][0][i] = i % 5 == 0 ? 2.4e4 : 0.0;
      node.live_s.of[i] = i % 7 == 3 ? 0.0 : mixed(0.5, 1.5, i, 3);
      node.total_F.of[i] = mixed(8e-10, 2e-9, i, 4);
      node.gap_m.of[i] = mixed(1e-8, 2e-6, i, 5);
      node.area_m2.of[i] = mixed(5e-7, 2e-6, i, 6);
      node.film_ratio.of[i] = mixed(1.1, 8.0, i, 7);
      node.struck.of[i] = double(i % 2);
      stress(stresses.rising, i, 10);
      stress(stresses.falling, i, alike ? 10 : 20);
      stress(stresses.held, i, 30);
    }
  }

  voltage::Stress of(const study::LaneStress& row, std::size_t i) const {
    const double per_root = row.per_root_duration.of[i];
    return {Voltage::from_value(row.voltage_V.of[i]),
            Time::from_value(1.0 / (per_root * per_root))};
  }

  /// The same stretch by stretch, by the functions of voltage.
  std::vector<study::BearingSample> one_by_one() const {
    std::vector<study::BearingSample> result(2);
    for (std::size_t i = 0; i < lanes; ++i) {
      const double dt_s = node.live_s.of[i];
      if (dt_s == 0.0) continue;
      study::BearingSample& sample = result[static_cast<std::size_t>(node.struck.of[i])];
      const auto field = [&](double V_m) { return Voltage::from_value(V_m * node.gap_m.of[i]); };
      std::vector<voltage::EdgeClass> edges;
      for (std::size_t k = 0; k < 3; ++k)
        for (const auto* row : {&stresses.rising, &stresses.falling}) {
          const voltage::Stress one = of(*row, i);
          edges.push_back({0.5 * Frequency::from_value(columns.edges_per_s[k][0][i]),
                           {double(k + 1) * one.voltage, one.duration}});
        }
      const auto rates = voltage::discharge_rates(
          edges, of(stresses.held, i),
          {field(law.drawn_V_m), Time::from_value(law.root_drawn * law.root_drawn),
           1.0 / law.per_edge_width, Capacitance::from_value(node.total_F.of[i]),
           Area::from_value(node.area_m2.of[i])});
      sample.discharges += rates.rate.value() * dt_s;
      sample.energy_J += rates.power.value() * dt_s;
      sample.dose_J_m2 += rates.dose_rate.value() * dt_s;
      const auto up = of(stresses.rising, i), down = of(stresses.falling, i);
      const voltage::Stress& higher = up.voltage >= down.voltage ? up : down;
      for (std::size_t c = 0; c < study::credit_us.size(); ++c) {
        const auto verdict =
            voltage::verdict({.held = of(stresses.held, i),
                              .edge = {2.0 * higher.voltage, higher.duration},
                              .threshold = {field(law.at_05_V_m), field(law.at_50_V_m), field(1e8)},
                              .film = voltage::FilmState{node.film_ratio.of[i], true},
                              .t0 = Time::from_value(study::credit_us[c] * 1e-6),
                              .fallen_factor = 1.0});
        if (verdict.headline == voltage::Verdict::none) continue;
        sample.striking_by_credit_s[c] += dt_s;
        if (c != study::headline_credit) continue;
        sample.striking_s += dt_s;
        if (verdict.headline == voltage::Verdict::expected) sample.expected_s += dt_s;
      }
    }
    return result;
  }
};

}  // namespace

TEST_CASE("discharges and verdicts of a block are those of its stretches, at every width") {
  // Nothing strikes, some do, most do, all are certain to.
  for (const double thresholds : {0.1, 1.0, 3.0, 60.0})
    for (const bool alike : {true, false}) {
      CAPTURE(thresholds, alike);
      const Block of(thresholds, alike);
      const auto expected = of.one_by_one();
      std::vector<study::StrikeSums> first;
      for (const numerics::LaneWidth width : numerics::lane_widths()) {
        INFO(numerics::name(width));
        std::vector<study::StrikeSums> sums(2);
        study::find_strikes(of.columns, of.law, 0, width, of.node, of.stresses, sums);
        for (std::size_t b = 0; b < sums.size(); ++b) {
          study::BearingSample found;
          sums[b].add_to(found);
          for (const auto figure : study::bearing_sums)
            CHECK(found.*figure == Approx(expected[b].*figure).epsilon(1e-11).margin(0));
          for (std::size_t c = 0; c < study::credit_us.size(); ++c)
            CHECK(found.striking_by_credit_s[c] ==
                  Approx(expected[b].striking_by_credit_s[c]).epsilon(1e-12));
        }
        if (first.empty()) first = sums;
        CHECK(same_bits(first, sums));
      }
    }
}

TEST_CASE("edges of many stretches are those of each modulation, at every width") {
  LaneRows modulation(2, 1.0);
  for (std::size_t i = 0; i < 2 * lanes; ++i)
    modulation[i / lanes][i % lanes] = i < 8 ? 0.005 * double(i) : mixed(0.0, 1.1, i, 1);
  const Frequency carrier = 12.0_kHz;
  for (const auto& [rise, fall] :
       {std::pair{62.5_ns, 62.5_ns}, std::pair{62.5_ns, 400.0_ns}, std::pair{5.0_us, 5.0_us}}) {
    const auto spacing = [&](Time ramp) {
      return 4.0 * double(ramp * carrier) / std::numbers::sqrt3;
    };
    for (const numerics::LaneWidth width : numerics::lane_widths()) {
      std::array<LaneRows, 3> found;
      study::find_edges(modulation, {spacing(rise), spacing(fall)}, carrier.value(), width, found);
      for (std::size_t i = 0; i < 2 * lanes; ++i) {
        const double index = modulation[i / lanes][i % lanes];
        CAPTURE(index);
        const auto up = voltage::edge_rates(carrier, index, rise);
        const auto down = voltage::edge_rates(carrier, index, fall);
        const auto mean = [](Frequency a, Frequency b) { return 0.5 * (a + b).value(); };
        CHECK(found[0][i / lanes][i % lanes] == Approx(mean(up.one_leg, down.one_leg)));
        CHECK(found[1][i / lanes][i % lanes] == Approx(mean(up.two_legs, down.two_legs)));
        CHECK(found[2][i / lanes][i % lanes] == Approx(mean(up.three_legs, down.three_legs)));
      }
    }
  }
}
