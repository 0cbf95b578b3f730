#include "study/electric.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "ohmdrag/life/electrical_life.hpp"
#include "ohmdrag/material/lubricant.hpp"
#include "ohmdrag/voltage/common_mode.hpp"
#include "ohmdrag/voltage/discharge.hpp"

namespace ohmdrag::study {
namespace {

/// The grid spans thick films (bearings add nothing) to bearings that hold three times the rest.
constexpr int capacitance_rows = 5;
constexpr double widest_capacitance = 4.0;
constexpr std::array modulation_columns{0.0, 0.0199, 0.02, 0.25, 0.5, 0.75, 1.0};

voltage::Stress lerp(const voltage::Stress& a, const voltage::Stress& b, double share) {
  return {a.voltage + share * (b.voltage - a.voltage),
          a.duration + share * (b.duration - a.duration)};
}

ShaftStresses lerp(const ShaftStresses& a, const ShaftStresses& b, double share) {
  ShaftStresses mixed;
  for (std::size_t legs = 0; legs < 3; ++legs)
    mixed.edge[legs] = lerp(a.edge[legs], b.edge[legs], share);
  mixed.held = lerp(a.held, b.held, share);
  return mixed;
}

/// Index of the cell and place within it; the ends hold beyond the grid.
std::pair<std::size_t, double> cell(const std::vector<double>& grid, double x) {
  if (x <= grid.front()) return {0, 0.0};
  if (x >= grid.back()) return {grid.size() - 2, 1.0};
  const auto above = std::upper_bound(grid.begin(), grid.end(), x);
  const auto i = static_cast<std::size_t>(above - grid.begin()) - 1;
  return {i, (x - grid[i]) / (grid[i + 1] - grid[i])};
}

/// What a path leaves between edges decays over hundreds of time constants; a figure below a
/// microvolt says nothing but "none".
double to_microvolt(Voltage v) { return std::round(v.value() * 1e6) * 1e-6; }

life::CurrentDensityLaw density_law(const DamageLaw& law, const Draw& draw) {
  const double per_mm2 = 1e6;
  return {Time::from_value(draw(law.life_constant_h) * 3600.0), draw(law.exponent_per_A_mm2),
          CurrentDensity::from_value(draw(law.floor_A_mm2) * per_mm2)};
}

}  // namespace

ElectricModel::ElectricModel(const WorldModel& model, const VariantModel& variant, const Draw& draw)
    : model_(&model),
      shaft_(model.shaft_index(model.world->coupling->shaft)),
      dc_link_(draw(model.world->inverter->dc_link)),
      carrier_(draw(model.world->inverter->switching_frequency)),
      rise_(draw(model.world->inverter->rise_time)),
      winding_rotor_(draw(model.world->coupling->winding_rotor)),
      rotor_frame_(draw(model.world->coupling->rotor_frame)),
      path_(variant.path.back()) {
  const DischargeConstants& constants = model.world->discharge;
  breakdown_ = draw(constants.breakdown_field);
  const auto quantile = [&](double u) {
    return ElectricField::from_value(constants.breakdown_field.spread.quantile(u));
  };
  breakdown_band_ = {quantile(0.05), quantile(0.5), quantile(0.95)};
  const auto fixed = [&](double u) {
    return Voltage::from_value(constants.fixed_threshold.spread.quantile(u));
  };
  fixed_threshold_ = {fixed(0.05), fixed(0.5), fixed(0.95)};
  t0_ = draw(constants.pulse_credit);
  edge_width_ = draw(constants.edge_width);
  fallen_ = draw(constants.fallen_threshold);
  loop_ = {draw(constants.loop_inductance), draw(constants.loop_resistance), {}};
  for (const DamageLaw& law : model.world->laws)
    if (law.kind == LawKind::current_density) density_law_ = density_law(law, draw);
  for (std::size_t b = 0; b < model.bearings.size(); ++b)
    if (model.bearings[b].shaft == shaft_ && !model.bearings[b].films.empty())
      bearings_.push_back(b);

  if (!path_) return;  // closed form, nothing to solve ahead
  const double least = (winding_rotor_ + rotor_frame_).value();
  for (int row = 0; row < capacitance_rows; ++row)
    grid_.log_capacitance.push_back(std::log(least) +
                                    row * std::log(widest_capacitance) / (capacitance_rows - 1));
  grid_.modulation.assign(modulation_columns.begin(), modulation_columns.end());
  grid_.modulation.push_back(voltage::linear_modulation_limit());
  for (const double log_capacitance : grid_.log_capacitance)
    for (const double m : grid_.modulation)
      grid_.at.push_back(
          solved_stresses({winding_rotor_, Capacitance::from_value(std::exp(log_capacitance))}, m));
}

double ElectricModel::modulation(AngularVelocity speed) const {
  const Inverter& inverter = *model_->world->inverter;
  const auto& at = inverter.modulation_at;
  const auto& value = inverter.modulation_index;
  const AngularVelocity turning = speed < AngularVelocity{} ? -speed : speed;
  if (turning <= at.front()) return value.front();
  if (turning >= at.back()) return value.back();
  const auto above = std::upper_bound(at.begin(), at.end(), turning);
  const auto i = static_cast<std::size_t>(above - at.begin());
  const double share = (turning - at[i - 1]) / (at[i] - at[i - 1]);
  return value[i - 1] + share * (value[i] - value[i - 1]);
}

voltage::Carrier ElectricModel::carrier(double m) const { return {dc_link_, carrier_, m, rise_}; }

ShaftStresses ElectricModel::solved_stresses(const voltage::ShaftNode& node, double m) const {
  ShaftStresses result;
  const Time until = voltage::hold_duration(carrier_);
  for (int legs = 1; legs <= 3; ++legs)
    result.edge[static_cast<std::size_t>(legs - 1)] =
        voltage::edge_stress(node, path_, voltage::edge_step(dc_link_, legs), rise_, until);
  result.held = {voltage::held_after_discharge(node, path_, carrier(m)), until};
  return result;
}

ShaftStresses ElectricModel::stresses(const voltage::ShaftNode& node, double m) const {
  const double log_total = std::log(node.total.value());
  if (!path_) {
    // Every step passes whole and stands until the next edge.
    const Time until = voltage::hold_duration(carrier_);
    const double ratio = voltage::bearing_voltage_ratio(node);
    ShaftStresses all;
    for (int legs = 1; legs <= 3; ++legs)
      all.edge[static_cast<std::size_t>(legs - 1)] = {ratio * voltage::edge_step(dc_link_, legs),
                                                      until};
    all.held = {voltage::rereferenced_voltage(node, dc_link_), until};
    return all;
  }
  // Bearings that outweigh the machine (thin films, small rotors) are rare: solved, not held.
  if (log_total > grid_.log_capacitance.back()) return solved_stresses(node, m);
  const auto [row, down] = cell(grid_.log_capacitance, log_total);
  const auto [column, along] = cell(grid_.modulation, m);
  const std::size_t width = grid_.modulation.size();
  const auto at = [&](std::size_t r, std::size_t c) -> const ShaftStresses& {
    return grid_.at[r * width + c];
  };
  return lerp(lerp(at(row, column), at(row, column + 1), along),
              lerp(at(row + 1, column), at(row + 1, column + 1), along), down);
}

ElectricState ElectricModel::state(AngularVelocity speed, Temperature oil, Torque torque) const {
  ElectricState now;
  update(now, speed, oil, torque);
  return now;
}

void ElectricModel::update(ElectricState& state, AngularVelocity speed, Temperature oil,
                           Torque torque) const {
  state.films.clear();
  state.struck.reset();
  state.conducting = false;
  state.turning = speed != AngularVelocity{};
  state.modulation = modulation(speed);
  const auto point = model_->oil.viscosity.point(oil.value());
  const DynamicViscosity eta = material::dynamic_viscosity(model_->oil, oil);
  Capacitance bearings{};
  double lowest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < bearings_.size(); ++i) {
    const BearingModel& bearing = model_->bearings[bearings_[i]];
    const double heating =
        bearing::inlet_heating_factor(eta, bearing::entrainment_speed(bearing.geometry, speed),
                                      point.log_slope_per_K, model_->oil.conductivity);
    bearing::FilmState film = bearing.film(speed, eta, heating, torque);
    if (bearing.stated_capacitance) film.capacitance = *bearing.stated_capacitance;
    if (film.conducting) {
      state.conducting = true;
    } else {
      bearings += film.capacitance;
      const double strength = film.minimum_inner.value() * voltage::film_share(film.film_ratio);
      if (strength < lowest) {
        lowest = strength;
        state.struck = i;
      }
    }
    state.films.push_back(film);
  }
  // A bearing that conducts holds the shaft near the frame: nothing else is struck meanwhile.
  if (state.conducting) state.struck.reset();
  state.node = voltage::shaft_node(winding_rotor_, rotor_frame_, bearings);
  state.stresses = stresses(state.node, state.modulation);
}

Voltage ElectricModel::threshold(const ElectricState& state, ElectricField breakdown) const {
  const bearing::FilmState& film = state.films[*state.struck];
  return voltage::static_threshold(breakdown, film.minimum_inner, film.film_ratio);
}

voltage::DischargeLaw ElectricModel::law(const ElectricState& state) const {
  return {threshold(state, breakdown_), t0_, edge_width_, state.node.total,
          state.films[*state.struck].area_inner};
}

voltage::DischargeRates ElectricModel::rates(const ElectricState& state) const {
  const voltage::EdgeRates edges = voltage::edge_rates(carrier_, state.modulation, rise_);
  const std::array classes{voltage::EdgeClass{edges.one_leg, state.stresses.edge[0]},
                           voltage::EdgeClass{edges.two_legs, state.stresses.edge[1]},
                           voltage::EdgeClass{edges.three_legs, state.stresses.edge[2]}};
  return voltage::discharge_rates(classes, state.stresses.held, law(state));
}

voltage::VerdictInput ElectricModel::verdict_input(const ElectricState& state, Time t0) const {
  const auto legs = static_cast<std::size_t>(voltage::verdict_legs(state.modulation));
  voltage::VerdictInput input{.held = state.stresses.held,
                              .edge = state.stresses.edge[legs - 1],
                              .threshold = {},
                              .film = std::nullopt,
                              .t0 = t0,
                              .fallen_factor = fallen_};
  if (state.struck) {
    const bearing::FilmState& film = state.films[*state.struck];
    input.film = voltage::FilmState{film.film_ratio, state.turning};
    input.threshold = voltage::threshold_band(breakdown_band_, film.minimum_inner, film.film_ratio);
  } else if (state.conducting) {
    input.film = voltage::FilmState{0.0, state.turning};
  } else {
    input.threshold = fixed_threshold_;  // no bearing whose film could be computed
  }
  return input;
}

ElectricSample ElectricModel::at(const OperatingPoint& point, const Draw& draw) const {
  const auto speeds = model_->speeds(point, draw);
  const auto torques = model_->torques(point, draw);
  const ElectricState now = state(speeds[shaft_], draw(point.oil_temperature), torques[shaft_]);
  ElectricSample sample;
  sample.ratio = voltage::bearing_voltage_ratio(now.node);
  sample.edge_step_V = sample.ratio * voltage::edge_step(dc_link_, 1).value();
  const ShaftStresses exact = solved_stresses(now.node, now.modulation);
  sample.peak_V = exact.edge[0].voltage.value();
  sample.peak_two_V = exact.edge[1].voltage.value();
  sample.peak_three_V = exact.edge[2].voltage.value();
  sample.verdict_edge_V =
      exact.edge[static_cast<std::size_t>(voltage::verdict_legs(now.modulation)) - 1]
          .voltage.value();
  sample.held_V = to_microvolt(exact.held.voltage);
  if (!now.struck) {
    sample.threshold_V = sample.film_um = sample.film_ratio = not_a_figure;
    if (!now.films.empty()) {
      const auto thinnest = std::min_element(
          now.films.begin(), now.films.end(),
          [](const auto& a, const auto& b) { return a.film_ratio < b.film_ratio; });
      sample.film_um = thinnest->minimum_inner.value() * 1e6;
      sample.film_ratio = thinnest->film_ratio;
    }
    return sample;
  }
  const bearing::FilmState& film = now.films[*now.struck];
  sample.threshold_V = threshold(now, breakdown_).value();
  sample.film_um = film.minimum_inner.value() * 1e6;
  sample.film_ratio = film.film_ratio;
  const voltage::DischargeRates discharges = rates(now);
  sample.probability_per_edge = discharges.probability_per_edge;
  sample.dose_rate = discharges.dose_rate.value();
  return sample;
}

void ElectricModel::accumulate(const energy::Stretch& stretch, Temperature oil, ElectricState& now,
                               std::vector<BearingSample>& bearings) const {
  if (stretch.speed[shaft_] == AngularVelocity{} || bearings_.empty()) return;
  const double dt = stretch.dt.value();
  update(now, stretch.speed[shaft_], oil, stretch.torque[shaft_]);
  if (!now.struck) {
    for (std::size_t i = 0; i < now.films.size(); ++i)
      if (now.films[i].conducting) bearings[bearings_[i]].conducting_s += dt;
    return;
  }
  BearingSample& struck = bearings[bearings_[*now.struck]];
  for (std::size_t c = 0; c < credit_us.size(); ++c) {
    const auto verdict =
        voltage::verdict(verdict_input(now, Time::from_value(credit_us[c] * 1e-6)));
    if (verdict.headline == voltage::Verdict::none) continue;
    struck.striking_by_credit_s[c] += dt;
    if (c != headline_credit) continue;
    struck.striking_s += dt;
    if (verdict.headline == voltage::Verdict::expected) struck.expected_s += dt;
  }
  const voltage::DischargeRates discharges = rates(now);
  struck.discharges += discharges.rate.value() * dt;
  struck.energy_J += discharges.power.value() * dt;
  struck.dose_J_m2 += discharges.dose_rate.value() * dt;
  if (density_law_ && discharges.rate > Frequency{}) {
    voltage::DischargeLoop loop = loop_;
    loop.capacitance = now.node.total;
    const auto density = voltage::apparent_current_density(
        voltage::peak_discharge_current(discharges.strongest, loop),
        now.films[*now.struck].area_inner);
    if (const auto life = life::life_at_density(*density_law_, density))
      struck.electrical_damage += dt / life->value();
  }
}

}  // namespace ohmdrag::study
