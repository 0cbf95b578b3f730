// Loops over stretches against the same of a single stretch: derived, nothing outside the project
// knows these figures. The laws themselves are held against published values in their own rooms.

#include <catch2/catch.hpp>

#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/material/viscosity.hpp"
#include "study/electric.hpp"
#include "study/fatigue_lanes.hpp"
#include "study/lane_numbers.hpp"
#include "study/sample_case.hpp"
#include "study/service_history.hpp"
#include "study/stress_lanes.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using namespace ohmdrag::test;
using numerics::lanes;

namespace {

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

TEST_CASE("films of a block are those of the bearing, at every width") {
  const Machine machine;
  const auto columns = study::strike_columns(machine.model, machine.electric, machine.stretches,
                                             machine.oil, nullptr);
  const study::BearingModel& bearing = machine.model.bearings.front();
  const study::StruckBearing struck{1.0, bearing.unloaded_element.value(), bearing.rings.value()};
  for (std::size_t at = 0; at < study::blocks_of(machine.stretches.size()); ++at) {
    std::vector<study::NodeBlock> first;
    for (const numerics::LaneWidth width : numerics::lane_widths()) {
      INFO(numerics::name(width));
      study::NodeBlock block{};
      std::vector<study::StrikeSums> sums(1);
      study::find_films(columns, {&struck, 1}, machine.oil, machine.temperatures(at).of, 7e-10, at,
                        width, block, sums);
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
        CHECK(block.film_ratio.of[i] == Approx(state.films[0].film_ratio).epsilon(1e-6));
        CHECK(block.area_m2.of[i] == Approx(state.films[0].area_inner.value()));
        CHECK(block.total_F.of[i] - 7e-10 ==
              Approx(voltage::capacitance(state.paths[0]).value()).epsilon(1e-6));
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
  study::NodeBlock node{};
  study::StressBlock block{};
  numerics::LaneRows speed_rad_s(1);
  for (std::size_t i = 0; i < lanes; ++i) {
    speed_rad_s[0][i] = mixed(0.0, 2500.0, i, 1);
    node.total_F.of[i] = i == 9 ? 4e-9 : mixed(7.1e-10, 2.8e-9, i, 2);
    node.log_F.of[i] = std::log(node.total_F.of[i]);
    node.live_s.of[i] = 1.0;
  }
  const auto places = [&](numerics::LaneWidth width) {
    return study::column_places(source.speeds->rad_s(), speed_rad_s, width);
  };
  const auto two = numerics::LaneWidth::two;
  side_by_side.find(speed_rad_s, places(two), 0, two, node, block);  // solves the points
  std::vector<study::StressBlock> first;
  for (const numerics::LaneWidth width : numerics::lane_widths()) {
    INFO(numerics::name(width));
    side_by_side.find(speed_rad_s, places(width), 0, width, node, block);
    if (first.empty()) first.push_back(block);
    CHECK(same_bits(first, std::vector{block}));
    for (std::size_t i = 0; i < lanes; ++i) {
      CAPTURE(i, speed_rad_s[0][i], node.total_F.of[i]);
      const auto exact = grid.at({winding_rotor, Capacitance::from_value(node.total_F.of[i])},
                                 AngularVelocity::from_value(speed_rad_s[0][i]));
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
        study::find_fatigue(columns, {&law, 1}, machine.oil, machine.temperatures(at).of, at, width,
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
      CHECK(first[0].damage.of[i] == Approx(expected.damage.of[i]).epsilon(1e-6));
      CHECK(first[0].thin_s.of[i] == expected.thin_s.of[i]);
      CHECK(first[0].thin_damage.of[i] == Approx(expected.thin_damage.of[i]).epsilon(1e-6));
    }
  }
}
