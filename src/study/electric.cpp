#include "study/electric.hpp"

#include <algorithm>
#include <array>
#include <boost/container/static_vector.hpp>
#include <cmath>
#include <limits>
#include <numbers>

#include "ohmdrag/material/lubricant.hpp"
#include "ohmdrag/material/permittivity.hpp"
#include "ohmdrag/voltage/bands.hpp"
#include "ohmdrag/voltage/common_mode.hpp"

namespace ohmdrag::study {
namespace {

constexpr double per_mm2 = 1e6;

/// What a path leaves between edges decays over hundreds of time constants; a figure below a
/// microvolt says nothing but "none".
double to_microvolt(Voltage v) { return std::round(v.value() * 1e6) * 1e-6; }

life::CurrentDensityLaw density_law(const DamageLaw& law, const Draw& draw) {
  return {Time::from_value(draw(law.life_constant_h) * 3600.0), draw(law.exponent_per_A_mm2),
          CurrentDensity::from_value(draw(law.floor_A_mm2) * per_mm2)};
}

/// What a film that breaks down discharges: its own charge and, through the coat behind it, that of
/// the rest of the shaft.
Capacitance discharged(const voltage::DischargePath& path, const voltage::ShaftNode& node) {
  const Capacitance rest = node.total - voltage::capacitance(path);
  if (!path.in_series) return path.film + rest;
  return path.film + *path.in_series * rest / (*path.in_series + rest);
}

}  // namespace

voltage::Stress ElectricState::verdict_edge() const { return stresses.edge(verdict_legs); }

ElectricModel::ElectricModel(const WorldModel& model, const VariantModel& variant, const Draw& draw,
                             Age age, std::shared_ptr<const SourceInDraw> source)
    : model_(&model),
      shaft_(model.shaft_index(model.world->coupling->shaft)),
      shared_source_(source ? std::move(source)
                            : std::make_shared<const SourceInDraw>(*model.world->inverter, draw)),
      source_(shared_source_->model),
      winding_rotor_(draw(model.world->coupling->winding_rotor)),
      rotor_frame_(draw(model.world->coupling->rotor_frame)),
      grid_(*shared_source_, {winding_rotor_, winding_rotor_ + rotor_frame_},
            [&variant, age](AngularVelocity speed) { return variant.path_at(age, speed); }) {
  const DischargeConstants& constants = model.world->discharge;
  t0_ = draw(constants.pulse_credit);
  edge_width_ = draw(constants.edge_width);
  fallen_ = draw(constants.fallen_threshold);
  loop_inductance_ = draw(constants.loop_inductance);
  loop_resistance_ = draw(constants.loop_resistance);
  metallic_contact_ = draw(constants.metallic_contact);
  for (const DamageLaw& law : model.world->laws)
    if (law.kind == LawKind::current_density) density_law_ = density_law(law, draw);
  for (std::size_t b = 0; b < model.bearings.size(); ++b)
    if (model.bearings[b].shaft == shaft_ && !model.bearings[b].films.empty())
      bearings_.push_back(b);
  for (std::size_t p = 0; p < model.other_paths.size(); ++p)
    if (model.other_paths[p].shaft() == shaft_) others_.push_back(p);
}

ElectricState ElectricModel::state(AngularVelocity speed, Temperature oil, Torque torque) const {
  ElectricState now;
  update(now, speed, oil, torque);
  return now;
}

void ElectricModel::add_bearings(ElectricState& state, Temperature oil, Torque torque) const {
  const auto point = model_->oil.viscosity.point(oil.value());
  const DynamicViscosity eta = material::dynamic_viscosity(model_->oil, oil);
  const double permittivity = material::permittivity_share(model_->oil, oil);
  for (const std::size_t b : bearings_) {
    const BearingModel& bearing = model_->bearings[b];
    const double heating = bearing::inlet_heating_factor(
        eta, bearing.entrainment(state.speed), point.log_slope_per_K, model_->oil.conductivity);
    state.films.push_back(bearing.film(state.speed, eta, heating, torque, permittivity));
    state.paths.push_back(bearing.path(state.films.back(), model_->strength));
    state.places.push_back(b);
  }
}

void ElectricModel::add_other_paths(ElectricState& state, Temperature oil, Torque torque) const {
  for (const std::size_t p : others_)
    if (auto path = model_->other_paths[p].state(state.speed, oil, torque)) {
      state.paths.push_back(std::move(*path));
      state.places.push_back(model_->bearings.size() + p);
    }
}

void ElectricModel::update(ElectricState& state, AngularVelocity speed, Temperature oil,
                           Torque torque) const {
  place(state, speed, oil, torque);
  state.stresses = grid_.at(state.node, speed);
}

void ElectricModel::place(ElectricState& state, AngularVelocity speed, Temperature oil,
                          Torque torque) const {
  state.films.clear();
  state.paths.clear();
  state.places.clear();
  state.speed = speed;
  state.turning = speed != AngularVelocity{};
  state.modulation = source_.modulation(speed);
  state.verdict_legs = source_.verdict_legs(state.modulation);
  add_bearings(state, oil, torque);
  add_other_paths(state, oil, torque);
  state.conducting = std::ranges::any_of(state.paths, voltage::ties_to_frame);
  // What ties the shaft to the frame holds it there: nothing else is struck meanwhile.
  state.struck = voltage::weakest_path(state.paths);
  state.node = voltage::shaft_node(winding_rotor_, rotor_frame_, voltage::capacitance(state.paths));
}

double ElectricModel::stress_of(const ElectricState& state,
                                const voltage::DischargePath& path) const {
  const auto threshold = voltage::threshold_at_shaft(path);
  if (!threshold || !(threshold->band.at_50 > Voltage{})) return 0.0;
  const Voltage highest = std::max(state.stresses.held.voltage, state.verdict_edge().voltage);
  return (highest / threshold->band.at_50).value();
}

voltage::DischargeRates ElectricModel::rates(const ElectricState& state) const {
  return rates(state, source_.rates(state.speed));
}

voltage::DischargeRates ElectricModel::rates(const ElectricState& state,
                                             const voltage::EdgeRates& edges) const {
  const std::array legs{edges.one_leg, edges.two_legs, edges.three_legs};
  boost::container::static_vector<voltage::EdgeClass, 2 * legs.size()> classes;
  const voltage::Stress &up = state.stresses.rising, &down = state.stresses.falling;
  const bool alike = up.voltage == down.voltage && up.duration == down.duration;
  for (std::size_t i = 0; i < legs.size(); ++i) {
    if (legs[i] == Frequency{}) continue;
    const double count = double(i + 1);
    const auto add = [&](double share, const voltage::Stress& one) {
      classes.push_back({share * legs[i], {count * one.voltage, one.duration}});
    };
    add(alike ? 1.0 : 0.5, up);
    if (!alike) add(0.5, down);
  }
  const voltage::DischargePath& path = state.paths[*state.struck];
  const double share = voltage::share_on_film(path);
  // Without a known area there is no dose; of an area of 1 m2 it would be next to nothing.
  const Area area = path.area.value_or(Area::from_value(1.0));
  return voltage::discharge_rates({classes.data(), classes.size()}, state.stresses.held,
                                  {voltage::threshold_at_shaft(path)->drawn, t0_, edge_width_,
                                   share * share * discharged(path, state.node), area});
}

voltage::VerdictInput ElectricModel::verdict_input(const ElectricState& state, Time t0) const {
  voltage::VerdictInput input{.held = state.stresses.held,
                              .edge = state.verdict_edge(),
                              .threshold = {},
                              .film = std::nullopt,
                              .t0 = t0,
                              .fallen_factor = fallen_};
  if (state.struck) {
    const voltage::DischargePath& path = state.paths[*state.struck];
    input.threshold = voltage::threshold_at_shaft(path)->band;
    if (path.film_ratio > 0.0) input.film = voltage::FilmState{path.film_ratio, state.turning};
  } else if (state.conducting) {
    input.film = voltage::FilmState{0.0, state.turning};
  } else if (state.paths.empty()) {  // no film could be computed
    input.threshold = band_of(model_->world->discharge.fixed_threshold);
  } else {
    // Every film touches and what insulates it holds: nothing is left that could strike.
    const Voltage never = Voltage::from_value(std::numeric_limits<double>::infinity());
    input.threshold = {never, never, never};
  }
  return input;
}

Current ElectricModel::peak_current(const ElectricState& state, Voltage at_shaft) const {
  const voltage::DischargePath& path = state.paths[*state.struck];
  return voltage::peak_discharge_current(
      voltage::share_on_film(path) * at_shaft,
      {loop_inductance_, loop_resistance_, discharged(path, state.node)});
}

/// At an edge of one leg, beside the element: both by their resistance at the frequency where the
/// spectrum of the edge ends, 1/(pi t_r). An estimate: the contact is known to a factor of ten.
Current ElectricModel::through_contact(const ElectricState& state) const {
  const Time ramp = source_.fastest();
  Resistance shared = metallic_contact_;
  if (const auto path = grid_.path(state.speed)) {
    const Resistance beside = voltage::impedance_magnitude(*path, 1.0 / (std::numbers::pi * ramp));
    shared = shared * beside / (shared + beside);
  }
  const Voltage peak = voltage::edge_peak(state.node, voltage::GroundingPath{shared, {}},
                                          voltage::edge_step(source_.dc_link(), 1), ramp);
  return peak / metallic_contact_;
}

void ElectricModel::describe_discharge(const ElectricState& state, ElectricSample& sample) const {
  const voltage::DischargePath& path = state.paths[*state.struck];
  const voltage::PathThreshold threshold = *voltage::threshold_at_shaft(path);
  sample.threshold_V = threshold.drawn.value();
  sample.fallen_threshold_V = fallen_ * threshold.drawn.value();
  const voltage::DischargeRates discharges = rates(state);
  sample.probability_per_edge = discharges.probability_per_edge;
  sample.discharge_rate_per_s = discharges.rate.value();
  sample.discharge_W = discharges.power.value();
  if (discharges.rate > Frequency{})
    sample.discharge_J = (discharges.power / discharges.rate).value();
  const Current peak = peak_current(state, discharges.strongest);
  sample.discharge_A = peak.value();
  if (path.area) {
    sample.dose_rate = discharges.dose_rate.value();
    sample.density_A_mm2 = voltage::apparent_current_density(peak, *path.area).value() / per_mm2;
  }
  const voltage::InverterSource& source = source_.source();
  if (threshold.drawn > Voltage{})
    sample.dwell_s = voltage::dwell_above(state.node, grid_.path(state.speed),
                                          voltage::edge_step(source.dc_link, state.verdict_legs),
                                          source_.fastest(), threshold.drawn,
                                          voltage::hold_duration(source.carrier))
                         .value();
}

ElectricSample ElectricModel::at(const OperatingPoint& point, const Draw& draw) const {
  const auto speeds = model_->speeds(point, draw);
  const auto torques = model_->torques(point, draw);
  ElectricState now;
  place(now, speeds[shaft_], draw(point.oil_temperature), torques[shaft_]);
  now.stresses = grid_.solved(now.node, now.speed, CarrierLayout::kept);
  ElectricSample sample;
  if (now.conducting) {
    const Current current = through_contact(now);
    sample.conducting_A = current.value();
    const voltage::Stress spike{current * metallic_contact_, source_.fastest()};
    now.stresses = {spike, spike, {Voltage{}, now.stresses.held.duration}};
  }
  sample.ratio = voltage::bearing_voltage_ratio(now.node);
  sample.edge_step_V = sample.ratio * voltage::edge_step(source_.dc_link(), 1).value();
  sample.peak_V = now.stresses.edge(1).voltage.value();
  sample.verdict_edge_V = now.verdict_edge().voltage.value();
  sample.held_V = to_microvolt(now.stresses.held.voltage);
  if (!now.films.empty()) {
    const auto shown =
        now.struck && *now.struck < now.films.size()
            ? now.films.begin() + std::ptrdiff_t(*now.struck)
            : std::ranges::min_element(now.films, {}, &bearing::FilmState::film_ratio);
    sample.film_um = shown->minimum_inner.value() * 1e6;
    sample.film_ratio = shown->film_ratio;
  }
  const voltage::MaybePath path = grid_.path(now.speed);
  for (const NamedBand& band : model_->world->bands)
    sample.reduction_dB.push_back(
        voltage::band_reduction(now.node, path, {band.name, band.from, band.to}).reduction_dB);
  if (now.struck) describe_discharge(now, sample);
  return sample;
}

void ElectricModel::accumulate(const energy::Stretch& stretch, Temperature oil, ElectricState& now,
                               std::vector<BearingSample>& paths) const {
  if (stretch.speed[shaft_] == AngularVelocity{}) return;
  const double dt = stretch.dt.value();
  update(now, stretch.speed[shaft_], oil, stretch.torque[shaft_]);
  if (!now.struck) {
    for (std::size_t i = 0; i < now.paths.size(); ++i)
      if (now.paths[i].conducting) paths[now.places[i]].conducting_s += dt;
    return;
  }
  BearingSample& struck = paths[now.places[*now.struck]];
  for (std::size_t c = 0; c < credit_us.size(); ++c) {
    const auto verdict =
        voltage::verdict(verdict_input(now, Time::from_value(credit_us[c] * 1e-6)));
    if (verdict.headline == voltage::Verdict::none) continue;
    struck.striking_by_credit_s[c] += dt;
    if (c != headline_credit) continue;
    struck.striking_s += dt;
    if (verdict.headline == voltage::Verdict::expected) struck.expected_s += dt;
  }
  add_discharges(now, rates(now), dt, struck);
}

void ElectricModel::add_discharges(const ElectricState& now,
                                   const voltage::DischargeRates& discharges, double dt,
                                   BearingSample& struck) const {
  struck.discharges += discharges.rate.value() * dt;
  struck.energy_J += discharges.power.value() * dt;
  const auto& area = now.paths[*now.struck].area;
  if (!area) {
    struck.undosed += discharges.rate.value() * dt;
    return;
  }
  struck.dose_J_m2 += discharges.dose_rate.value() * dt;
  if (density_law_ && discharges.rate > Frequency{}) {
    const auto density =
        voltage::apparent_current_density(peak_current(now, discharges.strongest), *area);
    if (const auto life = life::life_at_density(*density_law_, density))
      struck.electrical_damage += dt / life->value();
  }
}

}  // namespace ohmdrag::study
