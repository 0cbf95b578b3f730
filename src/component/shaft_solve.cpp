#include <stdexcept>

#include "component/film_contact.hpp"
#include "ohmdrag/component/shaft_network.hpp"

namespace ohmdrag::component {

ShaftState solve(const ShaftSystem& system, AngularVelocity speed, const Surroundings& around,
                 const ShaftState* warm_start) {
  return solve(ThermalNetwork(system, speed, around), system, speed, around, warm_start);
}

ShaftState solve(const ThermalNetwork& network, const ShaftSystem& system, AngularVelocity speed,
                 const Surroundings& around, const ShaftState* warm_start) {
  const std::size_t contacts = system.contacts.size();
  ShaftState state;
  state.contacts.resize(contacts);
  state.speed = speed;
  state.surroundings = around;
  state.oil_film = network.oil_film();
  state.dry_film = network.dry_film();

  MovingContacts moving = moving_contacts(system, speed, around);
  const bool warm = warm_start && warm_start->contacts.size() == contacts;
  for (const Film& film : moving.films) {
    const std::size_t i = film.contact;
    moving.contact_K[i] = warm ? warm_start->contacts[i].contact.value() : network.idle(i).value();
    if (warm) moving.power_W[i] = warm_start->contacts[i].power.value();
  }
  const auto resistance_K_W = [&](std::size_t i, std::size_t j) {
    return network.resistance(i, j).value();
  };
  settle_films(
      moving, system.lubricant, [&](std::size_t i) { return network.idle(i).value(); },
      resistance_K_W);

  state.loop_gain = loop_gain_bound(moving.films, resistance_K_W);
  if (!(state.loop_gain < 1.0))
    throw std::domain_error("thermally unstable: a warmer contact makes more heat than it sheds");

  set_friction(state, system, moving);
  network.spread_heat(state);
  return state;
}

Power into_oil(const ShaftSystem& system, const ShaftState& state) {
  Power total = state.into_oil_side;
  for (std::size_t i = 0; i < system.contacts.size(); ++i)
    if (system.contacts[i].body_in_oil) total += state.contacts[i].into_body;
  return total;
}

}  // namespace ohmdrag::component
