#include "study/contact_life.hpp"

#include <algorithm>
#include <numbers>
#include <utility>

#include "ohmdrag/contact/shaft_fit.hpp"
#include "study/angle.hpp"

namespace ohmdrag::study {
namespace {

contact::ModulusTable table_of(const ModulusCurve& curve, const Draw& draw) {
  contact::ModulusTable table;
  for (const ModulusPoint& point : curve.points)
    table.push_back({draw(point.temperature), draw(point.ratio)});
  return table;
}

contact::WearPair wear_of(const WearEntry& wear, const Draw& draw) {
  contact::WearPair pair{draw(wear.contact.wear_rate), std::nullopt};
  if (wear.shaft) pair.shaft = draw(wear.shaft->wear_rate);
  return pair;
}

contact::History until(const contact::History& whole, Age age) {
  return {share_of_service(age) * whole.age, share_of_service(age) * whole.way, whole.temperature};
}

/// What the tolerance of the shaft leaves of an elastic force.
double fit_factor(const ShaftSeat& shaft, Length radial_interference,
                  std::vector<numerics::RangeFlag>& flags) {
  const auto effect = contact::fit_effect(shaft.diameter - shaft.deviation,
                                          2.0 * radial_interference, shaft.deviation);
  flags.insert(flags.end(), effect.flags.begin(), effect.flags.end());
  return effect.elastic_force;
}

/// A contact of which nothing is known over its service.
ContactLife unchanging(LineForce line_force, Length width) {
  ContactLife life;
  life.at.fill({.spring = line_force,
                .elastic = {},
                .width = width,
                .wear = {},
                .groove = {},
                .worn = {},
                .length_used = {},
                .flags = {}});
  return life;
}

/// All ages of a pad; `fill` gives the pad its state at a way.
template <class State>
void age(ContactLife& life, const contact::History* history, const State& state_at) {
  life.at.fill(state_at(contact::History{}));
  if (!history) return;
  life.history = *history;
  for (const Age when : {Age::middle, Age::end})
    life.at[static_cast<std::size_t>(when)] = state_at(until(*history, when));
  const auto& flags = life.of(Age::end).flags;
  life.flags.insert(life.flags.end(), flags.begin(), flags.end());
}

ContactLife laid_life(const PadService& service, LineForce line_force, Length width,
                      const std::optional<Length>& deflection, const ShaftSeat& shaft,
                      Temperature body, const contact::History* history, const Draw& draw) {
  ContactLife life;
  contact::Pad pad{.line_force = line_force, .width = width, .deflection = {}, .wear_length = {}};
  if (service.wear_length) pad.wear_length = draw(*service.wear_length);
  if (deflection)
    pad.deflection = deflection;
  else if (service.deflection)
    pad.deflection = draw(*service.deflection);
  if (pad.deflection) {
    pad.line_force = pad.line_force * fit_factor(shaft, *pad.deflection, life.flags);
  }
  if (service.modulus) {
    life.modulus = table_of(*service.modulus, draw);
    pad.hot_share = contact::modulus_ratio(*life.modulus, body).value;
  }
  if (service.wear.density) life.density = draw(*service.wear.density);
  if (!(pad.line_force.value() > 0.0)) {
    const auto flags = life.flags;
    life = unchanging({}, width);
    life.flags = flags;
    return life;
  }
  const contact::WearPair wear = wear_of(service.wear, draw);
  age(life, history, [&](const contact::History& h) {
    contact::Aged aged = contact::aged_pad(pad, wear, h.way);
    // A ring whose modulus falls is elastic, whatever presses it.
    if (life.modulus) aged.elastic += std::exchange(aged.spring, LineForce{});
    return aged;
  });
  return life;
}

/// A brush that is used up touches no more.
Length touching_way(const contact::Aged& aged, Length way) {
  return aged.length_used && *aged.length_used > 1.0 ? way * (1.0 / *aged.length_used) : way;
}

ContactLife wedge_life(const LipService& service, LineForce line_force, Length width,
                       const ShaftSeat& shaft, Pressure over_pressure,
                       const contact::History* history, const Draw& draw) {
  ContactLife life;
  const LipForm& form = service.form;
  const double spring_share = draw(form.spring_share);
  const Length interference = draw(form.radial_interference);
  life.modulus = table_of(service.modulus, draw);
  life.pressing = over_pressure * draw(form.pressure_length);
  if (service.wear.density) life.density = draw(*service.wear.density);

  const contact::LipForce lip{
      .spring = spring_share * line_force,
      .rubber = (1.0 - spring_share) * fit_factor(shaft, interference, life.flags) * line_force,
      .set = {draw(form.spring_set), draw(form.spring_set_time)},
      .relaxation = {.per_decade = draw(service.relaxation.per_decade),
                     .log_time = draw(service.relaxation.log_time),
                     .chemical_time = draw(service.relaxation.chemical_time),
                     .at = draw(service.relaxation.at),
                     .activation_temperature = draw(service.relaxation.activation_temperature),
                     .stretch = draw(service.relaxation.stretch)},
      .modulus = *life.modulus,
      .radial_interference = interference,
      .pressure_length = draw(form.pressure_length)};
  const contact::LipEdge edge{in_radians(draw(form.air_angle_deg)),
                              in_radians(draw(form.oil_angle_deg)), width};
  const contact::WearPair wear = wear_of(service.wear, draw);
  age(life, history, [&](const contact::History& h) {
    if (h.age == Time{} && h.way == Length{}) {
      contact::Aged fresh{};
      fresh.spring = lip.spring;
      fresh.elastic = lip.rubber;
      fresh.width = width;
      return fresh;
    }
    return contact::aged_lip(lip, edge, wear, h, over_pressure);
  });
  return life;
}

}  // namespace

const contact::History* ServiceHistory::of(const std::string& id) const {
  const auto found = std::ranges::find(contacts, id, &Entry::id);
  return found == contacts.end() ? nullptr : &found->whole;
}

LineForce ContactLife::line_force(Age age) const {
  return std::max(of(age).line_force() + pressing, LineForce{});
}

std::optional<component::Softening> ContactLife::softening(Age age) const {
  const LineForce whole = line_force(age);
  if (!modulus || !(whole.value() > 0.0)) return std::nullopt;
  return component::Softening{std::min(1.0, (of(age).elastic / whole).value()), *modulus};
}

ContactLife lip_life(const LipElement& lip, LineForce line_force, const ShaftSeat& shaft,
                     Pressure over_pressure, const contact::History* history, const Draw& draw) {
  const Length width = draw(lip.contact_width);
  if (const auto* wedge = std::get_if<LipService>(&lip.service))
    return wedge_life(*wedge, line_force, width, shaft, over_pressure, history, draw);
  if (const auto* laid = std::get_if<PadService>(&lip.service))
    return laid_life(*laid, line_force, width, {}, shaft,
                     history ? history->temperature : from_celsius(20.0), history, draw);
  return unchanging(line_force, width);
}

ContactLife ring_life(const RingElement& ring, const Pressing& pressing, const ShaftSeat& shaft,
                      Temperature body, const contact::History* history, const Draw& draw) {
  const Length width = draw(ring.contact_width);
  const LineForce line_force = contact::line_force_from_total(pressing.load, shaft.diameter);
  if (const auto* pad = std::get_if<PadService>(&ring.service))
    return laid_life(*pad, line_force, width, pressing.deflection, shaft, body, history, draw);
  if (const auto* wedge = std::get_if<LipService>(&ring.service))
    return wedge_life(*wedge, line_force, width, shaft, {}, history, draw);
  return unchanging(line_force, width);
}

ContactLife brush_life(const BrushElement& brush, const Pressing& pressing, const ShaftSeat& shaft,
                       const contact::History* history, const Draw& draw) {
  const Length width = draw(brush.contact_width);
  const LineForce line_force = contact::line_force_from_total(pressing.load, shaft.diameter);
  const auto* pad = std::get_if<PadService>(&brush.service);
  if (!pad || !brush.section || !(pressing.load.value() > 0.0))
    return unchanging(line_force, width);
  // As if its section went around the whole shaft: the same pressure, the same volume.
  const Length around = draw(*brush.section) / (std::numbers::pi * shaft.diameter);
  ContactLife life = laid_life(*pad, line_force, around, pressing.deflection, shaft,
                               from_celsius(20.0), history, draw);
  const std::optional<WearRate> shaft_wear = wear_of(pad->wear, draw).shaft;
  for (const Age when : ages) {
    contact::Aged& aged = life.at[static_cast<std::size_t>(when)];
    aged.width = width;
    // The shaft rubs under the brush for a part of the turn only.
    const Length way = history ? share_of_service(when) * history->way : Length{};
    if (shaft_wear && history)
      aged.groove = contact::groove_depth(*shaft_wear, line_force, width, touching_way(aged, way));
  }
  return life;
}

void settle(component::ShaftContact& contact, const ContactLife& life, Age age, Length diameter) {
  contact.contact_width = life.of(age).width;
  contact.line_force = life.line_force(age);
  contact.load = contact::radial_load(contact.line_force, diameter);
  contact.softening = life.softening(age);
  if (auto* film = std::get_if<contact::MixedFilm>(&contact.law))
    film->contact_width = contact.contact_width;
  if (auto* ptfe = std::get_if<contact::PtfeContact>(&contact.law))
    ptfe->contact_width = contact.contact_width;
  // What does not press does not rub, and a film without a force has no duty.
  if (!(contact.load.value() > 0.0)) contact.law = contact::ConstantFriction{0.0};
}

}  // namespace ohmdrag::study
