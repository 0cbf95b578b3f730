// Loops over stretches against the same of a single stretch: derived, nothing outside the project
// knows these figures. The laws themselves are held against published values in their own rooms.

#include "study/strike_lanes.hpp"

#include <catch2/catch.hpp>
#include <cstring>
#include <numbers>

#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/material/viscosity.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "ohmdrag/voltage/discharge.hpp"
#include "ohmdrag/voltage/verdict.hpp"
#include "study/electric.hpp"
#include "study/fatigue_lanes.hpp"
#include "study/sample_case.hpp"
#include "study/service_history.hpp"
#include "study/stress_lanes.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using numerics::LaneRows;
using numerics::lanes;

namespace {

/// Between two ends, on no round number and in no order.
double mixed(double low, double high, std::size_t i, std::size_t seed) {
  const double golden = 0.6180339887498949 * double(i + 1) + 0.7548776662466927 * double(seed);
  return low + (high - low) * (golden - std::floor(golden));
}

template <class T>
bool same_bits(const std::vector<T>& a, const std::vector<T>& b) {
  return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(T)) == 0;
}

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
  study::StrikeBlock block{};

  explicit Block(double thresholds, bool alike) {
    law.alike = alike;
    for (std::size_t c = 0; c < study::credit_us.size(); ++c)
      law.root_credit[c] = std::sqrt(study::credit_us[c] * 1e-6);
    study::FilmColumns films;
    films.verdict_legs = LaneRows(1, 2.0);
    columns.films = std::make_shared<const study::FilmColumns>(films);
    for (std::size_t k = 0; k < 3; ++k) columns.edges_per_s[k] = LaneRows(1);
    const auto stress = [&](study::LaneStress& of, std::size_t i, std::size_t seed) {
      const double threshold_V = law.drawn_V_m * block.gap_m.of[i];
      of.voltage_V.of[i] = threshold_V * mixed(0.2, 1.6, i, seed) * thresholds;
      of.per_root_duration.of[i] = 1.0 / std::sqrt(mixed(5e-8, 2e-5, i, seed + 1));
    };
    for (std::size_t i = 0; i < lanes; ++i) {
      columns.edges_per_s[0][0][i] = i % 5 == 0 ? 0.0 : mixed(4e4, 7e4, i, 1);
      columns.edges_per_s[1][0][i] = i % 5 == 0 ? 0.0 : mixed(1e2, 3e3, i, 2);
      columns.edges_per_s[2][0][i] = i % 5 == 0 ? 2.4e4 : 0.0;
      block.live_s.of[i] = i % 7 == 3 ? 0.0 : mixed(0.5, 1.5, i, 3);
      block.total_F.of[i] = mixed(8e-10, 2e-9, i, 4);
      block.gap_m.of[i] = mixed(1e-8, 2e-6, i, 5);
      block.area_m2.of[i] = mixed(5e-7, 2e-6, i, 6);
      block.film_ratio.of[i] = mixed(1.1, 8.0, i, 7);
      block.struck.of[i] = double(i % 2);
      stress(block.rising, i, 10);
      stress(block.falling, i, alike ? 10 : 20);
      stress(block.held, i, 30);
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
      const double dt_s = block.live_s.of[i];
      if (dt_s == 0.0) continue;
      study::BearingSample& sample = result[static_cast<std::size_t>(block.struck.of[i])];
      const auto field = [&](double V_m) { return Voltage::from_value(V_m * block.gap_m.of[i]); };
      std::vector<voltage::EdgeClass> edges;
      for (std::size_t k = 0; k < 3; ++k)
        for (const auto* row : {&block.rising, &block.falling}) {
          const voltage::Stress one = of(*row, i);
          edges.push_back({0.5 * Frequency::from_value(columns.edges_per_s[k][0][i]),
                           {double(k + 1) * one.voltage, one.duration}});
        }
      const auto rates = voltage::discharge_rates(
          edges, of(block.held, i),
          {field(law.drawn_V_m), Time::from_value(law.root_drawn * law.root_drawn),
           1.0 / law.per_edge_width, Capacitance::from_value(block.total_F.of[i]),
           Area::from_value(block.area_m2.of[i])});
      sample.discharges += rates.rate.value() * dt_s;
      sample.energy_J += rates.power.value() * dt_s;
      sample.dose_J_m2 += rates.dose_rate.value() * dt_s;
      const auto up = of(block.rising, i), down = of(block.falling, i);
      const voltage::Stress& higher = up.voltage >= down.voltage ? up : down;
      for (std::size_t c = 0; c < study::credit_us.size(); ++c) {
        const auto verdict =
            voltage::verdict({.held = of(block.held, i),
                              .edge = {2.0 * higher.voltage, higher.duration},
                              .threshold = {field(law.at_05_V_m), field(law.at_50_V_m), field(1e8)},
                              .film = voltage::FilmState{block.film_ratio.of[i], true},
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

/// A machine at many speeds, its oil from cold to hot.
struct Machine {
  study::Case question = cleaned(sample_case());
  study::Draw draw;
  study::WorldModel model{question, draw};
  study::VariantModel variant{model, question.variants[1], draw,
                              study::service_history(question, question, question.variants[1])};
  study::ElectricModel electric{model, variant, draw};
  study::OilColumns oil{model};
  std::vector<energy::Stretch> stretches;
  std::vector<double> oil_K;

  Machine() {
    for (std::size_t i = 0; i < 3 * lanes - 5; ++i) {
      energy::Stretch stretch;
      stretch.dt = 1.0_s;
      const double rpm = i % 11 == 0 ? 0.0 : mixed(300.0, 14000.0, i, 1);
      stretch.speed = {from_rpm(rpm)};
      stretch.torque = {Torque{}};
      stretches.push_back(stretch);
      oil_K.push_back(290.0 + 0.9 * double(i));
    }
  }

  static study::Case cleaned(study::Case c) {
    c.sump.cleanliness =
        study::OilCleanliness{.usual = {"slight", "slight", known(0.0133), known(1.670), {}},
                              .with_debris = {},
                              .within_class = known(1.0),
                              .proven_ep_additive = true};
    return c;
  }

  study::LaneRow temperatures(std::size_t at) const {
    study::LaneRow row;
    for (std::size_t i = 0; i < lanes; ++i)
      row.of[i] = oil_K[std::min(at * lanes + i, oil_K.size() - 1)];
    return row;
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
        study::StrikeBlock block = of.block;
        std::vector<study::StrikeSums> sums(2);
        study::find_strikes(of.columns, of.law, 0, width, block, sums);
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

TEST_CASE("films of a block are those of the bearing, at every width") {
  const Machine machine;
  const auto columns = study::strike_columns(machine.model, machine.electric, machine.stretches,
                                             machine.oil, nullptr);
  const study::BearingModel& bearing = machine.model.bearings.front();
  const study::StruckBearing struck{1.0, bearing.unloaded_element.value(), bearing.rings.value()};
  for (std::size_t at = 0; at < study::blocks_of(machine.stretches.size()); ++at) {
    std::vector<study::StrikeBlock> first;
    for (const numerics::LaneWidth width : numerics::lane_widths()) {
      INFO(numerics::name(width));
      study::StrikeBlock block{};
      block.oil_K = machine.temperatures(at);
      std::vector<study::StrikeSums> sums(1);
      study::find_films(columns, {&struck, 1}, machine.oil, 7e-10, at, width, block, sums);
      if (first.empty()) first.push_back(block);
      CHECK(same_bits(first, std::vector{block}));
      for (std::size_t i = 0; i < lanes && at * lanes + i < machine.stretches.size(); ++i) {
        const std::size_t s = at * lanes + i;
        CAPTURE(s);
        const auto state = machine.electric.state(
            machine.stretches[s].speed[0], Temperature::from_value(machine.oil_K[s]), Torque{});
        if (!state.struck) {
          CHECK(block.live_s.of[i] == 0.0);
          continue;
        }
        CHECK(block.live_s.of[i] == 1.0);
        CHECK(block.film_ratio.of[i] == Approx(state.films[0].film_ratio).epsilon(3e-6));
        CHECK(block.area_m2.of[i] == Approx(state.films[0].area_inner.value()));
        CHECK(block.total_F.of[i] - 7e-10 ==
              Approx(voltage::capacitance(state.paths[0]).value()).epsilon(3e-6));
        CHECK(machine.model.strength.drawn.value() * block.gap_m.of[i] ==
              Approx(state.paths[0].threshold.drawn.value()).epsilon(1e-5));
      }
    }
  }
}

TEST_CASE("stresses of a block are those of the grid, at every width") {
  const Machine machine;
  const Capacitance winding_rotor = 110.0_pF;
  const study::SourceInDraw source(*machine.question.inverter, machine.draw);
  const study::StressGrid grid(source, {winding_rotor, 710.0_pF}, [&](AngularVelocity speed) {
    return machine.variant.path_at(study::Age::end, speed);
  });
  const study::StressLanes side_by_side(grid, winding_rotor);
  // A node that is too large for the grid is solved.
  study::StrikeBlock block{};
  study::LaneRow speed_rad_s;
  for (std::size_t i = 0; i < lanes; ++i) {
    speed_rad_s.of[i] = mixed(0.0, 2500.0, i, 1);
    block.total_F.of[i] = i == 9 ? 4e-9 : mixed(7.1e-10, 2.8e-9, i, 2);
    block.live_s.of[i] = 1.0;
  }
  side_by_side.find(speed_rad_s.of, numerics::LaneWidth::two, block);  // solves the points
  std::vector<study::StrikeBlock> first;
  for (const numerics::LaneWidth width : numerics::lane_widths()) {
    INFO(numerics::name(width));
    side_by_side.find(speed_rad_s.of, width, block);
    if (first.empty()) first.push_back(block);
    CHECK(same_bits(first, std::vector{block}));
    for (std::size_t i = 0; i < lanes; ++i) {
      CAPTURE(i, speed_rad_s.of[i], block.total_F.of[i]);
      const auto exact = grid.at({winding_rotor, Capacitance::from_value(block.total_F.of[i])},
                                 AngularVelocity::from_value(speed_rad_s.of[i]));
      CHECK(block.rising.voltage_V.of[i] == Approx(exact.rising.voltage.value()).epsilon(1e-11));
      CHECK(block.held.voltage_V.of[i] == Approx(exact.held.voltage.value()).epsilon(1e-11));
      CHECK(block.rising.per_root_duration.of[i] ==
            Approx(1.0 / std::sqrt(exact.rising.duration.value())).epsilon(1e-11));
      CHECK(block.held.per_root_duration.of[i] ==
            Approx(1.0 / std::sqrt(exact.held.duration.value())).epsilon(1e-11));
    }
  }
}

TEST_CASE("fatigue of a block is that of its stretches, at every width") {
  const Machine machine;
  const auto columns = study::fatigue_columns(machine.model, machine.stretches, machine.draw, {});
  const study::BearingModel& bearing = machine.model.bearings.front();
  const bearing::Cleanliness clean{.factor = 0.0133, .diameter = 1.670};
  const Length pitch_diameter = bearing.friction.pitch_diameter;
  const Force limit = bearing::ball_fatigue_limit(bearing.static_rating, pitch_diameter);
  for (const bool proven_additive : {false, true}) {
    const auto law = study::life_law(clean, pitch_diameter, limit, false, proven_additive);
    study::FatigueSums expected{};
    std::vector<study::FatigueSums> first;
    for (const numerics::LaneWidth width : numerics::lane_widths()) {
      INFO(numerics::name(width));
      std::vector<study::FatigueSums> sums(1);
      for (std::size_t at = 0; at < study::blocks_of(machine.stretches.size()); ++at)
        study::find_fatigue(columns, {&law, 1}, machine.oil, machine.temperatures(at), at, width,
                            sums);
      if (first.empty()) first = sums;
      CHECK(same_bits(first, sums));
    }
    for (std::size_t s = 0; s < machine.stretches.size(); ++s) {
      const AngularVelocity speed = machine.stretches[s].speed[0];
      if (speed == AngularVelocity{}) continue;
      const double kappa = bearing::viscosity_ratio(
          machine.model.oil.viscosity.at(Temperature::from_value(machine.oil_K[s])), speed,
          pitch_diameter);
      const Force load = study::fatigue_load(bearing, {}, Torque{});
      const double contamination = bearing::contamination_factor(clean, kappa, pitch_diameter);
      const double margin = contamination * double(limit / load);
      auto factor = bearing::ball_life_factor(kappa, margin);
      if (proven_additive)
        factor = bearing::with_ep_additive(factor, bearing::ball_life_factor(1.0, margin), kappa,
                                           contamination);
      const double damage = study::basic_damage(bearing, load, speed, 1.0_s) / factor.value;
      const std::size_t lane = s % lanes;
      expected.kappa_s.of[lane] += kappa;
      expected.damage.of[lane] += damage;
      expected.thin_s.of[lane] += factor.outside ? 1.0 : 0.0;
      expected.thin_damage.of[lane] += factor.outside ? damage : 0.0;
    }
    for (std::size_t i = 0; i < lanes; ++i) {
      CAPTURE(proven_additive, i);
      CHECK(first[0].kappa_s.of[i] == Approx(expected.kappa_s.of[i]).epsilon(1e-6));
      CHECK(first[0].damage.of[i] == Approx(expected.damage.of[i]).epsilon(3e-6));
      CHECK(first[0].thin_s.of[i] == expected.thin_s.of[i]);
      CHECK(first[0].thin_damage.of[i] == Approx(expected.thin_damage.of[i]).epsilon(3e-6));
    }
  }
}
