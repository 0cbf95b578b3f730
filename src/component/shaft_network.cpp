#include "ohmdrag/component/shaft_network.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "component/nodal_chain.hpp"
#include "component/rod.hpp"
#include "component/shaft_nodes.hpp"

namespace ohmdrag::component {

namespace {

void check(const ShaftSystem& system) {
  const std::vector<ShaftContact>& contacts = system.contacts;
  for (std::size_t i = 0; i < contacts.size(); ++i) {
    contact::check(contacts[i].law);
    if (!(contacts[i].load.value() >= 0.0))
      throw std::invalid_argument("contact " + contacts[i].id + ": load must not be negative");
    if (std::holds_alternative<contact::MixedFilm>(contacts[i].law) &&
        !(contacts[i].line_force.value() > 0.0))
      throw std::invalid_argument("contact " + contacts[i].id +
                                  ": a mixed film needs a positive line force");
    if (!(contacts[i].current_heat.value() >= 0.0))
      throw std::invalid_argument("contact " + contacts[i].id +
                                  ": heat of a current must not be negative");
    if (contacts[i].to_body && !(contacts[i].to_body->value() > 0.0))
      throw std::invalid_argument("contact " + contacts[i].id +
                                  ": resistance to its body must be positive");
    if (i > 0 && !(contacts[i].position >= contacts[i - 1].position))
      throw std::invalid_argument("shaft: contacts must be sorted by position");
  }
}

void check(const Surroundings& around) {
  if (!(around.oil.value() > 0.0 && around.dry.value() > 0.0))
    throw std::invalid_argument("shaft: temperatures must be above absolute zero");
}

ShaftFilms films_of(const ShaftSystem& system, AngularVelocity speed, const Surroundings& around) {
  check(around);
  return {contact::film_coefficient(system.oil_side, system.diameter, speed,
                                    contact::oil_state(system.lubricant, around.oil)),
          contact::film_coefficient(system.dry_side, system.diameter, speed,
                                    contact::air_state(around.dry))};
}

}  // namespace

double force_share(const ShaftContact& contact, const Surroundings& around) {
  if (!contact.softening) return 1.0;
  const Temperature body = contact.body_in_oil ? around.oil : around.dry;
  const double elastic = contact.softening->elastic_share;
  return 1.0 - elastic + elastic * contact::modulus_ratio(contact.softening->modulus, body).value;
}

ThermalNetwork::ThermalNetwork(const ShaftSystem& system, AngularVelocity speed,
                               const Surroundings& around)
    : ThermalNetwork(system, around, films_of(system, speed, around)) {}

ThermalNetwork::ThermalNetwork(const ShaftSystem& system, const Surroundings& around,
                               const ShaftFilms& films)
    : oil_K_(around.oil.value()), dry_K_(around.dry.value()), films_(films) {
  check(around);
  check(system);
  const contact::ShaftFin oil_fin{system.diameter, system.conductivity, films_.oil, system.bore};
  const contact::ShaftFin dry_fin{system.diameter, system.conductivity, films_.dry, system.bore};

  const auto [node_m, node_of, seal_node] = shaft_nodes(system);
  for (std::size_t i = 0; i < system.contacts.size(); ++i) {
    const ShaftContact& c = system.contacts[i];
    const double shaft = 1.0 / contact::band_resistance(system.diameter, c.contact_width,
                                                        system.conductivity, system.bore)
                                   .value();
    const double body = c.to_body ? 1.0 / c.to_body->value() : 0.0;
    seats_.push_back({.node = node_of[i],
                      .into_shaft = shaft / (shaft + body),
                      .body_W_K = body,
                      .shaft_W_K = shaft,
                      .body_K = c.body_in_oil ? oil_K_ : dry_K_,
                      .current_W = c.current_heat.value()});
  }
  const double seal_m = system.wet_until.value();
  const std::size_t nodes = node_m.size();

  // The ends. A contact on the far side of an end is no shaft at all.
  if (system.oil_side_length) {
    const double held_m = seal_m - system.oil_side_length->value();
    oil_end_W_K_ =
        contact::held_end_fin(oil_fin, Length::from_value(node_m.front() - held_m)).value();
  } else {
    oil_end_W_K_ = contact::endless_fin(oil_fin).value();
  }
  if (system.dry_side_length) {
    const double free_m = seal_m + system.dry_side_length->value();
    dry_end_W_K_ =
        contact::free_end_fin(dry_fin, Length::from_value(free_m - node_m.back())).value();
  } else {
    dry_end_W_K_ = contact::endless_fin(dry_fin).value();
  }

  // The nodal matrix is tridiagonal, symmetric and positive definite.
  const double oil_fin_W_K = contact::endless_fin(oil_fin).value();
  const double dry_fin_W_K = contact::endless_fin(dry_fin).value();
  const double oil_decay_m = contact::decay_length(oil_fin).value();
  const double dry_decay_m = contact::decay_length(dry_fin).value();
  pivot_W_K_.assign(nodes, 0.0);
  source_W_.assign(nodes, 0.0);
  pivot_W_K_.front() += oil_end_W_K_;
  source_W_.front() += oil_end_W_K_ * oil_K_;
  pivot_W_K_.back() += dry_end_W_K_;
  source_W_.back() += dry_end_W_K_ * dry_K_;
  for (std::size_t n = 0; n + 1 < nodes; ++n) {
    const bool wet = n < seal_node;
    const auto [through_W_K, to_side_W_K] =
        rod_conductance(wet ? oil_fin_W_K : dry_fin_W_K, wet ? oil_decay_m : dry_decay_m,
                        node_m[n + 1] - node_m[n]);
    rods_.push_back({.to_side_W_K = to_side_W_K, .wet = wet});
    through_W_K_.push_back(through_W_K);
    const double ambient_K = wet ? oil_K_ : dry_K_;
    for (const std::size_t m : {n, n + 1}) {
      pivot_W_K_[m] += through_W_K + to_side_W_K;
      source_W_[m] += to_side_W_K * ambient_K;
    }
  }
  for (const Seat& seat : seats_) {
    pivot_W_K_[seat.node] += seat.into_shaft * seat.body_W_K;
    source_W_[seat.node] += seat.into_shaft * seat.body_W_K * seat.body_K;
  }
  factorise_chain<1>(nodes, through_W_K_.data(), pivot_W_K_.data());

  boost::container::small_vector<double, 5> node_K(source_W_.begin(), source_W_.end());
  solve_nodes(node_K.data());
  const std::size_t contacts = seats_.size();
  idle_K_.resize(contacts);
  resistance_K_W_.resize(contacts * contacts);
  for (std::size_t i = 0; i < contacts; ++i) {
    const Seat& seat = seats_[i];
    idle_K_[i] = seat.into_shaft * node_K[seat.node] + (1.0 - seat.into_shaft) * seat.body_K;
  }
  boost::container::small_vector<double, 5> rise_K;
  for (std::size_t j = 0; j < contacts; ++j) {
    rise_K.assign(nodes, 0.0);
    rise_K[seats_[j].node] = seats_[j].into_shaft;
    solve_nodes(rise_K.data());
    for (std::size_t i = 0; i < contacts; ++i)
      resistance_K_W_[i * contacts + j] = seats_[i].into_shaft * rise_K[seats_[i].node];
    resistance_K_W_[j * contacts + j] += 1.0 / (seats_[j].shaft_W_K + seats_[j].body_W_K);
  }
  for (std::size_t j = 0; j < contacts; ++j)
    for (std::size_t i = 0; i < contacts; ++i)
      idle_K_[i] += resistance_K_W_[i * contacts + j] * seats_[j].current_W;
}

void ThermalNetwork::solve_nodes(double* heat_to_temperature) const {
  solve_chain<1>(pivot_W_K_.size(), through_W_K_.data(), pivot_W_K_.data(), heat_to_temperature);
}

void ThermalNetwork::spread_heat(ShaftState& state) const {
  boost::container::small_vector<double, 5> node_K(source_W_.begin(), source_W_.end());
  for (std::size_t i = 0; i < seats_.size(); ++i)
    node_K[seats_[i].node] +=
        seats_[i].into_shaft * (state.contacts[i].power.value() + seats_[i].current_W);
  solve_nodes(node_K.data());

  for (std::size_t i = 0; i < seats_.size(); ++i) {
    const Seat& seat = seats_[i];
    ContactState& c = state.contacts[i];
    const double shaft_K = node_K[seat.node];
    const double contact_K = (c.power.value() + seat.current_W + seat.shaft_W_K * shaft_K +
                              seat.body_W_K * seat.body_K) /
                             (seat.shaft_W_K + seat.body_W_K);
    c.contact = Temperature::from_value(contact_K);
    c.shaft_under = Temperature::from_value(shaft_K);
    c.into_shaft = Power::from_value(seat.shaft_W_K * (contact_K - shaft_K));
    c.into_body = Power::from_value(seat.body_W_K * (contact_K - seat.body_K));
  }

  double oil_W = oil_end_W_K_ * (node_K.front() - oil_K_);
  double dry_W = dry_end_W_K_ * (node_K.back() - dry_K_);
  for (std::size_t n = 0; n < rods_.size(); ++n) {
    const Rod& rod = rods_[n];
    const double ambient_K = rod.wet ? oil_K_ : dry_K_;
    (rod.wet ? oil_W : dry_W) += rod.to_side_W_K * (node_K[n] + node_K[n + 1] - 2.0 * ambient_K);
  }
  state.into_oil_side = Power::from_value(oil_W);
  state.into_dry_side = Power::from_value(dry_W);
}

}  // namespace ohmdrag::component
