#include "study/model.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <stdexcept>

#include "ohmdrag/bearing/damage_sum.hpp"
#include "ohmdrag/bearing/load_distribution.hpp"
#include "ohmdrag/bearing/rating_life.hpp"
#include "ohmdrag/contact/electrical.hpp"
#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/study/visit.hpp"
#include "ohmdrag/voltage/path_geometry.hpp"

namespace ohmdrag::study {
namespace {

/// Free convection goes with the fourth root of the rise, so one figure serves all shafts; the
/// rise itself would make the heat network non-linear.
constexpr TemperatureDifference free_convection_rise = TemperatureDifference::from_value(30.0);

/// Torques at which a bearing's load distribution is solved; films between are interpolated.
constexpr int film_rows = 9;
/// Positions of the cage over which areas are averaged.
constexpr int cage_positions = 4;

bearing::BallBearing geometry_of(const BearingType& type, const Draw& draw) {
  return {.balls = static_cast<int>(std::lround(draw(type.rolling_elements))),
          .ball_diameter = draw(type.element_diameter),
          .pitch_diameter = draw(type.pitch_diameter),
          .conformity = draw(type.conformity),
          .clearance = draw(type.clearance)};
}

energy::LoadCurve load_curve(const Bearing& entry, const Draw& draw) {
  std::vector<Force> radial, axial;
  for (const auto& load : entry.radial) radial.push_back(draw(load));
  for (const auto& load : entry.axial) axial.push_back(draw(load));
  return {entry.load_torque, std::move(radial), std::move(axial)};
}

BearingModel bearing_model(const WorldModel& model, const Bearing& entry, const Draw& draw) {
  const BearingType& type = entry.type;
  BearingModel result{.shaft = model.shaft_index(entry.shaft),
                      .loads = load_curve(entry, draw),
                      .dynamic_rating = draw(type.dynamic_rating),
                      .static_rating = draw(type.static_rating),
                      .static_factor = draw(type.static_factor),
                      .roller = type.family == BearingType::Family::cylindrical_roller,
                      .friction = {.torque_factor = draw(type.torque_factor),
                                   .load_torque_factor = draw(type.load_torque_factor),
                                   .load_torque_exponent = draw(type.load_torque_exponent),
                                   .pitch_diameter = draw(type.pitch_diameter),
                                   .static_rating = draw(type.static_rating)},
                      .stated_capacitance = {},
                      .first_torque = entry.load_torque.front(),
                      .torque_step = {},
                      .films = {},
                      .geometry = {}};
  if (entry.capacitance) result.stated_capacitance = draw(*entry.capacitance);
  if (result.roller || !model.world->inverter) return result;

  const int rows = entry.load_torque.size() == 1 ? 1 : film_rows;
  if (rows > 1)
    result.torque_step = (entry.load_torque.back() - entry.load_torque.front()) / (rows - 1.0);
  const DischargeConstants& constants = model.world->discharge;
  const bearing::BallBearing geometry = result.geometry = geometry_of(type, draw);
  const bearing::Elastic steel{draw(entry.young_modulus), draw(entry.poisson)};
  for (int row = 0; row < rows; ++row) {
    const auto loads = result.loads.at(result.first_torque + double(row) * result.torque_step);
    result.films.emplace_back(geometry, steel, model.oil.pressure_viscosity,
                              bearing::load_distribution_over_phase(geometry, steel, loads.radial,
                                                                    loads.axial, cage_positions),
                              draw(constants.film_factor), draw(constants.roughness),
                              model.oil.permittivity, draw(constants.capacitance_factor));
  }
  return result;
}

/// Basic rating life consumed by a stretch, as a share.
double fatigue_damage(const BearingModel& bearing, const energy::Stretch& stretch) {
  const AngularVelocity speed = stretch.speed[bearing.shaft];
  const Force load = bearing.equivalent_load(stretch.torque[bearing.shaft]);
  if (speed == AngularVelocity{} || !(load > Force{})) return 0.0;
  const double exponent =
      bearing.roller ? bearing::roller_life_exponent : bearing::ball_life_exponent;
  return bearing::damage(stretch.dt,
                         bearing::basic_life(bearing.dynamic_rating, load, exponent, speed));
}

template <class Q>
Q lerp(Q a, Q b, double share) {
  return a + share * (b - a);
}

/// The weakest basis of an element's numbers.
Basis basis_of(const Element& element) {
  Basis weakest_yet = Basis::measured;
  for_each_number(element, [&](const UncertainNumber& number) {
    if (!number.key.empty()) weakest_yet = weakest(weakest_yet, number.basis);
  });
  return weakest_yet;
}

component::ShaftContact lip_contact(const LipElement& lip, LineForce line_force, Length diameter,
                                    const Draw& draw) {
  const Length width = draw(lip.contact_width);
  return {.id = {},
          .law = contact::MixedFilm{.boundary_friction = draw(lip.boundary_friction),
                                    .film_coefficient = draw(lip.film_coefficient),
                                    .transition_duty = draw(lip.transition_duty),
                                    .load_share_exponent = draw(lip.load_share_exponent),
                                    .contact_width = width},
          .contact_width = width,
          .line_force = line_force,
          .load = contact::radial_load(line_force, diameter),
          .to_body = contact::body_resistance(diameter, width, draw(lip.body_reach),
                                              draw(lip.body_conductivity)),
          .body_in_oil = true,
          .position = {}};
}

component::ShaftContact ring_contact(const RingElement& ring, Force load, Length diameter,
                                     const Draw& draw) {
  const Length width = draw(ring.contact_width);
  return {.id = {},
          .law = contact::ConstantFriction{draw(ring.friction)},
          .contact_width = width,
          .line_force = contact::line_force_from_total(load, diameter),
          .load = load,
          .to_body = contact::body_resistance(diameter, width, draw(ring.body_reach),
                                              draw(ring.body_conductivity)),
          .body_in_oil = false,
          .position = {}};
}

component::ShaftContact brush_contact(const BrushElement& brush, Force load, Length diameter,
                                      const Draw& draw) {
  return {.id = {},
          .law = contact::ConstantFriction{draw(brush.friction)},
          .contact_width = draw(brush.contact_width),
          .line_force = contact::line_force_from_total(load, diameter),
          .load = load,
          .to_body = draw(brush.holder),
          .body_in_oil = false,
          .position = {}};
}

component::PublishedRule rule_of(const RuleElement& rule, const Draw& draw) {
  const double coefficient = draw(rule.coefficient);
  switch (rule.form) {
    case RuleElement::Form::diameter:
      return component::TorqueByDiameter{coefficient};
    case RuleElement::Form::diameter_squared:
      return component::PowerByDiameterSquared{coefficient};
    case RuleElement::Form::oil_temperature:
      break;
  }
  return component::PowerByOilTemperature{.coefficient_W_min_per_mm2 = coefficient};
}

component::StatedLoss stated_of(const StatedElement& stated, const Draw& draw) {
  return {draw(stated.power), draw(stated.at), draw(stated.torque_exponent)};
}

/// Total radial force of a ring or brush: what the variant says, else the element's own.
Force pressing_force(const Grounding& grounding, Length diameter, const Draw& draw) {
  if (grounding.line_force) return contact::radial_load(draw(*grounding.line_force), diameter);
  if (grounding.total_radial_force) return draw(*grounding.total_radial_force);
  if (grounding.split_shaft_reading)
    return contact::radial_load(
        contact::line_force_from_split_reading(draw(*grounding.split_shaft_reading), diameter),
        diameter);
  if (const auto* ring = std::get_if<RingElement>(&grounding.element.form))
    return contact::radial_load(draw(ring->line_force), diameter);
  if (const auto* brush = std::get_if<BrushElement>(&grounding.element.form))
    return draw(brush->force);
  return {};
}

contact::DryResistance resistance_law(const ElementResistance& entry, const Draw& draw) {
  return {.bulk = draw(entry.bulk),
          .film = draw(entry.film),
          .at_line_force = draw(entry.at_line_force),
          .at_force = draw(entry.at_force),
          .at_diameter = draw(entry.at_diameter),
          .count_exponent = draw(entry.count_exponent),
          .film_exponent = draw(entry.film_exponent)};
}

const ElementResistance* resistance_entry(const Element& element) {
  if (const auto* ring = std::get_if<RingElement>(&element.form)) return &ring->resistance;
  if (const auto* brush = std::get_if<BrushElement>(&element.form)) return &brush->resistance;
  if (const auto* stated = std::get_if<StatedElement>(&element.form))
    return stated->resistance ? &*stated->resistance : nullptr;
  return nullptr;
}

Inductance path_inductance(const Grounding& grounding, const Draw& draw) {
  if (const auto* strap = std::get_if<Strap>(&grounding.path))
    return voltage::strap_inductance(strap->length, strap->width, strap->thickness);
  if (const auto* wire = std::get_if<Wire>(&grounding.path))
    return voltage::wire_inductance(wire->length, wire->diameter);
  if (const auto* stated = std::get_if<StatedPath>(&grounding.path))
    return draw(stated->inductance);
  return {};
}

std::string kind_of(const Element& element) {
  struct Kind {
    std::string operator()(const NoElement&) const { return "none"; }
    std::string operator()(const LipElement&) const { return "lip-seal"; }
    std::string operator()(const RingElement&) const { return "dry-ring"; }
    std::string operator()(const BrushElement&) const { return "brush"; }
    std::string operator()(const RuleElement&) const { return "published-rule"; }
    std::string operator()(const StatedElement&) const { return "stated"; }
  };
  return std::visit(Kind{}, element.form);
}

}  // namespace

material::LubricantProperties lubricant_of(const Lubricant& entry, const Draw& draw) {
  return {.viscosity = material::Walther(draw(entry.viscosity_40), draw(entry.viscosity_100),
                                         draw(entry.viscosity_constant)),
          .density_15 = draw(entry.density_15),
          .conductivity = draw(entry.conductivity),
          .specific_heat = draw(entry.specific_heat),
          .permittivity = draw(entry.permittivity),
          .pressure_viscosity = draw(entry.pressure_viscosity)};
}

bearing::FilmState BearingModel::film(AngularVelocity speed, DynamicViscosity eta,
                                      double heating_factor, Torque torque) const {
  if (films.size() == 1) return films[0].at(speed, eta, heating_factor);
  const double last = static_cast<double>(films.size() - 1);
  const double row = std::clamp<double>((torque - first_torque) / torque_step, 0.0, last);
  const auto i = std::min(static_cast<std::size_t>(row), films.size() - 2);
  const double share = row - static_cast<double>(i);
  const bearing::FilmState a = films[i].at(speed, eta, heating_factor);
  const bearing::FilmState b = films[i + 1].at(speed, eta, heating_factor);
  const double ratio = lerp(a.film_ratio, b.film_ratio, share);
  return {.minimum_inner = lerp(a.minimum_inner, b.minimum_inner, share),
          .central_inner = lerp(a.central_inner, b.central_inner, share),
          .minimum_outer = lerp(a.minimum_outer, b.minimum_outer, share),
          .central_outer = lerp(a.central_outer, b.central_outer, share),
          .film_ratio = ratio,
          .area_inner = lerp(a.area_inner, b.area_inner, share),
          .capacitance = lerp(a.capacitance, b.capacitance, share),
          .conducting = ratio < 1.0};
}

Force BearingModel::equivalent_load(Torque torque) const {
  const auto at = loads.at(torque);
  return roller ? bearing::cylindrical_roller_equivalent_load(at.radial)
                : bearing::deep_groove_equivalent_load(at.radial, at.axial, static_rating,
                                                       static_factor)
                      .load;
}

WorldModel::WorldModel(const Case& of, const Draw& draw)
    : world(&of), oil(lubricant_of(of.sump.lubricant, draw)) {
  const Temperature ambient = draw(of.sump.ambient);
  for (const Shaft& shaft : of.shafts) {
    diameter.push_back(draw(shaft.diameter));
    dry.push_back(shaft.dry_side_temperature ? draw(*shaft.dry_side_temperature) : ambient);
  }
  sump = {draw(of.sump.heat_capacity), draw(of.sump.conductance), ambient};
  other_heat = draw(of.sump.other_heat);
  if (of.vehicle) {
    const Vehicle& v = *of.vehicle;
    vehicle = duty::VehicleData{.test_mass = draw(v.test_mass),
                                .rotating_mass_factor = draw(v.rotating_mass_factor),
                                .road_load = {draw(v.f0), draw(v.f1), draw(v.f2)}};
    path = duty::BatteryPath{.mean_efficiency = draw(v.mean_efficiency),
                             .load_independent_share = draw(v.load_independent_share),
                             .recuperation_efficiency = draw(v.recuperation_efficiency),
                             .recuperation_share = draw(v.recuperation_share),
                             .gear_efficiency = draw(v.gear_efficiency)};
    // The fastest shaft is the rotor; what turns with the wheel lies behind the gears.
    for (const Shaft& shaft : of.shafts)
      gearing.push_back(
          {draw(shaft.ratio), v.rolling_circumference,
           draw(shaft.ratio) > 1.5 ? duty::ShaftSide::rotor : duty::ShaftSide::wheel_side});
  }
  for (const Bearing& entry : of.bearings) bearings.push_back(bearing_model(*this, entry, draw));
}

std::size_t WorldModel::shaft_index(const std::string& id) const {
  for (std::size_t i = 0; i < world->shafts.size(); ++i)
    if (world->shafts[i].id == id) return i;
  throw std::invalid_argument("no shaft is called " + id);
}

std::vector<AngularVelocity> WorldModel::speeds(const OperatingPoint& point,
                                                const Draw& draw) const {
  std::vector<AngularVelocity> result;
  if (point.road_speed) {
    for (const auto& gear : gearing)
      result.push_back(
          duty::shaft_speed(draw(*point.road_speed), gear.ratio, gear.rolling_circumference));
    return result;
  }
  const std::size_t given = shaft_index(point.shaft);
  const AngularVelocity speed = draw(*point.shaft_speed);
  for (std::size_t s = 0; s < diameter.size(); ++s)
    result.push_back(gearing.empty() ? speed : speed * (gearing[s].ratio / gearing[given].ratio));
  return result;
}

std::vector<Torque> WorldModel::torques(const OperatingPoint& point, const Draw& draw) const {
  std::vector<Torque> result(diameter.size());
  if (point.torque) {
    const std::size_t given = point.shaft.empty() ? 0 : shaft_index(point.shaft);
    for (std::size_t s = 0; s < result.size(); ++s)
      result[s] =
          draw(*point.torque) * (gearing.empty() ? 1.0 : gearing[given].ratio / gearing[s].ratio);
  } else if (vehicle && point.road_speed) {
    const Force force = duty::road_force(vehicle->road_load, draw(*point.road_speed));
    for (std::size_t s = 0; s < result.size(); ++s)
      result[s] = duty::shaft_torque(force, gearing[s].ratio, gearing[s].rolling_circumference);
  }
  return result;
}

namespace {

DutyModel running(const WorldModel& model, const Duty& duty, const Draw& draw) {
  DutyModel result;
  const bool held = duty.oil_temperature.has_value();
  result.sump = {model.sump, model.other_heat,
                 held ? draw(*duty.oil_temperature) : draw(*duty.start_temperature), held};
  if (!duty.cycles.empty()) {
    result.driven = true;
    const duty::Cycle cycle = duty::sequence(duty.cycles);
    for (const auto& phase : cycle.phases) result.phases.push_back(phase.id);
    result.steps = duty::steps(cycle, *model.vehicle);
    result.stretches = energy::stretches(result.steps, model.gearing);
    return result;
  }
  // A machine runs steadily. With a warm-up a shift of eight hours stands for the duty.
  const auto shafts = model.diameter.size();
  energy::Stretch steady;
  steady.drive = duty::Drive::traction;
  steady.speed.assign(shafts, draw(*duty.shaft_speed));
  steady.torque.assign(shafts, duty.torque ? draw(*duty.torque) : Torque{});
  const int pieces = held ? 1 : 8 * 60;
  steady.dt = Time::from_value(8.0 * 3600.0 / pieces);
  result.stretches.assign(static_cast<std::size_t>(pieces), steady);
  result.phases = {std::string(duty::whole)};
  return result;
}

}  // namespace

DutyModel duty_model(const WorldModel& model, const Duty& duty, const Draw& draw) {
  DutyModel result = running(model, duty, draw);
  // Basic life sees load and speed alone: the same for every variant and oil temperature.
  for (const BearingModel& bearing : model.bearings) {
    double damage = 0.0;
    for (const energy::Stretch& stretch : result.stretches)
      damage += fatigue_damage(bearing, stretch);
    result.fatigue.push_back(damage);
  }
  return result;
}

VariantModel::VariantModel(const WorldModel& model, const Variant& variant, const Draw& draw) {
  const Case& world = *model.world;
  for (std::size_t s = 0; s < world.shafts.size(); ++s) {
    const Shaft& shaft = world.shafts[s];
    component::ShaftSystem system{
        .diameter = model.diameter[s],
        .conductivity = draw(shaft.conductivity),
        .contacts = {},
        .wet_until = {},
        .oil_side_length = {},
        .dry_side_length = {},
        .oil_side = contact::TurningCylinder{draw(shaft.wetted_factor), free_convection_rise},
        .dry_side = contact::TurningCylinder{1.0, free_convection_rise},
        .lubricant = model.oil};
    if (shaft.oil_side_length) system.oil_side_length = draw(*shaft.oil_side_length);
    if (shaft.dry_side_length) system.dry_side_length = draw(*shaft.dry_side_length);
    unit.shafts.push_back(std::move(system));
  }

  const auto add_fixed_form = [&](const Element& element, std::size_t s, const std::string& id) {
    if (const auto* rule = std::get_if<RuleElement>(&element.form))
      unit.parts.push_back(
          {id, energy::RulePart{s, rule_of(*rule, draw), draw(world.sump.lubricant.viscosity_40)}});
    else if (const auto* stated = std::get_if<StatedElement>(&element.form))
      unit.parts.push_back({id, energy::StatedPart{s, stated_of(*stated, draw)}});
    else
      return false;
    return true;
  };
  const auto describe = [&](const Element& element, std::size_t s, const std::string& id) {
    parts.push_back({id, kind_of(element), element.title, s, basis_of(element), &element});
  };
  const auto add_contact = [&](component::ShaftContact contact, Length position, std::size_t s,
                               const std::string& id) {
    contact.id = id;
    contact.position = position;
    auto& contacts = unit.shafts[s].contacts;
    // The seal is placed first, so a grounding element may have to go before or behind it.
    const auto place =
        std::upper_bound(contacts.begin(), contacts.end(), position,
                         [](Length p, const auto& other) { return p < other.position; });
    const auto index = static_cast<std::size_t>(place - contacts.begin());
    for (energy::Part& part : unit.parts)
      if (auto* other = std::get_if<energy::ContactPart>(&part.form);
          other && other->shaft == s && other->contact >= index)
        ++other->contact;
    contacts.insert(place, std::move(contact));
    unit.parts.push_back({id, energy::ContactPart{s, index}});
  };

  if (variant.seal && !std::holds_alternative<NoElement>(variant.seal->element.form)) {
    const Seal& seal = *variant.seal;
    const std::size_t s = model.shaft_index(seal.shaft);
    const Length d = model.diameter[s];
    unit.shafts[s].wet_until = draw(seal.position);
    if (const auto* lip = std::get_if<LipElement>(&seal.element.form))
      add_contact(
          lip_contact(*lip, draw(seal.line_force ? *seal.line_force : lip->line_force), d, draw),
          draw(seal.position), s, "seal");
    else if (!add_fixed_form(seal.element, s, "seal"))
      throw std::invalid_argument("variant " + variant.id + ": " + seal.element.id + " is no seal");
    describe(seal.element, s, "seal");
  }

  if (variant.grounding && !std::holds_alternative<NoElement>(variant.grounding->element.form)) {
    const Grounding& grounding = *variant.grounding;
    const std::size_t s = model.shaft_index(grounding.shaft);
    const Length d = model.diameter[s];
    const Force load = pressing_force(grounding, d, draw);
    if (const auto* ring = std::get_if<RingElement>(&grounding.element.form))
      add_contact(ring_contact(*ring, load, d, draw), draw(grounding.position), s, "grounding");
    else if (const auto* brush = std::get_if<BrushElement>(&grounding.element.form))
      add_contact(brush_contact(*brush, load, d, draw), draw(grounding.position), s, "grounding");
    else if (!add_fixed_form(grounding.element, s, "grounding"))
      throw std::invalid_argument("variant " + variant.id + ": " + grounding.element.id +
                                  " is no grounding element");
    describe(grounding.element, s, "grounding");

    const ElementResistance* entry = resistance_entry(grounding.element);
    std::optional<Resistance> begin;
    if (grounding.resistance) {
      begin = draw(*grounding.resistance);
    } else if (entry) {
      const contact::DryResistance law = resistance_law(*entry, draw);
      const auto result =
          std::holds_alternative<BrushElement>(grounding.element.form)
              ? contact::brush_resistance(law, load)
              : contact::ring_resistance(law, contact::line_force_from_total(load, d), d);
      begin = result.value;
      for (const auto& flag : result.flags) grounding_flags.push_back(in_words(flag, "grounding"));
    }
    if (begin) {
      const Inductance inductance = path_inductance(grounding, draw);
      const double growth = entry ? draw(entry->end_of_service_factor) : 1.0;
      path_begin = voltage::GroundingPath{*begin, inductance};
      path_end = voltage::GroundingPath{growth * *begin, inductance};
    }
  }

  for (const ExtraDrag& extra : variant.extras) {
    const std::size_t s = model.shaft_index(extra.shaft);
    if (!add_fixed_form(extra.element, s, extra.id))
      throw std::invalid_argument("variant " + variant.id + ": " + extra.element.id +
                                  " is neither a rule nor a stated loss");
    describe(extra.element, s, extra.id);
  }

  for (std::size_t b = 0; b < model.bearings.size(); ++b) {
    const BearingModel& bearing = model.bearings[b];
    const std::string& id = world.bearings[b].id;
    unit.parts.push_back(
        {id, energy::BearingPart{bearing.shaft, bearing.roller, bearing.friction, bearing.loads}});
    parts.push_back({id, "bearing", world.bearings[b].type.id, bearing.shaft,
                     weakest(world.bearings[b].type.torque_factor.basis,
                             world.bearings[b].type.load_torque_factor.basis),
                     nullptr});
  }
}

Flag in_words(const numerics::RangeFlag& flag, const std::string& where) {
  std::string code;
  for (const char c : flag.quantity)
    code += std::isalnum(static_cast<unsigned char>(c)) != 0
                ? static_cast<char>(std::tolower(static_cast<unsigned char>(c)))
                : '-';
  return {"range-" + code,
          fmt::format("{}: {} at {} is {}, the stated range is {} to {}", flag.formula,
                      flag.quantity, where, print_number(flag.value, 3), print_number(flag.low, 3),
                      print_number(flag.high, 3))};
}

}  // namespace ohmdrag::study
