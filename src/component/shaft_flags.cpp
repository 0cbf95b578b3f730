#include "ohmdrag/component/shaft_network.hpp"

namespace ohmdrag::component {

std::optional<Duty> duty(const ShaftSystem& system, const ShaftState& state,
                         std::size_t contact_index) {
  const ShaftContact& c = system.contacts.at(contact_index);
  if (!std::holds_alternative<contact::MixedFilm>(c.law)) return std::nullopt;
  const Speed u = rim_speed(state.speed, 0.5 * system.diameter);
  const LineForce line_force = force_share(c, state.surroundings) * c.line_force;
  const auto at = [&](Temperature t) {
    return contact::duty_parameter(material::dynamic_viscosity(system.lubricant, t), u, line_force);
  };
  return Duty{.contact = at(state.contacts[contact_index].contact),
              .bulk = at(state.surroundings.oil)};
}

std::vector<ShaftFlag> flags(const ShaftSystem& system, const ShaftState& state) {
  std::vector<ShaftFlag> found;
  const auto add = [&](std::optional<std::size_t> where,
                       const std::optional<numerics::RangeFlag>& flag) {
    if (flag) found.push_back({where, *flag});
  };
  for (std::size_t i = 0; i < system.contacts.size(); ++i) {
    const ShaftContact& c = system.contacts[i];
    add(i, contact::outside_band_fit(system.diameter, c.contact_width, system.bore));
    if (c.softening) {
      const Temperature body = c.body_in_oil ? state.surroundings.oil : state.surroundings.dry;
      for (const auto& flag : contact::modulus_ratio(c.softening->modulus, body).flags)
        add(i, flag);
    }
    if (const auto* ptfe = std::get_if<contact::PtfeContact>(&c.law)) {
      const LineForce line_force = force_share(c, state.surroundings) * c.line_force;
      const auto point = contact::ptfe_friction(ptfe->friction, line_force / ptfe->contact_width,
                                                rim_speed(state.speed, 0.5 * system.diameter));
      for (const auto& flag : point.flags) add(i, flag);
    }
    if (const auto g = duty(system, state, i)) {
      add(i, contact::outside_mixed_film(g->contact));
      add(i, material::outside_walther(system.lubricant.viscosity, state.contacts[i].contact));
    }
  }
  const auto add_side = [&](const contact::Convection& law, const contact::FluidState& fluid) {
    for (const auto& flag :
         contact::outside_turning_cylinder(law, system.diameter, state.speed, fluid))
      add(std::nullopt, flag);
  };
  add_side(system.oil_side, contact::oil_state(system.lubricant, state.surroundings.oil));
  add_side(system.dry_side, contact::air_state(state.surroundings.dry));
  add(std::nullopt,
      numerics::flag_outside("heat balance of the contacts", "thermal loop gain, unstable at 1",
                             state.loop_gain, -numerics::no_limit, 0.5));
  return found;
}

}  // namespace ohmdrag::component
